//! What the reverse idler does to its pin.

use super::beam::{couple_about, total};
use super::{Couple, MeshForces, Vector};
use crate::train::Point;

/// What loads the idler and its pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IdlerForces {
    /// Where its axle stands.
    pub centre: Point,
    /// Angle θ at its axle between the lines to its mates' axles, radians, 0
    /// to π.
    pub angle_rad: f64,
    /// What both meshes push its pin with. Along z the two cancel.
    pub pin_load: Vector,
    /// Size of that, N.
    pub pin_load_n: f64,
    /// The couple that tilts it, about the point of its axis midway between its
    /// two meshes: of helical gears, whose two thrusts act on different sides,
    /// and of gears whose two meshes lie in different planes.
    pub tilting: Couple,
    /// Size of that, N m.
    pub tilting_n_m: f64,
    /// Torque that it passes on, N m, positive clockwise: what its first mesh
    /// gives to it.
    pub torque_n_m: f64,
}

/// Of the idler at `centre` between its two meshes, the driven one last.
pub(super) fn idler_forces(centre: Point, first: &MeshForces, second: &MeshForces) -> IdlerForces {
    let (from, to) = (first.on_driven, second.on_driver);
    let middle_mm = f64::midpoint(from.z_mm, to.z_mm);
    let loads = [from, to].map(|at| at.load());
    let tilting = couple_about(&loads, middle_mm);
    let pin_load = total(&loads);
    let ([ax, ay], [bx, by]) = (from.offset_mm, to.offset_mm);
    IdlerForces {
        centre,
        angle_rad: (ax * by - ay * bx).abs().atan2(ax * bx + ay * by),
        pin_load,
        pin_load_n: pin_load.size_n(),
        tilting,
        tilting_n_m: tilting.size_n_m(),
        torque_n_m: from.torque_n_m(),
    }
}

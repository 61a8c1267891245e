//! The force between two gears.

use super::beam::{Load, LoadFrom};
use super::places::Meeting;
use super::vector::MM_IN_M;
use super::{Hand, Vector};
use crate::train::{Gear, Point};

/// A force on a gear, where it acts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearForce {
    /// The gear that it acts on.
    pub gear: Gear,
    /// From that gear's axis to the pitch point, mm: x, y.
    pub offset_mm: [f64; 2],
    /// Mid-plane of the mesh, mm.
    pub z_mm: f64,
    /// The force.
    pub force: Vector,
}

impl GearForce {
    pub(super) fn load(&self) -> Load {
        Load {
            from: LoadFrom::Gear(self.gear),
            z_mm: self.z_mm,
            offset_mm: self.offset_mm,
            force: self.force,
        }
    }

    /// Its torque about the gear's axis, N m, positive clockwise seen from the
    /// input end.
    pub fn torque_n_m(&self) -> f64 {
        let [x_mm, y_mm] = self.offset_mm;
        (y_mm * self.force.x_n - x_mm * self.force.y_n) * MM_IN_M
    }
}

/// The load of one mesh. It acts at the pitch point in the middle of the
/// width; friction is left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshForces {
    /// On the driving gear: driving when the power comes in at the input.
    pub on_driver: GearForce,
    /// On the driven gear: the same turned about.
    pub on_driven: GearForce,
    /// Centre distance of the two, mm.
    pub centres_mm: f64,
    /// Working pitch diameters d_w, mm: driving gear, driven gear.
    pub working_diameters_mm: [f64; 2],
    /// Transverse working angle α_wt, radians.
    pub working_angle_rad: f64,
    /// Helix angle at the working circle β_w, radians.
    pub working_helix_rad: f64,
    /// F_t = 2 T / d_w, N, positive.
    pub tangential_n: f64,
    /// F_t tan α_wt, N, positive: it drives the gears apart.
    pub radial_n: f64,
    /// F_t tan β_w, N, positive.
    pub axial_n: f64,
    /// All of it, along the normal of the teeth: F_bn = F_t / (cos α_wt
    /// cos β_b), N.
    pub normal_n: f64,
}

/// The load of a mesh whose driven gear is given `torque_n_m`, positive
/// clockwise (ISO 21771 for the angles, statics for the rest).
pub(super) fn loaded(meeting: &Meeting, torque_n_m: f64) -> MeshForces {
    let closing = &meeting.closing;
    let toothing = closing.toothing();
    let [driver, driven] = meeting.gears;
    let centres_mm = closing.centres_mm();
    let radius_mm = |gear: &Gear| {
        let all = f64::from(driver.teeth) + f64::from(driven.teeth);
        centres_mm * f64::from(gear.teeth) / all
    };
    let (alpha, beta_b) = (closing.working_angle_rad(), toothing.base_helix_rad());
    // tan β_w = tan β d_w / d, and d_w / d is a / a₀ on both gears.
    let tan_beta = toothing.helix_rad().tan() * centres_mm / closing.standard_centres_mm();
    let [ux, uy] = direction(meeting.axles);
    // Clockwise torque on the driven gear needs a force along (−u_y, u_x) at
    // its side that faces the driver.
    let along = torque_n_m / MM_IN_M / radius_mm(&driven);
    let (radial_n, axial_n) = (along.abs() * alpha.tan(), along.abs() * tan_beta);
    let force = Vector {
        x_n: radial_n * ux - along * uy,
        y_n: radial_n * uy + along * ux,
        z_n: axial(along, tan_beta, meeting.hands[1]),
    };
    let at = |gear: Gear, towards: f64, force| GearForce {
        gear,
        offset_mm: [ux, uy].map(|u| 0.0 + towards * u * radius_mm(&gear)),
        z_mm: meeting.plane_mm,
        force,
    };
    MeshForces {
        on_driver: at(driver, 1.0, -force),
        on_driven: at(driven, -1.0, force),
        centres_mm,
        working_diameters_mm: [&driver, &driven].map(|gear| 2.0 * radius_mm(gear)),
        working_angle_rad: alpha,
        working_helix_rad: tan_beta.atan(),
        tangential_n: along.abs(),
        radial_n,
        axial_n,
        normal_n: along.abs() / (alpha.cos() * beta_b.cos()),
    }
}

/// From the first axle to the second, of length 1.
fn direction([from, to]: [Point; 2]) -> [f64; 2] {
    let (x, y) = (to.x_mm - from.x_mm, to.y_mm - from.y_mm);
    let length = x.hypot(y);
    [x / length, y / length]
}

/// Axial force on a gear of `hand` that is pushed clockwise with `along_n`.
/// The force is normal to the tooth, which on a right-hand gear turns clockwise
/// as it goes away: `along` · tan β_w + axial · 1 = 0.
fn axial(along_n: f64, tan_beta: f64, hand: Hand) -> f64 {
    match hand {
        Hand::Right => 0.0 - along_n * tan_beta,
        Hand::Left => 0.0 + along_n * tan_beta,
    }
}

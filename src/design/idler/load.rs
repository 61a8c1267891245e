//! Forces of the two meshes on the idler, and so on its pin.

use crate::train::Point;
use serde::Serialize;

/// A force across the shafts, N: x to the right, y up, seen from the input end.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PinLoad {
    /// To the right.
    pub x_n: f64,
    /// Up.
    pub y_n: f64,
    /// Its size.
    pub size_n: f64,
}

impl PinLoad {
    fn of(x_n: f64, y_n: f64) -> Self {
        Self {
            x_n,
            y_n,
            size_n: x_n.hypot(y_n),
        }
    }
}

/// One of the idler's meshes.
#[derive(Clone, Copy, Debug)]
pub struct IdlerMesh {
    /// The other gear's axis.
    pub axis: Point,
    /// Working pitch radius of the other gear, mm.
    pub other_mm: f64,
    /// Working pitch radius of the idler, mm.
    pub idler_mm: f64,
    /// Transverse working angle, rad.
    pub working_rad: f64,
}

/// What the pin carries while the driver drives with `torque_n_m`, and while
/// the load overruns it with the same torque.
///
/// `sense` is how the driver turns, seen from the input end: 1 clockwise, −1
/// anticlockwise. Each mesh pushes the idler off its mate's axis; the driver
/// drags the idler's near flank along, the driven gear holds it back.
pub fn pin_loads(
    idler: Point,
    [driver, driven]: [IdlerMesh; 2],
    torque_n_m: f64,
    sense: f64,
) -> [PinLoad; 2] {
    let tangential_n = 1000.0 * torque_n_m / driver.other_mm;
    // The idler hands on the torque that it takes.
    let handed_n = tangential_n * driver.idler_mm / driven.idler_mm;
    [1.0, -1.0].map(|drive| {
        let (x1, y1) = push(idler, &driver, tangential_n, sense * drive);
        let (x2, y2) = push(idler, &driven, handed_n, -sense * drive);
        PinLoad::of(x1 + x2, y1 + y2)
    })
}

/// The force on the idler from one mate: away from its axis, and along the way
/// that the mate's surface moves when it turns with `sense`.
fn push(idler: Point, mesh: &IdlerMesh, tangential_n: f64, sense: f64) -> (f64, f64) {
    let (dx, dy) = (idler.x_mm - mesh.axis.x_mm, idler.y_mm - mesh.axis.y_mm);
    let apart = dx.hypot(dy);
    let (ux, uy) = (dx / apart, dy / apart);
    let radial_n = tangential_n * mesh.working_rad.tan();
    (
        radial_n * ux + tangential_n * sense * uy,
        radial_n * uy - tangential_n * sense * ux,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mesh(x_mm: f64, y_mm: f64, other_mm: f64, idler_mm: f64) -> IdlerMesh {
        let axis = Point { x_mm, y_mm };
        IdlerMesh {
            axis,
            other_mm,
            idler_mm,
            working_rad: 20_f64.to_radians(),
        }
    }

    // By hand: idler midway between two equal gears left and right of it, the
    // driver on the left turning clockwise: its right flank goes down and takes
    // the idler's down; the driven gear on the right holds its flank back,
    // downwards too. Radial forces cancel: 2 F_t down.
    #[test]
    fn an_idler_in_line_carries_twice_the_tangential_force() {
        let idler = Point {
            x_mm: 0.0,
            y_mm: 0.0,
        };
        let meshes = [mesh(-30.0, 0.0, 20.0, 10.0), mesh(30.0, 0.0, 20.0, 10.0)];
        let [drive, overrun] = pin_loads(idler, meshes, 2.0, 1.0);
        assert!(
            (drive.y_n + 200.0).abs() < 1e-9 && drive.x_n.abs() < 1e-9,
            "{drive:?}"
        );
        assert!((overrun.y_n - 200.0).abs() < 1e-9, "{overrun:?}");
    }

    // gears.md: R = 2 F_bn sin(θ/2 ± α_wt), θ the angle at the idler (equal
    // working angles).
    #[test]
    fn both_signs_of_the_closed_form() {
        let idler = Point {
            x_mm: 12.0,
            y_mm: -16.0,
        };
        let meshes = [mesh(0.0, -45.0, 21.385, 10.0), mesh(0.0, 0.0, 10.0, 10.0)];
        let to = |m: &IdlerMesh| (m.axis.x_mm - idler.x_mm, m.axis.y_mm - idler.y_mm);
        let (a, b) = (to(&meshes[0]), to(&meshes[1]));
        let theta = (a.0 * b.1 - a.1 * b.0).atan2(a.0 * b.0 + a.1 * b.1).abs();
        let base_n = 1000.0 * 3.0 / 21.385 / 20_f64.to_radians().cos();
        let mut closed = [1.0, -1.0]
            .map(|sign: f64| 2.0 * base_n * (theta / 2.0 + sign * 20_f64.to_radians()).sin().abs());
        let mut found = pin_loads(idler, meshes, 3.0, 1.0).map(|load| load.size_n);
        closed.sort_by(f64::total_cmp);
        found.sort_by(f64::total_cmp);
        for (closed, found) in closed.iter().zip(found) {
            assert!((closed - found).abs() < 1e-9, "{closed} {found}");
        }
    }
}

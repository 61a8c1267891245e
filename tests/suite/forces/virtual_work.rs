//! The idler's pin load from the work that it does, not from forces.
//!
//! Hold the driver still and let the pin move a little: the flanks stay in
//! touch, so the idler turns, and with it the driven gear. Nothing is lost in
//! the meshes, so the pin's load does as much work on the move as the driven
//! gear's torque on its turn. How far it turns is told by the base circles
//! alone: the flanks' contact lies on their common tangent, and what unrolls
//! from one circle plus what unrolls from the other is the tangent's length
//! a sin α, cos α = (r_b1 + r_b2) / a.

use super::cases;
use layshaft::problem::{Arrangement, Problem, ReverseForm};
use layshaft::train::{ModuleId, reverse_lengths};

#[derive(Clone, Copy)]
struct Wheel {
    base_mm: f64,
    at_mm: [f64; 2],
}

fn wheel(problem: &Problem, module: ModuleId, teeth: layshaft::base::Teeth, at: [f64; 2]) -> Wheel {
    let gears = problem.gears();
    let beta = gears.helix_angle_deg().to_radians();
    let normal = gears.rack().pressure_angle_rad;
    let transverse = (normal.tan() / beta.cos()).atan();
    let pitch = module.of(problem).mm() * f64::from(teeth) / beta.cos();
    Wheel {
        base_mm: pitch * transverse.cos() / 2.0,
        at_mm: at,
    }
}

/// What the two turns, anticlockwise, unroll to less the tangent's length; it
/// stays while the flanks touch. `flank` is 1 where the first wheel turning
/// anticlockwise pushes, −1 on the other flanks.
fn unrolled(one: Wheel, other: Wheel, turns: [f64; 2], flank: f64) -> f64 {
    let [x, y] = [0, 1].map(|i| other.at_mm[i] - one.at_mm[i]);
    let (centres, direction) = (x.hypot(y), y.atan2(x));
    let alpha = ((one.base_mm + other.base_mm) / centres).acos();
    let angle = direction - flank * alpha;
    one.base_mm * (turns[0] - angle) + other.base_mm * (turns[1] - angle)
        - flank * centres * alpha.sin()
}

/// How far the driven gear turns, anticlockwise, when the idler's axle goes
/// from `idler` to `moved`.
fn driven_turn(wheels: [Wheel; 3], moved: [f64; 2], flank: f64) -> f64 {
    let [driver, idler, driven] = wheels;
    let gone = Wheel {
        at_mm: moved,
        ..idler
    };
    let still = [0.0; 2];
    let idler_turn = (unrolled(driver, idler, still, flank) - unrolled(driver, gone, still, flank))
        / idler.base_mm;
    // The idler turns the other way, and pushes with its other flanks.
    let before = unrolled(idler, driven, still, -flank);
    let after = unrolled(gone, driven, [idler_turn, 0.0], -flank);
    (before - after) / driven.base_mm
}

#[test]
fn the_pin_load_does_the_work_that_the_driven_gear_gets() {
    let mut seen = [0_u32; 4];
    for case in cases(0x1d1e, 700) {
        let Some(gears) = case.set.reverse else {
            continue;
        };
        let states = case.forces();
        let at = states.last().unwrap();
        let idler = at.idler.unwrap();
        let a = case.set.centre_distance.mm();
        let (driver_at, driven_at) = match case.problem.arrangement() {
            Arrangement::InLine => ([0.0, -a], [0.0, 0.0]),
            Arrangement::Offset => ([0.0, 0.0], [0.0, -a]),
        };
        let centre = [idler.centre.x_mm, idler.centre.y_mm];
        let (lengths, _) = reverse_lengths(&case.problem, gears);
        let is_shared = case.mounting.reverse == ReverseForm::SharedDriver;
        let apart = [driver_at, driven_at].into_iter().zip(lengths);
        // A shared driver has the shift of its speed, and other distances.
        for (end, length) in apart.filter(|_| !is_shared || !case.is_shifted()) {
            let got = (centre[0] - end[0]).hypot(centre[1] - end[1]);
            assert!((got - length).abs() < 1e-7, "{got} {length}");
        }
        let wheel = |teeth, place| wheel(&case.problem, gears.module, teeth, place);
        let wheels = [
            wheel(gears.driver, driver_at),
            wheel(gears.idler, centre),
            wheel(gears.driven, driven_at),
        ];
        let [.., first, second] = &at.meshes[..] else {
            panic!("reverse has two meshes");
        };
        // Clockwise is positive there; the mesh turns the driver back.
        let flank = first.on_driver.torque_n_m().signum();
        // Held from outside, anticlockwise, N mm.
        let held = 1000.0 * second.on_driven.torque_n_m();
        let step = 1e-4;
        let load = [[1.0, 0.0], [0.0, 1.0]].map(|way: [f64; 2]| {
            let moved = |by: f64| [0, 1].map(|i| centre[i] + by * way[i]);
            let turn =
                driven_turn(wheels, moved(step), flank) - driven_turn(wheels, moved(-step), flank);
            // The pin gives −load to the idler.
            held * turn / (2.0 * step)
        });
        let [x, y] = load;
        let got = idler.pin_load;
        let off = (got.x_n - x).hypot(got.y_n - y);
        assert!(off < 1e-5 * second.normal_n, "{load:?} {got:?}");
        assert!(got.z_n.abs() <= 0.0);
        let covered = [
            true,
            case.is_helical(),
            case.is_shifted(),
            a > 0.0 && !case.is_helical(),
        ];
        for (count, is) in seen.iter_mut().zip(covered) {
            *count += u32::from(is);
        }
    }
    assert!(seen.iter().all(|&count| count >= 5), "{seen:?}");
}

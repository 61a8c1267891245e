//! Forces, couples, torques and power of random boxes.

use super::{Case, cases};
use layshaft::design::forces::{
    Hand, LoadFrom, MeshForces, Reaction, ShaftForces, StateForces, Support,
};
use layshaft::design::motion::{State, motion};
use layshaft::problem::{Arrangement, Shaft};
use layshaft::train::{Gear, Role, Seat};

/// A sum with the size of what went into it.
#[derive(Default)]
struct Sum {
    value: f64,
    size: f64,
}

impl Sum {
    fn add(&mut self, part: f64) {
        self.value += part;
        self.size = self.size.max(part.abs());
    }

    fn vanishes(&self, within: f64) -> bool {
        self.value.abs() <= within * self.size
    }
}

/// Place (mm) and force (N) of whatever acts on a shaft, axis at (0, 0).
fn actions(shaft: &ShaftForces) -> Vec<([f64; 3], [f64; 3])> {
    let force = |v: layshaft::design::forces::Vector| [v.x_n, v.y_n, v.z_n];
    let loads = shaft.loads.iter().map(|load| {
        let [x, y] = load.offset_mm;
        ([x, y, load.z_mm], force(load.force))
    });
    let held = shaft.reactions.iter();
    let held = held.map(|at| ([0.0, 0.0, at.z_mm], force(at.force)));
    loads.chain(held).collect()
}

/// Every component of force, and of couple about an odd place off the axis.
fn shaft_in_balance(shaft: &ShaftForces) -> bool {
    let mut sums: [Sum; 5] = Default::default();
    for ([x, y, z], [fx, fy, fz]) in actions(shaft) {
        let (x, y, z) = (x - 3.0, y + 7.0, z - 11.0);
        let parts = [fx, fy, fz, y * fz - z * fy, z * fx - x * fz];
        for (sum, part) in sums.iter_mut().zip(parts) {
            sum.add(part);
        }
    }
    for held in &shaft.reactions {
        sums[3].add(1000.0 * held.couple.x_n_m);
        sums[4].add(1000.0 * held.couple.y_n_m);
    }
    // A component that is nothing but last bits is held against all forces.
    let force = sums[..3].iter().map(|sum| sum.size).fold(0.0, f64::max);
    sums[..3].iter().all(|sum| sum.value.abs() <= 1e-9 * force)
        && sums[3..]
            .iter()
            .all(|sum| sum.value.abs() <= 1e-9 * 100.0 * force)
}

#[test]
fn every_shaft_is_in_balance_and_power_in_is_power_out() {
    let mut seen = [0_u32; 6];
    for case in cases(0x0f0c, 260) {
        let turns = motion(&case.problem, &case.set, case.mounting.reverse, None).unwrap();
        let states = case.forces();
        assert_eq!(states.len(), turns.states.len());
        for (at, turning) in states.iter().zip(&turns.states) {
            assert_eq!(at.state, turning.state);
            assert!(at.shafts.iter().all(shaft_in_balance), "{at:#?}");
            assert!(meshes_hold(&case, at), "{at:#?}");
            assert!(torques_hold(at), "{at:#?}");
            assert!(case_is_held(at, case.set.centre_distance.mm()), "{at:#?}");
            let output = turning
                .shafts
                .iter()
                .find(|s| matches!(s.shaft, Shaft::Main | Shaft::Output));
            let mut power = Sum::default();
            power.add(at.input_torque_n_m);
            power.add(-at.output_torque_n_m * output.unwrap().rate.per_input_turn);
            assert!(power.vanishes(1e-12), "{at:#?}");
        }
        let in_line = case.problem.arrangement() == Arrangement::InLine;
        let covered = [
            in_line,
            !in_line,
            case.is_helical(),
            case.is_shifted(),
            case.set.reverse.is_some() && case.is_helical(),
            case.set.reverse.is_some() && case.is_shifted(),
        ];
        for (count, is) in seen.iter_mut().zip(covered) {
            *count += u32::from(is);
        }
    }
    assert!(seen.iter().all(|&count| count >= 5), "{seen:?}");
}

/// Shaft by shaft, what goes in comes out; the meshes' torques come from their
/// vectors alone.
fn torques_hold(at: &StateForces) -> bool {
    let torque = |shaft: &ShaftForces| {
        let mut sum = Sum::default();
        for ([x, y, _], [fx, fy, _]) in actions(shaft) {
            sum.add((y * fx - x * fy) / 1000.0);
        }
        sum
    };
    at.shafts.iter().all(|shaft| {
        let mut sum = torque(shaft);
        match shaft.shaft {
            // Direct: the dog hands the torque on.
            _ if at.meshes.is_empty() => {}
            Shaft::Input => sum.add(at.input_torque_n_m),
            Shaft::Main | Shaft::Output => sum.add(-at.output_torque_n_m),
            Shaft::Layshaft | Shaft::Idler => {}
        }
        sum.vanishes(1e-9)
    })
}

/// All that the shafts push the case with: no force in sum, and no torque but
/// the one that holds it.
fn case_is_held(at: &StateForces, centres_mm: f64) -> bool {
    let mut forces: [Sum; 3] = Default::default();
    let mut torque = Sum::default();
    let on_case = |held: &&Reaction| held.support != Support::Spigot;
    for shaft in &at.shafts {
        let [x, y] = match (shaft.shaft, at.idler) {
            (Shaft::Layshaft | Shaft::Output, _) => [0.0, -centres_mm],
            (Shaft::Idler, Some(idler)) => [idler.centre.x_mm, idler.centre.y_mm],
            _ => [0.0, 0.0],
        };
        for held in shaft.reactions.iter().filter(on_case) {
            let force = held.force;
            torque.add((y * force.x_n - x * force.y_n) / 1000.0);
            let parts = [force.x_n, force.y_n, force.z_n];
            for (sum, part) in forces.iter_mut().zip(parts) {
                sum.add(part);
            }
        }
    }
    // What the supports give to the shafts turns the other way on the case,
    // and what holds it turns it back.
    torque.add(-at.case_torque_n_m);
    if at.meshes.is_empty() {
        return forces.iter().all(|sum| sum.size <= 0.0);
    }
    forces.iter().all(|sum| sum.vanishes(1e-9)) && torque.vanishes(1e-9)
}

/// Each force is normal to the tooth, has the size told, and is what the two
/// gears give each other.
fn meshes_hold(case: &Case, at: &StateForces) -> bool {
    at.meshes.iter().all(|mesh| {
        [&mesh.on_driver, &mesh.on_driven].into_iter().all(|on| {
            let [x, y] = on.offset_mm;
            let radius = x.hypot(y);
            // Clockwise round the gear, then along the tooth at the pitch point.
            let round = [y / radius, -x / radius];
            let helix = match hand(case, &on.gear) {
                Hand::Right => mesh.working_helix_rad.tan(),
                Hand::Left => -mesh.working_helix_rad.tan(),
            };
            let f = on.force;
            let along = helix * (round[0] * f.x_n + round[1] * f.y_n) + f.z_n;
            let size = f.size_n();
            along.abs() <= 1e-9 * size
                && (size - mesh.normal_n).abs() <= 1e-9 * size
                && (on.torque_n_m().abs() * 2000.0 / (2.0 * radius) - mesh.tangential_n).abs()
                    <= 1e-9 * size
                && outward(mesh, [x, y])
        }) && mesh.on_driver.force == -mesh.on_driven.force
    })
}

/// The gears are driven apart: each is pushed from its pitch point inwards.
fn outward(mesh: &MeshForces, [x, y]: [f64; 2]) -> bool {
    let on = [mesh.on_driver, mesh.on_driven];
    let own = on
        .iter()
        .find(|on| (on.offset_mm[0] - x).abs() + (on.offset_mm[1] - y).abs() < f64::MIN_POSITIVE);
    own.is_some_and(|on| {
        let radial = (x * on.force.x_n + y * on.force.y_n) / x.hypot(y);
        (radial + mesh.radial_n).abs() <= 1e-9 * mesh.normal_n
    })
}

/// Written out shaft by shaft: the layshaft of one hand, the main shaft of the
/// other but for its gear of reverse.
fn hand(case: &Case, gear: &Gear) -> Hand {
    let fixed = case.mounting.hand;
    let in_line = case.problem.arrangement() == Arrangement::InLine;
    assert!(
        in_line || gear.role != Role::Head,
        "an offset box has no head"
    );
    match (gear.role, gear.seat) {
        (Role::Head | Role::Reverse, Seat::Driven)
        | (Role::Speed(_) | Role::Reverse, Seat::Driver) => fixed,
        (Role::Head, Seat::Driver) | (Role::Speed(_), Seat::Driven) | (_, Seat::Idler) => {
            fixed.other()
        }
    }
}

// Common practice, no source: gears of one hand on a layshaft oppose each
// other's thrust, as one is driven and the other drives.
#[test]
fn thrusts_on_a_layshaft_of_one_hand_oppose() {
    let mut seen = 0;
    for case in cases(0x0f0d, 260) {
        if !case.is_helical() {
            continue;
        }
        for at in case.forces() {
            let Some(shaft) = at.shaft(Shaft::Layshaft).filter(|s| !s.loads.is_empty()) else {
                continue;
            };
            let along: Vec<f64> = shaft.loads.iter().map(|load| load.force.z_n).collect();
            assert_eq!(along.len(), 2);
            assert!(along[0] * along[1] < 0.0, "{along:?}");
            assert!(shaft.thrust.size_n < along[0].abs().max(along[1].abs()));
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn overrunning_turns_every_tangential_force_about_and_no_radial_one() {
    for mut case in cases(0x0f0e, 60) {
        let one = case.forces();
        case.drive.flow = match case.drive.flow {
            layshaft::design::forces::Flow::Drives => layshaft::design::forces::Flow::Overruns,
            layshaft::design::forces::Flow::Overruns => layshaft::design::forces::Flow::Drives,
        };
        for (one, other) in one.iter().zip(case.forces()) {
            for (a, b) in one.meshes.iter().zip(&other.meshes) {
                let (a, b) = (a.on_driven, b.on_driven);
                let sum = a.torque_n_m() + b.torque_n_m();
                assert!(sum.abs() <= 1e-9 * a.torque_n_m().abs());
                assert!((a.force.z_n + b.force.z_n).abs() <= 1e-9 * a.force.size_n());
                let radial = |f: layshaft::design::forces::Vector| {
                    a.offset_mm[0] * f.x_n + a.offset_mm[1] * f.y_n
                };
                let (ra, rb) = (radial(a.force), radial(b.force));
                assert!((ra - rb).abs() <= 1e-9 * ra.abs() && ra < 0.0);
            }
        }
    }
}

#[test]
fn direct_and_neutral_load_nothing() {
    let mut seen = 0;
    for case in cases(0x0f0f, 150) {
        for at in case.forces() {
            let loaded = match at.state {
                State::Neutral => false,
                State::Speed(place) => case.problem.speeds()[place].geared().is_some(),
                State::Reverse => true,
            };
            assert_eq!(loaded, !at.meshes.is_empty());
            if loaded {
                continue;
            }
            seen += u32::from(at.state != State::Neutral);
            for shaft in &at.shafts {
                assert!(shaft.greatest_bending_n_m <= 0.0 && shaft.thrust.size_n <= 0.0);
                assert!(shaft.reactions.iter().all(|held| held.radial_n <= 0.0));
                let loads = &shaft.loads;
                assert!(loads.iter().all(|load| load.from == LoadFrom::Spigot));
            }
        }
    }
    assert!(seen > 2, "{seen}");
}

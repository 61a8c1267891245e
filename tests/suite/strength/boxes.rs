//! Ratings of whole boxes beside plain arithmetic from loads and turns.

use super::{Box, helical, in_line, offset, set};
use layshaft::design::Plan;
use layshaft::design::forces::{Flow, StateForces, Support};
use layshaft::design::motion::State;
use layshaft::design::strength::{Held, Member, Service, Standing, Strength, What, When};
use layshaft::problem::Shaft;
use layshaft::train::{Role, Seat};
use serde_json::json;
use std::f64::consts::PI;

fn near(got: f64, expected: f64, about: &str) {
    let off = (got - expected).abs();
    assert!(
        off <= 1e-9 * expected.abs(),
        "{about}: {got}, not {expected}"
    );
}

fn looked<T>(of: &Box, look: impl FnOnce(&Plan<'_>, &Strength) -> T) -> T {
    of.with_plan(|plan| look(plan, &of.usual()))
}

fn driving<'a>(plan: &'a Plan<'_>) -> &'a [StateForces] {
    plan.driving.as_ref().unwrap().as_ref().unwrap()
}

fn share(told: &Strength, part: &Member, what: What, when: When) -> Option<f64> {
    let mut all = told.all.iter();
    let found = all.find(|one| one.part == *part && one.what == what && one.when == when);
    found.map(|one| one.value)
}

// p = F/(d L), v = π d n; the main shaft is 15 mm, so the spigot 9 mm (0.6 of
// it, rounded down to a standard bore) and 12 mm long (the face width limits).
#[test]
fn the_spigot_is_loaded_and_slips_but_not_in_direct() {
    looked(&Box::new("in line", &in_line()), |plan, told| {
        let motion = plan.motion.as_ref().unwrap();
        let mut slipping = 0;
        for (state, turns) in driving(plan).iter().zip(&motion.states) {
            let when = When::In(state.state, Flow::Drives);
            let rated = |what| share(told, &Member::Spigot, what, when);
            let main = state.shaft(Shaft::Main).unwrap();
            let mut held = main.reactions.iter();
            let load_n = held
                .find(|h| h.support == Support::Spigot)
                .unwrap()
                .radial_n;
            let slip_rpm = turns.spigot_slip.unwrap().rpm.unwrap().abs();
            let is_direct = state.state == State::Speed(2);
            assert_eq!(rated(What::SlipSpeed).is_none(), is_direct);
            if load_n <= 0.0 {
                assert_eq!(rated(What::PressureSpeed), None);
                continue;
            }
            let pressure = load_n / (9.0 * 12.0);
            let speed = PI * 0.009 * slip_rpm / 60.0;
            near(rated(What::Pressure).unwrap(), 1.5 * pressure, "pressure");
            near(rated(What::SlipSpeed).unwrap(), speed, "speed");
            near(
                rated(What::PressureSpeed).unwrap(),
                pressure * speed,
                "both",
            );
            slipping += 1;
        }
        assert_eq!(slipping, 3);
    });
}

#[test]
fn free_gears_slip_unloaded_and_the_idler_loaded() {
    let of = Box::new("offset", &offset());
    looked(&of, |plan, told| {
        let mut idle = 0;
        for one in &told.all {
            let Member::Bush(gear) = &one.part else {
                continue;
            };
            let both = matches!(one.what, What::PressureSpeed | What::Pressure);
            let in_reverse = matches!(one.when, When::In(State::Reverse, _));
            assert!(!both || (gear.seat == Seat::Idler && in_reverse), "{one:?}");
            let own = match gear.role {
                Role::Speed(place) => State::Speed(place),
                _ => State::Reverse,
            };
            if one.what == What::StillPressure {
                assert!(
                    matches!(one.when, When::In(state, _) if state == own),
                    "{one:?}"
                );
                idle += 1;
            }
        }
        assert_eq!(idle, 2 * 4, "each driven gear in its own speed, both ways");
        // The idler: 6 mm pin, 16 mm wide.
        let reverse = driving(plan).last().unwrap();
        let idler = reverse.idler.unwrap();
        let motion = plan.motion.as_ref().unwrap().states.last().unwrap();
        let turns = motion.gear(Role::Reverse, Seat::Idler).unwrap();
        let pressure = idler.pin_load_n / (6.0 * 16.0);
        let speed = PI * 0.006 * turns.rate.rpm.unwrap().abs() / 60.0;
        let when = When::In(State::Reverse, Flow::Drives);
        let got = share(told, &Member::Bush(turns.gear), What::PressureSpeed, when);
        near(got.unwrap(), pressure * speed, "idler");
    });
}

// By hand for one speed: T at the output with shock 1.5, six dogs 2 mm high,
// 2 mm deep, three quarters of them carrying.
#[test]
fn dogs_carry_what_goes_out() {
    looked(&Box::new("offset", &offset()), |plan, told| {
        assert_eq!(told.dogs.len(), 2 * 4);
        for load in &told.dogs {
            let When::In(state, _) = load.when else {
                panic!("{load:?}")
            };
            let mut states = driving(plan).iter();
            let out = states
                .find(|s| s.state == state)
                .unwrap()
                .output_torque_n_m
                .abs();
            near(load.torque_n_m, 1.5 * out, "torque");
            let mean_mm = load.spline.mean_mm;
            near(load.tangential_n, 2e3 * 1.5 * out / mean_mm, "force");
            let pressure = load.tangential_n / (4.5 * 2.0 * 2.0);
            let part = Member::Dogs(load.role);
            let got = share(told, &part, What::SidePressure, load.when).unwrap();
            near(got, pressure, "pressure");
            // Half of what the pockets' play of 1 mm leaves.
            near(load.width_mm, (PI * mean_mm / 6.0 - 1.0) / 2.0, "width");
            let shear = share(told, &part, What::Shear, load.when).unwrap();
            near(shear, pressure * 2.0 / load.width_mm, "shear");
            assert!(load.lean_deg > 0.0 && load.lean_deg < 3.0 && load.drawn_in_n > 0.0);
            near(load.play_deg, (2.0 / mean_mm).to_degrees(), "play");
        }
        // End float 0.2 and fork play 0.3 of 2 mm; half may be lost.
        let dogs = Member::Dogs(Role::Reverse);
        near(
            share(told, &dogs, What::OverlapLost, When::Always).unwrap(),
            0.5,
            "lost",
        );
    });
}

#[test]
fn dogs_without_taper_or_room_are_not_rated() {
    let with = |dogs| {
        let told = Box::new("dogs", &set(offset(), "layout", json!({ "dogs": dogs }))).usual();
        let of_dogs = |part: &Member| matches!(part, Member::Dogs(_));
        let unrated = told.unrated.iter().filter(|one| of_dogs(&one.part)).count();
        let has = |what| {
            told.all
                .iter()
                .any(|one| of_dogs(&one.part) && one.what == what)
        };
        let leaning = told.all.iter().find(|one| one.what == What::JumpOut);
        (
            unrated,
            [What::JumpOut, What::Shear, What::Room].map(has),
            leaning.map(|one| one.limit_from.standing),
        )
    };
    let usual = Some(Standing::Defaulted);
    assert_eq!(with(json!({})), (0, [true, true, false], usual));
    let given = json!({ "back_taper_deg": 2, "width_mm": 4 });
    assert_eq!(with(given), (0, [true, true, true], Some(Standing::Given)));
    let none = json!({ "back_taper_deg": 0 });
    assert_eq!(with(none), (4, [false, true, false], None));
    let crowded = json!({ "count": 120, "play_mm": 3 });
    assert_eq!(with(crowded), (4, [false, false, false], None));
}

// τ = 2 T / (π d² L), L no more than 1.5 d: 16 mm counts whole on 17 mm.
#[test]
fn a_bonded_gear_holds_by_its_bore() {
    let bonded = set(offset(), "layout", json!({ "layshaft": "bonded" }));
    let told = Box::new("bonded", &bonded).usual();
    let mut seen = 0;
    for load in &told.joints {
        let Held::Bond(counted_mm) = load.held else {
            continue;
        };
        near(counted_mm, 16.0, "length");
        // All of the input torque, with shock.
        near(load.torque_n_m, 1.5 * 14.0, "torque");
        let shear = 2e3 * load.torque_n_m / (PI * 17.0 * 17.0 * 16.0);
        near(
            share(&told, &load.part, What::Shear, load.when).unwrap(),
            shear,
            "shear",
        );
        near(
            load.full_n_m.unwrap(),
            load.torque_n_m * 20.0 / shear,
            "unweakened",
        );
        seen += 1;
    }
    assert_eq!(seen, 8);
}

// μ p π d² L / 2 with p = E δ / (2 d) (1 − d² / D²), D the root circle.
#[test]
fn a_pressed_gear_grips_by_its_interference() {
    let with = |layout| Box::new("pressed", &set(offset(), "layout", layout)).usual();
    let grip = |told: &Strength| {
        let mut seen = Vec::new();
        for one in told.all.iter().filter(|one| one.what == What::Grip) {
            near(one.value, 1.5 * 14.0, "torque");
            seen.push(one.limit);
        }
        assert_eq!(seen.len(), 8);
        seen.into_iter().fold(f64::INFINITY, f64::min)
    };
    let usual = with(json!({ "layshaft": "pressed" }));
    let Held::Press(press) = usual.joints[0].held else {
        panic!("{:?}", usual.joints[0])
    };
    near(press.interference_mm, 0.017, "a thousandth of the shaft");
    let teeth = match &usual.joints[0].part {
        Member::Joint(gears) => f64::from(gears[0].teeth),
        other => panic!("{other:?}"),
    };
    // Module 2, dedendum 1.25.
    let root_mm = 2.0 * (teeth - 2.5);
    near(press.hub_mm, root_mm, "root circle");
    let pressure = 206e3 * 0.001 / 2.0 * (1.0 - (17.0 / root_mm).powi(2));
    let torque = 0.12 * pressure * PI * 17.0 * 17.0 * 16.0 / 2e3;
    near(usual.joints[0].full_n_m.unwrap(), torque, "grip");
    let given = with(json!({ "layshaft": "pressed", "press_interference_mm": 0.0085 }));
    near(2.0 * grip(&given), grip(&usual), "half of the interference");
}

// One piece from head to last gear: the layshaft's joints pass nothing.
#[test]
fn gears_of_one_piece_pass_torque_among_themselves() {
    let whole = set(in_line(), "layout", json!({ "layshaft": "one-piece" }));
    let told = Box::new("one piece", &whole).usual();
    let joints = told
        .joints
        .iter()
        .filter(|load| matches!(load.part, Member::Joint(_)));
    assert_eq!(joints.count(), 0);
    let hubs = told
        .joints
        .iter()
        .filter(|load| matches!(load.part, Member::Hub(_)));
    assert_eq!(hubs.count(), 2 * 4);
}

// p = F / (π (d − t) t), groove 0.5 mm deep in a 20 mm shaft and 0.4 mm in one
// of 17 mm; what is bonded also holds the thrust round and along at once.
#[test]
fn thrust_is_kept_by_circlips_and_bonds() {
    let bonded = set(helical(offset()), "layout", json!({ "layshaft": "bonded" }));
    looked(&Box::new("bonded, helical", &bonded), |plan, told| {
        let state = &driving(plan)[1];
        let when = When::In(State::Speed(0), Flow::Drives);
        let mesh = &state.meshes[0];
        for (at, shaft_mm, groove_mm) in [(mesh.on_driver, 17.0, 0.4), (mesh.on_driven, 20.0, 0.5)]
        {
            let part = Member::Circlip(vec![at.gear]);
            let by_hand = 1.5 * mesh.axial_n / (PI * (shaft_mm - groove_mm) * groove_mm);
            let got = share(told, &part, What::SidePressure, when).unwrap();
            near(got, by_hand, "groove");
        }
        let joint = Member::Joint(vec![mesh.on_driver.gear]);
        let round = 2.0 * 1.5 * 14e3 / (PI * 17.0 * 17.0 * 16.0);
        let along = 1.5 * mesh.axial_n / (PI * 17.0 * 16.0);
        let got = share(told, &joint, What::Shear, when).unwrap();
        near(got, round.hypot(along), "bond");
    });
    // The input gear of an in-line box is of one piece with its shaft.
    let told = Box::new("in line, helical", &helical(in_line())).usual();
    let of_input = |part: &Member| match part {
        Member::Circlip(gears) | Member::Joint(gears) => gears
            .iter()
            .any(|gear| (gear.role, gear.seat) == (Role::Head, Seat::Driver)),
        _ => false,
    };
    assert!(told.all.iter().all(|one| !of_input(&one.part)));
    let circlip = |part: &Member| matches!(part, Member::Circlip(_));
    assert!(told.all.iter().any(|one| circlip(&one.part)));
}

// A stub of 6 mm: what the wall holds is the greatest moment, and the pin, which
// stands and has no keyway, may have two thirds of its yield stress.
#[test]
fn the_pin_is_a_stub_without_a_notch() {
    looked(&Box::new("offset", &offset()), |plan, told| {
        let reverse = driving(plan).last().unwrap();
        let pin = reverse.shaft(Shaft::Idler).unwrap();
        let stress = 1.5 * pin.greatest_bending_n_m * 32e3 / (PI * 6.0_f64.powi(3));
        let when = When::In(State::Reverse, Flow::Drives);
        let part = Member::Shaft(Shaft::Idler);
        near(
            share(told, &part, What::Stress, when).unwrap(),
            stress,
            "pin",
        );
        let mut all = told.all.iter();
        let rated = all.find(|one| one.part == part && one.what == What::Stress);
        near(rated.unwrap().limit, 340.0 / 1.5, "limit");
    });
}

#[test]
fn bearings_of_other_sizes_need_their_ratings() {
    let odd = json!({ "diameter_mm": 17, "bearing_outside_mm": 40 });
    let told = Box::new("odd", &set(offset(), "shafts.input", odd)).usual();
    let unrated = told.unrated.iter().map(|one| &one.part);
    let of_input = unrated.filter(|part| matches!(part, Member::Bearing(Shaft::Input, _)));
    assert_eq!((of_input.count(), told.bearings.len()), (2, 2));

    let given = json!({ "diameter_mm": 17, "bearing_outside_mm": 40,
        "dynamic_rating_n": 9500, "static_rating_n": 4700 });
    let told = Box::new("given", &set(offset(), "shafts.input", given)).usual();
    assert_eq!(told.bearings.len(), 4);
    for one in &told.all {
        let is_life = matches!(one.what, What::Life | What::AtRest);
        if let (true, Member::Bearing(shaft, _)) = (is_life, &one.part) {
            let standing = match shaft {
                Shaft::Input => Standing::Given,
                _ => Standing::Defaulted,
            };
            assert_eq!(one.limit_from.standing, standing);
        }
    }
    let at_rest = told.all.iter().find(|one| {
        one.what == What::AtRest && matches!(one.part, Member::Bearing(Shaft::Input, _))
    });
    near(at_rest.unwrap().limit, 4700.0, "static rating");
}

// There is no standard key for 6 mm and below (ISO 773, from memory); needle
// rollers are their maker's to rate.
#[test]
fn what_cannot_be_rated_is_named() {
    let mut thin = in_line();
    thin["shafts"]["layshaft"] = json!({ "diameter_mm": 6 });
    thin["shafts"]["spigot"] = json!({ "diameter_mm": 8, "kind": "needle", "wall_mm": 1 });
    let of = Box::new("thin", &thin);
    let told = of.usual();
    let joint = |part: &Member| matches!(part, Member::Joint(_));
    assert!(told.unrated.iter().any(|one| joint(&one.part)));
    assert!(told.unrated.iter().any(|one| one.part == Member::Spigot));
    let rated = |part: &Member| joint(part) || *part == Member::Spigot;
    assert!(told.all.iter().all(|one| !rated(&one.part)));
    let names = told.unrated.iter().map(|one| one.part.name(&of.problem));
    assert!(names.clone().any(|name| name == "spigot"));
    assert!(
        names
            .into_iter()
            .any(|name| name.starts_with("joint of layshaft"))
    );
}

#[test]
fn what_nothing_says_is_said_to_be_usual() {
    let mut file = offset();
    file.as_object_mut().unwrap().remove("duty");
    file.as_object_mut().unwrap().remove("input_rpm");
    let of = Box::new("no duty", &file);
    let told = of.usual();
    assert!(!told.is_for_duty && (told.torque_n_m - 1.0).abs() < 1e-12);
    assert_eq!(told.service.rpm_from.standing, Standing::Defaulted);
    let shares: f64 = told.service.shares.iter().map(|(_, share)| share).sum();
    assert!(
        (shares - 1.0).abs() < 1e-12 && (told.service.share(State::Reverse) - 0.05).abs() < 1e-12
    );
    assert!(
        told.factors
            .iter()
            .all(|f| f.basis.standing != Standing::Given)
    );
    let given = Service::of(&Box::new("duty", &offset()).problem);
    assert_eq!(given.rpm_from.standing, Standing::Given);
}

//! Boxes whose loads were worked out by hand.

use layshaft::base::{Decimal, Length, Teeth};
use layshaft::design::forces::{
    Bearings, Drive, Flow, ForceFault, Hand, IdlerMounting, Locating, MainMounting, Mounting, Pin,
    ShaftBearings, ShaftForces, StateForces, Support, forces,
};
use layshaft::design::motion::{MotionFault, State};
use layshaft::design::planes::End;
use layshaft::problem::{Problem, ReverseForm, Shaft, Side, Turning, parse};
use layshaft::train::{ModuleId, Pair, ReverseGears, Role, Set};

/// Invented: module 1 on centres of 50 mm, so that the distances of its idler
/// make the triangle of row 10.01.
const BOX: &str = r#"{ "centre_distance_mm": 50.0,
    "gears": { "modules_mm": [1.0], "min_teeth": 10, "max_teeth": 90, "face_width_mm": 8.0 },
    "speeds": [ { "name": "low", "ratio": 2.25 }, { "name": "top", "direct": true } ],
    "reverse": { "ratio": 3.0, "tolerance_percent": 30.0 } }"#;

fn problem(text: &str) -> Problem {
    parse("worked", text).unwrap_or_else(|faults| panic!("{}", faults.render(false)))
}

fn set() -> Set {
    let module = ModuleId::new(0);
    let pair = |driver, driven| Pair {
        module,
        driver: Teeth::new(driver),
        driven: Teeth::new(driven),
    };
    Set {
        centre_distance: Length::from_mm(Decimal::whole(50)),
        head: Some(pair(40, 60)),
        pairs: vec![pair(40, 60)],
        reverse: Some(ReverseGears {
            module,
            driver: Teeth::new(20),
            idler: Teeth::new(40),
            driven: Teeth::new(40),
        }),
    }
}

fn bearings(input_end_mm: f64, output_end_mm: f64) -> Bearings {
    Bearings {
        input_end_mm,
        output_end_mm,
        locating: Locating::EitherEnd,
    }
}

fn mounting() -> Mounting {
    Mounting {
        planes_mm: vec![
            (Role::Head, 10.0),
            (Role::Speed(0), 60.0),
            (Role::Reverse, 80.0),
        ],
        bearings: ShaftBearings::InLine {
            input: bearings(-30.0, -10.0),
            layshaft: bearings(0.0, 100.0),
            main: MainMounting {
                spigot_mm: 10.0,
                bearing_mm: 110.0,
                locating: Locating::EitherEnd,
            },
        },
        idler: Some(IdlerMounting {
            side: Side::Right,
            pin: Pin::Stub { wall_mm: 100.0 },
        }),
        reverse: ReverseForm::ConstantMesh,
        hand: Hand::Right,
    }
}

const DRIVE: Drive = Drive {
    input_torque_n_m: 10.0,
    input_turns: Turning::Clockwise,
    flow: Flow::Drives,
};

fn told(text: &str, mounting: &Mounting, drive: &Drive) -> Vec<StateForces> {
    forces(&problem(text), &set(), mounting, drive).unwrap()
}

fn state(all: Vec<StateForces>, state: State) -> StateForces {
    all.into_iter().find(|at| at.state == state).unwrap()
}

fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got} {expected}");
}

fn held(shaft: &ShaftForces, support: Support) -> (f64, f64) {
    let mut all = shaft.reactions.iter();
    let found = all.find(|held| held.support == support).unwrap();
    (found.force.x_n, found.force.y_n)
}

// By hand. Head: F_t = 2 · 10 N m / 40 mm = 500 N, F_r = 500 tan 20° =
// 181.985 N. The layshaft is below, so the input gear, turning clockwise, goes
// left there: it pushes the layshaft gear left and down. The layshaft has
// 15 N m, turns anticlockwise, and pushes the main gear above it left and up
// with 2 · 15 / 40 = 750 N and 272.978 N.
#[test]
fn loads_of_a_geared_speed() {
    let low = state(told(BOX, &mounting(), &DRIVE), State::Speed(0));
    let head = low.meshes[0].on_driven.force;
    near(head.x_n, -500.0, 1e-9);
    near(head.y_n, -181.985, 1e-3);
    let speed = low.meshes[1].on_driven.force;
    near(speed.x_n, -750.0, 1e-9);
    near(speed.y_n, 272.978, 1e-3);
    near(speed.z_n, 0.0, 0.0);
    near(low.output_torque_n_m, 22.5, 1e-12);
    near(low.case_torque_n_m, 12.5, 1e-12);
    near(low.shaft(Shaft::Layshaft).unwrap().torque_n_m, -15.0, 1e-12);

    // Main shaft: the gear stands in the middle of spigot and bearing.
    let main = low.shaft(Shaft::Main).unwrap();
    let (x, y) = held(main, Support::Spigot);
    near(x, 375.0, 1e-9);
    near(y, -136.489, 1e-3);
    // Bent with 50 mm · half of 798.133 N.
    near(main.greatest_bending_n_m, 19.9533, 1e-4);

    // Input shaft: the head pushes its gear with (500, 181.985), the spigot
    // with (−375, 136.489), both at 10 mm: (125, 318.474) overhung by 20 mm
    // on a span of 20 mm: the near bearing holds twice that, the far one it.
    let input = low.shaft(Shaft::Input).unwrap();
    let (x, y) = held(input, Support::OutputEnd);
    near(x, -250.0, 1e-9);
    near(y, -636.948, 2e-3);
    let (x, y) = held(input, Support::InputEnd);
    near(x, 125.0, 1e-9);
    near(y, 318.474, 1e-3);
    near(
        input.greatest_bending_n_m,
        125.0_f64.hypot(318.474) * 0.02,
        1e-4,
    );
}

// By hand, the 3-4-5 triangle of row 10.01: main M at (0, 0), layshaft L at
// (0, −50), idler I at (24, −32), a right angle at I.
//
//     M            Seen from the input end, the input turning clockwise. L turns
//     | \          anticlockwise with 15 N m on 20 mm: F_t = 1500 N, F_r =
//     |   \        545.955 N. It pushes I along (−0.6, 0.8) and away along
//     |     \      (0.8, 0.6): (−463.236, 1527.573). I turns clockwise and pushes
//     |      I     M along (0.8, 0.6) and away along (−0.6, 0.8); M pushes back
//     |    /       with (−872.427, −1336.764).
//     |  /
//     L            Sum (−1335.663, 190.809), size 1349.22 N
//
// gears.md and the triangle of the two equal forces F_bn = 1500 / cos 20° =
// 1596.267 N, 90° ∓ 40° apart: R = 2 F_bn sin(45° − 20°); on the other side of
// the shafts, or overrunning, 2 F_bn sin(45° + 20°).
#[test]
fn pin_load_by_the_triangle_of_forces() {
    let mut mounting = mounting();
    let reverse = state(told(BOX, &mounting, &DRIVE), State::Reverse);
    let idler = reverse.idler.unwrap();
    near(idler.centre.x_mm, 24.0, 1e-9);
    near(idler.centre.y_mm, -32.0, 1e-9);
    near(idler.angle_rad.to_degrees(), 90.0, 1e-9);
    near(idler.pin_load.x_n, -1335.663, 1e-3);
    near(idler.pin_load.y_n, 190.809, 1e-3);
    let normal = 1500.0 / 20_f64.to_radians().cos();
    near(reverse.meshes[1].normal_n, normal, 1e-9);
    near(reverse.meshes[2].normal_n, normal, 1e-9);
    let load = |angle: f64| 2.0 * normal * angle.to_radians().sin();
    near(idler.pin_load_n, load(25.0), 1e-9);
    near(idler.tilting_n_m, 0.0, 0.0);
    // I turns with the input: 15 N m · 40/20.
    near(idler.torque_n_m, 30.0, 1e-9);

    // The stub's wall is 20 mm behind the idler.
    let pin = reverse.shaft(Shaft::Idler).unwrap();
    near(pin.reactions[0].couple.size_n_m(), load(25.0) * 0.02, 1e-9);
    near(pin.greatest_bending_n_m, load(25.0) * 0.02, 1e-9);

    let size = |mounting: &Mounting, drive: &Drive| {
        let reverse = state(told(BOX, mounting, drive), State::Reverse);
        reverse.idler.unwrap().pin_load_n
    };
    let overrun = Drive {
        flow: Flow::Overruns,
        ..DRIVE
    };
    near(size(&mounting, &overrun), load(65.0), 1e-9);
    let turned = Drive {
        input_turns: Turning::Anticlockwise,
        ..DRIVE
    };
    near(size(&mounting, &turned), load(65.0), 1e-9);
    mounting.idler = mounting.idler.map(|idler| IdlerMounting {
        side: Side::Left,
        ..idler
    });
    near(size(&mounting, &DRIVE), load(65.0), 1e-9);
    near(size(&mounting, &overrun), load(25.0), 1e-9);
}

/// The same box with module cos β, so that its transverse section stays.
fn helical() -> String {
    // 16.260205°: cos β = 0.96 to 8 digits.
    BOX.replace(
        "\"modules_mm\": [1.0]",
        "\"modules_mm\": [0.96], \"helix_angle_deg\": 16.260205",
    )
}

// By hand, tan β = 7/24. Right-hand layshaft gears: the head gear is pushed
// anticlockwise by 500 N, so towards the output wall by 500 · 7/24 =
// 145.833 N (a right-hand gear pushed clockwise goes to the input wall); the
// speed's gear, which drives, by 750 · 7/24 = 218.75 N towards the input wall.
#[test]
fn thrusts_of_helical_gears() {
    let low = state(told(&helical(), &mounting(), &DRIVE), State::Speed(0));
    near(low.meshes[0].on_driven.force.z_n, 145.833, 1e-3);
    near(low.meshes[1].on_driver.force.z_n, -218.75, 1e-3);
    let layshaft = low.shaft(Shaft::Layshaft).unwrap();
    near(layshaft.thrust.size_n, 72.917, 1e-3);
    assert_eq!(layshaft.thrust.towards, Some(End::Input));
    assert_eq!(layshaft.thrust.taken_by, Some(Support::InputEnd));
    let main = low.shaft(Shaft::Main).unwrap();
    assert_eq!(main.thrust.taken_by, Some(Support::OutputEnd));
    let input = low.shaft(Shaft::Input).unwrap();
    near(input.thrust.size_n, 145.833, 1e-3);
    assert_eq!(input.thrust.towards, Some(End::Input));
}

// Overrunning, the main shaft is pushed to the input end: its bearing holds it,
// or the spigot's shoulder, and then the input shaft has both thrusts.
#[test]
fn the_main_shafts_thrust_goes_where_it_is_held() {
    let overrun = Drive {
        flow: Flow::Overruns,
        ..DRIVE
    };
    let mut mounting = mounting();
    let both = state(told(&helical(), &mounting, &overrun), State::Speed(0));
    let main = both.shaft(Shaft::Main).unwrap();
    assert_eq!(main.thrust.taken_by, Some(Support::Spigot));
    near(main.thrust.size_n, 218.75, 1e-3);
    let input = both.shaft(Shaft::Input).unwrap();
    near(input.thrust.size_n, 218.75 - 145.833, 1e-3);
    assert_eq!(input.thrust.towards, Some(End::Input));
    if let ShaftBearings::InLine { main, .. } = &mut mounting.bearings {
        main.locating = Locating::OutputEnd;
    }
    let apart = state(told(&helical(), &mounting, &overrun), State::Speed(0));
    let main = apart.shaft(Shaft::Main).unwrap();
    assert_eq!(main.thrust.taken_by, Some(Support::OutputEnd));
    let input = apart.shaft(Shaft::Input).unwrap();
    near(input.thrust.size_n, 145.833, 1e-3);
    assert_eq!(input.thrust.towards, Some(End::Output));
}

// By hand: both meshes push the helical idler along its axis with 1500 · 7/24 =
// 437.5 N, one up and one down the axis, at pitch points 20 mm from it in
// directions 90° apart: a couple of 437.5 · 20 · √2 = 12.374 N m, no thrust.
#[test]
fn a_helical_idler_is_tilted_but_not_pushed() {
    let reverse = state(told(&helical(), &mounting(), &DRIVE), State::Reverse);
    let idler = reverse.idler.unwrap();
    near(idler.pin_load.z_n, 0.0, 0.0);
    near(idler.tilting_n_m, 437.5 * 0.02 * 2_f64.sqrt(), 1e-5);
    let pin = reverse.shaft(Shaft::Idler).unwrap();
    assert_eq!((pin.thrust.towards, pin.thrust.taken_by), (None, None));
    let sliding = Mounting {
        reverse: ReverseForm::SlidingIdler,
        ..mounting()
    };
    let refused = forces(&problem(&helical()), &set(), &sliding, &DRIVE);
    assert_eq!(refused, Err(ForceFault::SlidingHelix));
    assert!(forces(&problem(BOX), &set(), &sliding, &DRIVE).is_ok());
}

// Reverse driven by the first speed's gear: its first mesh lies in that plane,
// 20 mm before the other, and the spur idler is tilted too: 10 mm · (F₁ − F₂).
#[test]
fn a_shared_driver_loads_the_idler_in_two_planes() {
    let mut set = set();
    let shared = Mounting {
        reverse: ReverseForm::SharedDriver,
        ..mounting()
    };
    let refused = forces(&problem(BOX), &set, &shared, &DRIVE);
    assert_eq!(refused, Err(ForceFault::Motion(MotionFault::NotShared)));
    set.reverse = set.reverse.map(|gears| ReverseGears {
        driver: Teeth::new(40),
        idler: Teeth::new(20),
        ..gears
    });
    let all = forces(&problem(BOX), &set, &shared, &DRIVE).unwrap();
    let reverse = state(all, State::Reverse);
    let [_, first, second] = &reverse.meshes[..] else {
        panic!("{reverse:#?}");
    };
    near(first.on_driven.z_mm, 60.0, 0.0);
    near(second.on_driver.z_mm, 80.0, 0.0);
    let (f, g) = (first.on_driven.force, second.on_driver.force);
    let tilting = (f.x_n - g.x_n).hypot(f.y_n - g.y_n) * 0.01;
    near(reverse.idler.unwrap().tilting_n_m, tilting, 1e-9);
    assert!(tilting > 1.0);
}

#[test]
fn what_does_not_fit_is_refused_by_name() {
    let fault = |change: &dyn Fn(&mut Mounting, &mut Drive)| {
        let (mut mounting, mut drive) = (mounting(), DRIVE);
        change(&mut mounting, &mut drive);
        forces(&problem(BOX), &set(), &mounting, &drive).unwrap_err()
    };
    for torque in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let got = fault(&|_, drive| drive.input_torque_n_m = torque);
        assert_eq!(got, ForceFault::Torque);
    }
    let got = fault(&|mounting, _| mounting.planes_mm.truncate(2));
    assert_eq!(got, ForceFault::Plane(Role::Reverse));
    assert_eq!(
        fault(&|mounting, _| mounting.idler = None),
        ForceFault::NoPin
    );
    let got = fault(&|mounting, _| {
        mounting.bearings = ShaftBearings::Offset {
            input: bearings(0.0, 1.0),
            output: bearings(0.0, 1.0),
        };
    });
    assert_eq!(got, ForceFault::OtherArrangement);
    let got = fault(&|mounting, _| {
        let pin = Pin::Through {
            input_end_mm: 5.0,
            output_end_mm: 5.0,
        };
        mounting.idler = mounting.idler.map(|idler| IdlerMounting { pin, ..idler });
    });
    assert_eq!(got, ForceFault::Supports);
    let mut apart = set();
    apart.reverse = apart.reverse.map(|gears| ReverseGears {
        idler: Teeth::new(10),
        ..gears
    });
    let got = forces(&problem(BOX), &apart, &mounting(), &DRIVE);
    assert_eq!(got, Err(ForceFault::IdlerApart));
}

//! Loads of whole boxes: cases worked by hand, and balances of random sets,
//! each asked in a way that the library does not use.

mod balance;
mod virtual_work;
mod worked;

use crate::random::{Draw, checked, problem_file};
use layshaft::design::forces::{
    Bearings, Drive, Flow, Hand, IdlerMounting, Locating, MainMounting, Mounting, Pin,
    ShaftBearings, StateForces, forces,
};
use layshaft::problem::{Arrangement, Problem, ReverseForm, Side, Turning};
use layshaft::search::{Control, Request, solve};
use layshaft::train::{Pair, ReverseGears, Role, Set, forms_of};
use serde_json::json;

/// A box to try: where its parts stand, how it is driven.
struct Case {
    problem: Problem,
    set: Set,
    mounting: Mounting,
    drive: Drive,
}

impl Case {
    fn forces(&self) -> Vec<StateForces> {
        forces(&self.problem, &self.set, &self.mounting, &self.drive).unwrap()
    }

    fn is_helical(&self) -> bool {
        self.problem.gears().helix_angle_deg() > 0.0
    }

    fn is_shifted(&self) -> bool {
        let forms = forms_of(&self.problem, &self.set);
        forms.iter().any(|form| form.shift.abs() > 0.0)
    }
}

fn bearings(draw: &mut Draw, near: (u64, u64), far: (u64, u64)) -> Bearings {
    Bearings {
        input_end_mm: mm(draw, near) - 40.0,
        output_end_mm: mm(draw, far) - 40.0,
        locating: draw.pick(&[Locating::EitherEnd, Locating::InputEnd, Locating::OutputEnd]),
    }
}

fn mm(draw: &mut Draw, (low, high): (u64, u64)) -> f64 {
    let tenths = draw.whole(10 * low, 10 * high);
    f64::from(u32::try_from(tenths).unwrap()) / 10.0
}

/// Invented places, all odd; supports in order, planes anywhere between.
fn mounting(draw: &mut Draw, problem: &Problem) -> Mounting {
    let speeds = (0..problem.speeds().len()).map(Role::Speed);
    let roles = [Role::Head, Role::Reverse].into_iter().chain(speeds);
    let planes_mm = roles.map(|role| (role, mm(draw, (5, 120)))).collect();
    let far = (160, 180);
    let bearings = match problem.arrangement() {
        Arrangement::InLine => ShaftBearings::InLine {
            input: bearings(draw, (0, 20), (25, 40)),
            layshaft: bearings(draw, (25, 40), far),
            main: MainMounting {
                spigot_mm: mm(draw, (1, 30)),
                bearing_mm: mm(draw, (125, 140)),
                locating: draw.pick(&[Locating::EitherEnd, Locating::OutputEnd]),
            },
        },
        Arrangement::Offset => ShaftBearings::Offset {
            input: bearings(draw, (25, 40), far),
            output: bearings(draw, (25, 40), far),
        },
    };
    let stub = Pin::Stub {
        wall_mm: mm(draw, (0, 130)),
    };
    let through = Pin::Through {
        input_end_mm: mm(draw, (0, 5)),
        output_end_mm: mm(draw, (121, 130)),
    };
    let spur = problem.gears().helix_angle_deg() < f64::MIN_POSITIVE;
    Mounting {
        planes_mm,
        bearings,
        idler: Some(IdlerMounting {
            side: draw.pick(&[Side::Right, Side::Left]),
            pin: draw.pick(&[stub, through]),
        }),
        reverse: if spur && draw.percent(40) {
            ReverseForm::SlidingIdler
        } else {
            ReverseForm::ConstantMesh
        },
        hand: draw.pick(&[Hand::Right, Hand::Left]),
    }
}

fn drive(draw: &mut Draw) -> Drive {
    Drive {
        input_torque_n_m: mm(draw, (1, 90)),
        input_turns: draw.pick(&[Turning::Clockwise, Turning::Anticlockwise]),
        flow: draw.pick(&[Flow::Drives, Flow::Overruns]),
    }
}

/// The same box with its first speed's gear driving reverse; none where the
/// idler then reaches no longer.
fn shared(case: &Case) -> Option<Case> {
    let mut set = case.set.clone();
    let size = |pair: &Pair| f64::from(pair.driven) / f64::from(pair.driver);
    let first = set.pairs.iter().copied();
    let first = first.max_by(|a, b| size(a).total_cmp(&size(b)))?;
    set.reverse = Some(ReverseGears {
        module: first.module,
        driver: first.driver,
        ..set.reverse?
    });
    let shared = Case {
        problem: case.problem.clone(),
        set,
        mounting: Mounting {
            reverse: ReverseForm::SharedDriver,
            ..case.mounting.clone()
        },
        drive: case.drive,
    };
    let told = forces(
        &shared.problem,
        &shared.set,
        &shared.mounting,
        &shared.drive,
    );
    told.is_ok().then_some(shared)
}

/// Boxes from random problems' first sets: both arrangements, spur and
/// helical, with profile shift and without.
fn cases(seed: u64, problems: u32) -> Vec<Case> {
    let mut draw = Draw::new(seed);
    let mut cases = Vec::new();
    for _ in 0..problems {
        let mut file = problem_file(&mut draw);
        if draw.percent(50) {
            let gears = file["gears"].as_object_mut().unwrap();
            for key in ["centre_tolerance_mm", "backlash_mm", "max_thinning_mm"] {
                gears.remove(key);
            }
            gears.insert("profile_shift".into(), json!({ "min": -0.5, "max": 1.0 }));
        }
        let problem = checked(&file);
        let request = Request {
            top: 2,
            trains: 0,
            threads: 1,
        };
        let outcome = solve(&problem, request, &Control::default());
        for set in outcome.front.into_iter().take(2) {
            let case = Case {
                mounting: mounting(&mut draw, &problem),
                drive: drive(&mut draw),
                problem: problem.clone(),
                set,
            };
            cases.extend(shared(&case));
            cases.push(case);
        }
    }
    cases
}

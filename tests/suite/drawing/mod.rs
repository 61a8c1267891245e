//! Drawings and bodies: read back from the files that are written, held against
//! the drawing model, the exact outlines, and two readers written apart from
//! this project.

mod flat;
mod outside;
mod read;
mod solids;
mod teeth;
mod verb;

use crate::random::{Draw, checked, problem_file};
use layshaft::design::Plan;
use layshaft::problem::{Problem, Side, parse};
use layshaft::search::{Control, Request, solve};
use layshaft::sheet::{Drawing, Views, boring_plans, gear_drawings};
use layshaft::train::Set;
use serde_json::json;
use std::path::Path;

/// A problem with its best set.
struct Drawn {
    about: String,
    problem: Problem,
    set: Set,
}

impl Drawn {
    fn new(about: &str, problem: Problem) -> Option<Self> {
        let request = Request {
            top: 1,
            trains: 0,
            threads: 1,
        };
        let outcome = solve(&problem, request, &Control::default());
        let set = outcome.sets.into_iter().next()?;
        Some(Self {
            about: about.to_owned(),
            problem,
            set,
        })
    }

    fn sample(name: &str) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("problems/{name}.json"));
        let (_, problem) = layshaft::problem::read(&path).unwrap();
        Self::new(name, problem).unwrap()
    }

    /// In line, helical, reverse and all; data invented.
    fn helical() -> Self {
        let file = json!({
            "centre_distance_mm": 52.0,
            "gears": {
                "modules_mm": [1.5], "helix_angle_deg": 18, "min_teeth": 14, "max_teeth": 60,
                "face_width_mm": 14, "cutting": "generated",
                "profile_shift": { "min": -0.3, "max": 0.6 }
            },
            "bores": "auto",
            "duty": { "input_torque_n_m": 4.0 },
            "default_tolerance_percent": 6,
            "speeds": [
                { "name": "1", "ratio": 3.2 },
                { "name": "2", "ratio": 1.7 },
                { "name": "3", "direct": true }
            ],
            "reverse": { "ratio": 3.0, "tolerance_percent": 25 }
        });
        let problem = parse("helical", &file.to_string())
            .unwrap_or_else(|faults| panic!("{}", faults.render(false)));
        Self::new("helical", problem).unwrap()
    }

    fn with_plan<T>(&self, look: impl FnOnce(&Plan<'_>) -> T) -> T {
        look(&Plan::new(&self.problem, &self.set))
    }

    /// Every drawing on either side of the idler and in every state.
    fn drawings(&self) -> Vec<Drawing> {
        self.with_plan(|plan| {
            let views = Views::new(&self.problem, &self.set, plan);
            let mut all: Vec<Drawing> = boring_plans(&self.problem, &self.set, plan, true).into();
            let gears = gear_drawings(&self.problem, &self.set, plan);
            all.extend(gears.into_iter().map(|(_, drawing)| drawing));
            for view in [Some(&views.end), views.section.as_ref()]
                .into_iter()
                .flatten()
            {
                for state in states(view) {
                    all.extend(Side::BOTH.map(|side| view.still(&state, side)));
                }
            }
            all
        })
    }
}

/// All states that a drawing knows.
fn states(view: &Drawing) -> Vec<String> {
    let mut all: Vec<String> = view.groups.iter().flat_map(|g| g.states.clone()).collect();
    all.push("neutral".to_owned());
    all.sort();
    all.dedup();
    all
}

fn samples() -> Vec<Drawn> {
    let mut all: Vec<Drawn> = ["shunter", "walking-tractor", "spindle-head"]
        .map(Drawn::sample)
        .into();
    all.push(Drawn::helical());
    all
}

/// Boxes of random problems that have a set.
fn random_boxes(seeds: std::ops::Range<u64>) -> impl Iterator<Item = Drawn> {
    seeds.filter_map(|seed| {
        let problem = checked(&problem_file(&mut Draw::new(seed)));
        Drawn::new(&format!("seed {seed}"), problem)
    })
}

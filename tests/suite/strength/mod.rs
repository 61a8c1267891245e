//! Whether parts hold: published values, shafts beside a beam solver written
//! apart from this project, laws that hold whatever the box.

mod boxes;
mod laws;
mod outside;
mod published;

use layshaft::design::Plan;
use layshaft::design::strength::{Service, Strength};
use layshaft::problem::{Problem, parse};
use layshaft::search::{Control, Request, solve};
use layshaft::train::Set;
use serde_json::{Value, json};

/// A problem with its best set; data invented.
struct Box {
    about: String,
    problem: Problem,
    set: Set,
}

impl Box {
    fn new(about: &str, file: &Value) -> Self {
        let text = file.to_string();
        let problem =
            parse(about, &text).unwrap_or_else(|faults| panic!("{}", faults.render(false)));
        let request = Request {
            top: 1,
            trains: 0,
            threads: 1,
        };
        let outcome = solve(&problem, request, &Control::default());
        let set = outcome.sets.into_iter().next();
        Self {
            about: about.to_owned(),
            set: set.unwrap_or_else(|| panic!("{about}: no set")),
            problem,
        }
    }

    fn with_plan<T>(&self, look: impl FnOnce(&Plan<'_>) -> T) -> T {
        look(&Plan::new(&self.problem, &self.set))
    }

    fn strength(&self, service: Service) -> Strength {
        self.with_plan(|plan| {
            let told = Strength::of(plan, service);
            told.unwrap_or_else(|| panic!("{}: {:?} {:?}", self.about, plan.layout, plan.driving))
        })
    }

    fn usual(&self) -> Strength {
        self.strength(Service::of(&self.problem))
    }
}

/// In line: three speeds, direct top, reverse; shafts given.
fn in_line() -> Value {
    json!({
        "arrangement": "in-line", "centre_distance_mm": 45.0, "input_rpm": 900,
        "gears": { "modules_mm": [1.5], "min_teeth": 15, "max_teeth": 45,
            "centre_tolerance_mm": 0.001, "face_width_mm": 12.0 },
        "default_tolerance_percent": 6.0,
        "speeds": [{ "name": "1", "ratio": 3.2 }, { "name": "2", "ratio": 1.8 },
            { "name": "3", "direct": true }],
        "reverse": { "ratio": 3.2, "tolerance_percent": 12.0,
            "idler_teeth": { "min": 15, "max": 28 }, "clearance_mm": 1.0 },
        "duty": { "input_torque_n_m": 6.0 },
        "shafts": { "input": { "diameter_mm": 15 }, "layshaft": { "diameter_mm": 15 },
            "main": { "diameter_mm": 15 } }
    })
}

/// Offset: three speeds and reverse; shafts given.
fn offset() -> Value {
    json!({
        "arrangement": "offset", "centre_distance_mm": 60.0, "input_rpm": 700,
        "gears": { "modules_mm": [2.0], "min_teeth": 14, "max_teeth": 46,
            "centre_tolerance_mm": 0.001, "face_width_mm": 16.0 },
        "default_tolerance_percent": 6.0,
        "speeds": [{ "name": "low", "ratio": 2.8 }, { "name": "middle", "ratio": 1.9 },
            { "name": "high", "ratio": 1.2 }],
        "reverse": { "ratio": 2.6, "tolerance_percent": 14.0,
            "idler_teeth": { "min": 15, "max": 30 }, "clearance_mm": 1.0 },
        "duty": { "input_torque_n_m": 14.0 },
        "shafts": { "input": { "diameter_mm": 17 }, "output": { "diameter_mm": 20 } }
    })
}

fn set(mut file: Value, path: &str, value: Value) -> Value {
    let mut at = &mut file;
    for name in path.split('.') {
        at = &mut at[name];
    }
    *at = value;
    file
}

/// Helical: closed by an angle that makes odd sums fit.
fn helical(file: Value) -> Value {
    let shifts = json!({ "min": -0.6, "max": 1.2 });
    let mut file = set(file, "gears.helix_angle_deg", json!(16.0));
    let gears = file["gears"].as_object_mut().unwrap();
    gears.remove("centre_tolerance_mm");
    gears.insert("profile_shift".into(), shifts);
    file
}

fn boxes() -> Vec<Box> {
    let mut through = set(
        offset(),
        "idler",
        json!({ "pin_mm": 8, "held_in": "both walls" }),
    );
    // A large idler stands where its pin passes the other gears.
    through["speeds"].as_array_mut().unwrap().drain(..2);
    through = set(
        through,
        "reverse.idler_teeth",
        json!({ "min": 36, "max": 46 }),
    );
    let bonded = set(offset(), "layout", json!({ "layshaft": "bonded" }));
    let pressed = set(in_line(), "layout", json!({ "layshaft": "pressed" }));
    // One driver in two meshes makes reverse the slower.
    let shared = set(offset(), "reverse.form", json!("shared-driver"));
    let shared = set(shared, "reverse.ratio", json!(2.4));
    let mut shared = set(shared, "gears.max_teeth", json!(49));
    shared["layout"] = json!({ "dog_ring_outside_mm": 34 });
    shared["speeds"].as_array_mut().unwrap().remove(0);
    vec![
        Box::new("in line", &in_line()),
        Box::new("offset", &offset()),
        Box::new("in line, helical", &helical(in_line())),
        Box::new("offset, helical", &helical(offset())),
        Box::new("offset, pin through", &through),
        Box::new("offset, bonded", &bonded),
        Box::new("in line, pressed", &pressed),
        Box::new("offset, shared driver", &shared),
        Box::new(
            "offset, sliding idler",
            &set(offset(), "reverse.form", json!("sliding-idler")),
        ),
    ]
}

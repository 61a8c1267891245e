//! One box with a shared driver, worked out by hand.

use crate::random::checked;
use layshaft::base::Teeth;
use layshaft::design::Plan;
use layshaft::design::motion::State;
use layshaft::design::planes::ReverseForm;
use layshaft::export::{gear_sheets, set_record};
use layshaft::problem::Problem;
use layshaft::search::{Control, Request, solve};
use layshaft::train::{Figures, Role, Set, remarks};
use layshaft::verify::{verify, verify_figures};
use num_bigint::BigUint;
use serde_json::{Value, json};

/// Invented: all gears are given, in two speeds of which the second is slower.
fn file() -> Value {
    json!({
        "centre_distance_mm": 40,
        "gears": {
            "modules_mm": [1], "min_teeth": 12, "max_teeth": 70,
            "face_width_mm": 8, "cutting": "own-form"
        },
        "head": { "teeth": [28, 52] },
        "speeds": [
            { "name": "fast", "ratio": 2, "tolerance_percent": 15, "teeth": [37, 43] },
            { "name": "slow", "ratio": 4, "tolerance_percent": 5, "teeth": [25, 55] }
        ],
        "reverse": {
            "ratio": 4.4, "tolerance_percent": 5, "form": "shared-driver",
            "teeth": [25, 14, 60], "idler_teeth": { "min": 12, "max": 30 }
        }
    })
}

fn sets(problem: &Problem) -> (BigUint, Vec<Set>) {
    let request = Request {
        top: 5,
        trains: 0,
        threads: 1,
    };
    let outcome = solve(problem, request, &Control::default());
    (outcome.counts.sets, outcome.sets)
}

#[test]
fn blanks_and_cutters_of_a_shared_driver_count_once() {
    let problem = checked(&file());
    let (count, found) = sets(&problem);
    assert_eq!(count, BigUint::from(1_u32));
    let set = &found[0];
    let figures = Figures::of(&problem, set);
    // A blank is m (z + 2): 30, 54; 39, 45; 27, 57; idler 16, driven 62, in mm.
    // 900 + 2916 + 1521 + 2025 + 729 + 3249 + 256 + 3844 = 15440 mm².
    assert_eq!(figures.blank_um2, 15_440_000_000);
    let volume = std::f64::consts::FRAC_PI_4 * 15_440.0 * 8.0;
    assert!((figures.blank_volume_mm3 - volume).abs() < 1e-6);
    // A cutter of its own for each of 28, 52, 37, 43, 25, 55, 14, 60 teeth.
    assert_eq!(figures.distinct_cutters, 8);
    assert!((figures.largest_blank_mm - 62.0).abs() < 1e-12);
    // 52/28 · 60/25.
    let reverse = figures.reverse.as_ref().unwrap();
    assert!((reverse.ratio + 156.0 / 35.0).abs() < 1e-12);
    // The idler's tips are 30 - 1 mm from the main axis, those of the first
    // speed's driven gear 27.5 + 1 mm.
    assert!((reverse.tip_gap_mm - 0.5).abs() < 1e-12);
    assert_eq!(verify(&problem, set), []);
    assert_eq!(verify_figures(&problem, set, &figures), []);

    // With a driver of its own the blank of 27 mm is one more.
    let mut own = file();
    own["reverse"]["form"] = json!("constant-mesh");
    let own = checked(&own);
    let more = Figures::of(&own, set).blank_um2;
    assert_eq!(more - figures.blank_um2, 729_000_000);
    assert!(!verify_figures(&own, set, &figures).is_empty());
}

#[test]
fn the_slower_speed_lends_its_gear_wherever_it_stands() {
    // The driver of the other speed, or of none, makes no set.
    for driver in [37, 26] {
        let mut file = file();
        file["reverse"]["teeth"] = json!([driver, 14, 60]);
        file["reverse"]["tolerance_percent"] = json!(60);
        assert_eq!(sets(&checked(&file)).0, BigUint::ZERO, "{driver}");
    }
    // Of equal targets the first of the file lends.
    let mut file = file();
    file["speeds"][0]["ratio"] = json!(4);
    file["speeds"][0]["tolerance_percent"] = json!(60);
    assert_eq!(sets(&checked(&file)).0, BigUint::ZERO);
    file["reverse"]["teeth"] = json!([37, 14, 48]);
    file["reverse"]["tolerance_percent"] = json!(60);
    let problem = checked(&file);
    let (count, found) = sets(&problem);
    assert_eq!(count, BigUint::from(1_u32));
    assert_eq!(verify(&problem, &found[0]), []);
}

#[test]
fn records_show_the_gear_once_and_say_with_what_it_is_shared() {
    let problem = checked(&file());
    let set = sets(&problem).1.remove(0);
    let record = set_record(&problem, &set, None, String::new());
    let record = serde_json::to_value(record).unwrap();
    assert_eq!(record["reverse"]["shares_driver_with"], "slow");
    assert_eq!(record["reverse"]["driver_teeth"], 25);
    let names = |list: &Value| -> Vec<String> {
        let gears = list.as_array().unwrap().iter();
        gears
            .map(|gear| gear["gear"].as_str().unwrap().to_owned())
            .collect()
    };
    let cut = names(&record["gears"]);
    assert_eq!(cut.len(), 8);
    assert!(!cut.contains(&"layshaft, reverse".to_owned()));
    let sheets = serde_json::to_value(gear_sheets(&problem, &set)).unwrap();
    assert_eq!(names(&sheets), cut);
    // Nothing is said of it as a gear of reverse either: too few teeth here.
    let mut small = file();
    small["gears"]["min_teeth"] = json!(10);
    let small = checked(&small);
    let mut undercut = set;
    undercut.pairs[1].driver = Teeth::new(11);
    undercut.reverse.as_mut().unwrap().driver = Teeth::new(11);
    let said = remarks(&small, &undercut);
    let of_reverse = said.iter().filter(|remark| {
        remark.role == Role::Reverse
            && remark.gear.is_some_and(|gear| gear.teeth.get() == 11)
            && remark.kind() == "undercut"
    });
    assert_eq!(of_reverse.count(), 0);
    let of_speed = said.iter().filter(|remark| {
        remark.gear.is_some_and(|gear| gear.teeth.get() == 11) && remark.kind() == "undercut"
    });
    assert_eq!(of_speed.count(), 1);

    let mut own = file();
    own["reverse"]["form"] = json!("constant-mesh");
    let own = checked(&own);
    let record = set_record(&own, &undercut, None, String::new());
    let record = serde_json::to_value(record).unwrap();
    assert!(record["reverse"].get("shares_driver_with").is_none());
    assert_eq!(record["gears"].as_array().unwrap().len(), 9);
}

#[test]
fn the_box_is_laid_out_and_turns_with_a_shared_driver() {
    let problem = checked(&file());
    let set = sets(&problem).1.remove(0);
    let plan = Plan::new(&problem, &set);
    let with = Role::Speed(1);
    assert_eq!(
        plan.gearbox.reverse.unwrap().form,
        ReverseForm::Shared { with }
    );
    assert!(plan.layout.is_ok(), "{:?}", plan.layout);
    let motion = plan.motion.unwrap();
    assert!(
        motion
            .states
            .iter()
            .any(|state| state.state == State::Reverse)
    );
}

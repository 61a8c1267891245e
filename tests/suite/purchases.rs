//! The cheapest set, and the one of fewest bars, blanks or set-ups, by one
//! integer program: against the search, plain enumeration, and by hand.

use crate::front_door::Run;
use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Measure, Problem, Ranking};
use layshaft::search::{
    Control, Request, Whole, count_plainly, enumerate, least_by_program, solve,
};
use layshaft::stock::{NO_BAR, exact};
use layshaft::train::{Figures, Set};
use layshaft::verify::verify;
use num_bigint::BigUint;
use serde_json::{Value, json};
use std::time::{Duration, Instant};

const MOST_SETS: u32 = 1500;
/// How long one program may take before it is left open: some would for minutes.
const PATIENCE: Duration = Duration::from_millis(400);
const COUNTED: [Measure; 3] = [Measure::Bars, Measure::Blanks, Measure::Setups];

/// A small workshop for the gears of `file`: few bars, a few pieces on the rack,
/// some cutters at hand.
fn shed(draw: &mut Draw, file: &Value) -> Value {
    let gears = &file["gears"];
    let modules = gears["modules_mm"].as_array().unwrap();
    let most = gears["max_teeth"].as_u64().unwrap() + 3;
    let largest = modules.iter().filter_map(Value::as_f64).fold(0.0, f64::max);
    let largest_um = whole(largest * 1000.0) * most * 5 / 4;
    let piece_um = whole(gears["face_width_mm"].as_f64().unwrap() * 1000.0) + 4000;
    let length = |draw: &mut Draw| {
        let pieces = draw.pick(&[1, 1, 2, 2, 3, 5, 9]);
        mm(pieces * piece_um + draw.whole(0, piece_um) - 2000)
    };
    let thick = |draw: &mut Draw, least: u64| mm(largest_um * draw.whole(least, 100) / 100);
    let material = |draw: &mut Draw| draw.pick(&["steel", "steel", "brass"]);
    let mut bars = Vec::new();
    for place in 0..draw.whole(3, 5) {
        // Mostly something holds every gear.
        let thickness = thick(draw, if place == 0 { 90 } else { 25 });
        bars.push(json!({
            "diameter_mm": thickness, "length_mm": length(draw),
            "material": material(draw), "price": draw.whole(0, 40),
        }));
    }
    let mut rack = Vec::new();
    for _ in 0..draw.whole(0, 6) {
        rack.push(json!({
            "diameter_mm": thick(draw, 20), "length_mm": length(draw),
            "material": material(draw), "count": draw.pick(&[1, 1, 2, 4]),
        }));
    }
    let mut shed = json!({
        "bars": apart(bars), "rack": rack, "cutters": cutters(draw, modules),
        "kerf_mm": draw.pick(&[0.0, 1.0, 2.0]), "grip_mm": draw.pick(&[0.0, 0.0, 3.0]),
        "facing_mm": draw.pick(&[0.0, 0.5, 1.0]), "turning_mm": draw.pick(&[0.0, 1.0]),
        "dog_rings": draw.pick(&["with-gear", "separate"]),
        "form_cutter_price": draw.whole(0, 30), "own_cutter_price": draw.whole(0, 9),
        "tool_price": draw.whole(0, 50),
    });
    if draw.percent(40) {
        shed["gear_material"] = json!(draw.pick(&["steel", "steel", "brass"]));
    }
    shed
}

/// The file names no bar twice.
fn apart(bars: Vec<Value>) -> Vec<Value> {
    let mut kept: Vec<Value> = Vec::new();
    for bar in bars {
        let same = |other: &Value| {
            ["diameter_mm", "length_mm", "material"]
                .iter()
                .all(|key| other[*key] == bar[*key])
        };
        if !kept.iter().any(same) {
            kept.push(bar);
        }
    }
    kept
}

fn cutters(draw: &mut Draw, modules: &[Value]) -> Vec<Value> {
    let mut cutters = Vec::new();
    for module in modules {
        let mut add = |draw: &mut Draw, key: &str, which: Value| {
            let mut cutter = json!({ "module_mm": module });
            cutter[key] = which;
            if draw.percent(60) {
                cutter["owned"] = json!(true);
            } else {
                cutter["price"] = json!(draw.whole(0, 25));
            }
            cutters.push(cutter);
        };
        for number in 2..=8 {
            if draw.percent(15) {
                add(draw, "numbers", json!([number]));
            }
        }
        if draw.percent(20) {
            add(draw, "tool", json!(true));
        }
        if draw.percent(30) {
            let price = draw.whole(5, 60);
            cutters.push(json!({ "module_mm": module, "set": true, "price": price }));
        }
    }
    cutters
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths of a small box in µm"
)]
fn whole(um: f64) -> u64 {
    um.round() as u64
}

fn mm(um: u64) -> f64 {
    f64::from(u32::try_from(um).unwrap()) / 1000.0
}

/// The measure and, where it is level, the metal.
fn worth(problem: &Problem, set: &Set, measure: Measure) -> (u64, u64) {
    let figures = Figures::of(problem, set);
    (exact(problem, set, &figures, measure), figures.blank_um2)
}

/// What one program was asked and what came of it.
#[derive(Debug, Default)]
struct Seen {
    compared: u64,
    without_sets: u64,
    without_bars: u64,
    in_line: u64,
    offset: u64,
    free: u64,
    searched: u64,
    too_large: u64,
    open: u64,
}

impl Seen {
    /// The program, the search and plain enumeration agree.
    fn compare(&mut self, problem: &Problem, measure: Measure, about: &str) {
        let ranked = problem
            .clone()
            .ranked(Ranking::By(measure), vec![measure, Measure::BlankVolume]);
        let most = Some(Instant::now() + PATIENCE);
        let (set, value) = match least_by_program(&ranked, measure, &Control::until(most)) {
            Whole::TooLarge(_) => {
                self.too_large += 1;
                return;
            }
            Whole::Open => {
                self.open += 1;
                return;
            }
            Whole::NoSet => {
                assert!(enumerate(&ranked, 1).sets.is_empty(), "{about}");
                self.without_sets += 1;
                return;
            }
            Whole::Best(set, value) => (set, value),
        };
        assert!(verify(problem, &set).is_empty(), "{about}: {set:?}");
        let found = worth(&ranked, &set, measure);
        assert_eq!(value, found.0, "{about}: {set:?}");
        let best = |sets: &[Set]| sets.first().map(|set| worth(&ranked, set, measure));
        assert_eq!(Some(found), best(&enumerate(&ranked, 1).sets), "{about}");
        if ranked.uncountable().is_none() {
            let request = Request {
                top: 1,
                trains: 0,
                threads: 1,
            };
            let outcome = solve(&ranked, request, &Control::default());
            assert_eq!(Some(found), best(&outcome.sets), "{about}");
            self.searched += 1;
        }
        self.compared += 1;
        self.without_bars += u64::from(value == NO_BAR);
        self.free += u64::from(value == 0);
        self.in_line += u64::from(problem.head().is_some());
        self.offset += u64::from(problem.head().is_none());
    }
}

/// The file with a workshop, where it has few sets.
fn small(draw: &mut Draw, mut file: Value) -> Option<(Problem, String)> {
    file["workshop"] = shed(draw, &file);
    let problem = checked(&file);
    let few = count_plainly(&problem).sets <= BigUint::from(MOST_SETS);
    few.then(|| (problem, file.to_string()))
}

#[test]
fn the_cheapest_set_by_one_program_is_that_of_the_search() {
    let mut seen = Seen::default();
    for seed in 0..80 {
        let draw = &mut Draw::new(610_000 + seed);
        let file = problem_file(draw);
        if let Some((problem, about)) = small(draw, file) {
            seen.compare(&problem, Measure::Cost, &format!("seed {seed}: {about}"));
        }
    }
    assert!(seen.compared >= 10 && seen.searched >= 10, "{seen:?}");
    assert!(seen.in_line > 2 && seen.offset > 2, "{seen:?}");
}

#[test]
fn fewest_bars_blanks_and_setups_by_one_program_are_those_of_the_search() {
    let mut seen = Seen::default();
    for seed in 0..140 {
        let draw = &mut Draw::new(620_000 + seed);
        let file = problem_file(draw);
        if let Some((problem, about)) = small(draw, file) {
            for measure in COUNTED {
                let about = format!("seed {seed} {measure:?}: {about}");
                seen.compare(&problem, measure, &about);
            }
        }
    }
    assert!(seen.compared > 150 && seen.searched > 150, "{seen:?}");
    assert!(seen.in_line > 60 && seen.offset > 40, "{seen:?}");
}

/// Small offset boxes whose reverse is driven by the gear of the one speed: that
/// gear is one piece, cut once.
#[test]
fn a_shared_driver_is_one_piece_in_the_program() {
    let mut seen = Seen::default();
    let draw = &mut Draw::new(0x0c_0575);
    for centres in 34..46 {
        let mut file = json!({
            "arrangement": "offset",
            "centre_distance_mm": centres,
            "gears": { "modules_mm": [1], "min_teeth": 14, "max_teeth": 60, "face_width_mm": 8 },
            "speeds": [{ "ratio": 2.5, "tolerance_percent": 12 }],
            "reverse": {
                "form": "shared-driver", "ratio": 2.7, "tolerance_percent": 25,
                "idler_teeth": { "min": 14, "max": 17 },
            },
        });
        file["workshop"] = shed(draw, &file);
        let problem = checked(&file);
        for measure in [&[Measure::Cost][..], &COUNTED].concat() {
            seen.compare(&problem, measure, &format!("{measure:?}: {file}"));
        }
    }
    assert!(seen.compared >= 24 && seen.searched >= 24, "{seen:?}");
}

/// Two gears on offset shafts 30 mm apart, 60 teeth of module 1 together:
/// 19/41, 20/40 or 21/39. Blanks are 2 mm larger than their teeth count, pieces
/// 12 mm long, and none wants turning. Invented.
fn by_hand(bar_of_43: u32, rack: &Value, cutters: &[Value]) -> Problem {
    let mut workshop = json!({
        "dog_rings": "separate", "turning_mm": 0, "facing_mm": 1, "kerf_mm": 2,
        "bars": [
            { "diameter_mm": 42, "length_mm": 26, "price": 9 },
            { "diameter_mm": 43, "length_mm": 12, "price": bar_of_43 },
            { "diameter_mm": 23, "length_mm": 12, "price": 2 },
        ],
        "rack": rack,
        "cutters": [
            { "module_mm": 1, "numbers": [6], "owned": true },
            { "module_mm": 1, "numbers": [5], "price": 5 },
        ],
    });
    let all = workshop["cutters"].as_array_mut().unwrap();
    all.extend(cutters.iter().cloned());
    checked(&json!({
        "arrangement": "offset", "centre_distance_mm": 30,
        "gears": { "modules_mm": [1], "min_teeth": 15, "max_teeth": 60,
            "centre_tolerance_mm": 0.001, "face_width_mm": 10 },
        "speeds": [{ "ratio": 2, "tolerance_percent": 10 }],
        "workshop": workshop,
    }))
}

fn cheapest(problem: &Problem) -> (u32, u64) {
    match least_by_program(problem, Measure::Cost, &Control::default()) {
        Whole::Best(set, value) => (set.pairs[0].driver.get(), value),
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_cheapest_of_three_sets_by_hand() {
    let units = |whole: u64| whole * 1_000_000;
    // Cutter 3 for the large gear is 20, cutter 6 for 19 and 20 teeth is there,
    // cutter 5 for 21 is 5. An offcut of 22 mm serves for 19 and 20 teeth, a
    // length of 43 mm for 40 and 41: 26 both, and 22² + 42² is less metal than
    // 21² + 43². 21/39 would be 25 + 2 + 6.
    let offcut = json!([{ "diameter_mm": 22, "length_mm": 12 }]);
    assert_eq!(cheapest(&by_hand(6, &offcut, &[])), (20, units(26)));
    // Without the offcut, and 43 mm dearer: both pieces of 20/40 from one bar of
    // 42 mm, 12 + 2 + 12 mm long, for 9; 19/41 is 8 + 2.
    let none = json!([]);
    assert_eq!(cheapest(&by_hand(8, &none, &[])), (20, units(29)));
    // All eight for 18 make cutters cost the same; of 20/40 and 21/39, both from
    // the bar of 42 mm, the second is less metal.
    let eight = json!({ "module_mm": 1, "set": true, "price": 18 });
    assert_eq!(cheapest(&by_hand(8, &none, &[eight])), (21, units(27)));
}

const SHED: &str = r#"{
  // An invented shed.
  "bars": [
    { "diameter_mm": 40, "length_mm": 60, "price": 4 },
    { "diameter_mm": 60, "length_mm": 60, "price": 8.5 },
    { "diameter_mm": 80, "length_mm": 60, "price": 14 },
    { "diameter_mm": 130, "length_mm": 60, "price": 30 },
  ],
  "rack": [{ "diameter_mm": 50, "length_mm": 31 }, { "diameter_mm": 70, "length_mm": 45 }],
  "cutters": [
    { "module_mm": 1.25, "numbers": [3, 5], "owned": true },
    { "module_mm": 1.5, "set": true, "price": 90 },
  ],
}
"#;

/// The best of a sample by engine and measure.
fn best_of(sample: &str, shed: &str, sort: &str) -> [Value; 2] {
    let run = |args: &[&str]| {
        let first = ["--workshop", shed, "--format", "json", "--sort", sort];
        Run::solve(sample, &[&first, args].concat()).ends()
    };
    let program = run(&["--engine", "program"]).with(0).json();
    assert_eq!(program["status"], "proven");
    let measures = format!("{sort},blank_volume");
    let searched = run(&["--top", "1", "--measures", &measures]).with(0).json();
    [program["set"].clone(), searched["sets"][0].clone()]
}

#[test]
fn solve_by_program_finds_the_cheapest_set_that_the_search_finds() {
    let folder = tempfile::tempdir().unwrap();
    let shed = folder.path().join("shed.json");
    std::fs::write(&shed, SHED).unwrap();
    for measure in [Measure::Cost, Measure::Setups] {
        let [found, best] = best_of("walking-tractor", shed.to_str().unwrap(), measure.word());
        for key in [measure.key(), "blank_volume_mm3"] {
            assert!(found[key].is_number(), "{found}");
            assert_eq!(found[key], best[key], "{key}");
        }
    }
}

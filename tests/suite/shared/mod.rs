//! Reverse driven by the gear of the first speed: against the plain twin, the
//! re-check, the integer programs and plain loops, on small random problems; one
//! box by hand.

mod proved;
mod told;
mod worked;

use crate::judged::judged_file;
use crate::oracle::{MEASURE_LISTS, compare, plain_trains};
use crate::places::{housed_file, nearer_holds};
use crate::random::{Draw, checked, problem_file};
use layshaft::base::Teeth;
use layshaft::problem::{Problem, Ranking};
use layshaft::search::{Control, Outcome, Request, count_plainly, solve};
use layshaft::train::Figures;
use layshaft::verify::{Breach, verify, verify_figures};
use num_bigint::BigUint;
use serde_json::{Value, json};

/// More sets than this take the plain twin too long.
const MOST_SETS: u32 = 4000;

/// What the random problems covered.
#[derive(Debug, Default)]
struct Covered {
    compared: u64,
    with_sets: u64,
    many_gears: u64,
    later_first: u64,
    offset: u64,
    judged: u64,
    housed: u64,
    ranges: u64,
    modules: u64,
    cut: u64,
}

/// The place of the speed that reverse shares its driver with, from the file.
fn first_of(problem: &Problem) -> usize {
    let targets: Vec<f64> = problem.geared().map(|s| s.target().to_f64()).collect();
    let largest = targets.iter().copied().fold(0.0, f64::max);
    targets.iter().position(|&t| t >= largest).unwrap()
}

/// A random problem whose reverse shares its driver; none where the draw has no
/// geared speed.
pub(crate) fn shared_file(draw: &mut Draw) -> Option<Value> {
    let mut file = match draw.whole(0, 3) {
        0 => judged_file(draw),
        1 => housed_file(draw),
        _ => problem_file(draw),
    };
    file["gears"]
        .as_object_mut()
        .unwrap()
        .remove("profile_shift");
    if file["gears"].get("cutting") == Some(&json!("form")) {
        file["gears"].as_object_mut().unwrap().remove("cutting");
    }
    if let Some(limits) = file.get_mut("limits") {
        limits
            .as_object_mut()
            .unwrap()
            .remove("extra_tip_shortening");
    }
    let speeds = file.get("speeds")?.as_array()?;
    if speeds.iter().all(|speed| speed.get("ratio").is_none()) {
        return None;
    }
    if file.get("reverse").is_none() {
        // Near the first speed's own ratio: then small drivers serve both.
        let ratios = speeds.iter().filter_map(|speed| speed["ratio"].as_f64());
        let largest = ratios.fold(0.05, f64::max);
        file["reverse"] = json!({ "ratio": largest, "idler_teeth": { "min": 6, "max": 20 } });
    }
    file["reverse"]["form"] = json!("shared-driver");
    if draw.percent(60) {
        file["reverse"]["tolerance_percent"] = json!(draw.whole(10, 60));
    }
    Some(file)
}

fn solved(problem: &Problem, top: usize) -> Outcome {
    let request = Request {
        top,
        trains: 0,
        threads: 1,
    };
    solve(problem, request, &Control::default())
}

impl Covered {
    fn note(&mut self, problem: &Problem, file: &Value, outcome: &Outcome) {
        let first = first_of(problem);
        let mut drivers: Vec<_> = outcome
            .sets
            .iter()
            .map(|set| (set.pairs[first].module, set.pairs[first].driver))
            .collect();
        drivers.sort_unstable();
        drivers.dedup();
        self.compared += 1;
        self.with_sets += u64::from(!drivers.is_empty());
        self.many_gears += u64::from(drivers.len() > 2);
        self.later_first += u64::from(drivers.len() > 1 && first > 0);
        self.offset += u64::from(!drivers.is_empty() && problem.head().is_none());
        self.judged += u64::from(!drivers.is_empty() && problem.judges());
        self.housed += u64::from(!drivers.is_empty() && problem.wants_clear_place());
        self.ranges += u64::from(!drivers.is_empty() && problem.centre_distances().len() > 1);
        self.modules += u64::from(drivers.len() > 1 && problem.gears().modules().len() > 1);
        let cut = |role: &Value| role.get("teeth").is_some();
        let speeds = file["speeds"].as_array().unwrap();
        self.cut += u64::from(speeds.iter().any(cut) || cut(&file["reverse"]));
    }
}

/// The best forward trains, each with the best reverse that its gear drives.
fn trains_agree(problem: &Problem, trains: usize, about: &str) {
    let request = Request {
        top: 0,
        trains,
        threads: 2,
    };
    let fast = solve(problem, request, &Control::default()).trains;
    assert_eq!(fast, plain_trains(problem, trains), "trains of {about}");
}

/// Every set found passes the re-check and shares; with another driver, or
/// other figures, it does not.
fn everything_holds(problem: &Problem, outcome: &Outcome, about: &str) {
    let first = first_of(problem);
    for set in outcome.front.iter().chain(&outcome.sets) {
        let figures = Figures::of(problem, set);
        assert_eq!(verify(problem, set), [], "{about}");
        assert_eq!(verify_figures(problem, set, &figures), [], "{about}");
        nearer_holds(problem, set, &outcome.sets, about);
        let driver = set.reverse.unwrap().driver;
        assert_eq!(driver, set.pairs[first].driver, "{about}");
        let mut other = set.clone();
        other.reverse.as_mut().unwrap().driver =
            Teeth::new(u16::try_from(driver.get()).unwrap() + 1);
        let shared = |breach: &Breach| breach.kind() == "shared_driver";
        assert!(verify(problem, &other).iter().any(shared), "{about}");
        let mut twice = figures;
        twice.blank_um2 += 1;
        assert!(!verify_figures(problem, set, &twice).is_empty(), "{about}");
    }
}

#[test]
fn search_twin_and_recheck_agree_where_reverse_shares_its_driver() {
    let mut draw = Draw::new(0x5a_12ed);
    let mut covered = Covered::default();
    while covered.with_sets < 180 {
        let Some(file) = shared_file(&mut draw) else {
            continue;
        };
        let problem = checked(&file);
        let sets = count_plainly(&problem).sets;
        // Most have none: a few of those will do.
        let enough = sets == BigUint::ZERO && covered.compared - covered.with_sets > 40;
        if enough || sets > BigUint::from(MOST_SETS) {
            continue;
        }
        let about = file.to_string();
        let measures = draw.pick(MEASURE_LISTS).to_vec();
        let ranking = draw.pick(&Ranking::USUAL);
        let problem = problem.ranked(ranking, measures);
        let top = draw.pick(&[1, 7, 60]);
        compare(&problem, top, &about);
        trains_agree(&problem, top, &about);
        let outcome = solved(&problem, 60);
        everything_holds(&problem, &outcome, &about);
        covered.note(&problem, &file, &outcome);
    }
    println!("{covered:?}");
    assert!(covered.many_gears > 40, "{covered:?}");
    assert!(covered.later_first > 15, "{covered:?}");
    assert!(covered.offset > 20 && covered.judged > 10, "{covered:?}");
    assert!(covered.housed > 10 && covered.ranges > 20, "{covered:?}");
    assert!(covered.modules > 10 && covered.cut > 10, "{covered:?}");
}

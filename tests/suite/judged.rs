//! Profile shift and limits of the teeth in the search: against the plain twin,
//! the re-check and the integer program, on small random problems.

use crate::front_door::Run;
use crate::random::{Draw, checked, problem_file};
use layshaft::making::Refusal;
use layshaft::problem::{Measure, Problem, Ranking, Shaft};
use layshaft::search::{
    Control, Outcome, Request, Status, certify, count_plainly, enumerate, solve,
};
use layshaft::train::Figures;
use layshaft::verify::{verify, verify_figures};
use num_bigint::BigUint;
use serde_json::{Value, json};

const MOST_SETS: u32 = 2000;
const MOST_GEARINGS: u64 = 30_000;

/// What the random problems covered.
#[derive(Debug, Default)]
struct Covered {
    compared: u64,
    with_sets: u64,
    shifted: u64,
    limits_alone: u64,
    reverses: u64,
    bores: u64,
    own_form: u64,
    form: u64,
    shortened: u64,
    refused: [u64; Refusal::ALL.len()],
}

/// A random problem under limits.
pub(crate) fn judged_file(draw: &mut Draw) -> Value {
    let mut file = problem_file(draw);
    let gears = &mut file["gears"];
    let keys = gears.as_object_mut().unwrap();
    if draw.percent(70) {
        keys.remove("centre_tolerance_mm");
        keys.remove("backlash_mm");
        keys.remove("max_thinning_mm");
        let (below, above) = (draw.whole(0, 60), draw.whole(0, 120));
        let least = -hundredths(below);
        let most = if above > below {
            hundredths(above - below)
        } else {
            -hundredths(below - above)
        };
        keys.insert("profile_shift".into(), json!({ "min": least, "max": most }));
        let kind = draw.pick(&["generated", "generated", "own-form", "form", "none"]);
        keys.remove("cutting");
        if kind != "none" {
            keys.insert("cutting".into(), json!(kind));
        }
    }
    if draw.percent(25) {
        let (addendum, dedendum) = draw.pick(&[(0.8, 1.0), (0.8, 1.05), (1.0, 1.4), (1.1, 1.3)]);
        keys.insert("addendum".into(), json!(addendum));
        keys.insert("dedendum".into(), json!(dedendum));
    }
    let shifts = keys.contains_key("profile_shift");
    if !shifts || draw.percent(50) {
        file["limits"] = limits(draw);
    }
    if draw.percent(35) {
        file["bores"] = bores(draw, &file);
    }
    for role in ["head", "reverse"] {
        if file.get(role).is_some() && draw.percent(20) {
            let least = file["gears"]["min_teeth"].as_u64().unwrap();
            file[role]["min_driver_teeth"] = json!(least + draw.whole(0, 4));
            file[role]["min_driven_teeth"] = json!(least + draw.whole(0, 4));
        }
    }
    file
}

fn hundredths(count: u64) -> f64 {
    f64::from(u32::try_from(count).unwrap()) / 100.0
}

fn limits(draw: &mut Draw) -> Value {
    let mut limits = json!({});
    for flag in [
        "allow_undercut",
        "allow_interference",
        "allow_binding",
        "extra_tip_shortening",
    ] {
        if draw.percent(35) {
            limits[flag] = json!(true);
        }
    }
    if draw.percent(40) {
        limits["min_contact_ratio"] = json!(hundredths(draw.whole(90, 160)));
    }
    if draw.percent(30) {
        limits["min_tip_thickness"] = json!(hundredths(draw.whole(0, 60)));
    }
    if draw.percent(20) {
        limits["min_tip_clearance"] = json!(hundredths(draw.whole(0, 26)));
    }
    if draw.percent(40) {
        limits["min_wall_mm"] = json!(hundredths(draw.whole(0, 300)));
    }
    limits
}

fn bores(draw: &mut Draw, file: &Value) -> Value {
    let offset = file.get("arrangement") == Some(&json!("offset"));
    let mut shafts = if offset {
        vec!["input", "output"]
    } else {
        vec!["input", "layshaft", "main"]
    };
    if file.get("reverse").is_some() {
        shafts.push("idler");
    }
    let mut bores = json!({});
    for shaft in shafts {
        if draw.percent(60) {
            bores[shaft] = json!({ "bore_mm": hundredths(draw.whole(100, 700)) });
            if draw.percent(30) {
                bores[shaft]["bush_mm"] = json!(hundredths(draw.whole(0, 100)));
            }
        }
    }
    bores
}

impl Covered {
    fn note(&mut self, problem: &Problem, outcome: &Outcome) {
        use layshaft::problem::Cutting;
        let shifts = problem.gears().closing().shifts();
        self.compared += 1;
        self.with_sets += u64::from(!outcome.front.is_empty());
        self.shifted += u64::from(shifts && !outcome.front.is_empty());
        self.limits_alone += u64::from(!shifts && !outcome.front.is_empty());
        self.reverses += u64::from(problem.reverse().is_some() && !outcome.front.is_empty());
        self.bores += u64::from(Shaft::ALL.iter().any(|s| problem.bores().on(*s).is_some()));
        self.own_form += u64::from(problem.gears().cutting() == Cutting::OwnForm && shifts);
        self.form += u64::from(problem.gears().cutting() == Cutting::Form && shifts);
        for set in &outcome.front {
            let figures = Figures::of(problem, set);
            let shortened = figures.forms.iter().any(|form| form.tip_shortening < 0.0);
            self.shortened += u64::from(shortened);
        }
        for (sum, limit) in self.refused.iter_mut().zip(Refusal::ALL) {
            *sum += outcome.refused.pairs.by(limit) + outcome.refused.reverses.by(limit);
        }
    }
}

/// Reverse gearings that plain loops would look at.
fn gearings(problem: &Problem) -> u64 {
    let span = |least: u32, most: u32| u64::from(most - least + 1);
    let gears = problem.gears();
    let outer = span(gears.min_teeth().get(), gears.max_teeth().get());
    let idlers = problem
        .reverse()
        .map_or(0, |r| span(r.idler_min().get(), r.idler_max().get()));
    let places = gears.modules().len() * problem.centre_distances().len();
    outer * outer * idlers * places as u64
}

#[test]
fn under_limits_the_search_finds_what_plain_enumeration_finds() {
    let mut covered = Covered::default();
    for seed in 700_000..700_500 {
        let draw = &mut Draw::new(seed);
        let file = judged_file(draw);
        let problem = checked(&file);
        if gearings(&problem) > MOST_GEARINGS {
            continue;
        }
        let counts = count_plainly(&problem);
        if counts.sets > BigUint::from(MOST_SETS) {
            continue;
        }
        let ranking = draw.pick(&Ranking::USUAL);
        let problem = problem.ranked(ranking, Measure::USUAL.to_vec());
        let plain = enumerate(&problem, 50);
        let mut last = None;
        for threads in [1, 2] {
            let request = Request {
                top: 50,
                trains: 0,
                threads,
            };
            let fast = solve(&problem, request, &Control::default());
            let about = format!("seed {seed}, {threads} threads, {ranking:?}: {file}");
            assert_eq!(fast.status, Status::Proven, "{about}");
            assert_eq!(fast.counts, plain.counts, "counts of {about}");
            assert_eq!(fast.front, plain.front, "front of {about}");
            assert_eq!(fast.sets, plain.sets, "ranking of {about}");
            last = Some(fast);
        }
        let outcome = last.unwrap();
        for set in outcome.front.iter().chain(&outcome.sets) {
            let mut breaches = verify(&problem, set);
            breaches.extend(verify_figures(&problem, set, &Figures::of(&problem, set)));
            let told: Vec<String> = breaches.iter().map(ToString::to_string).collect();
            assert!(told.is_empty(), "seed {seed}: {told:?}\n{set:?}\n{file}");
        }
        covered.note(&problem, &outcome);
    }
    let kinds = [
        covered.with_sets,
        covered.shifted,
        covered.limits_alone,
        covered.reverses,
        covered.bores,
        covered.own_form,
        covered.form,
        covered.shortened,
    ];
    assert!(kinds.iter().all(|&kind| kind >= 8), "{covered:?}");
    // Binding is asked last, of plain gears, and comes up too seldom here.
    let [asked @ .., _] = covered.refused;
    assert!(asked.iter().all(|&by| by > 0), "{covered:?}");
}

#[test]
fn fronts_under_limits_are_certified_by_integer_programs() {
    let mut certified = 0;
    for seed in 702_000..702_150 {
        let draw = &mut Draw::new(seed);
        let file = judged_file(draw);
        let problem = checked(&file);
        if gearings(&problem) > MOST_GEARINGS
            || count_plainly(&problem).sets > BigUint::from(100_000_u32)
        {
            continue;
        }
        let request = Request {
            top: 0,
            trains: 0,
            threads: 1,
        };
        let outcome = solve(&problem, request, &Control::default());
        let certificate = certify(&problem, &outcome.front, &Control::default());
        let settled = certificate.refuted == 0 && certificate.open == 0;
        assert!(settled, "seed {seed}: {certificate:?} {file}");
        certified += u64::from(!outcome.front.is_empty());
    }
    assert!(certified >= 20, "{certified}");
}

#[test]
fn an_explanation_blames_what_is_asked_of_the_teeth() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("tight.json");
    let sample = include_str!("../../problems/odd-centres.json");
    let mut problem: Value = serde_json::from_str(sample).unwrap();
    problem["limits"]["min_contact_ratio"] = json!(2.9);
    std::fs::write(&file, problem.to_string()).unwrap();
    let name = file.to_str().unwrap();
    let text = Run::of(&["explain", name]).ends().with(0).stdout;
    let words: Vec<&str> = text.split_whitespace().collect();
    let text = words.join(" ");
    assert!(text.contains("within what is asked of the teeth"), "{text}");
    assert!(text.contains("contact ratio from"), "{text}");
    let refused = Run::of(&["solve", name]).ends().with(1).stdout;
    assert!(refused.contains("Limits of the teeth refused"), "{refused}");
}

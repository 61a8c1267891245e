//! The integer program against the search, against plain enumeration, and
//! against spoiled fronts.

use crate::front_door::Run;
use crate::oracle::MEASURE_LISTS;
use crate::random::{Draw, checked, problem_file};
use layshaft::base::Teeth;
use layshaft::problem::{Measure, Problem, Ranking, read};
use layshaft::search::{
    Certificate, Control, Objection, Request, certify, count_plainly, enumerate, solve,
};
use layshaft::stock::exact;
use layshaft::train::{Figures, Set};
use layshaft::verify::verify;
use num_bigint::BigUint;
use std::path::Path;
use std::time::Instant;

const SAMPLES: [&str; 6] = [
    "shunter",
    "walking-tractor",
    "spindle-head",
    "impossible",
    "bored-case",
    "large",
];

fn sample(name: &str) -> Problem {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    read(&folder.join(name).with_extension("json")).unwrap().1
}

fn front(problem: &Problem) -> Vec<Set> {
    let request = Request {
        top: 0,
        trains: 0,
        threads: 2,
    };
    solve(problem, request, &Control::default()).front
}

fn certificate(problem: &Problem, front: &[Set]) -> Certificate {
    certify(problem, front, &Control::default())
}

fn without(front: &[Set], place: usize) -> Vec<Set> {
    let mut rest = front.to_vec();
    rest.remove(place);
    rest
}

/// A set's values in the chosen measures, error by the bits of its double.
fn values(problem: &Problem, set: &Set) -> Vec<u64> {
    let figures = Figures::of(problem, set);
    let value = |measure: &Measure| exact(problem, set, &figures, *measure);
    problem.measures().iter().map(value).collect()
}

/// Fails unless the certificate refutes `front` with a set of the problem that
/// no point of it is as good as.
fn refutes(problem: &Problem, front: &[Set], about: &str) {
    let found = certificate(problem, front);
    assert!(!found.holds() && found.refuted > 0, "{about}: {found:?}");
    let Some(Objection::Missing(set)) = found.objection else {
        panic!("{about}: {found:?}");
    };
    assert!(verify(problem, &set).is_empty(), "{about}: {set:?}");
    let missing = values(problem, &set);
    let as_good = |point: &Set| {
        let point = values(problem, point);
        point.iter().zip(&missing).all(|(p, m)| p <= m)
    };
    assert!(!front.iter().any(as_good), "{about}: {set:?}");
}

#[test]
fn the_fronts_of_the_samples_are_certified() {
    let mut by_programs = 0;
    for name in SAMPLES {
        let problem = sample(name);
        let found = certificate(&problem, &front(&problem));
        assert!(found.holds(), "{name}: {found:?}");
        assert!(found.objection.is_none() && found.claims() > 0, "{name}");
        by_programs += found.by_programs;
    }
    // Bounds alone do not settle them.
    assert!(by_programs > 100, "{by_programs}");
}

#[test]
fn a_front_that_lacks_a_point_is_refuted() {
    for name in SAMPLES {
        let problem = sample(name);
        let front = front(&problem);
        let few = if front.len() > 50 { 9 } else { 1 };
        for place in (0..front.len()).step_by(few) {
            let about = format!("{name} without {place}");
            refutes(&problem, &without(&front, place), &about);
        }
    }
}

#[test]
fn a_front_with_a_false_point_is_refuted() {
    for name in ["shunter", "walking-tractor", "spindle-head", "large"] {
        let problem = sample(name);
        let mut front = front(&problem);
        let honest = front.len();
        // Smaller gears than close the centres: less metal than there can be.
        let mut smaller = front[honest - 1].clone();
        let teeth = smaller.pairs[0].driver.get() - 1;
        smaller.pairs[0].driver = Teeth::new(u16::try_from(teeth).unwrap());
        front.push(smaller.clone());
        let found = certificate(&problem, &front);
        assert!(!found.holds(), "{name}: {found:?}");
        assert_eq!(found.objection, Some(Objection::NotASet(smaller)), "{name}");
    }
}

#[test]
fn a_front_with_a_beaten_point_is_refuted() {
    let problem = sample("shunter");
    let mut front = front(&problem);
    let other = enumerate(&problem, 3000).sets.pop().unwrap();
    assert!(!front.contains(&other));
    front.push(other.clone());
    let found = certificate(&problem, &front);
    assert_eq!(found.refuted, 1, "{found:?}");
    assert_eq!(found.objection, Some(Objection::Beaten(other)));
}

#[test]
fn it_agrees_with_plain_enumeration() {
    let (mut compared, mut refuted, mut by_programs) = (0, 0, 0);
    for seed in 700_000..701_200 {
        let draw = &mut Draw::new(seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        if count_plainly(&problem).sets > BigUint::from(30_000_u32) {
            continue;
        }
        let measures = draw.pick(MEASURE_LISTS).to_vec();
        let problem = problem.ranked(Ranking::Balanced, measures);
        let front = enumerate(&problem, 0).front;
        let about = format!("seed {seed}: {file} {:?}", problem.measures());
        let found = certificate(&problem, &front);
        assert!(found.holds(), "{about}: {found:?}");
        by_programs += found.by_programs;
        compared += 1;
        if !front.is_empty() {
            let last = front.len() as u64 - 1;
            let place = usize::try_from(draw.whole(0, last)).unwrap();
            refutes(&problem, &without(&front, place), &about);
            refuted += 1;
        }
    }
    assert!(compared > 400 && refuted > 200, "{compared} {refuted}");
    assert!(by_programs > 200, "{by_programs}");
}

#[test]
fn threads_change_nothing() {
    let with = |threads, problem: &Problem, front: &[Set]| {
        let pool = rayon_pool(threads);
        pool.install(|| certificate(problem, front))
    };
    for name in ["shunter", "spindle-head", "large"] {
        let problem = sample(name);
        let front = front(&problem);
        let spoiled = without(&front, 2);
        for front in [&front, &spoiled] {
            let alone = with(1, &problem, front);
            assert_eq!(alone, with(2, &problem, front), "{name}");
            assert_eq!(alone, with(5, &problem, front), "{name}");
        }
    }
}

fn rayon_pool(threads: usize) -> rayon::ThreadPool {
    rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .unwrap()
}

#[test]
fn stopped_it_leaves_claims_open() {
    let problem = sample("large");
    let front = front(&problem);
    let whole = certificate(&problem, &front).claims();
    let control = Control::default();
    control.interrupt();
    let found = certify(&problem, &front, &control);
    assert_eq!((found.open, found.claims()), (whole, whole));
    let late = Control::until(Some(Instant::now()));
    let found = certify(&problem, &front, &late);
    assert!(found.open > 0 && found.refuted == 0, "{found:?}");
    assert_eq!(found.claims(), whole);
}

#[test]
fn solve_tells_the_certificate() {
    let json = |args: &[&str]| {
        let all = [&["--certify", "--format", "json"], args].concat();
        Run::solve("spindle-head", &all).ends().with(0).json()
    };
    let one = json(&["--threads", "1"]);
    let certificate = &one["certificate"];
    let number = |key: &str| certificate[key].as_u64().unwrap();
    assert_eq!((number("open"), number("refuted")), (0, 0));
    assert!(number("by_programs") > 0);
    assert_eq!(
        number("claims"),
        number("by_bounds") + number("by_programs")
    );
    assert_eq!(one, json(&["--threads", "3"]));
    let two = json(&["--measures", "worst_error,blank_volume"]);
    assert_eq!(two["certificate"]["open"], 0);
    let text = Run::solve("spindle-head", &["--certify"]).ends().with(0);
    assert!(text.stdout.contains("Certified") && text.stdout.contains("none open"));
    let plain = Run::solve("spindle-head", &[]).ends().with(0);
    assert!(!plain.stdout.contains("ertified"));
    let none = Run::solve("impossible", &["--certify"]).ends().with(1);
    assert!(none.stdout.contains("Certified"));
    let stopped = Run::solve("large", &["--certify", "--time-limit", "0"]);
    assert!(stopped.ends().with(4).stdout.contains("Not certified"));
}

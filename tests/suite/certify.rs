//! The integer program against the search, and against spoiled fronts.

use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Problem, read};
use layshaft::search::{
    Certificate, Control, Objection, Request, certify, count_plainly, enumerate, solve,
};
use layshaft::train::Set;
use num_bigint::BigUint;
use std::path::Path;

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

#[test]
fn the_fronts_of_the_samples_are_certified() {
    for name in [
        "shunter",
        "walking-tractor",
        "spindle-head",
        "impossible",
        "bored-case",
        "large",
    ] {
        let problem = sample(name);
        let front = front(&problem);
        let start = std::time::Instant::now();
        let found = certificate(&problem, &front);
        println!("{name} {:?} {found:?}", start.elapsed());
        assert!(found.holds() && found.objection.is_none(), "{name}: {found:?}");
        assert!(found.claims() > 0, "{name}");
    }
}

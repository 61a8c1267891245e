//! Integer programs over problems whose reverse shares its driver.

use super::{shared_file, solved};
use crate::random::{Draw, checked};
use layshaft::base::Teeth;
use layshaft::problem::{Measure, Problem, Ranking};
use layshaft::search::{
    Control, Objection, Whole, certify, count_plainly, enumerate, least_by_program,
};
use layshaft::stock::exact;
use layshaft::train::{Figures, Set};
use layshaft::verify::verify;
use num_bigint::BigUint;

/// Problems of so many sets are walked plainly in no time.
const MOST_SETS: u32 = 2000;

fn value(problem: &Problem, set: &Set, measure: Measure) -> u64 {
    let figures = Figures::of(problem, set);
    exact(problem, set, &figures, measure)
}

/// The next random problem that is small enough and has sets.
fn next(draw: &mut Draw) -> (Problem, String) {
    loop {
        let Some(file) = shared_file(draw) else {
            continue;
        };
        let problem = checked(&file);
        // The programs know nothing of gears that the idler's pin passes.
        if problem.passed_by_pin().is_some() {
            continue;
        }
        let sets = count_plainly(&problem).sets;
        if sets > BigUint::ZERO && sets <= BigUint::from(MOST_SETS) {
            return (problem, file.to_string());
        }
    }
}

/// A front proves whole, and no more once a point is missing or a reverse has a
/// driver of its own.
#[test]
fn fronts_with_a_shared_driver_are_certified() {
    let mut draw = Draw::new(0xce_127);
    let (mut by_programs, mut refuted) = (0, 0);
    for _ in 0..70 {
        let (problem, about) = next(&mut draw);
        let front = enumerate(&problem, 0).front;
        let found = certify(&problem, &front, &Control::default());
        assert!(found.holds() && found.claims() > 0, "{about}: {found:?}");
        by_programs += found.by_programs;
        let mut less = front.clone();
        less.remove(front.len() / 2);
        let found = certify(&problem, &less, &Control::default());
        assert!(found.refuted > 0, "{about}: {found:?}");
        let Some(Objection::Missing(set)) = found.objection else {
            panic!("{about}: {found:?}");
        };
        assert_eq!(verify(&problem, &set), [], "{about}");
        let mut other = front;
        let reverse = other[0].reverse.as_mut().unwrap();
        reverse.driver = Teeth::new(u16::try_from(reverse.driver.get()).unwrap() - 1);
        let found = certify(&problem, &other, &Control::default());
        assert!(!found.holds(), "{about}: {found:?}");
        let odd = Objection::NotASet(other[0].clone());
        refuted += u64::from(found.objection == Some(odd));
    }
    // Another driver is no set, whatever else it lets go.
    assert_eq!(refuted, 70);
    assert!(by_programs > 20, "{by_programs}");
}

#[test]
fn one_program_finds_the_least_with_a_shared_driver() {
    let mut draw = Draw::new(0x0e_9106);
    let (mut compared, mut tried) = (0, 0);
    while tried < 40 {
        let (problem, about) = next(&mut draw);
        tried += 1;
        for measure in Measure::USUAL {
            match least_by_program(&problem, measure, &Control::default()) {
                Whole::TooLarge(_) => {}
                Whole::Best(set, _) => {
                    assert_eq!(verify(&problem, &set), [], "{about}");
                    let ranked = problem
                        .clone()
                        .ranked(Ranking::By(measure), vec![measure, Measure::BlankVolume]);
                    let best = &solved(&ranked, 1).sets[0];
                    for of in [measure, Measure::BlankVolume] {
                        let [found, least] = [&set, best].map(|set| value(&problem, set, of));
                        assert_eq!(found, least, "{about} {measure:?} {of:?}");
                    }
                    compared += 1;
                }
                other => panic!("{about} {measure:?}: {other:?}"),
            }
        }
    }
    assert!(compared > 60, "{compared}");
}

//! Bars, blanks, set-ups and cost as measures: the search against its plain twin.

use crate::oracle::compare;
use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Measure, Ranking};
use layshaft::search::count_plainly;
use num_bigint::BigUint;

/// Problems looked at; those with more sets than this are left out.
const PROBLEMS: u64 = 600;
const MOST_SETS: u32 = 3000;

const EXTRAS: [Measure; 4] = [
    Measure::Bars,
    Measure::Blanks,
    Measure::Setups,
    Measure::Cost,
];

/// Some of all measures, in some order, at least one of them of the workshop.
fn measures(draw: &mut Draw) -> Vec<Measure> {
    let mut chosen = vec![draw.pick(&EXTRAS)];
    for measure in Measure::ALL {
        if !chosen.contains(&measure) && draw.percent(40) {
            let place = usize::from(draw.percent(50)) * chosen.len();
            chosen.insert(place, measure);
        }
    }
    chosen
}

#[test]
fn measures_of_the_workshop_are_those_of_plain_enumeration() {
    let (mut compared, mut long_fronts) = (0, 0);
    for seed in 0..PROBLEMS {
        let draw = &mut Draw::new(90_000 + seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        let sets = count_plainly(&problem).sets;
        if sets > BigUint::from(MOST_SETS) || sets == BigUint::ZERO {
            continue;
        }
        let by = draw.pick(&EXTRAS);
        for ranking in [
            Ranking::Balanced,
            Ranking::By(by),
            draw.pick(&Ranking::USUAL),
        ] {
            let measures = measures(draw);
            let top = draw.pick(&[1, 3, 20, 300]);
            let ranked = problem.clone().ranked(ranking, measures);
            if ranked.uncountable().is_some() {
                continue;
            }
            let front = compare(&ranked, top, &format!("seed {seed}: {file}"));
            long_fronts += u64::from(front > 3);
            compared += 1;
        }
    }
    assert!(
        compared > 300 && long_fronts > 60,
        "{compared} {long_fronts}"
    );
}

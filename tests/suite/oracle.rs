//! The search against its plain twin on hundreds of small random problems.

use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Measure, Problem, Ranking};
use layshaft::search::{Control, Request, Status, count_plainly, enumerate, solve};
use num_bigint::BigUint;
use std::time::{Duration, Instant};

/// Problems looked at; those with more sets than this are left out.
const PROBLEMS: u64 = 1500;
const MOST_SETS: u32 = 60_000;

const MEASURE_LISTS: &[&[Measure]] = &[
    &Measure::ALL,
    &[Measure::WorstError],
    &[Measure::BlankVolume],
    &[Measure::DistinctCutters],
    &[Measure::DistinctCutters, Measure::WorstError],
    &[Measure::BlankVolume, Measure::DistinctCutters],
    &[Measure::WorstError, Measure::BlankVolume],
    &[
        Measure::DistinctCutters,
        Measure::BlankVolume,
        Measure::WorstError,
    ],
];

/// What the random problems covered.
#[derive(Debug, Default)]
struct Covered {
    compared: u64,
    too_large: u64,
    without_sets: u64,
    offset: u64,
    helical: u64,
    ranges: u64,
    reverses: u64,
    reverse_only: u64,
    long_fronts: u64,
    sets: BigUint,
}

impl Covered {
    fn note(&mut self, problem: &Problem, sets: &BigUint, front: usize) {
        let geared = problem.geared().count();
        self.compared += 1;
        self.without_sets += u64::from(*sets == BigUint::ZERO);
        self.offset += u64::from(problem.head().is_none());
        self.helical += u64::from(problem.gears().helix_angle_deg() > 0.0);
        self.ranges += u64::from(problem.centre_distances().len() > 1);
        self.reverses += u64::from(problem.reverse().is_some());
        self.reverse_only += u64::from(geared == 0);
        self.long_fronts += u64::from(front > 3);
        self.sets += sets;
    }
}

/// What the two say, compared word for word; the twin's front for the tally.
fn compare(problem: &Problem, top: usize, about: &str) -> usize {
    let plain = enumerate(problem, top);
    for threads in [1, 2] {
        let control = Control::until(Some(Instant::now() + Duration::from_secs(20)));
        let request = Request {
            top,
            trains: 0,
            threads,
        };
        let fast = solve(problem, request, &control);
        let about = format!(
            "{about} {threads} threads, {:?} {:?}, top {top}",
            problem.ranking(),
            problem.measures()
        );
        assert_eq!(fast.status, Status::Proven, "{about}");
        assert_eq!(fast.counts, plain.counts, "counts of {about}");
        assert_eq!(fast.front, plain.front, "front of {about}");
        assert_eq!(fast.sets, plain.sets, "ranking of {about}");
    }
    plain.front.len()
}

#[test]
fn the_search_finds_what_plain_enumeration_finds() {
    let mut covered = Covered::default();
    for seed in 0..PROBLEMS {
        let draw = &mut Draw::new(seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        let counts = count_plainly(&problem);
        if counts.sets > BigUint::from(MOST_SETS) {
            covered.too_large += 1;
            continue;
        }
        let mut front = 0;
        for ranking in Ranking::ALL {
            let measures = draw.pick(MEASURE_LISTS).to_vec();
            let top = draw.pick(&[1, 3, 20, 300]);
            let ranked = problem.clone().ranked(ranking, measures);
            front = front.max(compare(&ranked, top, &format!("seed {seed}: {file}")));
        }
        covered.note(&problem, &counts.sets, front);
    }
    assert!(covered.compared >= 400, "{covered:?}");
    let kinds = [
        covered.without_sets,
        covered.offset,
        covered.helical,
        covered.ranges,
        covered.reverses,
        covered.reverse_only,
        covered.long_fronts,
    ];
    assert!(kinds.iter().all(|&kind| kind >= 25), "{covered:?}");
    assert!(covered.sets > BigUint::from(100_000_u32), "{covered:?}");
}

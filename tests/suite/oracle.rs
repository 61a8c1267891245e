//! The search against its plain twin on hundreds of small random problems.

use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Measure, Problem, Ranking, read};
use layshaft::search::{Control, Request, Status, count_plainly, enumerate, solve};
use layshaft::stock::exact;
use layshaft::train::{Figures, Set};
use num_bigint::BigUint;
use std::path::Path;
use std::time::{Duration, Instant};

/// Problems looked at; those with more sets than this are left out.
const PROBLEMS: u64 = 1500;
const MOST_SETS: u32 = 60_000;

pub(crate) const MEASURE_LISTS: &[&[Measure]] = &[
    &Measure::USUAL,
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
pub(crate) fn compare(problem: &Problem, top: usize, about: &str) -> usize {
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
        for ranking in Ranking::USUAL {
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

fn sample(name: &str) -> Problem {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    read(&folder.join(name).with_extension("json")).unwrap().1
}

// Found by an independent brute force and proved by an independent integer
// program.
#[test]
fn plain_counting_gives_the_known_numbers_of_sets() {
    for (name, sets) in [
        ("shunter", 80_708_u64),
        ("walking-tractor", 625_200),
        ("spindle-head", 26_580),
        ("impossible", 0),
        ("bored-case", 0),
        ("large", 155_450_913_207_299),
    ] {
        assert_eq!(
            count_plainly(&sample(name)).sets,
            BigUint::from(sets),
            "{name}"
        );
    }
}

#[test]
fn the_samples_have_the_fronts_of_plain_enumeration() {
    for (name, points) in [("shunter", 17), ("spindle-head", 14)] {
        assert_eq!(compare(&sample(name), 200, name), points, "{name}");
    }
}

/// A set's values by the measures, error by the bits of its double.
fn values(problem: &Problem, set: &Set, measures: &[Measure]) -> Vec<u64> {
    let figures = Figures::of(problem, set);
    let value = |measure: &Measure| exact(problem, set, &figures, *measure);
    measures.iter().map(value).collect()
}

/// The best forward trains, each with its best reverse: all sets as ranked,
/// those level in that ranking by the other measures, and of each train the
/// first.
pub(crate) fn plain_trains(problem: &Problem, count: usize) -> Vec<Set> {
    let mut measures = problem.measures().to_vec();
    let all = enumerate(problem, usize::MAX).sets;
    if let Ranking::By(measure) = problem.ranking() {
        measures.push(measure);
    }
    let level = |x: &Set, y: &Set| values(problem, x, &measures) == values(problem, y, &measures);
    let mut trains: Vec<Set> = Vec::new();
    for same in all.chunk_by(level) {
        let mut same = same.to_vec();
        same.sort_by_cached_key(|set| values(problem, set, &Measure::USUAL));
        for set in same {
            if !trains.iter().any(|train| train.same_train(&set)) {
                trains.push(set);
            }
        }
        if trains.len() >= count {
            break;
        }
    }
    trains.truncate(count);
    trains
}

/// Compares the lists of trains on small random problems.
fn compare_trains(rankings: &[Ranking]) {
    let mut compared = 0;
    for seed in 400_000..400_600 {
        let draw = &mut Draw::new(seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        let sets = count_plainly(&problem).sets;
        if sets == BigUint::ZERO || sets > BigUint::from(3000_u32) {
            continue;
        }
        for &ranking in rankings {
            let measures = draw.pick(MEASURE_LISTS).to_vec();
            let trains = draw.pick(&[1, 5, 40]);
            let ranked = problem.clone().ranked(ranking, measures);
            let plain = plain_trains(&ranked, trains);
            for threads in [1, 2] {
                let request = Request {
                    top: 0,
                    trains,
                    threads,
                };
                let fast = solve(&ranked, request, &Control::default()).trains;
                let measures = ranked.measures();
                let about = format!("{file} {threads} {ranking:?} {measures:?} {trains}");
                assert_eq!(fast, plain, "seed {seed}: {about}");
                compared += fast.len();
            }
        }
    }
    assert!(compared > 1000, "{compared}");
}

#[test]
fn the_best_trains_are_those_of_plain_enumeration() {
    let [error, volume] = [Measure::WorstError, Measure::BlankVolume].map(Ranking::By);
    compare_trains(&[Ranking::Balanced, error, volume]);
}

#[test]
fn the_best_trains_by_cutters_are_those_of_plain_enumeration() {
    compare_trains(&[Ranking::By(Measure::DistinctCutters)]);
}

//! The nearest misses against plain loops, and on boxes worked by hand.

use crate::random::{Draw, checked, problem_file};
use layshaft::base::{Length, Ratio};
use layshaft::mesh::{Fit, Pairs, reverses_at};
use layshaft::problem::{Problem, parse, read};
use layshaft::search::{Distances, Nearest, SumAt, count_plainly, nearest};
use layshaft::train::Pair;
use num_bigint::BigUint;
use std::path::Path;

/// Every pair that some role may take.
fn pairs_at(problem: &Problem, centres: Length) -> Vec<Pair> {
    let pairs = Pairs::at(problem, centres);
    let lists = pairs.lists().flat_map(|(_, list)| list);
    lists.map(|made| made.pair).collect()
}

fn sample(name: &str) -> Problem {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("problems")
        .join(name);
    read(&path).unwrap().1
}

fn told(sum: &SumAt) -> (f64, u32, f64, Fit) {
    let standard = (sum.standard_centre_distance_mm * 1e6).round() / 1e6;
    (sum.module_mm, sum.tooth_sum, standard, sum.fit)
}

// 41.37 mm: half a module times the sum is 41.2 and 41.6 mm beside it in
// module 0.8, 41.0 and 41.5 mm in module 1.
#[test]
fn the_bored_case_has_no_tooth_sum() {
    let found = nearest(&sample("bored-case.json"));
    assert_eq!(found.closing_pairs, 0);
    assert_eq!(found.distances.closing, 0);
    let sums: Vec<_> = found.sums.iter().map(told).collect();
    assert_eq!(
        sums,
        [
            (0.8, 101, 40.4, Fit::Loose),
            (0.8, 102, 40.8, Fit::Loose),
            (0.8, 103, 41.2, Fit::Loose),
            (0.8, 104, 41.6, Fit::Binds),
            (0.8, 105, 42.0, Fit::Binds),
            (0.8, 106, 42.4, Fit::Binds),
            (1.0, 80, 40.0, Fit::Loose),
            (1.0, 81, 40.5, Fit::Loose),
            (1.0, 82, 41.0, Fit::Loose),
            (1.0, 83, 41.5, Fit::Binds),
            (1.0, 84, 42.0, Fit::Binds),
            (1.0, 85, 42.5, Fit::Binds),
        ]
    );
    // Opened by 0.17 mm: 2 · 0.17 · tan 20° = 0.1237 mm and a little more.
    let backlash = found.sums[2].backlash_mm.unwrap();
    assert!(backlash > 0.1237 && backlash < 0.127, "{backlash}");
    assert!(
        found
            .speeds
            .iter()
            .all(|speed| speed.nearest.is_none() && !speed.within)
    );
}

#[test]
fn the_impossible_box_fails_only_together() {
    let found = nearest(&sample("impossible.json"));
    // Sum 72 of 21 to 51 teeth.
    assert_eq!(found.closing_pairs, 31);
    assert!(found.speeds.iter().all(|speed| speed.within));
    assert!(found.reverse.as_ref().is_some_and(|reverse| reverse.within));
    assert!(!found.together.is_empty());
    assert!(
        found.together.iter().all(|case| !case.missing.is_empty()),
        "{:?}",
        found.together
    );
    let ratios: u64 = found.together.iter().map(|case| case.head_ratios).sum();
    assert_eq!(ratios, 31);
}

#[test]
fn a_head_range_out_of_reach_names_the_nearest_pair() {
    let text = r#"{
        "centre_distance_mm": 30, "head": { "ratio": { "min": 4 } },
        "gears": { "modules_mm": [1], "min_teeth": 15, "max_teeth": 44, "face_width_mm": 8 },
        "speeds": [ { "ratio": 2 } ]
    }"#;
    let found = nearest(&parse("heads", text).unwrap());
    let head = found.head.unwrap();
    assert_eq!((head.closing, head.in_range), (29, 0));
    let (pair, ratio, centres) = head.nearest.unwrap();
    assert_eq!((pair.driver_teeth, pair.driven_teeth), (16, 44));
    assert!((ratio - 2.75).abs() < 1e-12 && (centres - 30.0).abs() < 1e-12);
    assert!(found.speeds[0].nearest.is_none());
}

// 20 + z teeth of module 1 on 40 mm: gap 40 − (20 + z + 4) / 2. Ratio 3 needs
// 60 teeth, which leave less than nothing.
#[test]
fn reverse_gears_refused_by_their_tips_are_counted() {
    let text = r#"{
        "arrangement": "offset", "centre_distance_mm": 40,
        "gears": { "modules_mm": [1], "min_teeth": 20, "max_teeth": 60, "face_width_mm": 8 },
        "reverse": { "ratio": 3, "tolerance_percent": 1, "clearance_mm": 0.5 }
    }"#;
    let found = nearest(&parse("tips", text).unwrap());
    let reverse = found.reverse.unwrap();
    assert_eq!(
        (
            reverse.in_tolerance,
            reverse.refused_by_tips,
            reverse.refused_by_idler
        ),
        (1, 1, 0)
    );
    assert!((reverse.widest_gap_refused_mm.unwrap() + 2.0).abs() < 1e-9);
    // 20 + 55 + 4 = 79 leave 0.5 mm.
    let at = reverse.nearest.unwrap();
    assert_eq!((at.pair.driver_teeth, at.pair.driven_teeth), (20, 55));
    assert!(!reverse.within);
}

fn ratio_of(pair: Pair) -> Ratio {
    Ratio::of(pair.driven.get(), pair.driver.get())
}

/// Head ratios in range at a distance, by plain loops.
fn heads(problem: &Problem, pairs: &[Pair]) -> Vec<Ratio> {
    let Some(wanted) = problem.head() else {
        return vec![Ratio::ONE];
    };
    let fits = |pair: &&Pair| {
        wanted.window().contains(ratio_of(**pair)) && is_cut(problem, **pair, wanted.cut())
    };
    pairs
        .iter()
        .filter(fits)
        .map(|pair| ratio_of(*pair))
        .collect()
}

fn is_cut(problem: &Problem, pair: Pair, cut: Option<layshaft::problem::CutPair>) -> bool {
    cut.is_none_or(|cut| {
        (pair.driver, pair.driven) == (cut.driver, cut.driven)
            && cut
                .module
                .is_none_or(|module| module == pair.module.of(problem))
    })
}

/// Least size of error, percent, of each speed; none without a gearing.
fn plain_errors(problem: &Problem) -> (u64, Vec<Option<f64>>) {
    let mut least = vec![f64::INFINITY; problem.geared().count()];
    let mut closing = 0;
    for centres in problem.centre_distances().iter() {
        let pairs = pairs_at(problem, centres);
        closing += pairs.len() as u64;
        for head in heads(problem, &pairs) {
            for (least, wanted) in least.iter_mut().zip(problem.geared()) {
                for pair in pairs
                    .iter()
                    .filter(|pair| is_cut(problem, **pair, wanted.cut()))
                {
                    let error = head.then(ratio_of(*pair)).error(wanted.target());
                    *least = least.min(100.0 * error);
                }
            }
        }
    }
    (
        closing,
        least
            .into_iter()
            .map(|least| least.is_finite().then_some(least))
            .collect(),
    )
}

/// Whether no pair is needed at all.
fn is_only_reverse(problem: &Problem) -> bool {
    problem.head().is_none() && problem.geared().next().is_none()
}

fn plain_reverse(problem: &Problem) -> Option<f64> {
    let wanted = problem.reverse()?;
    let mut least = f64::INFINITY;
    for centres in problem.centre_distances().iter() {
        let pairs = pairs_at(problem, centres);
        if pairs.is_empty() && !is_only_reverse(problem) {
            continue;
        }
        let heads = heads(problem, &pairs);
        for span in reverses_at(problem, wanted, centres, |_, _| true).spans {
            let cut = wanted.cut().is_none_or(|cut| {
                (span.driver, span.driven) == (cut.driver, cut.driven)
                    && (span.idler_min..=span.idler_max).contains(&cut.idler)
            });
            let ratio = Ratio::of(span.driven.get(), span.driver.get());
            for head in heads.iter().filter(|_| cut) {
                least = least.min(100.0 * head.then(ratio).error(wanted.target()));
            }
        }
    }
    least.is_finite().then_some(least)
}

/// No case without missing speeds means no set; with one, there are sets.
fn assert_cases(problem: &Problem, found: &Nearest, about: &str) {
    let served = found.together.iter().any(|case| case.missing.is_empty());
    assert_eq!(
        served,
        count_plainly(problem).sets > BigUint::ZERO,
        "{about}"
    );
}

#[test]
fn the_nearest_is_what_plain_loops_find() {
    let mut cases = 0;
    for seed in 200_000..200_400 {
        let file = problem_file(&mut Draw::new(seed));
        let problem = checked(&file);
        let about = format!("seed {seed}: {file}");
        let found = nearest(&problem);
        let Distances {
            total,
            closing,
            looked_at,
        } = found.distances;
        let expected = if is_only_reverse(&problem) {
            total
        } else {
            closing
        };
        assert_eq!(looked_at, expected, "{about}");
        let (closing, least) = plain_errors(&problem);
        assert_eq!(found.closing_pairs, closing, "{about}");
        let errors = found
            .speeds
            .iter()
            .map(|s| s.nearest.map(|at| at.error_percent.abs()));
        assert_eq!(errors.collect::<Vec<_>>(), least, "{about}");
        let within = |(error, geared): (&Option<f64>, &layshaft::problem::Geared)| {
            error.is_some_and(|error| error <= geared.tolerance_percent().to_f64() + 1e-12)
        };
        let within: Vec<_> = least.iter().zip(problem.geared()).map(within).collect();
        let said: Vec<_> = found.speeds.iter().map(|speed| speed.within).collect();
        assert_eq!(said, within, "{about}");
        let reverse = found.reverse.as_ref().and_then(|reverse| reverse.nearest);
        assert_eq!(
            reverse.map(|at| at.error_percent.abs()),
            plain_reverse(&problem),
            "{about}"
        );
        assert_cases(&problem, &found, &about);
        cases += usize::from(!found.speeds.is_empty());
    }
    assert!(cases > 300, "{cases}");
}

#[test]
fn a_hundred_thousand_distances_take_no_time() {
    let text = r#"{
        "centre_distance_mm": { "from": 30.0005, "to": 40.0004, "step": 0.0001 },
        "gears": { "modules_mm": [0.7, 0.8, 0.9, 1, 1.25], "min_teeth": 12, "max_teeth": 70,
                   "centre_tolerance_mm": 0.00001, "face_width_mm": 8 },
        "speeds": [ { "ratio": 3.2 }, { "ratio": 1.9 } ],
        "reverse": { "ratio": 90, "tolerance_percent": 1 }
    }"#;
    let begun = std::time::Instant::now();
    let found = nearest(&parse("fine", text).unwrap());
    assert!(begun.elapsed().as_secs_f64() < 3.0, "{:?}", begun.elapsed());
    assert_eq!(found.distances.total, 100_000);
    assert!(found.distances.looked_at > 20 && found.distances.looked_at <= 200);
    assert!(found.speeds.iter().all(|speed| speed.within));
    assert!(
        found
            .together
            .iter()
            .all(|case| case.missing.contains(&"reverse".to_owned()))
    );
}

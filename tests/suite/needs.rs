//! Bars, blanks, set-ups and cost as measures: the search against its plain twin.

use crate::oracle::compare;
use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Measure, Problem, Ranking, read};
use layshaft::search::{Control, Request, Status, count_plainly, solve};
use layshaft::stock::exact;
use layshaft::train::Figures;
use num_bigint::BigUint;
use serde_json::{Value, json};
use std::path::Path;
use std::time::Instant;

/// Problems looked at; those with more sets than this are left out.
const PROBLEMS: u64 = 750;
const MOST_SETS: u32 = 1500;

const EXTRAS: [Measure; 4] = [
    Measure::Bars,
    Measure::Blanks,
    Measure::Setups,
    Measure::Cost,
];

/// Some of all measures, in some order, at least one of them of the workshop.
fn measures(draw: &mut Draw) -> Vec<Measure> {
    let mut chosen = vec![draw.pick(&EXTRAS)];
    for measure in Measure::USUAL.into_iter().chain(EXTRAS) {
        if !chosen.contains(&measure) && draw.percent(40) {
            let place = usize::from(draw.percent(50)) * chosen.len();
            chosen.insert(place, measure);
        }
    }
    chosen
}

/// A small workshop: bars of few sizes, some on the rack, some cutters at hand.
fn workshop(draw: &mut Draw, module_mm: &Value) -> Value {
    let mut bars = Vec::new();
    for size in 1..=draw.whole(3, 5) {
        bars.push(json!({
            "diameter_mm": 12 * size + draw.whole(0, 9),
            "length_mm": draw.pick(&[60, 100, 250]),
            "price": draw.whole(1, 9),
        }));
    }
    // Nearly always some bar holds every gear.
    bars.push(json!({ "diameter_mm": draw.pick(&[90, 300]), "length_mm": 120, "price": 14 }));
    let mut rack = Vec::new();
    for _ in 0..draw.whole(0, 5) {
        rack.push(json!({
            "diameter_mm": draw.whole(14, 80),
            "length_mm": draw.whole(8, 90),
            "count": draw.whole(1, 2),
        }));
    }
    json!({
        "bars": bars,
        "rack": rack,
        "kerf_mm": draw.pick(&[0.0, 1.5]),
        "grip_mm": draw.pick(&[0, 0, 12]),
        "dog_rings": draw.pick(&["with-gear", "separate"]),
        "cutters": [
            { "module_mm": module_mm, "numbers": [draw.whole(1, 4), draw.whole(5, 8)], "owned": true },
            { "module_mm": module_mm, "set": true, "price": draw.whole(30, 90) },
        ],
    })
}

#[test]
fn measures_of_the_workshop_are_those_of_plain_enumeration() {
    let (mut compared, mut long_fronts) = (0, 0);
    for seed in 0..PROBLEMS {
        let draw = &mut Draw::new(90_000 + seed);
        let mut file = problem_file(draw);
        if draw.percent(80) {
            let module_mm = file["gears"]["modules_mm"][0].clone();
            file["workshop"] = workshop(draw, &module_mm);
        }
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

fn sample(name: &str) -> Problem {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    let (_, problem) = read(&folder.join(name)).unwrap();
    problem
}

fn seconds(problem: &Problem, top: usize) -> (f64, usize) {
    let request = Request {
        top,
        trains: 0,
        threads: 2,
    };
    let start = Instant::now();
    let outcome = solve(problem, request, &Control::until(None));
    assert_eq!(outcome.status, Status::Proven);
    (start.elapsed().as_secs_f64(), outcome.front.len())
}

#[test]
fn unbeaten_sets_are_ordered_by_what_they_cost_themselves() {
    for name in ["odd-centres.json", "walking-tractor.json"] {
        let measures = vec![Measure::WorstError, Measure::Bars];
        let problem = sample(name).ranked(Ranking::By(Measure::Cost), measures);
        let request = Request {
            top: 1,
            trains: 0,
            threads: 2,
        };
        let outcome = solve(&problem, request, &Control::until(None));
        let key = |place: &usize| {
            let set = &outcome.front[*place];
            let figures = Figures::of(&problem, set);
            [Measure::Cost, Measure::WorstError, Measure::Bars]
                .map(|measure| exact(&problem, set, &figures, measure))
        };
        assert!(outcome.front.len() > 1, "{name}");
        assert!(outcome.front_order.iter().is_sorted_by_key(key), "{name}");
    }
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_the_cheapest_sets_of_every_sample() {
    for name in [
        "shunter",
        "walking-tractor",
        "spindle-head",
        "orchard-cart",
        "odd-centres",
        "found-cultivator",
        "large",
    ] {
        let by_cost = Ranking::By(Measure::Cost);
        let problem = sample(&format!("{name}.json")).ranked(by_cost, Vec::new());
        let (took, _) = seconds(&problem, 10);
        assert!(took < 5.0, "{name}: {took} s");
    }
}

/// The large problem with a workshop that sells so many sizes of bar.
fn large_with_bars(diameters_mm: &[u32]) -> Problem {
    let large = include_str!("../../problems/large.json");
    let mut problem: Value = serde_json::from_str(large).unwrap();
    let bar =
        |diameter: &u32| json!({ "diameter_mm": diameter, "length_mm": 500, "material": "steel" });
    let bars: Vec<_> = diameters_mm.iter().map(bar).collect();
    let fields = problem.as_object_mut().unwrap();
    let workshop = json!({ "bars": bars, "gear_material": "steel" });
    fields.insert("workshop".to_owned(), workshop);
    checked(&problem)
}

/// Twelve sizes that span the blanks of the large problem.
const TWELVE_MM: [u32; 12] = [30, 38, 46, 54, 62, 70, 78, 86, 94, 102, 110, 120];

#[test]
#[ignore = "run alone, in release: timed"]
fn twelve_sizes_of_bar_take_four_tenths_of_a_second() {
    let mut measures = Measure::USUAL.to_vec();
    measures.push(Measure::Bars);
    let problem = large_with_bars(&TWELVE_MM).ranked(Ranking::Balanced, measures);
    let mut times: Vec<f64> = (0..5).map(|_| seconds(&problem, 20).0).collect();
    times.sort_by(f64::total_cmp);
    assert!(times[2] <= 0.4, "{times:?}");
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_the_fewest_sizes_of_bar() {
    let by_bars = Ranking::By(Measure::Bars);
    for problem in [sample("large.json"), large_with_bars(&TWELVE_MM)] {
        let (took, _) = seconds(&problem.ranked(by_bars, Vec::new()), 200);
        assert!(took < 5.0, "{took} s");
    }
}

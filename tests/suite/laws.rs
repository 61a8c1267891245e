//! What must hold between one problem and another.

use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Measure, Problem, Ranking, read};
use layshaft::search::{Control, Outcome, Request, count_plainly, solve};
use layshaft::train::{Figures, Set};
use layshaft::verify::verify;
use num_bigint::BigUint;
use serde_json::{Map, Value, json};
use std::path::Path;

fn outcome(problem: &Problem, threads: usize) -> Outcome {
    solve(
        problem,
        Request {
            top: 40,
            trains: 0,
            threads,
        },
        &Control::default(),
    )
}

/// Random problems with at least one set and not too many, with their files.
fn problems(seeds: std::ops::Range<u64>) -> impl Iterator<Item = (Value, Problem)> {
    seeds.filter_map(|seed| {
        let file = problem_file(&mut Draw::new(seed));
        let problem = checked(&file);
        let sets = count_plainly(&problem).sets;
        (sets > BigUint::ZERO && sets < BigUint::from(200_000_u32)).then_some((file, problem))
    })
}

fn same(x: &Outcome, y: &Outcome, about: &str) {
    assert_eq!(x.counts, y.counts, "{about}");
    assert_eq!(x.front, y.front, "{about}");
    assert_eq!(x.sets, y.sets, "{about}");
}

/// The least of each measure: error, volume, cutters.
fn least(problem: &Problem, front: &[Set]) -> [f64; 3] {
    let figures: Vec<_> = front.iter().map(|set| Figures::of(problem, set)).collect();
    let of = |value: fn(&Figures) -> f64| figures.iter().map(value).fold(f64::INFINITY, f64::min);
    [
        of(|f| f.worst_error),
        of(|f| f.blank_volume_mm3),
        of(|f| f.distinct_cutters.into()),
    ]
}

/// The same value with all keys in the opposite order.
fn backwards(value: &Value) -> Value {
    match value {
        Value::Object(map) => Value::Object(
            map.iter()
                .rev()
                .map(|(key, v)| (key.clone(), backwards(v)))
                .collect(),
        ),
        Value::Array(list) => Value::Array(list.iter().map(backwards).collect()),
        other => other.clone(),
    }
}

#[test]
fn key_order_changes_nothing() {
    for (file, problem) in problems(300_000..300_120) {
        let turned = backwards(&file);
        assert_ne!(turned.to_string(), file.to_string());
        let other = checked(&turned);
        assert_eq!(problem, other, "{file}");
        same(
            &outcome(&problem, 1),
            &outcome(&other, 1),
            &file.to_string(),
        );
    }
}

#[test]
fn threads_change_nothing() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    for name in ["shunter", "spindle-head", "walking-tractor", "impossible"] {
        let problem = read(&folder.join(name).with_extension("json")).unwrap().1;
        for ranking in Ranking::USUAL {
            let ranked = problem.clone().ranked(ranking, Vec::new());
            let alone = outcome(&ranked, 1);
            for threads in [2, 3, 8] {
                same(
                    &alone,
                    &outcome(&ranked, threads),
                    &format!("{name} {threads} {ranking:?}"),
                );
            }
        }
    }
}

/// Tightens every tolerance of the file to 7/10, rounded.
fn tighten(value: &mut Value) {
    let Some(map) = value.as_object_mut() else {
        value.as_array_mut().into_iter().flatten().for_each(tighten);
        return;
    };
    for (key, value) in map.iter_mut() {
        match (key.ends_with("tolerance_percent"), value.as_f64()) {
            (true, Some(percent)) => *value = json!((percent * 700.0).round() / 1000.0),
            _ => tighten(value),
        }
    }
}

#[test]
fn a_tighter_tolerance_never_improves_the_best() {
    let mut compared = 0;
    for (file, wide) in problems(310_000..310_300) {
        let mut tight = file.clone();
        tighten(&mut tight);
        let tight = checked(&tight);
        let (few, many) = (outcome(&tight, 1), outcome(&wide, 1));
        assert!(few.counts.sets <= many.counts.sets, "{file}");
        for (few, many) in least(&tight, &few.front)
            .into_iter()
            .zip(least(&wide, &many.front))
        {
            assert!(few >= many, "{file}: {few} {many}");
        }
        for set in few.front.iter().chain(&few.sets) {
            assert_eq!(verify(&wide, set), [], "{file}");
            compared += 1;
        }
    }
    assert!(compared > 1000, "{compared}");
}

#[test]
fn one_more_legal_tooth_count_never_worsens_the_best() {
    let mut grown = 0;
    for (mut file, narrow) in problems(320_000..320_300) {
        let (min, max) = (
            narrow.gears().min_teeth().get(),
            narrow.gears().max_teeth().get(),
        );
        let before = outcome(&narrow, 1);
        for (key, teeth) in [("max_teeth", max + 1), ("min_teeth", (min - 1).max(5))] {
            let kept = file["gears"][key].clone();
            file["gears"][key] = json!(teeth);
            let wide = checked(&file);
            let after = outcome(&wide, 1);
            assert!(after.counts.sets >= before.counts.sets, "{file}");
            let pairs = least(&wide, &after.front).into_iter();
            for (after, before) in pairs.zip(least(&narrow, &before.front)) {
                assert!(after <= before, "{file}: {after} {before}");
            }
            grown += u32::from(after.counts.sets > before.counts.sets);
            file["gears"][key] = kept;
        }
    }
    assert!(grown > 50, "{grown}");
}

/// Writes out the lengths that a file may leave to their defaults.
fn with_lengths(file: &mut Value) {
    let gears = file["gears"].as_object_mut().unwrap();
    let add = |map: &mut Map<String, Value>, key: &str, value: f64| {
        map.entry(key).or_insert(json!(value));
    };
    if gears.contains_key("backlash_mm") {
        add(gears, "max_thinning_mm", 0.05);
    } else {
        add(gears, "centre_tolerance_mm", 0.001);
    }
    if let Some(reverse) = file.get_mut("reverse").and_then(Value::as_object_mut) {
        add(reverse, "clearance_mm", 0.5);
    }
}

/// Twice every length: numbers under keys in mm, and half of each pitch.
fn doubled(key: &str, value: &Value, is_length: bool) -> Value {
    let is_length = is_length || key.ends_with("_mm");
    let factor = match (is_length, key) {
        (true, _) => 2.0,
        (false, "diametral_pitches") => 0.5,
        (false, _) => 1.0,
    };
    match value {
        Value::Object(map) => {
            let fields = map
                .iter()
                .map(|(key, v)| (key.clone(), doubled(key, v, is_length)));
            Value::Object(fields.collect())
        }
        Value::Array(list) => list.iter().map(|v| doubled(key, v, is_length)).collect(),
        Value::Number(number) if is_length || factor < 1.0 => {
            json!(number.as_f64().unwrap() * factor)
        }
        other => other.clone(),
    }
}

/// Everything about a set but its size.
fn teeth(set: &Set) -> Set {
    let mut set = set.clone();
    set.centre_distance = layshaft::base::Length::ZERO;
    set
}

#[test]
fn scaling_lengths_and_modules_leaves_ratios_and_teeth_alone() {
    let mut compared = 0;
    for (mut file, _) in problems(330_000..330_300) {
        with_lengths(&mut file);
        let twice = doubled("", &file, false);
        // Blanks are rounded to the same micrometre at any size: no volume here.
        let measures = vec![Measure::WorstError, Measure::DistinctCutters];
        let ranked = |file| checked(file).ranked(Ranking::Balanced, measures.clone());
        let (small, large) = (ranked(&file), ranked(&twice));
        let (x, y) = (outcome(&small, 1), outcome(&large, 1));
        assert_eq!(x.counts, y.counts, "{file}");
        for (x, y) in [(&x.front, &y.front), (&x.sets, &y.sets)] {
            let [x, y] = [x, y].map(|sets| sets.iter().map(teeth).collect::<Vec<_>>());
            assert_eq!(x, y, "{file}");
        }
        for (x, y) in x.front.iter().zip(&y.front) {
            let [p, q] = [Figures::of(&small, x), Figures::of(&large, y)];
            assert_eq!(p.speeds, q.speeds, "{file}");
            assert_eq!(2 * x.centre_distance.steps(), y.centre_distance.steps());
            compared += 1;
        }
    }
    assert!(compared > 150, "{compared}");
}

#[test]
fn every_pair_closes_the_centres() {
    for name in ["shunter", "spindle-head", "walking-tractor", "large"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
        let problem = read(&folder.join(name).with_extension("json")).unwrap().1;
        let allowed = if name == "large" { 1.0 } else { 0.001 };
        let found = outcome(&problem, 2);
        for set in found.front.iter().chain(&found.sets) {
            for pair in set.head.iter().chain(&set.pairs) {
                let sum = f64::from(pair.driver) + f64::from(pair.driven);
                let off = pair.module.of(&problem).mm() * sum / 2.0 - set.centre_distance.mm();
                assert!(off.abs() <= allowed + 1e-9, "{name} {pair:?} {off}");
            }
        }
    }
}

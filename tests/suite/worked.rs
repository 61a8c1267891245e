//! Published boxes and worked instances through the whole search.

use layshaft::base::Decimal;
use layshaft::problem::{Problem, parse};
use layshaft::search::{Control, Outcome, Request, solve};
use layshaft::train::{Figures, Set};
use std::collections::BTreeSet;

fn problem(text: &str) -> Problem {
    parse("worked", text).unwrap_or_else(|faults| panic!("{}", faults.render(false)))
}

fn solved(problem: &Problem, top: usize) -> Outcome {
    let request = Request {
        top,
        trains: 0,
        threads: 2,
    };
    solve(problem, request, &Control::default())
}

fn sets(problem: &Problem) -> String {
    solved(problem, 0).counts.sets.to_string()
}

fn teeth(set: &Set) -> Vec<(u32, u32)> {
    let pairs = set.head.iter().chain(&set.pairs);
    pairs.map(|p| (p.driver.get(), p.driven.get())).collect()
}

/// Two modules, four geared speeds, a direct one and reverse; its figures were
/// found by plain enumeration and proved by an integer program, both written
/// apart from this project.
const FOUR_SPEEDS: &str = r#"{
    "arrangement": "in-line", "centre_distance_mm": 40.0,
    "gears": { "modules_mm": [1.0, 0.8], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8.0 },
    "speeds": [ { "name": "1", "ratio": 3.2 }, { "name": "2", "ratio": 2.0 },
        { "name": "3", "ratio": 1.4 }, { "name": "4", "direct": true }, { "name": "5", "ratio": 0.8 } ],
    "reverse": { "ratio": 3.3, "tolerance_percent": 10.0,
        "idler_teeth": { "min": 14, "max": 30 }, "clearance_mm": 0.5 } }"#;

#[test]
fn four_speeds_to_the_last_digit() {
    let all = problem(FOUR_SPEEDS);
    let outcome = solved(&all, 0);
    assert_eq!(outcome.pairs, 94);
    assert_eq!(outcome.counts.sets.to_string(), "3455949");
    assert_eq!(outcome.front.len(), 12);
    let text = FOUR_SPEEDS.replacen('{', r#"{ "measures": ["worst_error", "blank_volume"],"#, 1);
    let two = problem(&text);
    let front: Vec<String> = solved(&two, 0)
        .front
        .iter()
        .map(|set| {
            let figures = Figures::of(&two, set);
            let error = 100.0 * figures.worst_error;
            format!("{error:.6} {:.3}", figures.blank_volume_mm3)
        })
        .collect();
    let expected = [
        "0.451689 124024.046",
        "0.654291 123931.558",
        "0.724032 123619.409",
        "0.926118 122981.540",
    ];
    assert_eq!(front, expected);
}

// Row 1.20: R20/3 group {1, 1.4125, 1.9953, 2.8184} on one sum, teeth ≥ 18;
// source: none (recomputed). ≤ 2 %: sum 68 (34/34, 28/40, 23/45, 18/50);
// ≤ 1 %: sum 84 (42/42, 35/49, 28/56, 22/62).
#[test]
fn the_smallest_sum_that_serves_a_group_of_preferred_steps() {
    let box_of = |sum: u32, tolerance: u32| {
        problem(&format!(
            r#"{{ "arrangement": "offset", "centre_distance_mm": {},
            "gears": {{ "modules_mm": [1], "min_teeth": 18, "max_teeth": 100, "face_width_mm": 8 }},
            "default_tolerance_percent": {tolerance},
            "speeds": [ {{ "ratio": 1 }}, {{ "ratio": 1.4125 }}, {{ "ratio": 1.9953 }},
                {{ "ratio": 2.8184 }} ] }}"#,
            f64::from(sum) / 2.0
        ))
    };
    for (tolerance, least, expected) in [
        (2, 68, [(34, 34), (28, 40), (23, 45), (18, 50)]),
        (1, 84, [(42, 42), (35, 49), (28, 56), (22, 62)]),
    ] {
        for sum in 36..least {
            assert_eq!(sets(&box_of(sum, tolerance)), "0", "sum {sum}");
        }
        let found = solved(&box_of(least, tolerance), 1000);
        let found: BTreeSet<_> = found.sets.iter().map(teeth).collect();
        assert!(found.contains(expected.as_slice()), "{found:?}");
    }
}

// Row 1.11: TOM ch. 13 exercise: reverted, modules 2 and 4.5 on the same centre
// distance, each stage the same ratio, overall ≥ 12, teeth ≥ 16: 36/126 and
// 16/56, ratio 12.25, a = 162 mm.
#[test]
fn two_modules_share_the_centres_of_the_textbook() {
    let text = r#"{ "arrangement": "in-line", "centre_distance_mm": 162,
        "gears": { "modules_mm": [2, 4.5], "min_teeth": 16, "max_teeth": 126, "face_width_mm": 20 },
        "head": { "ratio": { "min": 3.5, "max": 3.5 } },
        "speeds": [ { "ratio": 12.25, "tolerance_percent": 0.000001 } ] }"#;
    let problem = problem(text);
    let found = solved(&problem, 100);
    let modules = |set: &Set| {
        let pairs = set.head.iter().chain(&set.pairs);
        pairs
            .map(|p| p.module.of(&problem).mm())
            .collect::<Vec<_>>()
    };
    let wanted = |set: &&Set| teeth(set) == [(36, 126), (16, 56)] && modules(set) == [2.0, 4.5];
    let set = found.sets.iter().find(wanted).expect("the book's set");
    assert_eq!(Figures::of(&problem, set).worst_error.to_bits(), 0);
    // The answer 45/153 and 20/68 that goes round is refused: 11.56 is below 12.
    assert!(
        !found
            .sets
            .iter()
            .any(|set| teeth(set) == [(45, 153), (20, 68)])
    );
}

/// The four-speed box of row 1.15: tooth sum 60 at module 2, head 20→40.
fn textbook_box(reverse: &str) -> Problem {
    problem(&format!(
        r#"{{ "arrangement": "in-line", "centre_distance_mm": 60,
        "gears": {{ "modules_mm": [2], "min_teeth": 18, "max_teeth": 42, "face_width_mm": 16 }},
        "head": {{ "teeth": [20, 40] }}, "default_tolerance_percent": 4,
        "speeds": [ {{ "name": "1", "ratio": 4 }}, {{ "name": "2", "ratio": 2.24 }},
            {{ "name": "3", "ratio": 1.38 }}, {{ "name": "4", "direct": true }} ] {reverse} }}"#
    ))
}

// Row 1.15: textbook example, an online course text: ratios 4, 2.24, 1.38, 1;
// 1st 20→40 · 20→40 = 4; 2nd 28→32 = 2.2857 (+2.0 %); 3rd 36→24 = 1.3333
// (35→25 = 1.4286).
#[test]
fn the_textbook_box_is_among_the_sets() {
    let problem = textbook_box("");
    let found = solved(&problem, 1000).sets;
    let all: BTreeSet<_> = found.iter().map(teeth).collect();
    for third in [(36, 24), (35, 25)] {
        assert!(all.contains(&vec![(20, 40), (20, 40), (28, 32), third]));
    }
    let book = vec![(20, 40), (20, 40), (28, 32), (36, 24)];
    let set = found.iter().find(|set| teeth(set) == book).expect("it");
    let speeds = Figures::of(&problem, set).speeds;
    for (speed, ratio) in speeds.iter().zip([4.0, 2.2857, 1.3333]) {
        assert!((speed.ratio - ratio).abs() < 5e-5, "{speed:?}");
    }
    assert!((100.0 * speeds[1].deviation - 2.04).abs() < 5e-3);
    assert_eq!(speeds[0].target, Decimal::whole(4));
}

// Row 10.05: 18 and 38 teeth on a sum-60 centre distance: gap 0. The text claims
// adequate clearance; the tips just touch, so any clearance refuses them.
// Row 10.07: ratio 38/18 × 40/20 = 4.2222, the idler only reverses.
#[test]
fn the_textbook_reverse_is_refused_for_touching_tips() {
    let reverse = |clearance: &str| {
        textbook_box(&format!(
            r#", "reverse": {{ "ratio": 4.2, "tolerance_percent": 5, "teeth": [18, 20, 38],
            "idler_teeth": {{ "min": 18, "max": 30 }}, "clearance_mm": {clearance} }}"#
        ))
    };
    assert_eq!(sets(&reverse("0.000001")), "0");
    assert_eq!(sets(&reverse("0.5")), "0");
    let touching = reverse("0");
    let found = solved(&touching, 1);
    let figures = Figures::of(&touching, &found.sets[0]).reverse.expect("it");
    assert!((figures.ratio + 4.2222).abs() < 5e-5);
    assert!(figures.tip_gap_mm.abs() < 1e-9);
}

// Direct drive: output speed = input speed, same sense. Overdrive: ratio below
// 1. Reverse turns against the forward speeds, in-line and offset alike. Source:
// common practice, no source.
#[test]
fn senses_are_those_of_the_trade() {
    let folder = tempfile::tempdir().unwrap();
    let offset = FOUR_SPEEDS
        .replace("in-line", "offset")
        .replace(r#""direct": true"#, r#""ratio": 1.1"#)
        .replace("14, \"max_teeth\": 70", "10, \"max_teeth\": 70");
    for (name, text) in [
        ("in-line.json", FOUR_SPEEDS),
        ("offset.json", offset.as_str()),
    ] {
        let file = folder.path().join(name);
        std::fs::write(&file, text).unwrap();
        let args = ["solve", file.to_str().unwrap(), "--format", "json"];
        let run = super::front_door::Run::of(&args).ends();
        let answer: serde_json::Value = serde_json::from_str(&run.stdout).unwrap();
        let sets = answer["sets"].as_array().unwrap();
        assert_eq!((run.code, sets.is_empty()), (0, false), "{name}");
        for set in sets {
            for speed in set["speeds"].as_array().unwrap() {
                let ratio = speed["ratio"].as_f64().unwrap();
                assert!(ratio > 0.0, "forward turns one way: {speed}");
                assert!(speed["direct"].is_null() || ratio.to_bits() == 1.0_f64.to_bits());
                assert_eq!(
                    speed["name"] == "5",
                    ratio < 1.0,
                    "only 5 is an overdrive: {speed}"
                );
            }
            let (reverse, target) = (&set["reverse"]["ratio"], &set["reverse"]["target"]);
            assert!(reverse.as_f64().unwrap() < 0.0 && target.as_f64().unwrap() < 0.0);
        }
    }
}

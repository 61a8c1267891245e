//! Centres measured over pins: sets are judged over the whole measuring doubt.

use super::front_door::Run;
use layshaft::base::Length;
use layshaft::mesh::doubts;
use layshaft::problem::{CentreDistances, Problem, parse, schema};
use layshaft::search::{Control, Request, solve};
use layshaft::train::{Matter, Misfit, Set};
use layshaft::verify::verify;
use std::collections::BTreeSet;

/// A box with these centres and this rule for closing them.
fn text(centres: &str, closing: &str) -> String {
    format!(
        r#"{{ "centre_distance_mm": {centres},
        "gears": {{ "modules_mm": [1, 1.25], "min_teeth": 16, "max_teeth": 60,
            "face_width_mm": 12, {closing} }},
        "speeds": [ {{ "ratio": 2.6 }}, {{ "direct": true }} ],
        "reverse": {{ "ratio": 2.4, "tolerance_percent": 20, "clearance_mm": 0.5,
            "idler_teeth": {{ "max": 20 }} }} }}"#
    )
}

fn over_pins(over: &str, to: &str) -> String {
    format!(r#"{{ "over_pins_mm": {over}, "pins_mm": [12.0, 10.5], "measured_to_mm": {to} }}"#)
}

const BACKLASH: &str = r#""backlash_mm": { "min": 0.02, "max": 0.1 }, "max_thinning_mm": 0.01"#;

fn problem(text: &str) -> Problem {
    parse("measured", text).unwrap_or_else(|faults| panic!("{}", faults.render(false)))
}

#[test]
fn half_of_both_pins_is_taken_off_exactly() {
    let at = |text: &str| {
        let problem = problem(text);
        let distances = problem.centre_distances();
        assert_eq!(distances.len(), 1);
        (distances.at(0).to_string(), distances.doubt().to_string())
    };
    let mm = text(&over_pins("56.265003", "0.02"), BACKLASH);
    assert_eq!(at(&mm), ("45.015003".to_owned(), "0.02".to_owned()));
    let inches = text(
        r#"{ "over_pins_in": 2.000001, "pins_in": [0.25, 0.125001], "measured_to_in": 0.001 }"#,
        BACKLASH,
    );
    // 25.4 × (2.000001 − 0.375001/2) = 25.4 × 1.8125005.
    assert_eq!(at(&inches), ("46.0375127".to_owned(), "0.0254".to_owned()));
}

/// Roles that the re-check, which shares nothing with the marks, refuses when
/// the shafts are `by` steps further apart.
fn refused(problem: &Problem, set: &Set, by: i64) -> bool {
    let centre_distance = Length::from_steps(set.centre_distance.steps() + by);
    let there = CentreDistances::stepped(centre_distance, Length::ZERO, 1);
    let moved = Set {
        centre_distance,
        ..set.clone()
    };
    !verify(&problem.clone().at(there), &moved).is_empty()
}

#[test]
fn a_set_is_marked_when_and_only_when_an_end_of_the_doubt_refuses_it() {
    let (mut marked, mut unmarked) = (0, 0);
    let mut kinds = BTreeSet::new();
    for (over, to, clearance, closing) in [
        ("56.29", "0.03", "0.5", BACKLASH),
        ("56.29", "0.05", "0.5", BACKLASH),
        ("56.35", "0.03", "0.5", BACKLASH),
        ("56.29", "0.03", "12.03", BACKLASH),
        ("56.25", "0.4", "0.5", r#""centre_tolerance_mm": 0.5"#),
        ("56.25", "0.9", "0.5", r#""centre_tolerance_mm": 1"#),
        ("56.00", "0.9", "0.5", r#""centre_tolerance_mm": 1"#),
    ] {
        let clear = format!("\"clearance_mm\": {clearance}");
        let text = text(&over_pins(over, to), closing);
        let problem = problem(&text.replace("\"clearance_mm\": 0.5", &clear));
        let request = Request {
            top: 3000,
            trains: 0,
            threads: 2,
        };
        let found = solve(&problem, request, &Control::default());
        assert!(!found.sets.is_empty(), "{over} {to}");
        let doubt = problem.centre_distances().doubt().steps();
        for set in &found.sets {
            let marks = doubts(&problem, set);
            for (far, by) in [(false, -doubt), (true, doubt)] {
                let here = |matter: &Matter| matches!(matter, Matter::Doubtful { far: f, .. } if *f == far);
                let said = marks.iter().any(|mark| here(&mark.matter));
                assert_eq!(said, refused(&problem, set, by), "{set:?} {marks:?}");
            }
            kinds.extend(marks.iter().filter_map(|mark| match mark.matter {
                Matter::Doubtful { far, misfit, .. } => Some((misfit_word(misfit), far)),
                _ => None,
            }));
            marked += u32::from(!marks.is_empty());
            unmarked += u32::from(marks.is_empty());
        }
    }
    assert!(marked > 100 && unmarked > 100, "{marked} {unmarked}");
    let all = [
        ("idler", true),
        ("loose", true),
        ("tight", false),
        ("tips", false),
    ];
    assert_eq!(kinds, BTreeSet::from(all));
}

const fn misfit_word(misfit: Misfit) -> &'static str {
    match misfit {
        Misfit::Loose => "loose",
        Misfit::Tight => "tight",
        Misfit::Tips => "tips",
        Misfit::Idler => "idler",
    }
}

fn solved(to: &str, format: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("measured.json");
    std::fs::write(&file, text(&over_pins("56.29", to), BACKLASH)).unwrap();
    let run = Run::of(&["solve", file.to_str().unwrap(), "--format", format]).ends();
    assert_eq!(run.code, 0, "{}", run.stderr);
    run.stdout.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_doubtful_set_says_where_it_fails() {
    let coarse = solved("0.05", "text");
    for words in [
        "on centres of 45.040 mm as measured, give or take 0.050 mm",
        "doubtful: too tight if the centres are 44.990 mm, the near end of what was measured (head; 1)",
        "measure finer before cutting",
    ] {
        assert!(coarse.contains(words), "{words}: {coarse}");
    }
    let fine = solved("0.001", "text");
    assert!(!fine.contains("doubtful") && fine.contains("give or take 0.001 mm"));
    let json: serde_json::Value = serde_json::from_str(&solved("0.05", "json")).unwrap();
    assert_eq!(json["measured"]["centre_distance_mm"], 45.04);
    assert_eq!(json["measured"]["measured_to_mm"], 0.05);
    let remarks = json["sets"][0]["remarks"].as_array().unwrap();
    assert!(remarks.iter().any(|remark| remark["kind"] == "doubtful"));
}

#[test]
fn a_measurement_that_cannot_be_is_refused() {
    let validator = jsonschema::draft202012::new(&schema()).unwrap();
    for (centres, by_schema, expected) in [
        (
            r#"{ "over_pins_mm": 22, "pins_mm": [12, 10.5], "measured_to_mm": 0.02 }"#,
            false,
            "centre_distance_mm.over_pins_mm: two such pins side by side measure 22.5 mm",
        ),
        (
            r#"{ "over_pins_mm": 56, "pins_mm": [12, 10.5], "measured_to_mm": 45 }"#,
            false,
            "centre_distance_mm.measured_to_mm: the distance itself is 44.75 mm",
        ),
        (
            r#"{ "over_pins_mm": 56, "pins_mm": [12, 10.5] }"#,
            true,
            "centre_distance_mm.measured_to_mm: missing (or measured_to_in)",
        ),
        (
            r#"{ "over_pins_mm": 56, "pins_mm": [12], "measured_to_mm": 0.02 }"#,
            true,
            "centre_distance_mm.pins_mm: 1 value where 2 belong",
        ),
        (
            r#"{ "over_pins_mm": 56, "pins_mm": [12, 0], "measured_to_mm": 0.02 }"#,
            true,
            "centre_distance_mm.pins_mm[1]: 0 is too small",
        ),
        (
            r#"{ "over_pin_mm": 56, "pins_mm": [12, 12], "measured_to_mm": 0.02 }"#,
            true,
            "centre_distance_mm.over_pin_mm: there is no such key",
        ),
        (
            r#"{ "from": 56, "to": 60 }"#,
            true,
            "centre_distance_mm.step: missing",
        ),
    ] {
        let text = text(centres, BACKLASH);
        let value = serde_json::from_str(&text).unwrap();
        assert_eq!(validator.is_valid(&value), !by_schema, "{centres}");
        let faults = parse("measured", &text).expect_err(centres);
        let told: Vec<_> = faults
            .list()
            .iter()
            .map(|f| format!("{}: {}", f.key, f.what))
            .collect();
        assert_eq!(told, [expected]);
    }
    let sound = serde_json::from_str(&text(&over_pins("56.29", "0.02"), BACKLASH)).unwrap();
    assert!(validator.is_valid(&sound));
}

//! Laws of the problem file: its schema, the order of its keys, its defaults,
//! and that no text makes the reader panic.

use crate::rejects;
use layshaft::problem::{parse, read, schema, set};
use serde_json::{Map, Value, json};
use std::fs;
use std::path::{Path, PathBuf};

fn samples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    let entries = fs::read_dir(folder).expect("the folder is there");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    files
}

fn text(path: &Path) -> String {
    fs::read_to_string(path).expect("a sample")
}

#[test]
fn the_schema_takes_every_sample() {
    let schema = schema();
    assert!(jsonschema::meta::is_valid(&schema));
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    for path in samples() {
        let sample: Value = serde_json::from_str(&text(&path)).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&sample)
            .map(|fault| fault.to_string())
            .collect();
        assert!(faults.is_empty(), "{}: {faults:?}", path.display());
    }
}

/// Bad files whose fault lies in values compared with one another, or in the
/// spelling of a number: no schema sees these.
const BEYOND_THE_SCHEMA: &[&str] = &[
    "a-billion-steps",
    "cut-far-out-of-ratio",
    "cut-without-ratio",
    "direct-with-more",
    "duplicate-key",
    "housing-offset",
    "idler-min-above-gears-max",
    "materials-unknown",
    "materials-named-twice",
    "min-above-max",
    "no-speeds-in-list",
    "offset",
    "only-direct",
    "over-precise",
    "parts-same-name",
    "rack-with-too-much-fillet",
    "rack-without-clearance",
    "role-teeth-below-all",
    "same-module",
    "same-module-by-pitch",
    "same-name",
    "same-name-by-position",
    "shared-driver-of-direct",
    "shared-driver-of-no-speed",
    "shared-driver-shifted",
    "shares-above-all",
    "shares-below-all",
    "sleeves-with-three",
    "thinning-alone",
    "two-direct",
    "workshop-cutters-by-half",
    "workshop-no-such-range",
    "workshop-same-bar",
    "workshop-same-circle",
    "workshop-same-cutter",
];

#[test]
fn the_schema_refuses_every_structural_reject() {
    let validator = jsonschema::draft202012::new(&schema()).unwrap();
    let mut refused = 0;
    for path in rejects::files() {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let Ok(text) = fs::read_to_string(&path) else {
            continue;
        };
        let Ok(json) = serde_json::from_str::<Value>(&text) else {
            continue;
        };
        let beyond = BEYOND_THE_SCHEMA.contains(&name);
        assert_eq!(validator.is_valid(&json), beyond, "{name}");
        refused += usize::from(!beyond);
    }
    assert!(refused > 20);
}

/// The same value with the keys of all its objects reversed.
fn reversed(value: &Value) -> Value {
    match value {
        Value::Object(map) => {
            let fields = map.iter().rev();
            Value::Object(fields.map(|(k, v)| (k.clone(), reversed(v))).collect())
        }
        Value::Array(items) => Value::Array(items.iter().map(reversed).collect()),
        _ => value.clone(),
    }
}

#[test]
fn key_order_changes_nothing() {
    for path in samples() {
        let json: Value = serde_json::from_str(&text(&path)).unwrap();
        let turned = reversed(&json).to_string();
        assert_ne!(turned, json.to_string());
        let problem = parse("turned", &turned).unwrap();
        assert_eq!(problem, read(&path).unwrap().1, "{}", path.display());
    }
}

#[test]
fn defaults_written_out_change_nothing() {
    let sound = |more: &str, gears: &str| {
        let text = format!(
            r#"{{ {more} "centre_distance_mm": 40, "speeds": [{{ "ratio": 2 }}], "gears": {{
            {gears} "modules_mm": [1], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8 }} }}"#
        );
        parse("box", &text).unwrap()
    };
    let written = sound(
        r#""arrangement": "in-line", "default_tolerance_percent": 3, "ranking": "balanced",
        "measures": ["worst_error", "blank_volume", "distinct_cutters"], "head": {},"#,
        r#""pressure_angle_deg": 20, "helix_angle_deg": 0, "centre_tolerance_mm": 0.001,
        "cutting": "form","#,
    );
    assert_eq!(written, sound("", ""));
}

#[test]
fn inches_and_millimetres_meet_exactly() {
    let sound = |centres: &str, modules: &str| {
        let text = format!(
            r#"{{ {centres}, "speeds": [{{ "ratio": 2 }}], "gears": {{ {modules},
            "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8 }} }}"#
        );
        parse("box", &text).unwrap()
    };
    let mm = sound(r#""centre_distance_mm": 41.275"#, r#""modules_mm": [1.27]"#);
    let inch = sound(
        r#""centre_distance_in": 1.625"#,
        r#""diametral_pitches": [20]"#,
    );
    assert!(inch.inches() && !mm.inches());
    assert_eq!(inch.centre_distances(), mm.centre_distances());
    assert_eq!(inch.gears(), mm.gears());
}

#[test]
fn what_is_fixed_includes_what_lies_inside() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems/bored-case.json");
    let text = set(
        &text(&path),
        "fixed",
        &json!(["centre_distance_in", "gears"]),
    )
    .unwrap();
    let problem = parse("box", &text).unwrap();
    assert_eq!(problem.fixed(), ["centre_distance_mm", "gears"]);
    assert!(problem.is_fixed("centre_distance_mm") && problem.is_fixed("gears.min_teeth"));
    assert!(!problem.is_fixed("head.ratio") && !problem.is_fixed("gear"));
}

#[test]
fn a_picked_set_is_stored_and_read_back() {
    for path in samples() {
        let picked = json!({
            "mark": "Q7KD", "centre_distance_mm": 40.5, "head": [1.25, 28, 52],
            "speeds": [[1.25, 25, 55]], "reverse": [1.25, 20, 18, 40]
        });
        let stored = set(&text(&path), "picked", &picked).unwrap();
        let problem = parse("stored", &stored).unwrap();
        let got = problem.picked().unwrap();
        assert_eq!(got.centre_distance.to_string(), "40.5");
        assert_eq!(got.pairs[0].driven.get(), 55);
        assert_eq!(got.reverse.unwrap().1.get(), 18);
        let removed = set(&stored, "picked", &Value::Null).unwrap();
        let sample = read(&path).unwrap().1;
        assert_eq!(parse("removed", &removed).unwrap(), sample);
    }
}

#[test]
fn a_module_of_a_diametral_pitch_is_found_by_its_rounded_spelling() {
    let text = r#"{ "centre_distance_mm": 40, "speeds": [{ "ratio": 2 }],
        "gears": { "diametral_pitches": [12], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8 },
        "picked": { "mark": "A", "centre_distance_mm": 40, "speeds": [[2.116667, 20, 40]] } }"#;
    let problem = parse("box", text).unwrap();
    let module = problem.picked().unwrap().pairs[0].module;
    assert_eq!(module, problem.gears().modules()[0]);
}

/// A fixed stream of numbers (Lehmer's generator, Park and Miller's constants).
struct Stream(u64);

impl Stream {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        usize::try_from(self.0).expect("below 2^31") % limit
    }
}

/// Reads, renders and edits a spoiled text: whatever comes, it may not panic.
fn survive(bytes: Vec<u8>) {
    let Ok(text) = String::from_utf8(bytes) else {
        return;
    };
    if let Err(faults) = parse("spoiled", &text) {
        assert!(!faults.list().is_empty());
        assert!(!faults.render(true).is_empty());
    }
    let _ = set(&text, "gears.backlash_mm.max", &json!(0.1));
    let _ = set(&text, "speeds[0].ratio", &json!(3));
}

#[test]
fn truncated_files_are_refused_in_order() {
    for path in samples() {
        let text = text(&path);
        let whole = text.trim_end().len();
        for end in 0..whole {
            let faults = parse("cut", &text[..end]).expect_err("a cut file is no problem");
            assert!(!faults.to_string().is_empty());
        }
    }
}

#[test]
fn spoiled_files_never_panic() {
    const MARKS: &[u8] = b"{}[]\",:/*\\\n0-.eE \xff\xc3a9\t\x00";
    let mut stream = Stream(20_260_701);
    for path in samples() {
        let sound = text(&path).into_bytes();
        for _ in 0..600 {
            let mut bytes = sound.clone();
            for _ in 0..=stream.below(4) {
                let at = stream.below(bytes.len());
                match stream.below(4) {
                    0 => bytes[at] = MARKS[stream.below(MARKS.len())],
                    1 => bytes.insert(at, MARKS[stream.below(MARKS.len())]),
                    2 => drop(bytes.remove(at)),
                    _ => bytes[at] ^= 1 << stream.below(7),
                }
            }
            survive(bytes);
        }
    }
}

/// Sound keys with unsound values of every kind.
#[test]
fn values_of_the_wrong_kind_never_panic() {
    let kinds = [
        json!(null),
        json!(true),
        json!(-1),
        json!(1e300),
        json!("text"),
        json!([]),
        json!([[], {}]),
        json!({}),
        json!({ "min": 5, "max": [] }),
    ];
    for path in samples() {
        let sound: Map<String, Value> = serde_json::from_str(&text(&path)).unwrap();
        for (key, old) in &sound {
            for kind in &kinds {
                let mut spoiled = sound.clone();
                spoiled.insert(key.clone(), kind.clone());
                survive(Value::Object(spoiled).to_string().into_bytes());
                let Value::Object(inner) = old else {
                    continue;
                };
                for name in inner.keys() {
                    let mut inner = inner.clone();
                    inner.insert(name.clone(), kind.clone());
                    let mut spoiled = sound.clone();
                    spoiled.insert(key.clone(), Value::Object(inner));
                    survive(Value::Object(spoiled).to_string().into_bytes());
                }
            }
        }
    }
}

#[test]
fn duty_shares_and_materials_are_read() {
    let read = |duty: &str, reverse: &str, gears: &str| {
        let text = format!(
            r#"{{ "centre_distance_mm": 40, {duty} "gears": {{ "modules_mm": [1], "min_teeth": 14,
            "max_teeth": 70, "face_width_mm": 8 {gears} }}, "head": {{ "driver_material": "S355" }},
            "materials": [{{ "name": "bell metal", "bending_mpa": 30, "contact_mpa": 200 }}],
            "speeds": [{{ "ratio": 3, "share_percent": 20, "material": "bell metal" }},
            {{ "direct": true }}, {{ "ratio": 2 }}], "reverse": {{ "ratio": 3 {reverse} }} }}"#
        );
        parse("box", &text).unwrap()
    };
    let plain = read(r#""duty": { "input_torque_n_m": 2 },"#, "", "");
    let duty = plain.duty().unwrap();
    assert_eq!(
        (duty.hours().value(), duty.hours().given()),
        (1000.0, false)
    );
    assert_eq!((duty.shock(), duty.shock_taken().given()), (1.5, false));
    assert_eq!(duty.lubrication().word(), "oil");
    assert_eq!(
        (duty.min_root_safety(), duty.min_flank_safety()),
        (None, None)
    );
    let shares = |problem: &layshaft::problem::Problem| {
        let speeds = problem.shares().speeds().iter();
        let all = speeds
            .copied()
            .chain(problem.shares().reverse())
            .map(|s| s.value());
        all.collect::<Vec<f64>>()
    };
    assert_eq!(shares(&plain), [20.0, 37.5, 37.5, 5.0]);
    assert!(!plain.materials().given());
    let names = |pair: &[layshaft::problem::Material; 2]| pair.clone().map(|m| m.name().to_owned());
    assert_eq!(names(plain.materials().head()), ["S355", "C45 normalised"]);
    assert_eq!(names(&plain.materials().speeds()[0]), ["bell metal"; 2]);
    assert_eq!(names(&plain.materials().speeds()[1]), ["C45 normalised"; 2]);
    assert_eq!(
        (
            plain.gears().accuracy_grade(),
            plain.gears().accuracy_given()
        ),
        (9, false)
    );

    let full = read(
        r#""workshop": { "gear_material": "CW614N" }, "duty": { "input_torque_n_m": 2, "shock": 1.5,
        "hours": 20, "min_safety": 1.4, "min_flank_safety": 1.1, "reversing": true,
        "lubrication": "grease", "dynamic_factor": 1.3 },"#,
        r#", "share_percent": 30, "form": "shared-driver", "idler_material": "CuSn12""#,
        r#", "accuracy_grade": 7"#,
    );
    let duty = full.duty().unwrap();
    assert!(duty.reversing() && duty.shock_taken().given() && duty.hours().given());
    assert_eq!(
        (duty.min_root_safety(), duty.min_flank_safety()),
        (Some(1.4), Some(1.1))
    );
    assert_eq!(
        (duty.dynamic_factor(), duty.face_load_factor()),
        (Some(1.3), None)
    );
    assert_eq!(shares(&full), [20.0, 25.0, 25.0, 30.0]);
    // The shared driver is that of the slowest speed.
    let reverse = full
        .reverse_materials()
        .map(layshaft::problem::Material::name);
    assert_eq!(reverse, ["bell metal", "CuSn12", "CW614N"]);
    assert_eq!(full.gears().accuracy_grade(), 7);
}

#[test]
fn one_hard_case_asks_for_thicker_tips_of_all() {
    let tips = |arrangement: &str, driver: &str, limits: &str| {
        let text = format!(
            r#"{{ "centre_distance_mm": 40, "arrangement": "{arrangement}", {limits} "gears": {{
            "modules_mm": [1], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8,
            "material": "16MnCr5 case-hardened" }}, "speeds": [{{ "ratio": 3,
            "driver_material": "{driver}", "driven_material": "S355" }}] }}"#
        );
        let problem = parse("box", &text).unwrap();
        problem.limits().min_tip_thickness().to_string()
    };
    let hard = "20MnCr5 case-hardened";
    assert_eq!(tips("offset", "S355", ""), "0.2");
    assert_eq!(tips("offset", hard, ""), "0.4");
    assert_eq!(tips("offset", hard, r#""limits": {},"#), "0.4");
    let own = r#""limits": { "min_tip_thickness": 0.25 },"#;
    assert_eq!(tips("offset", hard, own), "0.25");
    // The head pair of an in-line box is of gears.material.
    assert_eq!(tips("in-line", "S355", ""), "0.4");
}

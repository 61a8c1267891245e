//! Boxes to plant faults in (invented data).

use crate::front_door::{Ended, Run};
use serde_json::{Value, json};
use std::path::PathBuf;

/// An in-line box of module 2 that is sound: every pair has 60 teeth in all on
/// shafts 60 mm apart.
pub(crate) fn sound() -> Value {
    json!({
        "title": "A box to plant faults in (invented data)",
        "centre_distance_mm": 60,
        "gears": { "modules_mm": [2], "min_teeth": 12, "max_teeth": 60, "face_width_mm": 14 },
        "head": { "teeth": [25, 35] },
        "speeds": [
            { "name": "low", "teeth": [20, 40] },
            { "name": "mid", "teeth": [28, 32] },
            { "name": "top", "direct": true }
        ],
        "reverse": { "teeth": [20, 21, 33] },
        "shafts": {
            "input": { "diameter_mm": 17 },
            "layshaft": { "diameter_mm": 17 },
            "main": { "diameter_mm": 17 }
        }
    })
}

/// The box with `key` (a JSON pointer) set to `value`; `null` takes it out.
pub(crate) fn with(mut file: Value, pointer: &str, value: Value) -> Value {
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer");
    let parent = file.pointer_mut(parent).expect("something to set it in");
    match parent {
        Value::Array(list) => list[name.parse::<usize>().expect("a place")] = value,
        Value::Object(map) if value.is_null() => {
            map.remove(name);
        }
        Value::Object(map) => {
            map.insert(name.to_owned(), value);
        }
        other => panic!("{other}"),
    }
    file
}

/// A file of its own, removed with the folder.
pub(crate) struct Written {
    pub(crate) folder: tempfile::TempDir,
    pub(crate) path: PathBuf,
}

pub(crate) fn written(file: &Value) -> Written {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("box.json");
    std::fs::write(&path, file.to_string()).expect("a file");
    Written { folder, path }
}

pub(crate) fn run(file: &Value, flags: &[&str]) -> Ended {
    let written = written(file);
    let path = written.path.to_str().expect("a name").to_owned();
    Run::of(&[&["check", path.as_str()], flags].concat()).ends()
}

/// Everything that `check` says of a box, and its exit code.
pub(crate) fn checked(file: &Value) -> (i32, Value) {
    let ended = run(file, &["--format", "json"]);
    (ended.code, ended.json())
}

/// The faults of a box, which must be there, by kind and place.
pub(crate) fn faults(file: &Value) -> Vec<Value> {
    let (code, record) = checked(file);
    let faults = record["faults"].as_array().expect("faults").clone();
    assert_eq!(code, i32::from(!faults.is_empty()), "{record:#}");
    assert_eq!(record["sound"], json!(faults.is_empty()));
    faults
}

/// The one fault of a box: its kind, its place, what it says and what to do.
pub(crate) fn only_fault(file: &Value) -> (String, String, String, Value) {
    let faults = faults(file);
    assert_eq!(faults.len(), 1, "{faults:#?}");
    told(&faults[0])
}

pub(crate) fn told(fault: &Value) -> (String, String, String, Value) {
    let text = |key: &str| fault[key].as_str().expect("words").to_owned();
    // Whatever it is, it says what to do next.
    assert!(text("next").len() > 20, "{fault}");
    (
        text("kind"),
        text("where"),
        text("what"),
        fault["by"].clone(),
    )
}

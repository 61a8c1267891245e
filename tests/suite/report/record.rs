//! The record beside what the other verbs say.

use super::packed;
use crate::front_door::{Run, copy_of};
use serde_json::{Map, Value, json};
use std::path::Path;

/// Records from columns, as the page's own script has it.
fn from_columns(columns: &Value, count: usize) -> Vec<Value> {
    if let Some(each) = columns["each"].as_array() {
        return each.clone();
    }
    if let Some(items) = columns["items"].as_array() {
        return from_places(items, columns["lengths"].as_array().unwrap());
    }
    let mut records = vec![Map::new(); count];
    for (key, own) in columns["keys"].as_object().unwrap() {
        for (record, value) in records.iter_mut().zip(from_columns(own, count)) {
            record.insert(key.clone(), value);
        }
    }
    records.into_iter().map(Value::Object).collect()
}

/// Lists from columns, one a place; a place is that of the lists that reach so far.
fn from_places(items: &[Value], lengths: &[Value]) -> Vec<Value> {
    let mut lists = vec![Vec::new(); lengths.len()];
    for (place, own) in items.iter().enumerate() {
        let reach = lists.iter_mut().zip(lengths);
        let reach = reach.filter(|(_, length)| length.as_u64().unwrap() > place as u64);
        let reach: Vec<&mut Vec<Value>> = reach.map(|(list, _)| list).collect();
        let values = from_columns(own, reach.len());
        assert_eq!(values.len(), reach.len());
        for (list, value) in reach.into_iter().zip(values) {
            list.push(value);
        }
    }
    lists.into_iter().map(Value::Array).collect()
}

fn said(verb: &str, file: &Path, flags: &[&str]) -> Value {
    let file = file.to_str().unwrap();
    let run = Run::of(&[&[verb, file, "--format", "json"], flags].concat()).ends();
    serde_json::from_str(&run.stdout).unwrap()
}

fn without(mut value: Value, key: &str) -> Value {
    value.as_object_mut().unwrap().remove(key);
    value
}

/// What stands behind each mesh is left to `layout --factors`.
fn without_factors(mut strength: Value) -> Value {
    for mesh in strength["meshes"].as_array_mut().unwrap() {
        let mut bare = without(mesh.take(), "factors");
        for gear in bare["gears"].as_array_mut().unwrap() {
            *gear = without(gear.take(), "factors");
        }
        *mesh = bare;
    }
    strength
}

/// Every set of a report of `sample` says what the verbs say of it.
fn compare(sample: &str, flags: &[&str], count: usize) {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of(sample, folder.path());
    let most = count.to_string();
    let report = ["report", file.to_str().unwrap(), "--sets", &most];
    Run::of(&[&report, flags].concat()).ends().with(0);
    let record = packed(&file.with_extension("html"));
    let marks = record["row_marks"].as_array().unwrap();
    assert_eq!(marks.len(), count);
    let sets = from_columns(&record["sets"], count);
    let text = std::fs::read_to_string(&file).unwrap();
    assert_eq!(record["problem"]["text"], json!(text));
    let solved = said("solve", &file, flags);
    for key in ["feasible_sets", "best", "front", "front_order", "ranking"] {
        assert_eq!(record["solve"][key], solved[key], "{key}");
    }
    for (mark, set) in marks.iter().zip(&sets) {
        let mark = mark.as_str().unwrap();
        let of = [&["--set", mark], flags].concat();
        let mut layout = without(said("layout", &file, &of), "forces");
        let strength = without_factors(layout["strength"].take());
        assert_eq!(without(layout, "strength"), set["layout"], "{mark}");
        assert_eq!(strength, set["strength"], "{mark}");
        assert_eq!(said("stock", &file, &of), set["stock"], "{mark}");
        let mut sheets = said("sheets", &file, &of);
        for plate in sheets["plates"].as_array_mut().unwrap() {
            plate["drawing"].as_object_mut().unwrap().remove("holes");
        }
        assert_eq!(sheets, set["sheets"], "{mark}");
        let solved = said("solve", &file, &of);
        assert_eq!(solved["idler"], set["idler"], "{mark}");
        assert_eq!(solved["set"], set["set"], "{mark}");
    }
}

#[test]
fn every_figure_is_that_of_the_other_verbs() {
    compare("shunter", &[], 3);
    let duty = [
        "--with",
        "duty.input_torque_n_m=2",
        "--with",
        "input_rpm=1500",
    ];
    compare("spindle-head", &duty, 2);
}

#[test]
fn the_field_counts_every_set() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("spindle-head", folder.path());
    Run::of(&["report", file.to_str().unwrap(), "--sets", "1"])
        .ends()
        .with(0);
    let field = packed(&file.with_extension("html"))["field"].take();
    let cells = field["cells"].as_array().unwrap();
    let drawn: u64 = cells.iter().map(|cell| cell[4].as_u64().unwrap()).sum();
    // All of the sample's sets: fewer than are drawn at most.
    assert_eq!(field["of"], field["drawn"]);
    assert_eq!(drawn.to_string(), field["of"]);
}

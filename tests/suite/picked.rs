//! A picked set that has become another shape than the problem.

use crate::front_door::{Run, copy_of};
use layshaft::problem::set;
use serde_json::{Value, json};

#[test]
fn a_picked_set_of_other_meshes_no_longer_fits() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of("shunter", folder.path());
    let name = path.to_str().unwrap();
    Run::of(&["solve", name, "--pick", "1"]).ends().with(0);
    let text = std::fs::read_to_string(&path).unwrap();
    let whole: Value = layshaft::problem::get(&text, "picked").unwrap();
    let without = |key: &str| {
        let mut picked = whole.clone();
        picked.as_object_mut().unwrap().remove(key);
        picked
    };
    let with_speeds = |count: usize| {
        let mut picked = whole.clone();
        let speeds = picked["speeds"].as_array_mut().unwrap();
        let first = speeds[0].clone();
        speeds.resize(count, first);
        picked
    };
    Run::of(&["layout", name]).ends().with(0);
    let odd = [
        without("reverse"),
        without("head"),
        with_speeds(1),
        with_speeds(3),
    ];
    for picked in odd {
        std::fs::write(&path, set(&text, "picked", &picked).unwrap()).unwrap();
        for verb in ["layout", "idler"] {
            let ended = Run::of(&[verb, name]).ends().with(2);
            assert!(ended.stderr.contains("no longer fits"), "{}", ended.stderr);
        }
    }
    // The file may also lose what the set has.
    let bare = set(&text, "reverse", &json!(null)).unwrap();
    std::fs::write(&path, bare).unwrap();
    let ended = Run::of(&["layout", name]).ends().with(2);
    assert!(ended.stderr.contains("no longer fits"), "{}", ended.stderr);
}

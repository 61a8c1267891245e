//! `--with` and `--save`: a problem tried otherwise than its file says.

use super::front_door::Run;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

const COMMENTED: &str = r#"{
  // The case is bored.
  "centre_distance_mm": 45.0,
  "gears": { "modules_mm": [1.25, 1.5], "min_teeth": 15, "max_teeth": 56, "face_width_mm": 12 },
  "speeds": [ { "name": "low", "ratio": 3.4 }, { "name": "high", "direct": true } ],
}
"#;

fn file() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("box.json");
    fs::write(&file, COMMENTED).unwrap();
    (folder, file)
}

fn solve(file: &Path, args: &[&str]) -> super::front_door::Ended {
    Run::of(&[&["solve", file.to_str().unwrap()], args].concat()).ends()
}

fn sets(file: &Path, args: &[&str]) -> Value {
    let run = solve(file, &[&["--format", "json"], args].concat());
    serde_json::from_str(&run.stdout).unwrap()
}

#[test]
fn a_change_is_tried_and_said_and_the_file_stays() {
    let (_folder, file) = file();
    let tighter = ["--with", "speeds[0].tolerance_percent=0.5"];
    let text = solve(&file, &tighter);
    assert_eq!(text.code, 0);
    let said = "With speeds[0].tolerance_percent = 0.5 (the file did not say).";
    assert!(text.stdout.contains(said), "{}", text.stdout);
    assert!(
        text.stdout
            .contains("--with 'speeds[0].tolerance_percent=0.5' --pick"),
        "the commands to go on with make the same change: {}",
        text.stdout
    );
    assert_eq!(fs::read_to_string(&file).unwrap(), COMMENTED);
    let (as_written, tried) = (sets(&file, &[]), sets(&file, &tighter));
    let count = |v: &Value| v["feasible_sets"].as_str().unwrap().parse::<u64>().unwrap();
    assert!(count(&tried) < count(&as_written));
    assert!(as_written.get("with").is_none());
    assert_eq!(tried["with"][0]["value"], 0.5);
    assert_eq!(tried["with"][0]["file"], Value::Null);
}

#[test]
fn a_change_is_the_file_written_so() {
    let (_folder, file) = file();
    let mut tried = sets(
        &file,
        &["--with", "gears.max_teeth=52", "--with", "head.ratio.max=2"],
    );
    let otherwise = COMMENTED.replace("56", "52").replace(
        "\"speeds\"",
        "\"head\": { \"ratio\": { \"max\": 2 } }, \"speeds\"",
    );
    fs::write(&file, otherwise).unwrap();
    tried.as_object_mut().unwrap().shift_remove("with");
    assert_eq!(tried, sets(&file, &[]));
}

#[test]
fn save_keeps_the_change_and_the_comments() {
    let (_folder, file) = file();
    let kept = solve(
        &file,
        &["--with", "gears.max_teeth=52", "--save", "--pick", "1"],
    );
    assert_eq!(kept.code, 0, "{}", kept.stderr);
    assert!(
        kept.stdout
            .contains("Kept in the file: gears.max_teeth = 52 (it was 56).")
    );
    assert!(!kept.stdout.contains("--with"));
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains("// The case is bored.") && text.contains("\"max_teeth\": 52"));
    assert!(text.contains("\"picked\""));
}

#[test]
fn a_bad_change_is_bad_input_and_saves_nothing() {
    let (_folder, file) = file();
    for (change, hint) in [
        ("gears.max_teet=52", "did you mean"),
        ("gears.max_teeth", "="),
        ("gears.max_teeth=12", "15"),
        ("gears.max_teeth=many", "number"),
        ("speeds[7].ratio=2", "2 entries"),
    ] {
        let run = solve(&file, &["--with", change, "--save"]);
        assert_eq!(run.code, 2, "{change}");
        assert!(run.stderr.contains(hint), "{change}: {}", run.stderr);
        assert_eq!(fs::read_to_string(&file).unwrap(), COMMENTED);
    }
    assert_eq!(solve(&file, &["--save"]).code, 2);
}

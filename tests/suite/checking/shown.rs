//! What the screen, the flags and the other verbs do with a box that is known.

use super::boxes::{run, sound, with, written};
use crate::front_door::Run;
use serde_json::json;

const SAMPLE: &str = "problems/found-cultivator.json";

#[test]
fn the_screen_answers_first_and_fits() {
    let sound_text = run(&sound(), &[]).with(0).stdout;
    assert!(
        sound_text.starts_with("Nothing found wrong.\n"),
        "{sound_text}"
    );
    let file = with(sound(), "/speeds/0/teeth", json!([15, 46]));
    let file = with(file, "/reverse/teeth", json!([18, 20, 38]));
    let faulty = run(&file, &[]).with(1).stdout;
    let first = faulty.lines().take(2).collect::<Vec<_>>().join(" ");
    assert!(first.starts_with("3 faults: speed low binds; "), "{first}");
    assert!(first.contains("reverse has tips that foul"), "{first}");
    for text in [sound_text, faulty] {
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        let last = text.lines().last().unwrap();
        assert!(last.starts_with("  Next     layshaft check "), "{last}");
        assert!(text.contains("local codes come first"), "{text}");
    }
}

#[test]
fn the_sample_is_sound_and_its_figures_are_those_of_the_bench() {
    let record = Run::of(&["check", SAMPLE, "--format", "json"])
        .ends()
        .with(0)
        .json();
    assert_eq!(record["faults"], json!([]));
    // By hand: 50/30 · 56/24, and -(50/30 · 40/22).
    let ratio = |place: usize| record["ratios"][place]["ratio"].as_f64().unwrap();
    assert!((ratio(1) - 50.0 / 30.0 * 56.0 / 24.0).abs() < 1e-9);
    assert!((ratio(4) + 50.0 / 30.0 * 40.0 / 22.0).abs() < 1e-9);
    assert_eq!(record["ratios"][1]["asked"], json!(null));
    assert_eq!(record["ratios"][2]["asked"], json!(2.1));
    // 2 · 60.04 / 1.5 teeth fit the centres.
    let fit = record["meshes"][0]["centres_are_for_tooth_sum"]
        .as_f64()
        .unwrap();
    assert!((fit - 80.053_333).abs() < 1e-6);
    assert!(record["box"]["layout"]["length_mm"].as_f64().unwrap() > 0.0);
}

/// The sizes of a gear are those that `gear` prints for it.
#[test]
fn sizes_to_measure_are_those_of_the_gear_verb() {
    let record = Run::of(&["check", SAMPLE, "--format", "json"])
        .ends()
        .json();
    let flags = [
        "--module",
        "1.5",
        "--teeth",
        "30,50",
        "--shift",
        "0,0",
        "--centre-distance",
        "60.04",
        "--format",
        "json",
    ];
    let gear = Run::of(&[&["gear"][..], &flags].concat())
        .ends()
        .with(0)
        .json();
    for place in [0, 1] {
        for figure in ["tip_diameter_mm", "root_diameter_mm", "tip_thickness_mm"] {
            assert_eq!(
                record["gears"][place]["figures"][figure],
                gear["gears"][place][figure]
            );
        }
        let full =
            |value: &serde_json::Value| value["inspection"]["span"]["size"]["full_mm"].clone();
        assert_eq!(full(&record["gears"][place]), full(&gear["gears"][place]));
    }
    for figure in ["contact_ratio", "working_pressure_angle_deg"] {
        assert_eq!(record["meshes"][0]["figures"][figure], gear["mesh"][figure]);
    }
}

#[test]
fn teeth_that_are_missing_are_named_with_what_to_do() {
    let file = with(sound(), "/head/teeth", json!(null));
    let file = with(file, "/speeds/0/ratio", json!(2.8));
    let file = with(file, "/speeds/1/ratio", json!(1.6));
    let file = with(
        file,
        "/reverse",
        json!({ "ratio": 2.5, "tolerance_percent": 20 }),
    );
    let file = with(file, "/gears/min_teeth", json!(18));
    let ended = run(&file, &[]).with(2);
    assert!(
        ended.stderr.contains("none for\nhead, reverse:"),
        "{}",
        ended.stderr
    );
    let last = ended.stderr.lines().last().unwrap();
    assert!(
        last.starts_with("  Next     layshaft check ") && last.ends_with("--set 1"),
        "{last}"
    );
    // A set of the search is checked instead, and a set that it found is sound.
    let ended = run(&file, &["--set", "1"]).with(0);
    assert!(
        ended.stdout.starts_with("Nothing found wrong."),
        "{}",
        ended.stdout
    );
}

#[test]
fn modules_and_centres_that_are_open_are_asked_for() {
    let two = with(sound(), "/gears/modules_mm", json!([1.5, 2]));
    let ended = run(&two, &[]).with(2);
    assert!(ended.stderr.contains("\"module_mm\""), "{}", ended.stderr);
    let steps = json!({ "from": 59, "to": 61, "step": 0.5 });
    let ended = run(&with(sound(), "/centre_distance_mm", steps), &[]).with(2);
    assert!(ended.stderr.contains("one number"), "{}", ended.stderr);
}

#[test]
fn gears_that_are_cut_solve_for_their_own_ratio() {
    let written = written(&sound());
    let path = written.path.to_str().unwrap();
    let record = Run::of(&["solve", path, "--format", "json"])
        .ends()
        .with(0)
        .json();
    assert_eq!(record["sets"].as_array().unwrap().len(), 1, "{record:#}");
    let low = &record["sets"][0]["speeds"][0];
    assert_eq!(low["asked"], json!({ "own_teeth": true }));
    assert_eq!(low["target"], json!(2.8));
}

#[test]
fn a_ratio_behind_a_head_that_is_open_is_still_asked_for() {
    let file = with(sound(), "/head/teeth", json!(null));
    let ended = run(&file, &[]).with(2);
    assert!(ended.stderr.contains("or head.teeth"), "{}", ended.stderr);
    assert!(ended.stderr.contains("3 faults"), "{}", ended.stderr);
}

#[test]
fn other_spellings_and_files() {
    let ended = run(&sound(), &["--format", "csv"]).with(2);
    assert!(ended.stderr.contains("csv"), "{}", ended.stderr);
    let written = written(&sound());
    let path = written.path.to_str().unwrap();
    let out = written.folder.path().join("out.txt");
    let ended = Run::of(&["check", path, "--output", out.to_str().unwrap()])
        .ends()
        .with(0);
    assert_eq!(ended.stdout, "");
    assert!(
        std::fs::read_to_string(out)
            .unwrap()
            .starts_with("Nothing found wrong.")
    );
    for flag in ["--output", "--trial"] {
        let ended = Run::of(&["check", path, flag, path]).ends().with(2);
        assert!(ended.stderr.contains("would be lost"), "{}", ended.stderr);
    }
}

#[test]
fn a_change_is_tried_without_the_file() {
    let sound = run(&sound(), &["--with", "centre_distance_mm=59.9"]).with(1);
    assert!(sound.stdout.starts_with("3 faults"), "{}", sound.stdout);
    assert!(
        sound.stdout.contains("the file says 60"),
        "{}",
        sound.stdout
    );
}

//! The page for the bench: its numbers are this box's.

use super::boxes::{checked, sound, with, written};
use crate::front_door::Run;
use serde_json::{Value, json};

fn page_of(file: &Value, code: i32) -> String {
    let written = written(file);
    let page = written.folder.path().join("trial.md");
    let path = written.path.to_str().unwrap();
    let ended = Run::of(&["check", path, "--trial", page.to_str().unwrap()])
        .ends()
        .with(code);
    assert!(ended.stderr.contains("Wrote "), "{}", ended.stderr);
    std::fs::read_to_string(page).unwrap()
}

/// Play at the output, gear by gear from the input end: what each mesh lets the
/// input turn, divided by all of the ratio behind it.
#[test]
fn backlash_at_the_output_is_the_sum_of_all_meshes() {
    let (_, record) = checked(&with(sound(), "/centre_distance_mm", json!(60.02)));
    for (state, ratio) in [(0, 40.0 / 20.0), (1, 32.0 / 28.0)] {
        let play = &record["trial"]["plays"][state];
        for end in [0, 1] {
            let rim = |mesh: usize| play["rims"][mesh]["play_mm"][end].as_f64().unwrap();
            let radius = |driver: f64, sum: f64| 60.02 * driver / sum;
            let own_driver = if state == 0 { 20.0 } else { 28.0 };
            let of_input = rim(0) / radius(25.0, 60.0) / (35.0 / 25.0 * ratio);
            let of_layshaft = rim(1) / radius(own_driver, 60.0) / ratio;
            let degrees = play["output_deg"][end].as_f64().unwrap();
            assert!(
                (degrees - (of_input + of_layshaft).to_degrees()).abs() < 1e-6,
                "{play}"
            );
        }
    }
}

#[test]
fn marks_meet_after_whole_turns() {
    let (_, record) = checked(&sound());
    let turned = record["trial"]["turned"].as_array().unwrap();
    let low = turned
        .iter()
        .find(|one| one["state"] == "speed low")
        .unwrap();
    // 2.8 = 14/5.
    assert_eq!(low["meet"], json!([14, 5]));
    // Reverse: 35/25 · 33/20 = 2.31 = 231/100, against the input.
    let reverse = turned.iter().find(|one| one["state"] == "reverse").unwrap();
    assert_eq!(reverse["meet"], json!([231, 100]));
    assert!(reverse["output"].as_f64().unwrap() < 0.0);
}

#[test]
fn what_comes_round_once_a_turn_is_named() {
    let (_, record) = checked(&sound());
    let beats = record["trial"]["beats"].as_array().unwrap();
    let of = |gear: &str| {
        let with_it = |beat: &&Value| beat["gears"].as_array().unwrap().contains(&json!(gear));
        let beat = beats.iter().find(with_it).unwrap();
        beat["input_turns"].as_f64().unwrap()
    };
    // The layshaft once in 35/25 turns, the idler faster by 20/21.
    assert!((of("layshaft, low") - 1.4).abs() < 1e-9);
    assert!((of("layshaft, head") - of("layshaft, mid")).abs() < 1e-9);
    assert!((of("idler") - 1.4 * 21.0 / 20.0).abs() < 1e-9);
    assert!((of("main, mid") - 1.6).abs() < 1e-9);
    let main = |beat: &&Value| beat["shaft"] == "main shaft and its bearings";
    // Three forward speeds and reverse, each in its own row.
    assert_eq!(beats.iter().filter(main).count(), 4);
}

#[test]
fn the_page_has_every_part_and_the_cautions() {
    let page = page_of(&sound(), 0);
    for part in [
        "# Trial and fault-finding",
        "## 1. Prove the centres",
        "77.000 mm outside",
        "## 2. Printed trial gears",
        "for turning by hand only",
        "## 3. Blue the teeth",
        "## 4. Backlash to expect",
        "## 5. Turn it by hand",
        "14 of the input = 5 of the output",
        "## 6. Run in",
        "noise in speed low alone",
        "jumps out of gear",
        "whine",
        "one bearing runs hot",
        "will not engage",
        "oil on the floor",
        "## 8. What comes round how often",
        "interlock",
        "lets go when the hand",
        "local codes come first",
    ] {
        assert!(page.contains(part), "{part}:\n{page}");
    }
}

#[test]
fn a_page_of_a_faulty_box_says_so_first() {
    let page = page_of(&with(sound(), "/speeds/0/teeth", json!([20, 41])), 1);
    let head: Vec<&str> = page.lines().take(6).collect();
    assert_eq!(head[2], "1 fault: speed low binds.");
    assert!(head[4].contains("Do not turn the box"), "{head:?}");
}

#[test]
fn whine_is_told_by_how_often_teeth_pass() {
    let (_, record) = checked(&with(sound(), "/input_rpm", json!(1200)));
    let rows = record["trial"]["symptoms"].as_array().unwrap();
    let whine = rows
        .iter()
        .find(|row| row["symptom"].as_str().unwrap().starts_with("whine"));
    let measure = whine.unwrap()["measure"].as_str().unwrap();
    // 25 teeth 20 times a second; the layshaft at 25/35 of that.
    assert!(measure.contains("head 500 Hz"), "{measure}");
    assert!(measure.contains("speed low 286 Hz"), "{measure}");
    assert!(measure.contains("speed mid 400 Hz"), "{measure}");
}

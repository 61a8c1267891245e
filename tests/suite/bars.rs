//! How fast the whole program is: run alone, in a release build, by
//! `cargo test --release bars -- --ignored --test-threads 1`.

use super::front_door::Run;
use std::time::{Duration, Instant};

/// The median of five runs.
fn median(args: &[&str]) -> Duration {
    let mut times: Vec<Duration> = (0..5)
        .map(|_| {
            let start = Instant::now();
            assert_eq!(Run::of(args).ends().code, 0);
            start.elapsed()
        })
        .collect();
    times.sort();
    times[2]
}

fn holds(args: &[&str], millis: u64) {
    let took = median(args);
    assert!(took <= Duration::from_millis(millis), "{took:?}: {args:?}");
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_the_samples() {
    holds(&["solve", "problems/shunter.json"], 10);
    holds(&["solve", "problems/large.json", "--top", "20"], 100);
    holds(
        &["solve", "problems/large.json", "--top", "1000", "--every"],
        300,
    );
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_the_box() {
    holds(&["idler", "problems/shunter.json"], 50);
    holds(&["idler", "problems/walking-tractor.json"], 50);
    holds(&["idler", "problems/orchard-cart.json"], 50);
    holds(&["layout", "problems/orchard-cart.json", "--forces"], 50);
    let idler = [
        "solve",
        "problems/shunter.json",
        "--with",
        "idler={\"pin_mm\": 8}",
        "--with",
        "duty={\"input_torque_n_m\": 4}",
        "--with",
        "bores=auto",
        "--with",
        "limits={\"allow_undercut\": true}",
    ];
    holds(&idler, 50);
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_the_certificate() {
    holds(&["solve", "problems/shunter.json", "--certify"], 500);
    holds(&["solve", "problems/spindle-head.json", "--certify"], 2000);
    holds(&["solve", "problems/large.json", "--certify"], 3000);
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_explanations() {
    holds(&["explain", "problems/impossible.json"], 1000);
    holds(&["explain", "problems/bored-case.json"], 1000);
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_profile_shift() {
    let large = include_str!("../../problems/large.json");
    let mut problem: serde_json::Value = serde_json::from_str(large).unwrap();
    let gears = problem["gears"].as_object_mut().unwrap();
    gears.remove("centre_tolerance_mm");
    gears.insert(
        "profile_shift".into(),
        serde_json::json!({ "min": -0.3, "max": 0.6 }),
    );
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("shifted.json");
    std::fs::write(&file, problem.to_string()).unwrap();
    holds(&["solve", file.to_str().unwrap()], 2000);
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_ten_speeds_within_ten_percent() {
    let large = include_str!("../../problems/large.json");
    let mut problem: serde_json::Value = serde_json::from_str(large).unwrap();
    let ratios = [5.0, 4.0, 3.2, 2.6, 2.1, 1.7, 1.4, 1.15, 0.95, 0.8];
    let speed = |ratio| serde_json::json!({ "ratio": ratio, "tolerance_percent": 10 });
    problem["speeds"] = ratios.map(speed).to_vec().into();
    problem["reverse"]["tolerance_percent"] = 10.into();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("wide.json");
    std::fs::write(&file, problem.to_string()).unwrap();
    holds(&["solve", file.to_str().unwrap()], 300);
}

//! `sweep`: each row is what `solve` says at that distance.

use super::front_door::Run;
use layshaft::problem::{CentreDistances, Problem, parse};
use layshaft::search::{Control, Request, Row, enumerate, solve, sweep};
use layshaft::train::{Figures, Set};
use serde_json::Value;

fn sample() -> Problem {
    parse("shunter", include_str!("../../problems/shunter.json")).unwrap()
}

fn around(problem: &Problem) -> CentreDistances {
    let text = r#"{ "centre_distance_mm": { "from": 43.5, "to": 46.5, "step": 0.25 },
        "gears": { "modules_mm": [1], "min_teeth": 15, "max_teeth": 20, "face_width_mm": 5 },
        "speeds": [ { "ratio": 2 } ] }"#;
    assert_eq!(problem.centre_distances().at(0).to_string(), "45");
    parse("range", text).unwrap().centre_distances().clone()
}

fn swept(problem: &Problem, distances: &CentreDistances, threads: usize) -> Vec<Row> {
    sweep(problem, distances, threads, &Control::default())
}

/// Error bits, volume and cutters of a set.
fn values(problem: &Problem, set: &Set) -> [u64; 3] {
    let figures = Figures::of(problem, set);
    let cutters = u64::from(figures.distinct_cutters);
    [figures.worst_error.to_bits(), figures.blank_um2, cutters]
}

fn beats(x: &[u64; 3], y: &[u64; 3]) -> bool {
    x != y && x.iter().zip(y).all(|(a, b)| a <= b)
}

fn agrees(problem: &Problem, distances: &CentreDistances, rows: &[Row]) {
    assert_eq!(rows.len(), distances.len());
    let mut fronts = Vec::new();
    for (i, row) in rows.iter().enumerate() {
        let here = problem.clone().at(distances.only(i));
        let plain = enumerate(&here, 1);
        assert_eq!(row.counts.sets, plain.counts.sets);
        assert_eq!(row.best.as_ref(), plain.sets.first());
        let front: Vec<_> = plain.front.iter().map(|set| values(&here, set)).collect();
        for (measure, least) in row.least.iter().flatten().enumerate() {
            let expected = front.iter().map(|v| v[measure]).min();
            assert_eq!(Some(values(&here, least)[measure]), expected);
        }
        fronts.push(front);
    }
    let all: Vec<_> = fronts.concat();
    for (row, front) in rows.iter().zip(&fronts) {
        let alive = |point: &[u64; 3]| !all.iter().any(|other| beats(other, point));
        assert_eq!(row.unbeaten, front.iter().any(alive));
    }
}

#[test]
fn rows_are_what_plain_enumeration_says() {
    let problem = sample();
    let distances = around(&problem);
    agrees(&problem, &distances, &swept(&problem, &distances, 2));
}

#[test]
fn threads_change_no_row() {
    let problem = sample();
    let distances = around(&problem);
    let told = |threads| format!("{:?}", swept(&problem, &distances, threads));
    assert_eq!(told(1), told(2));
}

#[test]
fn a_range_and_its_sweep_count_the_same() {
    let problem = sample();
    let distances = around(&problem);
    let whole = problem.clone().at(distances.clone());
    let request = Request {
        top: 0,
        trains: 0,
        threads: 2,
    };
    let outcome = solve(&whole, request, &Control::default());
    let rows = swept(&problem, &distances, 2);
    let sum: num_bigint::BigUint = rows.iter().map(|row| &row.counts.sets).sum();
    assert_eq!(sum, outcome.counts.sets);
    for set in &outcome.front {
        let row = rows
            .iter()
            .find(|r| r.centre_distance == set.centre_distance);
        assert!(row.is_some_and(|row| row.unbeaten));
    }
}

#[test]
fn the_impossible_sample_has_sets_half_a_millimetre_further() {
    let run = Run::of(&["sweep", "problems/impossible.json", "--format", "json"]).ends();
    assert_eq!(run.code, 0);
    let sweep: Value = serde_json::from_str(&run.stdout).unwrap();
    let rows = sweep["rows"].as_array().unwrap();
    let with_sets: Vec<_> = rows
        .iter()
        .filter(|row| row["feasible_sets"] != "0")
        .collect();
    assert_eq!(with_sets.len(), 1);
    assert_eq!(with_sets[0]["centre_distance_mm"], 36.5);
    assert_eq!(with_sets[0]["feasible_sets"], "11");
    assert_eq!(with_sets[0]["unbeaten"], true);
}

#[test]
fn centres_marked_as_made_are_left_alone() {
    let bored =
        |args: &[&str]| Run::of(&[&["sweep", "problems/bored-case.json"], args].concat()).ends();
    let refused = bored(&[]);
    assert_eq!(refused.code, 2);
    assert!(refused.stderr.contains("--anyway") && refused.stdout.is_empty());
    assert_eq!(bored(&["--anyway"]).code, 0);
}

#[test]
fn csv_has_a_row_a_distance() {
    let args = [
        "--from", "44", "--to", "46", "--step", "0.5", "--format", "csv",
    ];
    let run = Run::of(&[&["sweep", "problems/shunter.json"], &args[..]].concat()).ends();
    let lines: Vec<_> = run.stdout.lines().collect();
    assert_eq!(lines.len(), 6);
    let commas = |line: &&str| line.matches(',').count();
    assert!(lines.iter().all(|line| commas(line) == commas(&lines[0])));
}

#[test]
fn a_stopped_sweep_prints_what_is_finished() {
    let args = [
        "--from",
        "60",
        "--to",
        "90",
        "--step",
        "0.01",
        "--time-limit",
        "0.2",
    ];
    let run = Run::of(&[&["sweep", "problems/large.json"], &args[..]].concat()).ends();
    assert_eq!(run.code, 4);
    assert!(run.stdout.contains("Stopped:"), "{}", run.stdout);
}

//! A workshop in a file of its own: `--workshop`, and `new --workshop`.

use crate::front_door::{Ended, Run, copy_of};
use layshaft::problem::{get, parse, read};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};

const SHED: &str = r#"{
  // An invented shed.
  "currency": "EUR",
  "dividing_head": { "change_gears": [24, 24, 28] },
  "pins_mm": [1.4, 2.5],
  "only_dividable": true,
}
"#;

struct Place {
    _folder: tempfile::TempDir,
    problem: PathBuf,
    shed: PathBuf,
}

impl Place {
    fn new(shed: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let problem = copy_of("shunter", folder.path());
        let path = folder.path().join("shed.json");
        fs::write(&path, shed).unwrap();
        Self {
            _folder: folder,
            problem,
            shed: path,
        }
    }

    fn run(&self, verb: &str, args: &[&str]) -> Ended {
        let (problem, shed) = (text(&self.problem), text(&self.shed));
        let first = [verb, problem, "--workshop", shed];
        Run::of(&[&first, args].concat()).ends()
    }
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

fn sets(json: &Value) -> u64 {
    json["feasible_sets"].as_str().unwrap().parse().unwrap()
}

#[test]
fn it_is_said_once_and_commands_carry_it() {
    let place = Place::new(SHED);
    let told = place.run("solve", &[]).with(0).stdout;
    let words: Vec<&str> = told.split_whitespace().collect();
    let said = format!("Workshop from {}.", text(&place.shed));
    assert_eq!(words.join(" ").matches(&said).count(), 1, "{told}");
    let flag = format!("--workshop {}", text(&place.shed));
    let next = told.split_once("  Next").unwrap().1;
    for command in next.lines().filter(|line| line.contains("shunter.json")) {
        assert!(command.contains(&flag), "{command}");
    }
    assert!(next.contains(&flag), "{told}");
    let json = place.run("solve", &["--format", "json"]).with(0).json();
    let with = &json["with"][0];
    assert_eq!(with["key"], "workshop");
    assert_eq!(with["from"], text(&place.shed));
    assert_eq!(with["value"]["pins_mm"], json!([1.4, 2.5]));
    assert_eq!(
        (&with["file"], &with["saved"]),
        (&Value::Null, &json!(false))
    );
    assert_eq!(json["only_dividable"], true);
    let plain = Run::of(&["solve", text(&place.problem), "--format", "json"]);
    let plain = plain.ends().with(0).json();
    assert!(sets(&json) < sets(&plain) && plain.get("with").is_none());
}

#[test]
fn where_nothing_fits_the_way_on_carries_it() {
    let plates = r#"{ "only_dividable": true, "dividing_head": { "plates": [[15, 16]] } }"#;
    let place = Place::new(plates);
    let (problem, shed) = (text(&place.problem), text(&place.shed));
    for verb in ["layout", "idler"] {
        let run = place.run(verb, &[]).with(1);
        let next = format!("layshaft explain {problem} --workshop {shed}\n");
        assert!(run.stderr.ends_with(&next), "{verb}: {}", run.stderr);
    }
}

#[test]
fn every_verb_of_a_problem_takes_it() {
    let place = Place::new("{}");
    for verb in ["solve", "explain", "sweep", "layout", "idler"] {
        let args: &[&str] = match verb {
            "sweep" => &["--from", "41", "--to", "41.5", "--step", "0.5"],
            _ => &[],
        };
        let run = place.run(verb, args);
        assert!(
            run.stderr.is_empty() || verb == "sweep",
            "{verb}: {}",
            run.stderr
        );
    }
}

#[test]
fn it_takes_the_place_of_the_files_own_and_may_be_changed_by_with() {
    let place = Place::new("{}");
    let own = fs::read_to_string(&place.problem).unwrap();
    let limited = layshaft::problem::set(&own, "workshop", &json!({ "only_dividable": true }));
    fs::write(&place.problem, limited.unwrap()).unwrap();
    let count = |run: Ended| sets(&run.with(0).json());
    let json = ["--format", "json"];
    let own = Run::of(&[&["solve", text(&place.problem)], &json[..]].concat()).ends();
    let (own, other) = (count(own), count(place.run("solve", &json)));
    assert!(own < other, "{own} {other}");
    let again = ["--with", "workshop.only_dividable=true", "--format", "json"];
    assert_eq!(count(place.run("solve", &again)), own);
}

#[test]
fn its_faults_have_its_own_places() {
    let place = Place::new("{\n  \"kerf_mm\": -1,\n  \"bar\": []\n}\n");
    let run = place.run("solve", &[]).with(2);
    let name = text(&place.shed);
    let start = format!("{name}: 2 faults; nothing was done.\n");
    assert!(run.stderr.starts_with(&start), "{}", run.stderr);
    assert!(
        run.stderr.contains(&format!("{name}:2:14")),
        "{}",
        run.stderr
    );
    assert!(
        run.stderr.contains("did you mean `bars`?"),
        "{}",
        run.stderr
    );
    fs::remove_file(&place.shed).unwrap();
    let run = place.run("solve", &[]).with(2);
    let next = "make one with `layshaft new --workshop`";
    let words: Vec<&str> = run.stderr.split_whitespace().collect();
    assert!(words.join(" ").contains(next), "{}", run.stderr);
}

#[test]
fn saving_keeps_what_with_said_and_leaves_the_workshop_out() {
    let place = Place::new(SHED);
    let keep = ["--with", "gears.max_teeth=69", "--save"];
    place.run("solve", &keep).with(0);
    let kept = fs::read_to_string(&place.problem).unwrap();
    assert_eq!(get(&kept, "gears.max_teeth"), Some(json!(69)));
    assert_eq!(get(&kept, "workshop"), None);
    let refused = place.run("solve", &["--with", "workshop.kerf_mm=1.5", "--save"]);
    assert!(refused.with(2).stderr.contains("leave out --workshop"));
    assert_eq!(fs::read_to_string(&place.problem).unwrap(), kept);
    assert_eq!(fs::read_to_string(&place.shed).unwrap(), SHED);
}

#[test]
fn a_result_is_not_written_over_it() {
    let place = Place::new(SHED);
    let run = place.run("solve", &["--output", text(&place.shed)]).with(2);
    assert!(
        run.stderr.contains("--output names the workshop file"),
        "{}",
        run.stderr
    );
    assert_eq!(fs::read_to_string(&place.shed).unwrap(), SHED);
}

#[test]
fn its_keys_are_set_as_any_other() {
    let place = Place::new(SHED);
    let args = [
        "solve",
        text(&place.problem),
        "--with",
        "workshop.kerf_mm=1.5",
    ];
    let told = Run::of(&args).ends().with(0).stdout;
    let said = "With workshop.kerf_mm = 1.5 (the file did not say).";
    assert!(told.contains(said), "{told}");
}

#[test]
fn its_pins_measure_where_the_problem_names_none() {
    let place = Place::new(SHED);
    let own = fs::read_to_string(&place.problem).unwrap();
    let set = layshaft::problem::set;
    let shed = set(&own, "workshop", &json!({ "pins_mm": [1.4, 2.5] })).unwrap();
    let pins = |text: &str| parse("box", text).unwrap().inspection().pins_mm().to_vec();
    assert_eq!(pins(&shed), [1.4, 2.5]);
    let named = set(&shed, "inspection", &json!({ "pins_mm": [3] })).unwrap();
    assert_eq!(pins(&named), [3.0]);
    let backlash = json!({ "normal_backlash_mm": { "min": 0.02, "max": 0.05 } });
    let beside = set(&shed, "inspection", &backlash).unwrap();
    assert_eq!(pins(&beside), [1.4, 2.5]);
    assert!(
        read(&place.problem)
            .unwrap()
            .1
            .inspection()
            .pins_mm()
            .is_empty()
    );
}

#[test]
fn new_writes_one_that_reads_back() {
    let folder = tempfile::tempdir().unwrap();
    let shed = folder.path().join("shed.json");
    let new = |more: &[&str]| {
        let args = ["new", "--workshop", text(&shed)];
        Run::of(&[&args, more].concat()).ends()
    };
    let wrote = new(&[]).with(0).stdout;
    assert!(
        wrote.starts_with(&format!("Wrote {}", text(&shed))),
        "{wrote}"
    );
    assert!(
        wrote.contains("invented") && wrote.contains("  Next     "),
        "{wrote}"
    );
    let written = fs::read_to_string(&shed).unwrap();
    fs::write(&shed, "{}").unwrap();
    let refused = new(&[]).with(2).stderr;
    assert!(refused.contains("is there already"), "{refused}");
    assert_eq!(fs::read_to_string(&shed).unwrap(), "{}");
    new(&["--force"]).with(0);
    assert_eq!(fs::read_to_string(&shed).unwrap(), written);
    new(&["--centres", "41"]).with(2);
    let solve = ["solve", "problems/shunter.json", "--workshop", text(&shed)];
    Run::of(&solve).ends().with(0);
    // Without --workshop a problem file needs its name and its centres.
    Run::of(&["new"]).ends().with(2);
    Run::of(&["new", text(&folder.path().join("box.json"))])
        .ends()
        .with(2);
}

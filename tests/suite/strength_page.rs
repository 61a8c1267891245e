//! Strength as screens and files tell it, on invented boxes.

use crate::front_door::{Ended, Run};
use layshaft::problem::parse;
use layshaft::search::{Control, Request, solve};
use layshaft::train::{rate, weakest};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// A peat barrow (invented): in-line, two geared speeds, direct, reverse.
fn barrow() -> Value {
    json!({
        "title": "Peat barrow (invented)",
        "arrangement": "in-line",
        "centre_distance_mm": 55.0,
        "gears": { "modules_mm": [1.25, 1.5], "min_teeth": 15, "max_teeth": 64, "face_width_mm": 14.0,
            "material": "16MnCr5 case-hardened" },
        "limits": { "allow_undercut": true, "min_wall_mm": 2.0 },
        "input_rpm": 900,
        "duty": { "input_torque_n_m": 3.0 },
        "bores": "auto",
        "head": { "ratio": { "min": 1.2, "max": 2.2 } },
        "speeds": [ { "name": "creep", "ratio": 4.2, "tolerance_percent": 5.0 },
            { "name": "walk", "ratio": 2.6 }, { "name": "road", "direct": true } ],
        "reverse": { "ratio": 4.0, "tolerance_percent": 12.0,
            "idler_teeth": { "min": 15, "max": 30 }, "clearance_mm": 1.0 },
        "idler": { "pin_mm": 10.0, "bush_mm": 1.0, "held_in": "output wall", "gap_mm": 0.8,
            "min_wall_mm": 3.0 }
    })
}

/// Nothing then says how thick the shafts are, so the bores go too.
fn without_duty(file: &mut Value) {
    let keys = file.as_object_mut().unwrap();
    keys.retain(|key, _| !["duty", "bores"].contains(&key.as_str()));
}

fn written(folder: &Path, file: &Value) -> PathBuf {
    let path = folder.join("barrow.json");
    std::fs::write(&path, file.to_string()).unwrap();
    path
}

/// A verb on a file.
fn run(file: &Value, verb: &str, more: &[&str]) -> Ended {
    let folder = tempfile::tempdir().unwrap();
    let path = written(folder.path(), file);
    Run::of(&[&[verb, path.to_str().unwrap()], more].concat()).ends()
}

fn figure(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap_or_else(|| panic!("{value}"))
}

/// Text without line ends, to look for sentences in.
fn flowing(text: &str) -> String {
    // Thin spaces hold figures together.
    let words = text.split([' ', '\n']).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join(" ")
}

#[test]
fn the_page_says_what_the_record_says() {
    let thick = json!({ "diameter_mm": 18 });
    let thick = json!({ "input": thick, "layshaft": thick, "main": thick });
    let boxes = [(0.2, Some(thick)), (3.0, None), (6.0, None)];
    let held = boxes.map(|(torque_n_m, shafts)| {
        let mut file = barrow();
        file["duty"]["input_torque_n_m"] = json!(torque_n_m);
        if let Some(shafts) = shafts {
            file["shafts"] = shafts;
        }
        page_and_record(&file)
    });
    assert_eq!(held, [[true, true], [true, false], [false, false]]);
}

/// Compares both; whether the teeth and the other parts hold.
fn page_and_record(file: &Value) -> [bool; 2] {
    let page = run(file, "layout", &["--strength"]);
    let record = run(file, "layout", &["--format", "json"]).json();
    let strength = &record["strength"];
    let text = flowing(&page.stdout);
    let weakest = figure(&strength["weakest"]["safety"]);
    assert!(
        text.contains(&format!(
            "{weakest:.2}, at the {}",
            strength["weakest"]["place"].as_str().unwrap()
        )),
        "{text}"
    );
    assert_eq!(list(&strength["meshes"]).len(), 5);
    let mut least = f64::INFINITY;
    for mesh in list(&strength["meshes"]) {
        let of = |key: &str| {
            let both = list(&mesh["gears"]).iter().map(|gear| figure(&gear[key]));
            both.fold(f64::INFINITY, f64::min)
        };
        let [root, flank] = ["root_safety", "flank_safety"].map(of);
        least = least.min(root).min(flank);
        let teeth: Vec<String> = list(&mesh["gears"])
            .iter()
            .map(|g| g["teeth"].to_string())
            .collect();
        let role = mesh["role"].as_str().unwrap();
        let line = page
            .stdout
            .lines()
            .find(|line| line.trim_start().starts_with(role) && line.contains(&teeth.join("→")));
        let line = line.unwrap_or_else(|| panic!("no line of {role}"));
        assert!(
            line.trim_end().ends_with(&flowing_pair(root, flank)),
            "{line}"
        );
    }
    assert!((least - weakest).abs() < 1e-9, "{least} {weakest}");
    let worst = &strength["parts"][0];
    let share = format!("{:.0} %", figure(&worst["share_percent"]));
    assert!(
        text.contains(&format!("{share} {}", worst["part"].as_str().unwrap())),
        "{text}"
    );
    let shares: Vec<f64> = list(&strength["parts"])
        .iter()
        .map(|p| figure(&p["share_percent"]))
        .collect();
    assert!(shares.is_sorted_by(|a, b| a >= b) && shares.len() > 20);
    let held = ["teeth_hold", "parts_hold"].map(|key| strength[key] == true);
    let holds = held == [true, true];
    assert_eq!(page.code == 0, holds);
    assert_eq!(text.contains("). Holds: "), holds);
    assert_eq!(text.contains("). Too weak"), !holds);
    held
}

/// The last two columns of the table of meshes.
fn flowing_pair(root: f64, flank: f64) -> String {
    let (root, flank) = (format!("{root:.2}"), format!("{flank:.2}"));
    format!("{root}  {flank:>6}")
}

#[test]
fn whatever_was_taken_is_named_and_no_longer_where_it_is_given() {
    let mut file = barrow();
    let named = |file: &Value| flowing(&run(file, "layout", &["--strength"]).stdout);
    let text = named(&file);
    for key in [
        "duty.shock",
        "duty.hours",
        "gears.accuracy_grade",
        "duty.lubrication",
        "share_percent",
    ] {
        assert!(text.contains(&format!("({key})")), "{key}: {text}");
    }
    assert!(
        text.contains("K_A 1.5 (duty.shock)")
            && text.contains("fatigue limit in turning bending 280 MPa")
    );
    assert!(!text.contains("(gears.material)") && !text.contains("(input_rpm)"));
    file["duty"] =
        json!({ "input_torque_n_m": 3.0, "shock": 1.5, "hours": 1000, "lubrication": "oil" });
    file["gears"].as_object_mut().unwrap().remove("material");
    file.as_object_mut().unwrap().remove("input_rpm");
    let text = named(&file);
    for key in ["duty.shock", "duty.hours", "duty.lubrication"] {
        assert!(!text.contains(&format!("({key})")), "{key}: {text}");
    }
    assert!(text.contains("C45 normalised (gears.material)"), "{text}");
    assert!(text.contains("1\u{2009}000 rpm (input_rpm)"), "{text}");
}

#[test]
fn every_default_of_the_record_is_on_the_page() {
    let file = barrow();
    let text = flowing(&run(&file, "layout", &["--strength"]).stdout);
    let record = run(&file, "layout", &["--format", "json"]).json();
    let mut named = 0;
    for mesh in list(&record["strength"]["meshes"]) {
        let own = list(&mesh["factors"]).iter();
        let gears = list(&mesh["gears"])
            .iter()
            .flat_map(|gear| list(&gear["factors"]));
        for factor in own
            .chain(gears)
            .filter(|factor| factor["origin"] == "defaulted")
        {
            assert!(text.contains(factor["what"].as_str().unwrap()), "{factor}");
            named += 1;
        }
    }
    for factor in list(&record["strength"]["part_factors"]) {
        if factor["origin"] == "defaulted" {
            assert!(text.contains(factor["what"].as_str().unwrap()), "{factor}");
            named += 1;
        }
    }
    assert!(named > 50, "{named}");
}

#[test]
fn a_set_too_weak_is_never_listed() {
    let mut file = barrow();
    let all = run(&file, "solve", &["--format", "json"]).with(0).json();
    let safeties = |answer: &Value| -> Vec<f64> {
        list(&answer["sets"])
            .iter()
            .map(|set| figure(&set["least_safety"]))
            .collect()
    };
    let before = safeties(&all);
    let asked = before.iter().copied().fold(0.0, f64::max) * 0.999;
    assert!(before.iter().any(|safety| *safety < asked));
    file["duty"]["min_safety"] = json!((asked * 100.0).floor() / 100.0);
    let held = run(&file, "solve", &["--format", "json"]).with(0).json();
    let asked = figure(&file["duty"]["min_safety"]);
    assert!(safeties(&held).iter().all(|safety| *safety >= asked));
    let count = |answer: &Value, key: &str| answer[key].as_str().unwrap().parse::<u64>().unwrap();
    let weak = count(&held, "sets_too_weak");
    assert!(weak > 0);
    assert_eq!(
        count(&held, "feasible_sets") + weak,
        count(&all, "feasible_sets")
    );
    let text = flowing(&run(&file, "solve", &[]).with(0).stdout).replace('\u{2009}', "");
    assert!(
        text.contains(&format!(
            "{weak} more sets would give the ratios but do not hold a safety of {asked:.2}"
        )),
        "{text}"
    );
}

#[test]
fn where_strength_shuts_all_out_it_says_so_and_the_way_out_works() {
    let mut file = barrow();
    file["duty"]["min_safety"] = json!(9.5);
    let folder = tempfile::tempdir().unwrap();
    let path = written(folder.path(), &file);
    let path = path.to_str().unwrap();
    let told = Run::of(&["solve", path]).ends().with(1);
    let text = flowing(&told.stdout);
    assert!(text.contains("but none holds 9.50"), "{text}");
    assert!(
        text.contains("strength is what shuts every set out"),
        "{text}"
    );
    assert!(text.contains("layshaft explain"), "{text}");
    let json = Run::of(&["solve", path, "--format", "json"])
        .ends()
        .with(1)
        .json();
    let weak: u64 = json["sets_too_weak"].as_str().unwrap().parse().unwrap();
    assert!(weak > 0);
}

#[test]
fn widths_are_those_that_the_rating_gives() {
    let mut file = barrow();
    file["gears"]["face_width_mm"] = json!("auto");
    file["duty"]["min_safety"] = json!(1.3);
    let problem = parse("barrow", &file.to_string()).unwrap();
    let request = Request {
        top: 1,
        trains: 0,
        threads: 1,
    };
    let outcome = solve(&problem, request, &Control::default());
    let set = &outcome.sets[0];
    let meshes = rate(&problem, set).unwrap();
    let answer = run(&file, "solve", &["--format", "json", "--top", "1"])
        .with(0)
        .json();
    let told = &answer["sets"][0];
    let least = weakest(&meshes).unwrap().safety;
    assert!((figure(&told["least_safety"]) - least).abs() < 1e-9);
    let width = |name: &str| {
        let mut gears = list(&told["gears"]).iter();
        figure(&gears.find(|gear| gear["gear"] == name).unwrap()["face_width_mm"])
    };
    for mesh in &meshes {
        for gear in &mesh.gears {
            assert!((width(&gear.name(&problem)) - mesh.width_mm).abs() < 1e-9);
        }
    }
    let different = meshes
        .iter()
        .any(|mesh| (mesh.width_mm - meshes[0].width_mm).abs() > 0.1);
    assert!(different);
    let origins = meshes.iter().flat_map(|mesh| &mesh.factors);
    let mut widths = origins.filter(|factor| factor.symbol == "b");
    assert!(widths.all(|factor| factor.origin.word() == "derived"));
    let page = run(&file, "solve", &[]).with(0).stdout;
    let row = page
        .lines()
        .find(|line| line.starts_with("  main, creep"))
        .unwrap();
    let shown = format!("{:.1}", width("main, creep"));
    assert!(row.split_whitespace().any(|cell| cell == shown), "{row}");
}

#[test]
fn cautions_stand_on_every_page_with_a_safety() {
    let file = barrow();
    let estimates = "Figures of strength are estimates for the duty in the file";
    let licensed = "without a licensed engineer's check; local codes come first";
    let pages: [(&str, &[&str]); 7] = [
        ("solve", &[]),
        ("solve", &["--every"]),
        ("compare", &[]),
        ("sheets", &[]),
        ("sheets", &["--format", "markdown"]),
        ("layout", &["--strength"]),
        ("layout", &["--factors"]),
    ];
    for (verb, more) in pages {
        let text = flowing(&run(&file, verb, more).stdout).replace('\\', "");
        assert!(text.contains("safety"), "{verb} {more:?}");
        assert!(
            text.contains(estimates) && text.contains(licensed),
            "{verb} {more:?}: {text}"
        );
        assert!(!text.contains("Nothing here is rated"), "{verb} {more:?}");
    }
    for verb in ["solve", "compare", "sheets"] {
        let json = run(&file, verb, &["--format", "json"]).with(0).json();
        assert!(
            json["cautions"].as_str().unwrap().contains(estimates),
            "{verb}"
        );
    }
    let mut bare = barrow();
    without_duty(&mut bare);
    for (verb, more) in pages {
        let text = flowing(&run(&bare, verb, more).stdout);
        assert!(!text.contains(estimates), "{verb} {more:?}");
        assert!(!text.contains("least safety"), "{verb} {more:?}: {text}");
    }
}

#[test]
fn without_a_duty_nothing_is_rated_and_the_page_says_what_to_add() {
    let mut file = barrow();
    without_duty(&mut file);
    let page = run(&file, "layout", &["--strength"]).with(1);
    assert!(flowing(&page.stdout).contains("Nothing is rated: the file has no duty."));
    let record = run(&file, "layout", &["--format", "json"]).json();
    let strength = &record["strength"];
    assert_eq!(
        (&strength["rated"], &strength["teeth_hold"]),
        (&json!(false), &Value::Null)
    );
    assert!(list(&strength["meshes"]).is_empty() && list(&strength["parts"]).is_empty());
    let csv = run(&file, "solve", &["--format", "csv"]).stdout;
    assert!(!csv.contains("least_safety"));
    let csv = run(&barrow(), "solve", &["--format", "csv"]).stdout;
    assert!(csv.lines().next().unwrap().contains(",least_safety,"));
    let place = csv
        .lines()
        .next()
        .unwrap()
        .split(',')
        .position(|name| name == "least_safety");
    let cell = csv
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .nth(place.unwrap())
        .unwrap();
    let json = run(&barrow(), "solve", &["--format", "json"]).json();
    let safety = figure(&json["sets"][0]["least_safety"]);
    assert!((cell.parse::<f64>().unwrap() - safety).abs() < 1e-9);
}

#[test]
fn sheets_name_metal_hardening_and_the_least_safety_of_the_gear() {
    let file = barrow();
    let work = run(&file, "sheets", &["--format", "json"]).with(0).json();
    let strength = run(&file, "layout", &["--format", "json"]).json();
    let text = flowing(&run(&file, "sheets", &[]).with(0).stdout);
    assert!(
        text.contains("16MnCr5 case-hardened Hardening warps the gear and closes its bore"),
        "{text}"
    );
    let mut pages = 0;
    for page in list(&work["pages"]) {
        let names = list(&page["gears"]);
        let meshes = list(&strength["strength"]["meshes"]).iter();
        let own = meshes
            .flat_map(|mesh| list(&mesh["gears"]))
            .filter(|gear| names.contains(&gear["gear"]));
        let safeties =
            own.flat_map(|gear| ["root_safety", "flank_safety"].map(|key| figure(&gear[key])));
        let least = safeties.fold(f64::INFINITY, f64::min);
        assert!(
            (figure(&page["least_safety"]["safety"]) - least).abs() < 1e-9,
            "{names:?}"
        );
        assert!(
            text.contains(&format!("least safety {least:.2} at the")),
            "{least}"
        );
        pages += 1;
    }
    assert!(pages >= 8, "{pages}");
}

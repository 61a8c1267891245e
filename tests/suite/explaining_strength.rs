//! Explanations of problems that ask for strength: against plain enumeration on
//! small random problems, and through the front door on invented boxes.

use crate::explaining::with;
use crate::front_door::{Ended, Run};
use crate::holding::rated_file;
use crate::random::{Draw, checked};
use layshaft::base::Decimal;
use layshaft::problem::{FaceWidth, MATERIAL_ROWS, Problem};
use layshaft::search::{
    Axis, Control, Edits, Effort, Explanation, Shortfall, Step, Way, count_plainly, explain,
};
use layshaft::train::{rate, weakest};
use layshaft::verify::verify;
use num_bigint::BigUint;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

fn explained(file: &Value) -> Explanation {
    let effort = Effort {
        threads: 1,
        clash_work: 0,
    };
    explain(
        &checked(file),
        &file.to_string(),
        effort,
        &Control::default(),
    )
}

fn opens(problem: &Problem) -> bool {
    count_plainly(problem).sets > BigUint::ZERO
}

fn edits(way: &Way) -> Edits {
    way.steps.iter().flat_map(|s| s.edits.clone()).collect()
}

/// Count, set and strength of every way, by plain enumeration of the edited text.
fn every_way_is_solved(file: &Value, ways: &[Way]) {
    for way in ways {
        let problem = with(file, &edits(way)).unwrap();
        let about = format!("{:?} {file}", way.steps);
        assert!(way.sets > BigUint::ZERO, "{about}");
        assert_eq!(count_plainly(&problem).sets, way.sets, "{about}");
        assert!(verify(&problem, &way.best).is_empty(), "{about}");
    }
}

/// What is said of the strongest set holds, and nothing holds a hundredth more.
fn the_strongest_is_told(file: &Value, shortfall: &Shortfall) {
    let problem = checked(file);
    let free = count_plainly(&problem.clone().unrated()).sets;
    assert_eq!(shortfall.sets, free, "{file}");
    let holds = |hundredths: i64| {
        let safety = Decimal::from_millionths(10_000 * hundredths);
        opens(&problem.clone().holding(safety.to_f64()))
    };
    let Some(strongest) = &shortfall.strongest else {
        assert!(!holds(10), "{file}");
        return;
    };
    let best = strongest.safety.millionths() / 10_000;
    assert!(holds(best) && !holds(best + 1), "{best} {file}");
    let rated = rate(&strongest.problem, &strongest.set).unwrap();
    assert_eq!(weakest(&rated), Some(strongest.weakest), "{file}");
    let safety = strongest.weakest.safety;
    let low = strongest.safety.to_f64();
    assert!(safety >= low, "{safety} {file}");
    // Wider gears than are needed are not told of where widths follow from load.
    assert!(
        safety < low + 0.01 || problem.sizes_faces(),
        "{safety} {file}"
    );
}

/// The figure just before that of a step, in millionths: nearer to what the file
/// says, and not beyond it.
fn before(problem: &Problem, step: &Step) -> Option<i64> {
    let (now, to) = (step.now?.millionths(), step.to.millionths());
    let back = match step.axis {
        Axis::LeastSafety | Axis::FlankSafety => to + 10_000,
        Axis::FaceWidth => to - 500_000,
        Axis::MostWidth => to - problem.gears().face().unit().steps() / 1000,
        Axis::Torque | Axis::Power => {
            let mut unit = 1;
            while to / unit >= 100 {
                unit *= 10;
            }
            to + unit
        }
        _ => return None,
    };
    let between = (now.min(to)..now.max(to)).contains(&back) && back != now;
    between.then_some(back)
}

fn number(millionths: i64) -> Value {
    serde_json::from_str(&Decimal::from_millionths(millionths).to_string()).unwrap()
}

/// One step less does not let sets in.
fn each_is_the_least(file: &Value, ways: &[Way], seen: &mut BTreeMap<Axis, usize>) {
    let problem = checked(file);
    for way in ways {
        let [step] = way.steps.as_slice() else {
            continue;
        };
        *seen.entry(step.axis).or_default() += 1;
        let Some(back) = before(&problem, step) else {
            continue;
        };
        let [(key, _)] = step.edits.as_slice() else {
            continue;
        };
        let less = with(file, &vec![(key.clone(), number(back))]);
        let opens = less.is_some_and(|less| opens(&less));
        assert!(!opens, "{step:?} but {back} does: {file}");
    }
    materials_are_the_first(file, &problem, ways);
}

/// Of the stronger materials, weakest first, the first two that open.
fn materials_are_the_first(file: &Value, problem: &Problem, ways: &[Way]) {
    let told: Vec<&Value> = ways
        .iter()
        .filter(|way| way.steps[0].axis == Axis::Material)
        .map(|way| &way.steps[0].edits[0].1)
        .collect();
    if told.is_empty() {
        return;
    }
    let now = problem.materials().head()[0].bending_mpa();
    let mut rows: Vec<_> = MATERIAL_ROWS.iter().collect();
    rows.retain(|row| row.limits_mpa()[1] > now);
    rows.sort_by(|x, y| x.limits_mpa()[1].total_cmp(&y.limits_mpa()[1]));
    // 20MnCr5 is as strong as 16MnCr5.
    rows.retain(|row| row.name != "20MnCr5 case-hardened");
    let opening = rows.iter().filter(|row| {
        let edits = vec![("gears.material".to_owned(), json!(row.name))];
        with(file, &edits).is_some_and(|problem| opens(&problem))
    });
    let first: Vec<Value> = opening.take(2).map(|row| json!(row.name)).collect();
    assert_eq!(told, first.iter().collect::<Vec<_>>(), "{file}");
}

#[test]
fn what_strength_shuts_out_is_what_the_plain_twin_says() {
    let mut seen: BTreeMap<Axis, usize> = BTreeMap::new();
    let (mut none, mut weak, mut fits, mut sized, mut pairs) = (0, 0, 0, 0, 0);
    for seed in 950_000..951_000 {
        let draw = &mut Draw::new(seed);
        let Some(mut file) = rated_file(draw) else {
            continue;
        };
        // Loads at which about as many problems have sets as have none.
        let load = file["duty"]["input_torque_n_m"].as_f64().unwrap();
        let times = draw.pick(&[1.0, 3.0, 8.0]);
        file["duty"]["input_torque_n_m"] = json!((1000.0 * times * load).round() / 1000.0);
        let problem = checked(&file);
        let free = count_plainly(&problem.clone().unrated()).sets;
        if free > BigUint::from(400_u32) {
            continue;
        }
        // Problems without sets whatever the strength are many, and slow.
        if free == BigUint::ZERO && none >= 12 {
            continue;
        }
        let held = count_plainly(&problem).sets;
        match explained(&file) {
            Explanation::Sets { now, .. } => {
                assert_eq!(now.sets, held, "{file}");
                fits += 1;
            }
            Explanation::NoSet {
                ways, pairs: two, ..
            } => {
                assert_eq!(free, BigUint::ZERO, "{file}");
                every_way_is_solved(&file, &ways);
                every_way_is_solved(&file, &two);
                none += 1;
            }
            Explanation::TooWeak {
                shortfall,
                ways,
                pairs: two,
            } => {
                assert!(held == BigUint::ZERO && free > held, "{file}");
                the_strongest_is_told(&file, &shortfall);
                every_way_is_solved(&file, &ways);
                every_way_is_solved(&file, &two);
                each_is_the_least(&file, &ways, &mut seen);
                weak += 1;
                sized += usize::from(matches!(problem.gears().face(), FaceWidth::Auto { .. }));
                pairs += two.len();
            }
            Explanation::PinInTheWay { .. } | Explanation::Stopped { .. } => panic!("{file}"),
        }
        if weak >= 60 && none >= 10 && fits >= 10 {
            break;
        }
    }
    let about = format!("{none} {weak} {fits} {sized} {pairs} {seen:?}");
    println!("{about}");
    assert!(none >= 10 && weak >= 60 && fits >= 10, "{about}");
    assert!(sized > 5 && pairs > 2, "{about}");
    for axis in [
        Axis::LeastSafety,
        Axis::FlankSafety,
        Axis::FaceWidth,
        Axis::MostWidth,
        Axis::Torque,
        Axis::Material,
    ] {
        assert!(seen.get(&axis).is_some_and(|n| *n > 2), "{axis:?}: {about}");
    }
}

/// An invented box: one speed and reverse, light enough to enumerate.
fn winch(torque_n_m: f64, duty: &Value) -> Value {
    let mut file = json!({
        "title": "Winch (invented data)",
        "centre_distance_mm": 45,
        "gears": {
            "modules_mm": [1.25, 1.5], "min_teeth": 15, "max_teeth": 56,
            "centre_tolerance_mm": 0.001, "face_width_mm": 12,
        },
        "head": { "ratio": { "min": 1.2, "max": 2.2 } },
        "input_rpm": 1500,
        "duty": { "input_torque_n_m": torque_n_m },
        "speeds": [{ "ratio": 3.4, "tolerance_percent": 4 }, { "direct": true }],
    });
    for (key, value) in duty.as_object().unwrap() {
        file["duty"][key] = value.clone();
    }
    file
}

fn run(verb: &str, file: &Path, args: &[&str]) -> Ended {
    let file = file.to_str().unwrap();
    Run::of(&[&[verb, file], args].concat()).ends()
}

fn written(file: &Value) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("winch.json");
    std::fs::write(&path, file.to_string()).unwrap();
    (folder, path)
}

/// Every way of the JSON, solved as it is told.
fn solve_takes(path: &Path, explained: &Value) -> Vec<String> {
    let ways = explained["ways"].as_array().unwrap();
    let pairs = explained["pairs"].as_array().unwrap();
    let mut keys = Vec::new();
    for way in ways.iter().chain(pairs) {
        let words = way["with"].as_array().unwrap();
        let words: Vec<&str> = words.iter().map(|word| word.as_str().unwrap()).collect();
        let mut args = vec!["--format", "json", "--top", "0"];
        for word in &words {
            args.extend(["--with", word]);
        }
        let solved = run("solve", path, &args).with(0).json();
        assert_eq!(solved["feasible_sets"], way["feasible_sets"], "{words:?}");
        keys.extend(
            words
                .iter()
                .map(|word| word.split('=').next().unwrap().to_owned()),
        );
    }
    keys
}

#[test]
fn the_verb_says_that_strength_shuts_all_out_and_what_would_hold() {
    let (_folder, path) = written(&winch(0.6, &json!({ "min_safety": 1.3 })));
    let explained = run("explain", &path, &["--format", "json"]).with(0).json();
    let keys = solve_takes(&path, &explained);
    for key in [
        "duty.min_safety",
        "duty.min_flank_safety",
        "gears.face_width_mm",
        "duty.input_torque_n_m",
        "gears.material",
    ] {
        assert!(keys.iter().any(|own| own == key), "{key} in {keys:?}");
    }
    assert!(keys.iter().all(|key| key != "duty.hours"));
    let strength = &explained["strength"];
    let free = strength["sets_without_strength"].as_str().unwrap();
    let text = run("explain", &path, &[]).with(0).stdout;
    let first = format!("No set fits: {free} sets give the ratios, but none holds 1.30.");
    assert!(text.starts_with(&first), "{text}");
    let best = strength["strongest"]["safety"].as_f64().unwrap();
    let gear = strength["strongest"]["weakest"]["gear"].as_str().unwrap();
    assert!(text.contains(&format!("The strongest holds {best:.2}: ")) && text.contains(gear));
    let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flowing.contains("licensed engineer"), "{text}");
    assert!(
        text.lines()
            .all(|line| line.contains("layshaft solve") || line.chars().count() <= 80)
    );
    // The refusal of solve says the same, and where to go.
    let refused = run("solve", &path, &[]).with(1).stdout;
    let first = format!("No set fits. {free} sets give the ratios, but none holds 1.30:");
    assert!(refused.starts_with(&first), "{refused}");
    assert!(refused.contains("Next     layshaft explain"), "{refused}");
}

#[test]
fn widths_that_follow_from_the_load_may_reach_further() {
    let mut file = winch(0.6, &json!({ "min_safety": 1.3 }));
    file["gears"]["face_width_mm"] = json!("auto");
    file["gears"]["face_width_range_mm"] = json!({ "max": 12, "step": 0.5 });
    let (_folder, path) = written(&file);
    let explained = run("explain", &path, &["--format", "json"]).with(0).json();
    let keys = solve_takes(&path, &explained);
    assert!(
        keys.contains(&"gears.face_width_range_mm.max".to_owned()),
        "{keys:?}"
    );
    // A range in inches is set as a whole.
    file["gears"]
        .as_object_mut()
        .unwrap()
        .remove("face_width_range_mm");
    file["gears"]["face_width_range_in"] = json!({ "max": 0.5, "step": 0.02 });
    let (_folder, path) = written(&file);
    let explained = run("explain", &path, &["--format", "json"]).with(0).json();
    let keys = solve_takes(&path, &explained);
    assert!(
        keys.contains(&"gears.face_width_range_mm".to_owned()),
        "{keys:?}"
    );
}

#[test]
fn two_changes_where_one_does_not_do() {
    // Too much for any material or any width alone.
    let (_folder, path) = written(&winch(5.0, &json!({ "min_safety": 1.3 })));
    let explained = run("explain", &path, &["--format", "json"]).with(0).json();
    let keys = solve_takes(&path, &explained);
    let pairs = explained["pairs"].as_array().unwrap();
    assert_eq!(pairs.len(), 1, "{pairs:?}");
    assert!(keys.contains(&"gears.material".to_owned()));
    assert!(keys.contains(&"gears.face_width_mm".to_owned()));
    // Roots and flanks each ask for more than any set holds, and no more is free.
    let duty = json!({ "min_safety": 9, "min_flank_safety": 1.3 });
    let (_folder, path) = written(&winch(3.0, &duty));
    let keep = "gears,duty.input_torque_n_m,speeds,head,centre_distance_mm";
    let args = ["--format", "json", "--keep", keep];
    let explained = run("explain", &path, &args).with(0).json();
    assert_eq!(explained["ways"], json!([]));
    let keys = solve_takes(&path, &explained);
    assert_eq!(keys, ["duty.min_flank_safety", "duty.min_safety"]);
    let text = run("explain", &path, &["--keep", keep]).with(0).stdout;
    assert!(
        text.replace('\n', " ")
            .contains("none holds 9.00 at the roots and 1.30 on the flanks"),
        "{text}"
    );
}

#[test]
fn power_is_lowered_where_power_is_given() {
    let mut file = winch(1.0, &json!({ "min_safety": 1.3, "input_power_w": 100 }));
    file["duty"]
        .as_object_mut()
        .unwrap()
        .remove("input_torque_n_m");
    let (_folder, path) = written(&file);
    let explained = run("explain", &path, &["--format", "json"]).with(0).json();
    let keys = solve_takes(&path, &explained);
    assert!(keys.contains(&"duty.input_power_w".to_owned()), "{keys:?}");
}

#[test]
fn what_is_made_or_has_a_material_of_its_own_is_left_alone() {
    let mut file = winch(0.6, &json!({ "min_safety": 1.3 }));
    file["fixed"] = json!([
        "gears.face_width_mm",
        "duty.min_safety",
        "duty.min_flank_safety"
    ]);
    file["speeds"][0]["driver_material"] = json!("C45 normalised");
    let (_folder, path) = written(&file);
    let explained = run("explain", &path, &["--format", "json"]).with(0).json();
    let keys = solve_takes(&path, &explained);
    let of_strength =
        |key: &&String| key.starts_with("duty") || key.contains("face") || key.contains("material");
    let told: Vec<&String> = keys.iter().filter(of_strength).collect();
    assert_eq!(told, ["duty.input_torque_n_m"]);
    let all = "gears,duty,speeds,head,centre_distance_mm";
    let text = run("explain", &path, &["--keep", all]).with(1).stdout;
    assert!(
        text.contains("No single change") && text.contains("The strongest holds"),
        "{text}"
    );
}

#[test]
fn ratios_out_of_reach_are_told_first_and_strength_with_them() {
    // No pair has that ratio within so little, and the load is too much as well.
    let mut file = winch(0.6, &json!({ "min_safety": 1.3 }));
    file["speeds"][0] = json!({ "ratio": 3.4001, "tolerance_percent": 0.0001 });
    assert!(!opens(&checked(&file).unrated()));
    let Explanation::NoSet { ways, pairs, .. } = explained(&file) else {
        panic!("it is not strength that shuts them out");
    };
    assert!(ways.is_empty(), "{ways:?}");
    every_way_is_solved(&file, &pairs);
    let axes = |way: &Way| way.steps.iter().map(|step| step.axis).collect::<Vec<_>>();
    assert_eq!(axes(&pairs[0]), [Axis::Tolerance(0), Axis::LeastSafety]);
    // The safety falls no further than it must.
    let [tolerance, safety] = pairs[0].steps.as_slice() else {
        panic!("{pairs:?}");
    };
    let more = number(safety.to.millionths() + 10_000);
    let more = vec![(safety.edits[0].0.clone(), more)];
    let both = [tolerance.edits.clone(), more].concat();
    assert!(!opens(&with(&file, &both).unwrap()));
}

#[test]
fn gains_count_the_sets_of_a_little_less_strength() {
    let (_folder, path) = written(&winch(0.3, &json!({ "min_safety": 1.3 })));
    let explained = run("explain", &path, &["--format", "json"]).with(0).json();
    assert_eq!(explained["strength"], Value::Null);
    let gains = explained["gains"].as_array().unwrap();
    let of = |word: &str| gains.iter().find(|gain| gain["with"] == json!([word]));
    for word in ["duty.min_safety=1.2", "gears.face_width_mm=13"] {
        let gain = of(word).unwrap_or_else(|| panic!("{word}: {explained}"));
        let args = ["--with", word, "--format", "json", "--top", "0"];
        let solved = run("solve", &path, &args).with(0).json();
        assert_eq!(solved["feasible_sets"], gain["reach"]["feasible_sets"]);
        let (best, reach) = (
            &solved["best"]["blank_volume_mm3"],
            &gain["reach"]["blank_volume_mm3"],
        );
        assert_eq!(best, reach, "{word}");
    }
}

/// A duty that asks for nothing changes no explanation.
/// Takes the safety of sets out of an answer; how many there were.
fn without_safeties(value: &mut Value) -> u32 {
    match value {
        Value::Object(map) => {
            let keys = ["least_safety", "weakest"];
            let own = keys.iter().filter(|key| map.remove(**key).is_some());
            let own = u32::try_from(own.count()).unwrap();
            own + map.values_mut().map(without_safeties).sum::<u32>()
        }
        Value::Array(list) => list.iter_mut().map(without_safeties).sum(),
        _ => 0,
    }
}

#[test]
fn without_a_least_safety_nothing_is_told_of_strength() {
    for sample in ["impossible", "bored-case"] {
        let file = format!("problems/{sample}.json");
        let plain = Run::of(&["explain", &file, "--format", "json"])
            .ends()
            .with(0)
            .json();
        let torque = "duty.input_torque_n_m=900";
        let args = ["explain", &file, "--with", torque, "--format", "json"];
        let mut rated = Run::of(&args).ends().with(0).json();
        rated.as_object_mut().unwrap().remove("with");
        // That sets carry a safety is not what is asked here.
        let (mut unrated, mut told) = (plain.clone(), 0);
        for one in [&mut unrated, &mut rated] {
            told += without_safeties(one);
        }
        assert!(told > 0);
        assert_eq!(unrated, rated, "{sample}");
        assert_eq!(plain["strength"], Value::Null);
    }
}

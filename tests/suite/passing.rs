//! The idler's pin past other gears as a condition of the search: what is counted
//! beside what the layout measures, and what is said where nothing is left.

use crate::explaining::with;
use crate::front_door::Run;
use crate::holding::duty;
use crate::oracle::{compare, plain_trains};
use crate::places::housed_file;
use crate::random::{Draw, checked};
use layshaft::design::forces::Flow;
use layshaft::design::idler::{Near, nearby};
use layshaft::design::planes::{PartId, lay_out};
use layshaft::design::{Housed, gear_forces};
use layshaft::problem::{HeldIn, Problem, Side};
use layshaft::search::{Control, Effort, Explanation, Request, count_plainly, explain, solve};
use layshaft::train::{Role, Set};
use num_bigint::BigUint;
use serde_json::{Value, json};

/// How near the pin is to gears that it passes whatever the order of the planes, in
/// the layout; none where there is no layout.
fn past_gears(problem: &Problem, set: &Set) -> Option<Vec<Near>> {
    let housed = Housed::new(problem, set);
    let gearbox = housed.boxed(
        &gear_forces(&housed, Side::Right, Flow::Drives),
        Side::Right,
    );
    let layout = lay_out(&gearbox).ok()?;
    let through = problem.idler_pin().unwrap().held_in() == HeldIn::BothWalls;
    let passed = |near: &Near| match near.part {
        PartId::Gear(Role::Head, _) => near.from_pin,
        PartId::Gear(Role::Speed(_), _) => near.from_pin && through,
        _ => false,
    };
    Some(
        nearby(&gearbox, &layout)
            .into_iter()
            .filter(passed)
            .collect(),
    )
}

/// Where the pin goes through, a train may stand with the reverse of several kinds.
fn the_best_trains_are_plain(problem: &Problem, draw: &mut Draw, file: &Value) {
    let request = Request {
        top: 0,
        trains: draw.pick(&[1, 3, 10]),
        threads: 1,
    };
    let fast = solve(problem, request, &Control::default()).trains;
    assert_eq!(fast, plain_trains(problem, request.trains), "{file}");
}

#[test]
fn what_the_search_leaves_out_is_too_near_in_the_layout() {
    let mut draw = Draw::new(0x9a55);
    let (mut clear, mut left_out, mut heads) = (0, 0, 0);
    while clear < 60 || left_out < 60 || heads < 20 {
        let mut file = housed_file(&mut draw);
        if file.get("reverse").is_none() {
            continue;
        }
        file["idler"]["held_in"] = json!(draw.pick(&["input wall", "both walls"]));
        let problem = checked(&file);
        if problem.passed_by_pin().is_none() {
            continue;
        }
        let free = problem.clone().whatever_it_passes();
        let all = count_plainly(&free).sets;
        if all > BigUint::from(300_u32) || all == BigUint::ZERO {
            continue;
        }
        let request = Request {
            top: 300,
            trains: 0,
            threads: 1,
        };
        let kept = solve(&problem, request, &Control::until(None)).sets;
        the_best_trains_are_plain(&problem, &mut draw, &file);
        let gap_mm = problem.idler_pin().unwrap().gap().mm();
        for set in solve(&free, request, &Control::until(None)).sets {
            let Some(near) = past_gears(&problem, &set) else {
                continue;
            };
            let is_clear = near.iter().all(|near| near.gap_mm >= gap_mm - 1e-9);
            assert_eq!(kept.contains(&set), is_clear, "{set:?} {near:?} {file}");
            clear += usize::from(is_clear && !near.is_empty());
            left_out += usize::from(!is_clear);
            heads += usize::from(problem.idler_pin().unwrap().held_in() == HeldIn::InputWall);
        }
    }
}

#[test]
fn strength_and_the_pin_together_are_what_the_plain_twin_says() {
    let mut draw = Draw::new(0x57_0f9);
    let (mut compared, mut both) = (0, 0);
    while compared < 40 {
        let mut file = housed_file(&mut draw);
        if file.get("reverse").is_none() {
            continue;
        }
        file["idler"]["held_in"] = json!(draw.pick(&["input wall", "both walls"]));
        duty(&mut draw, &mut file);
        let problem = checked(&file);
        if problem.passed_by_pin().is_none() {
            continue;
        }
        let free = count(&problem.clone().unrated().whatever_it_passes());
        let own = count(&problem);
        if free > BigUint::from(2_000_u32) || own == BigUint::ZERO {
            continue;
        }
        compare(&problem, 20, &file.to_string());
        compared += 1;
        let unrated = count(&problem.clone().unrated());
        both += usize::from(own < unrated && unrated < free);
    }
    assert!(both > 8, "{both}");
}

/// The twin counts the same, elsewhere; it takes long.
fn count(problem: &Problem) -> BigUint {
    let request = Request {
        top: 0,
        trains: 0,
        threads: 1,
    };
    solve(problem, request, &Control::default()).counts.sets
}

#[test]
fn a_pin_that_shuts_every_set_out_is_told_with_ways_out() {
    let mut draw = Draw::new(0x91);
    let (mut shut, mut fits, mut nearer) = (0, 0, 0);
    while shut < 8 || fits < 3 {
        let mut file = housed_file(&mut draw);
        if file.get("reverse").is_none() {
            continue;
        }
        file["idler"]["held_in"] = json!(draw.pick(&["input wall", "both walls"]));
        // A thick pin, which only the gears feel.
        let pin_mm = (300.0 * file["idler"]["pin_mm"].as_f64().unwrap()).round() / 100.0;
        file["idler"]["pin_mm"] = json!(pin_mm);
        file["shafts"] = json!({});
        let problem = checked(&file);
        let free = count(&problem.clone().whatever_it_passes());
        let none = free == BigUint::ZERO || free > BigUint::from(2_000_u32);
        // Limits of teeth make every trial slow.
        if problem.passed_by_pin().is_none() || none || problem.judges() {
            continue;
        }
        let own = count(&problem);
        let wanted = if own == BigUint::ZERO { shut } else { fits };
        if wanted >= 8 {
            continue;
        }
        let effort = Effort {
            threads: 1,
            clash_work: 1_000_000,
        };
        match explain(&problem, &file.to_string(), effort, &Control::default()) {
            Explanation::Sets { now, .. } => {
                assert_eq!(now.sets, own, "{file}");
                fits += 1;
            }
            Explanation::PinInTheWay { sets, ways } => {
                assert_eq!((own, sets), (BigUint::ZERO, free), "{file}");
                for way in &ways {
                    assert_eq!(way.steps.len(), 1);
                    let changed = with(&file, &way.steps[0].edits).unwrap();
                    assert_eq!(count(&changed), way.sets, "{file}");
                    assert!(way.sets > BigUint::ZERO);
                    let key = way.steps[0].edits[0].0.as_str();
                    nearer += usize::from(key == "idler.held_in");
                }
                shut += 1;
            }
            other => panic!("{other:?} {file}"),
        }
    }
    assert!(nearer > 3, "{nearer}");
}

/// A small winch: a through pin passes the large gear of its low speed.
fn winch(held_in: &str) -> Value {
    json!({
        "title": "Boat winch (invented)",
        "arrangement": "in-line",
        "centre_distance_mm": 60,
        "gears": { "modules_mm": [2], "min_teeth": 14, "max_teeth": 46, "face_width_mm": 14 },
        "head": { "ratio": { "min": 1.2, "max": 2.2 } },
        "speeds": [
            { "name": "low", "ratio": 3.2 },
            { "name": "high", "direct": true },
        ],
        "reverse": { "ratio": 3.2, "idler_teeth": { "min": 14, "max": 40 } },
        "default_tolerance_percent": 6,
        "idler": { "pin_mm": 12, "gap_mm": 1, "min_wall_mm": 3, "held_in": held_in },
        "shafts": {
            "input": { "diameter_mm": 15, "bearing_outside_mm": 32 },
            "layshaft": { "diameter_mm": 15, "bearing_outside_mm": 32 },
            "main": { "diameter_mm": 15, "bearing_outside_mm": 32 },
        },
    })
}

#[test]
fn a_longer_pin_leaves_fewer_sets_and_programs_refuse_it() {
    let sets = HeldIn::ALL.map(|held| {
        let problem = checked(&winch(held.word()));
        let request = Request {
            top: 0,
            trains: 0,
            threads: 1,
        };
        let outcome = solve(&problem, request, &Control::default());
        assert_eq!(outcome.counts, count_plainly(&problem), "{held:?}");
        outcome.counts.sets
    });
    println!("{sets:?}");
    // Nothing is larger than the head pair, and in between.
    assert!(sets[0] > sets[1] && sets[1] >= sets[2], "{sets:?}");
    assert!(sets[2] > BigUint::ZERO, "{sets:?}");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("winch.json");
    std::fs::write(&path, winch("both walls").to_string()).unwrap();
    let path = path.to_str().unwrap();
    for more in [&["--certify"][..], &["--engine", "program"]] {
        let ended = Run::of(&[&["solve", path], more].concat()).ends().with(2);
        let said = ended.stderr.contains("gears that the idler's pin passes");
        assert!(said, "{}", ended.stderr);
    }
    // Where nothing is left, it is said what does it.
    let small = ["solve", path, "--with", "reverse.idler_teeth.max=24"];
    let ended = Run::of(&small).ends().with(1);
    let none = "none leaves a clear place for the idler and a pin that passes other gears";
    assert!(
        ended.stdout.replace('\n', " ").contains(none),
        "{}",
        ended.stdout
    );
    let ended = Run::of(&[&["explain"], &small[1..]].concat()).ends();
    let said = ended.stdout.replace('\n', " ");
    assert!(
        said.contains("its pin passes other gears too near"),
        "{said}"
    );
    assert!(said.contains("pin in the output wall"), "{said}");
}

//! `layshaft layout` by its JSON: solids, boring, forces and motion worked out
//! again from what is printed.

use crate::front_door::Run;
use serde_json::Value;

fn figure(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap_or_else(|| panic!("{value}"))
}

fn answer(file: &str, more: &[&str]) -> Value {
    let mut args = vec!["layout", file, "--format", "json"];
    args.extend(more);
    Run::of(&args).ends().json()
}

const SAMPLES: [&str; 5] = [
    "problems/shunter.json",
    "problems/walking-tractor.json",
    "problems/spindle-head.json",
    "problems/orchard-cart.json",
    "problems/odd-centres.json",
];

/// Where the axis of a part is, by the name of its shaft.
fn axis(answer: &Value, shaft: &str) -> (f64, f64) {
    let a = figure(&answer["centre_distance_mm"]);
    match shaft {
        "input" | "main" => (0.0, 0.0),
        "layshaft" | "output" => (0.0, -a),
        _ => {
            let holes = [
                &answer["boring"]["input_face"],
                &answer["boring"]["output_face"],
            ];
            for (face, turned) in holes.into_iter().zip([1.0, -1.0]) {
                for hole in list(face) {
                    if hole["for"] == "idler" {
                        return (turned * figure(&hole["x_mm"]), figure(&hole["y_mm"]));
                    }
                }
            }
            panic!("no idler in {answer}")
        }
    }
}

/// Parts on different axes that fill the same space; only teeth that work
/// together may.
#[test]
fn parts_on_different_shafts_stay_apart() {
    let mut pairs = 0;
    for file in SAMPLES {
        let answer = answer(file, &[]);
        let parts = list(&answer["layout"]["parts"]);
        for (i, one) in parts.iter().enumerate() {
            for other in &parts[i + 1..] {
                let (s, t) = (one["on"].as_str().unwrap(), other["on"].as_str().unwrap());
                let (a, b) = (axis(&answer, s), axis(&answer, t));
                let apart = (a.0 - b.0).hypot(a.1 - b.1);
                let along = figure(&one["to_mm"]).min(figure(&other["to_mm"]))
                    - figure(&one["from_mm"]).max(figure(&other["from_mm"]));
                if apart < 1e-9 || along <= 1e-6 {
                    continue;
                }
                let radii = [one, other].map(|part| figure(&part["outer_diameter_mm"]) / 2.0);
                let gap = apart - radii[0] - radii[1];
                let names = [one, other].map(|part| part["part"].as_str().unwrap());
                let mates = names
                    .iter()
                    .all(|name| name.contains("gear") || *name == "idler");
                assert!(gap > -1e-6 || mates, "{file}: {names:?} {gap}");
                // Mates overlap by no more than their working depth.
                assert!(gap > -6.0, "{file}: {names:?} {gap}");
                pairs += 1;
            }
        }
        let length = figure(&answer["layout"]["length_mm"]);
        for plane in list(&answer["layout"]["planes"]) {
            assert!(figure(&plane["from_mm"]) > 0.0 && figure(&plane["to_mm"]) < length);
        }
        assert!(
            answer["layout"]["assembly"]["steps"].is_array(),
            "{file}: {answer}"
        );
    }
    assert!(pairs > 50, "{pairs}");
}

#[test]
fn the_two_faces_are_mirror_images_and_pins_measure_what_lies_between() {
    let answer = answer(
        "problems/orchard-cart.json",
        &[
            "--with",
            "layout.datum_mm={\"x\": 40, \"y\": 90}",
            "--with",
            "layout.check_pins_mm={\"idler\": 8}",
        ],
    );
    let (input, output) = (
        &answer["boring"]["input_face"],
        &answer["boring"]["output_face"],
    );
    let place = |face: &Value, name: &str| {
        let hole = list(face)
            .iter()
            .find(|hole| hole["for"] == name)
            .unwrap()
            .clone();
        (figure(&hole["x_mm"]), figure(&hole["y_mm"]))
    };
    // Input and main shaft have one axis; left and right change places.
    assert_eq!(place(input, "input"), (40.0, 90.0));
    assert_eq!(place(output, "main"), (-40.0, 90.0));
    assert_eq!(place(input, "layshaft"), (40.0, 35.0));
    assert_eq!(place(output, "layshaft"), (-40.0, 35.0));
    let (ix, iy) = place(output, "idler");
    for check in list(&answer["boring"]["checks"]) {
        let names = list(&check["between"]);
        if names[1] != "idler" {
            continue;
        }
        let (x, y) = place(output, names[0].as_str().unwrap());
        let apart = (ix - x).hypot(iy - y);
        let pins = list(&check["pins_mm"]);
        assert!((figure(&pins[1]) - 8.0).abs() < 1e-12);
        let both = figure(&pins[0]) + 8.0;
        assert!((figure(&check["outside_mm"]) - apart - both / 2.0).abs() < 1e-9);
        assert!((figure(&check["inside_mm"]) - apart + both / 2.0).abs() < 1e-9);
    }
    for hole in list(output) {
        assert!((figure(&hole["x_in"]) * 25.4 - figure(&hole["x_mm"])).abs() < 1e-8);
    }
}

// j changes by 2 tan α_wt cos α_wt per mm of centres between the flanks, in the
// first order (spur, standard centres: α_wt = 20°).
#[test]
fn the_tolerance_of_the_centres_keeps_the_backlash() {
    let answer = answer("problems/orchard-cart.json", &[]);
    for key in ["centres_tolerance", "idler_tolerance"] {
        let own = &answer["boring"][key];
        let range = &own["normal_backlash_mm"];
        let half = (figure(&range["max"]) - figure(&range["min"])) / 2.0;
        let per_mm = 2.0 * 20_f64.to_radians().sin();
        for end in ["closer_mm", "wider_mm"] {
            let found = figure(&own[end]);
            // The idler's meshes are of a smaller reference circle.
            assert!(
                (found * per_mm - half).abs() < 0.02 * half,
                "{key} {end} {found}"
            );
        }
    }
    // 55 mm, aluminium over steel, 40 K (values from memory).
    let growth = &answer["boring"]["growth"];
    let opens = 55.0 * 11.5e-6 * 40.0;
    assert!((figure(&growth["opens_mm"]) - opens).abs() < 1e-9);
}

#[test]
fn forces_balance_and_power_is_kept_as_printed() {
    for file in SAMPLES {
        let answer = answer(file, &[]);
        let input = figure(&answer["forces"]["input_torque_n_m"]);
        for flow in ["driving", "overrun"] {
            for state in list(&answer["forces"][flow]) {
                for shaft in list(&state["shafts"]) {
                    let mut sum = [0.0; 3];
                    let mut size: f64 = 1.0;
                    let forces = list(&shaft["loads"])
                        .iter()
                        .chain(list(&shaft["reactions"]));
                    for force in forces {
                        for (total, key) in sum.iter_mut().zip(["x", "y", "z"]) {
                            *total += figure(&force["force_n"][key]);
                            size = size.max(figure(&force["force_n"][key]).abs());
                        }
                    }
                    for total in sum {
                        assert!(total.abs() < 1e-7 * size, "{file} {flow} {shaft}");
                    }
                }
                let name = &state["state"];
                let motion = list(&answer["motion"]["states"]);
                let motion = motion.iter().find(|at| at["state"] == *name).unwrap();
                let last = list(&motion["shafts"])
                    .iter()
                    .rfind(|s| s["shaft"] != "idler");
                let turns = figure(&last.unwrap()["turns"]["per_input_turn"]);
                let out = figure(&state["output_torque_n_m"]);
                if name != "neutral" {
                    let given = figure(&state["input_torque_n_m"]);
                    assert!((given.abs() - input).abs() < 1e-9, "{file}");
                    assert!(
                        (out * turns - given).abs() < 1e-8 * given.abs(),
                        "{file} {name}"
                    );
                }
            }
        }
    }
}

#[test]
fn the_screen_keeps_to_80_columns_and_tells_what_is_taken() {
    for file in SAMPLES {
        let text = Run::of(&["layout", file, "--forces", "--turning"])
            .ends()
            .stdout;
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{file}: {line}");
        }
        assert!(text.contains("Shift pattern"), "{text}");
    }
    let text = Run::of(&["layout", "problems/shunter.json"]).ends().stdout;
    assert!(text.contains("taken: nothing gives it"), "{text}");
    let text = Run::of(&["layout", "problems/orchard-cart.json"])
        .ends()
        .stdout;
    assert!(
        text.contains("Fewest teeth that leave 2.00 mm over the hole"),
        "{text}"
    );
}

// Row 9.01: km/h = 0.1884956 rpm D(m) / ratio (60 π / 1000): wheels of 400 mm,
// final drive 12.5, 2400 rpm, direct.
#[test]
fn the_road_speed_of_every_state_is_told() {
    let answer = answer(
        "problems/orchard-cart.json",
        &[
            "--with",
            "vehicle={\"wheel_diameter_mm\": 400, \"final_drive_ratio\": 12.5}",
        ],
    );
    let states = list(&answer["motion"]["states"]);
    let of = |name: &str| {
        let state = states.iter().find(|state| state["state"] == name).unwrap();
        figure(&state["road_speed_kmh"])
    };
    assert!((of("road") - 0.188_495_6 * 2400.0 * 0.4 / 12.5).abs() < 1e-5);
    assert!(of("reverse") < 0.0 && of("creep") > 0.0 && of("neutral").abs() < 1e-12);
}

/// Shafts from the torque, by the formula: T 6 N m, 40 MPa, 1.5 times.
#[test]
fn shafts_are_sized_from_the_torque() {
    let answer = answer("problems/orchard-cart.json", &[]);
    let shafts = list(&answer["shafts"]);
    let ratios = [1.0, 2.2, 4.0 * 1.12];
    for (shaft, ratio) in shafts.iter().zip(ratios) {
        let torque = 6.0 * ratio;
        let needed = (16.0 * torque * 1.5 * 1000.0 / (std::f64::consts::PI * 40.0)).cbrt();
        assert!(
            (figure(&shaft["torque_n_m"]) - torque).abs() < 1e-9,
            "{shaft}"
        );
        assert!(
            (figure(&shaft["needed_mm"]) - needed).abs() < 1e-9,
            "{shaft}"
        );
        assert!(figure(&shaft["diameter_mm"]) >= needed, "{shaft}");
    }
    // By hand: m (z - 2.5) / 2 over hole and wall of 2 mm. Input: spigot 12 and
    // bush 1.5; layshaft 15 and keyway 2.3; main 20 and bush 1.5.
    let least = |place: usize| -> Vec<f64> {
        let own = list(&shafts[place]["least_teeth"]).iter();
        own.map(|least| figure(&least["teeth"])).collect()
    };
    let all = [least(0), least(1), least(2)];
    assert_eq!(all, [[18.0, 16.0], [22.0, 19.0], [25.0, 21.0]]);
    assert_eq!(shafts.len(), 3);
}

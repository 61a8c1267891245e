//! `layshaft gear`: published gears through the command line, refusals, nonsense.

use crate::front_door::Run;
use serde_json::Value;

fn json(args: &[&str]) -> Value {
    let mut all = vec!["gear", "--format", "json"];
    all.extend(args);
    Run::of(&all).ends().with(0).json()
}

#[track_caller]
fn near(value: &Value, wanted: f64, within: f64) {
    let got = value.as_f64().unwrap();
    assert!((got - wanted).abs() <= within, "{got} {wanted}");
}

fn of<'a>(value: &'a Value, gear: usize, key: &str) -> &'a Value {
    let found = &value["gears"][gear][key];
    assert!(!found.is_null(), "{key}: {value}");
    found
}

// Row 2.02: GMTH Table 4-1; the true contact ratio with the generated undercut
// recomputed.
#[test]
fn a_published_standard_pair() {
    let pair = json(&["--module", "3", "--teeth", "12,24"]);
    let mesh = &pair["mesh"];
    near(&mesh["centre_distance_mm"], 54.0, 1e-9);
    near(&mesh["contact_ratio_nominal"], 1.5111, 1e-4);
    near(&mesh["contact_ratio"], 1.27456, 1e-5);
    for (gear, d, db, da, df) in [
        (0, 36.0, 33.8289, 42.0, 28.5),
        (1, 72.0, 67.6579, 78.0, 64.5),
    ] {
        near(of(&pair, gear, "reference_diameter_mm"), d, 1e-4);
        near(of(&pair, gear, "base_diameter_mm"), db, 1e-4);
        near(of(&pair, gear, "tip_diameter_mm"), da, 1e-4);
        near(of(&pair, gear, "root_diameter_mm"), df, 1e-4);
    }
    let kinds: Vec<&str> = pair["marks"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|mark| mark["kind"].as_str())
        .collect();
    assert_eq!(kinds, ["undercut", "interference"]);
}

// Row 2.04: GMTH Table 4-3, tips shortened.
#[test]
fn a_published_shifted_pair() {
    let pair = json(&["--module", "3", "--teeth", "12,24", "--shift", "0.6,0.36"]);
    let mesh = &pair["mesh"];
    near(&mesh["centre_distance_mm"], 56.49987, 1e-4);
    near(&mesh["working_pressure_angle_deg"], 26.08856, 1e-4);
    near(&mesh["contact_ratio_nominal"], 1.2021, 1e-4);
    near(&mesh["first"]["working_diameter_mm"], 37.6666, 1e-4);
    near(&mesh["second"]["working_diameter_mm"], 75.3332, 1e-4);
    near(&mesh["first"]["tip_clearance_mm"], 0.75, 1e-6);
    for (gear, da, df, ha) in [(0, 44.8397, 32.1, 4.4199), (1, 79.3997, 66.66, 3.6999)] {
        near(of(&pair, gear, "tip_diameter_mm"), da, 1e-4);
        near(of(&pair, gear, "root_diameter_mm"), df, 1e-4);
        near(of(&pair, gear, "addendum_mm"), ha, 1e-4);
    }
    // Its note: a = 56.5 gives 26.08883° and a sum of 0.96006.
    let rounded = json(&[
        "--module",
        "3",
        "--teeth",
        "12,24",
        "--centre-distance",
        "56.5",
    ]);
    near(
        &rounded["mesh"]["working_pressure_angle_deg"],
        26.08883,
        1e-5,
    );
    near(&rounded["mesh"]["profile_shift_sum"], 0.96006, 1e-5);
    near(&rounded["mesh"]["full_teeth"]["transverse_mm"], 0.0, 1e-9);
}

// Row 2.06: GMTH Table 6-3, in the transverse plane; row 2.08: worksheet.
#[test]
fn published_centres_of_a_helical_and_a_large_pair() {
    let beta = 30_f64.to_radians();
    let module = format!("{}", 3.0 * beta.cos());
    let normal = (20_f64.to_radians().tan() * beta.cos()).atan().to_degrees();
    let shift = format!("{},0", 0.34462 / beta.cos());
    let angle = format!("{normal}");
    let helical = json(&[
        "--module",
        &module,
        "--pressure-angle",
        &angle,
        "--helix",
        "30",
        "--teeth",
        "12,60",
        "--shift",
        &shift,
    ]);
    near(&helical["mesh"]["centre_distance_mm"], 109.0, 1e-4);
    near(
        &helical["mesh"]["working_pressure_angle_deg"],
        21.3975,
        1e-4,
    );
    let large = json(&["--module", "16", "--teeth", "30,78", "--shift", "0,0.05"]);
    near(&large["mesh"]["centre_distance_mm"], 864.7972, 1e-4);
    near(&large["mesh"]["working_pressure_angle_deg"], 20.1446, 1e-4);
}

// Rows 2.13 and 2.14: Shigley Eq. 13-12; Mott Table 8-6 (from memory, recomputed).
#[test]
fn what_textbook_pinions_drive() {
    for (pinion, most) in [(13, 16), (14, 26), (15, 45), (16, 101), (17, 1309)] {
        let teeth = pinion.to_string();
        let gear = json(&["--module", "1", "--teeth", &teeth]);
        assert_eq!(
            gear["gears"][0]["textbook_drives_up_to_teeth"], most,
            "{pinion}"
        );
    }
    let gear = json(&["--module", "1", "--teeth", "18"]);
    assert_eq!(gear["gears"][0]["textbook_drives_a_rack"], true);
    assert_eq!(gear["gears"][0]["drives_a_rack"], true);
}

/// The size at full teeth over pins.
fn over_pins(args: &[&str]) -> f64 {
    let gear = json(args);
    let size = &gear["gears"][0]["inspection"]["over_pins"]["size"]["full_mm"];
    size.as_f64().unwrap()
}

// Row 3.05: MH wire tables, 1 DP and 1.728: per module 1. Row 3.08: recomputed.
#[test]
fn published_sizes_over_pins() {
    for (teeth, pin, size) in [
        ("8", "1.728", 10.3271),
        ("18", "1.728", 20.3840),
        ("32", "1.728", 34.4130),
        ("100", "1.728", 102.4456),
        ("25", "1.728", 27.3511),
        ("51", "1.728", 53.4053),
        ("17", "1.7", 19.2112),
        ("30", "1.7", 32.3108),
        ("21", "1.75", 23.4070),
    ] {
        let got = over_pins(&["--module", "1", "--teeth", teeth, "--pins", pin]);
        assert!((got - size).abs() < 1e-4, "{teeth} {pin}: {got}");
    }
    // Row 3.06: the same gear at 4 DP, in inches.
    let got = over_pins(&[
        "--diametral-pitch",
        "4",
        "--teeth",
        "32",
        "--pins",
        "10.9728",
    ]);
    assert!((got / 25.4 - 8.6032).abs() < 1e-4, "{got}");
    // Row 3.07: MH, 14.5 degrees.
    let rack = [
        "--pressure-angle",
        "14.5",
        "--module",
        "1",
        "--pins",
        "1.728",
    ];
    for (teeth, size) in [("24", 26.4247), ("25", 27.3774), ("41", 43.4348)] {
        let args: Vec<&str> = rack.iter().copied().chain(["--teeth", teeth]).collect();
        assert!((over_pins(&args) - size).abs() < 1e-4, "{teeth}");
    }
}

// Rows 3.09 (method GMTH Table 10-13) and 3.11: recomputed.
#[test]
fn published_pins_of_shifted_and_helical_gears() {
    let args = [
        "--module", "3", "--teeth", "20", "--shift", "0.3", "--pins", "5.5",
    ];
    let gear = json(&args);
    let pins = &gear["gears"][0]["inspection"]["over_pins"];
    near(&pins["best_pin_mm"], 5.6088, 1e-4);
    near(&pins["size"]["full_mm"], 69.5729, 1e-4);
    for (shift, size) in [("0", 70.3719), ("0.4", 72.1813)] {
        let args = [
            "--module", "3", "--teeth", "20", "--helix", "15", "--shift", shift, "--pins", "5.5",
        ];
        let got = over_pins(&args);
        assert!((got - size).abs() < 1e-3, "{shift}: {got}");
    }
}

// Row 3.02: GMTH Table 10-10. Row 3.12: GMTH Table 10-1.
#[test]
fn published_spans_and_chords() {
    let gear = json(&["--module", "3", "--teeth", "24", "--shift", "0.4"]);
    let span = &gear["gears"][0]["inspection"]["span"];
    assert_eq!(span["teeth"], 4);
    near(&span["size"]["full_mm"], 32.8266, 1e-4);
    let gear = json(&["--module", "10", "--teeth", "12", "--shift", "0.3"]);
    let chord = &gear["gears"][0]["inspection"]["chord"];
    near(&chord["thickness"]["full_mm"], 17.8256, 1e-4);
    near(&chord["height_mm"], 13.6657, 1e-4);
}

// Row 3.18: recomputed: 32 teeth thinned by 0.05 mm of arc.
#[test]
fn thinning_moves_the_sizes_by_what_is_known() {
    // One gear takes half of the backlash: 0.1 cos 20° between the flanks.
    let backlash = format!("{}", 0.1 * 20_f64.to_radians().cos());
    let args = [
        "--module",
        "1",
        "--teeth",
        "32",
        "--pins",
        "1.728",
        "--backlash",
        &backlash,
    ];
    let gear = json(&args);
    let inspection = &gear["gears"][0]["inspection"];
    let moved =
        |size: &Value| size["largest_mm"].as_f64().unwrap() - size["full_mm"].as_f64().unwrap();
    assert!((moved(&inspection["span"]["size"]) + 0.046_985).abs() < 1e-5);
    assert!((moved(&inspection["over_pins"]["size"]) + 0.12113).abs() < 1e-5);
    assert!((moved(&inspection["chord"]["thickness"]) + 0.05).abs() < 1e-4);
}

// Rows 4.04 and 4.06: cutters; row 4.08: depths (arithmetic).
#[test]
fn published_cutters_and_depths() {
    for (teeth, helix, number) in [
        ("13", "0", 8),
        ("34", "0", 4),
        ("16", "25", 5),
        ("20", "22.5", 5),
    ] {
        let gear = json(&["--module", "1.5", "--teeth", teeth, "--helix", helix]);
        let cutting = &gear["gears"][0]["cutting"];
        assert_eq!(cutting["form_cutter"]["number"], number, "{teeth} {helix}");
        near(&cutting["depth"]["full_mm"], 3.375, 1e-9);
    }
    let gear = json(&["--module", "1", "--teeth", "11"]);
    assert!(gear["gears"][0]["cutting"]["form_cutter"].is_null());
}

// Row 4.07: MH; whole depths at 24 DP in inches: form cutters 2.157/P, ISO
// 2.25 m, fine pitch 2.2/P + 0.002 in (from memory), as dedenda of the rack.
#[test]
fn published_whole_depths() {
    for (dedendum, inches) in [("1.157", 0.0899), ("1.25", 0.0938), ("1.248", 0.0937)] {
        let args = [
            "--diametral-pitch",
            "24",
            "--teeth",
            "30",
            "--dedendum",
            dedendum,
        ];
        let gear = json(&args);
        let depth = &gear["gears"][0]["cutting"]["depth"]["full_mm"];
        near(depth, 25.4 * inches, 25.4 * 1e-4);
    }
    // Row 4.08: 2.157 m (arithmetic).
    let gear = json(&["--module", "2.5", "--teeth", "30", "--dedendum", "1.157"]);
    near(
        &gear["gears"][0]["cutting"]["depth"]["full_mm"],
        5.3925,
        1e-9,
    );
}

#[test]
fn a_pair_closes_an_odd_distance_exactly() {
    let args = [
        "--module",
        "1",
        "--teeth",
        "25,55",
        "--centre-distance",
        "40.35",
    ];
    let pair = json(&args);
    let mesh = &pair["mesh"];
    near(&mesh["full_teeth"]["normal_mm"], 0.0, 1e-9);
    // Specific sliding is the same at both ends.
    let start = mesh["sliding_at_start"]["specific_first"].as_f64().unwrap();
    near(&mesh["sliding_at_end"]["specific_second"], start, 1e-6);
    // Its shifts close the centres when they are given instead.
    let shift = |i: usize| pair["gears"][i]["profile_shift"].as_f64().unwrap();
    let given = format!("{},{}", shift(0), shift(1));
    let again = json(&["--module", "1", "--teeth", "25,55", "--shift", &given]);
    near(&again["mesh"]["centre_distance_mm"], 40.35, 1e-8);
    // The mirrored pair is the mirrored result.
    let args = [
        "--module",
        "1",
        "--teeth",
        "55,25",
        "--centre-distance",
        "40.35",
    ];
    near(&json(&args)["gears"][1]["profile_shift"], shift(0), 1e-9);
}

#[test]
fn a_reverse_train_takes_the_shifts_nearest_to_none() {
    let args = [
        "--module",
        "1",
        "--teeth",
        "14,12,25",
        "--centre-distance",
        "24",
    ];
    let train = json(&args);
    // Row 2.10: ISO 21771 / DIN 3960 geometry, with the straight flank of the
    // standard fillet, 0.00003 short of 1.
    for (gear, shift) in [(0, 0.1812), (1, 0.2981), (2, 0.0)] {
        near(of(&train, gear, "profile_shift"), shift, 1e-4);
    }
    let meshes = train["meshes"].as_array().unwrap();
    let k = |gear: usize| of(&train, gear, "tip_shortening").as_f64().unwrap();
    assert!((k(1) - k(0).min(k(2))).abs() < 1e-9);
    let [one, other] = [0, 1].map(|i| meshes[i]["centre_distance_mm"].as_f64().unwrap());
    let at = &train["outer_shafts"]["idler_centres"][0];
    let (x, y) = (at["x_mm"].as_f64().unwrap(), at["y_mm"].as_f64().unwrap());
    assert!((x.hypot(y) - other).abs() < 1e-6);
    assert!((x.hypot(y + 24.0) - one).abs() < 1e-6);
}

#[test]
fn a_split_that_no_limit_allows_is_refused_by_name() {
    let args = [
        "gear",
        "--module",
        "1",
        "--teeth",
        "8,50",
        "--centre-distance",
        "28.2",
    ];
    let text = Run::of(&args).ends().with(1).stdout;
    assert!(text.contains("undercut asks for"), "{text}");
    let mut all = args.to_vec();
    all.extend(["--format", "json"]);
    let refused = Run::of(&all).ends().with(1).json();
    assert_eq!(refused["refused"]["limit"], "undercut");
    assert!(refused["closing"]["profile_shift_sum"].as_f64().unwrap() < -0.7);
}

#[test]
fn tips_are_turned_down_where_asked() {
    let args = [
        "--module",
        "3",
        "--teeth",
        "12,24",
        "--extra-tip-shortening",
    ];
    let pair = json(&args);
    let mesh = &pair["mesh"];
    assert!(mesh["first"]["root_margin_mm"].as_f64().unwrap() > -1e-9);
    assert!(of(&pair, 1, "tip_diameter_mm").as_f64().unwrap() < 77.9);
    let (nominal, real) = (&mesh["contact_ratio_nominal"], &mesh["contact_ratio"]);
    near(nominal, real.as_f64().unwrap(), 1e-9);
}

#[test]
fn nonsense_is_refused_with_what_to_give() {
    for (args, says) in [
        (&["--teeth", "25"][..], "--module: missing"),
        (
            &["--module", "0", "--teeth", "25"],
            "--module: 0; give 0.05 to 100",
        ),
        (&["--module", "nan", "--teeth", "25"], "--module: NaN"),
        (
            &["--module", "1", "--teeth", "2"],
            "a gear of 2 teeth; give 3 to 1000",
        ),
        (&["--module", "1", "--teeth", "20,20,20,20"], "4 gears"),
        (
            &["--module", "1", "--teeth", "20,30", "--shift", "1"],
            "1 figures for 2 gears",
        ),
        (
            &["--module", "1", "--teeth", "20", "--centre-distance", "30"],
            "one gear alone",
        ),
        (
            &[
                "--module",
                "1",
                "--teeth",
                "20,30",
                "--centre-distance",
                "-4",
            ],
            "--centre-distance",
        ),
        (
            &[
                "--module",
                "1",
                "--teeth",
                "20,30",
                "--centre-distance",
                "20",
            ],
            "base circles",
        ),
        (
            &["--module", "1", "--teeth", "20", "--helix", "80"],
            "--helix: 80; give 0 to 45",
        ),
        (
            &["--module", "1", "--teeth", "20", "--fillet", "0.6"],
            "the rack: a fillet of 0.6",
        ),
        (
            &["--module", "1", "--teeth", "20", "--dedendum", "0.9"],
            "leaves no clearance",
        ),
        (
            &["--module", "1", "--teeth", "20", "--pins", "0"],
            "--pins: 0",
        ),
        (
            &["--module", "1", "--teeth", "20", "--span-teeth", "21"],
            "--span-teeth: 21",
        ),
        (
            &["--module", "1", "--teeth", "20", "--backlash", "0.2,0.1"],
            "the least exceeds",
        ),
        (
            &["--module", "1", "--teeth", "20", "--shift", "9"],
            "profile shift",
        ),
        (
            &[
                "--module",
                "1",
                "--teeth",
                "20,30",
                "--shift-min",
                "1",
                "--shift-max",
                "0",
            ],
            "--shift-min: it exceeds",
        ),
    ] {
        let mut all = vec!["gear"];
        all.extend(args);
        let ended = Run::of(&all).ends().with(2);
        assert!(ended.stderr.contains(says), "{args:?}: {}", ended.stderr);
        assert!(ended.stdout.is_empty(), "{args:?}");
    }
}

#[test]
fn text_stays_within_eighty_columns() {
    for args in [
        &[
            "--module",
            "1",
            "--teeth",
            "25,55",
            "--centre-distance",
            "40.35",
        ][..],
        &[
            "--module",
            "12",
            "--teeth",
            "118,120,333",
            "--helix",
            "31",
            "--face-width",
            "90",
        ],
        &[
            "--module",
            "1",
            "--teeth",
            "8,50",
            "--centre-distance",
            "28.2",
        ],
        &["--diametral-pitch", "12", "--teeth", "9"],
    ] {
        let mut all = vec!["gear"];
        all.extend(args);
        let text = Run::of(&all).ends().stdout;
        let longest = text.lines().map(|line| line.chars().count()).max();
        assert!(longest <= Some(80), "{args:?}: {longest:?}");
    }
}

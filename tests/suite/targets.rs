//! Targets in a person's words: rpm, road speeds, spacing laws.

use super::front_door::Run;
use layshaft::problem::{Asked, Problem, RoadUnit, parse};
use layshaft::search::{Control, Request, solve};
use serde_json::Value;

/// A problem with these keys beside what every problem has.
fn text(keys: &str) -> String {
    format!(
        r#"{{ "arrangement": "offset", "centre_distance_mm": 60,
        "gears": {{ "modules_mm": [1], "min_teeth": 12, "max_teeth": 110, "face_width_mm": 8 }},
        {keys} }}"#
    )
}

fn problem(keys: &str) -> Problem {
    parse("targets", &text(keys)).unwrap_or_else(|faults| panic!("{}", faults.render(false)))
}

/// Targets as written, six decimals at most.
fn targets(keys: &str) -> Vec<String> {
    let problem = problem(keys);
    problem.geared().map(|g| g.target().to_string()).collect()
}

fn numbers(keys: &str) -> Vec<f64> {
    problem(keys)
        .geared()
        .map(|g| g.target().to_f64())
        .collect()
}

fn near(got: &[f64], expected: &[f64], within: f64) {
    assert_eq!(got.len(), expected.len(), "{got:?}");
    for (got, expected) in got.iter().zip(expected) {
        assert!((got - expected).abs() <= within, "{got} is not {expected}");
    }
}

/// Every fault of a problem with these keys: its key, what, next.
fn faults(keys: &str) -> Vec<String> {
    let faults = parse("targets", &text(keys)).expect_err("a bad file");
    let all = faults.list().iter();
    all.map(|f| format!("{}: {} ({})", f.key, f.what, f.next))
        .collect()
}

#[test]
fn output_rpm_is_input_rpm_divided_by_the_ratio() {
    let keys = r#""input_rpm": 2800, "speeds": [ { "output_rpm": 900 }, { "output_rpm": 3500 } ],
        "reverse": { "output_rpm": 600 }"#;
    let problem = problem(keys);
    assert_eq!(targets(keys), ["3.111111", "0.8"]);
    let reverse = problem.reverse().unwrap();
    // 4.6666666… is rounded half up, and that is the target.
    assert_eq!(reverse.target().to_string(), "4.666667");
    let Asked::OutputRpm { output, input } = reverse.asked() else {
        panic!("{reverse:?}");
    };
    assert_eq!(
        (output.to_string(), input.to_string()),
        ("600".into(), "2800".into())
    );
}

// Row 9.02; source: formula (recomputed): 5500 rpm, wheel 26 in, ratio 3.90
// overall: 109.08 mph within 0.01. Asked the other way round, by its speed.
#[test]
fn a_road_speed_in_mph_and_a_wheel_in_inches() {
    let ratio = |mph: &str| {
        numbers(&format!(
            r#""input_rpm": 5500, "vehicle": {{ "wheel_diameter_in": 26, "final_drive_ratio": 3.9 }},
            "speeds": [ {{ "road_speed_mph": {mph} }} ]"#
        ))[0]
    };
    assert!(ratio("109.07") > 1.0 && ratio("109.09") < 1.0);
    // Row 9.01; source: 63360/(60π): mph = rpm·D(in)/(336.1352·ratio), within
    // 1e-6 of the ratio.
    let constant = 63360.0 / (60.0 * std::f64::consts::PI);
    assert!((constant - 336.135_2).abs() < 5e-5);
    near(
        &[ratio("50")],
        &[5500.0 * 26.0 / (constant * 3.9 * 50.0)],
        1e-6,
    );
}

// Row 9.03; source: formula (recomputed): 6000 rpm, rolling circumference
// 1.95 m, ratio 2.521 overall: 278.46 km/h within 0.01.
#[test]
fn a_road_speed_in_kmh_and_a_rolling_circumference() {
    let ratio = |kmh: &str| {
        numbers(&format!(
            r#""input_rpm": 6000, "vehicle": {{ "rolling_circumference_mm": 1950,
            "final_drive_ratio": 2.521 }}, "speeds": [ {{ "road_speed_kmh": {kmh} }} ]"#
        ))[0]
    };
    assert!(ratio("278.45") > 1.0 && ratio("278.47") < 1.0);
    // Exactly 6000 · 60 · 1950 / (2.521 · 10⁶ · 30).
    near(&[ratio("30")], &[702.0 / (2.521 * 30.0)], 5e-7);
}

// Row 9.01; source: 60π/1000: km/h = 0.1884956·rpm·D(m)/ratio, within 1e-6.
#[test]
fn a_wheel_diameter_in_mm_rolls_pi_times_as_far() {
    let keys = |words: &str| {
        format!(
            r#""input_rpm": 2800, "vehicle": {{ "wheel_diameter_mm": 400, "final_drive_ratio": 5 }},
            "speeds": [ {{ {words} }} ]"#
        )
    };
    let got = numbers(&keys(r#""road_speed_kmh": 10"#));
    let constant = 60.0 * std::f64::consts::PI / 1000.0;
    assert!((constant - 0.188_495_6).abs() < 5e-8);
    near(&got, &[constant * 2800.0 * 0.4 / (5.0 * 10.0)], 1e-6);
    // A mile is 1.609344 km exactly, so the two spellings are one target.
    let mph = keys(r#""road_speed_mph": 10"#);
    assert_eq!(
        targets(&mph),
        targets(&keys(r#""road_speed_kmh": 16.09344"#))
    );
    let asked = problem(&mph)
        .geared()
        .next()
        .map(layshaft::problem::Geared::asked);
    assert!(
        matches!(
            asked,
            Some(Asked::RoadSpeed {
                unit: RoadUnit::Mph,
                ..
            })
        ),
        "{asked:?}"
    );
}

fn spaced(rest: &str) -> String {
    format!(r#""spacing": {{ {rest} }}"#)
}

// Row 9.09; source: a published question, and the rule; 6 speeds, 7:1 to 1:1:
// step 1.475773; 7, 4.7433, 3.2141, 2.1779, 1.4758, 1, within 1e-4.
// Row 9.10; source: none (recomputed): 5 speeds 3.6 to 0.8: step 1.456475; 3.6,
// 2.4717, 1.6971, 1.1652, 0.8, within 1e-4.
#[test]
fn the_geometric_law_has_even_steps() {
    let six = numbers(&spaced(
        r#""law": "geometric", "first": 7, "last": 1, "count": 6"#,
    ));
    near(&six, &[7.0, 4.7433, 3.2141, 2.1779, 1.4758, 1.0], 1e-4);
    near(&[six[0] / six[1]], &[1.475_773], 1e-6);
    let five = numbers(&spaced(
        r#""law": "geometric", "first": 3.6, "last": 0.8, "count": 5"#,
    ));
    near(&five, &[3.6, 2.4717, 1.6971, 1.1652, 0.8], 1e-4);
    near(&[five[0] / five[1]], &[1.456_475], 1e-6);
    // The engine's speed after each change up from 6000 rpm: 4119.5.
    near(&[6000.0 * five[1] / five[0]], &[4119.5], 0.05);
}

// Row 9.11; source: formula i_n = i_z φ1^(z−n) φ2^((z−n)(z−n−1)/2),
// Naunheimer/Lechner (from memory; figures recomputed): 5 speeds 3.6 to 0.8, φ2
// 1.1: φ1 1.26245; 3.6, 2.1424, 1.4025, 1.0100, 0.8; steps 1.6803 1.5276 1.3887
// 1.2624, within 1e-4. φ2 = 1 gives the geometric law.
#[test]
fn the_progressive_law_has_steps_that_shrink_evenly() {
    let law = r#""law": "progressive", "first": 3.6, "last": 0.8, "count": 5"#;
    let got = numbers(&spaced(&format!(r#"{law}, "factor": 1.1"#)));
    near(&got, &[3.6, 2.1424, 1.4025, 1.0100, 0.8], 1e-4);
    let steps: Vec<f64> = got.windows(2).map(|two| two[0] / two[1]).collect();
    near(&steps, &[1.6803, 1.5276, 1.3887, 1.2624], 1e-4);
    // Without a factor 1.1 is taken.
    assert_eq!(numbers(&spaced(law)), got);
    let even = targets(&spaced(&format!(r#"{law}, "factor": 1"#)));
    assert_eq!(
        even,
        targets(&spaced(&law.replace("progressive", "geometric")))
    );
}

// Row 9.13; source: HEV textbook p. 441, Eqs 10.20–10.23: arithmetic, equal ratio
// steps; harmonic, equal steps of road speed (1/R equally spaced): 3.6 to 0.8 in
// 5 speeds (recomputed): 3.6, 1.9200, 1.3091, 0.9931, 0.8.
#[test]
fn laws_of_equal_steps_in_ratio_and_in_speed() {
    let law = |law: &str| {
        targets(&spaced(&format!(
            r#""law": "{law}", "first": 3.6, "last": 0.8, "count": 5"#
        )))
    };
    assert_eq!(law("arithmetic"), ["3.6", "2.9", "2.2", "1.5", "0.8"]);
    assert_eq!(
        law("harmonic"),
        ["3.6", "1.92", "1.309091", "0.993103", "0.8"]
    );
}

// Row 1.17; source: lecture example (nine-speed machine-tool box): 180 to 1800
// rpm, step 10^(1/8) = 1.33352: 180, 240.03, 320.09, 426.85, 569.21, 759.05,
// 1012.2, 1349.8, 1800; preferred: R40, every 5th: 180 236 315 425 560 750 1000
// 1320 1800.
#[test]
fn nine_spindle_speeds_by_law_and_by_preferred_numbers() {
    let rpm: Vec<f64> = numbers(&spaced(
        r#""law": "geometric", "first": 10, "last": 1, "count": 9"#,
    ))
    .iter()
    .map(|ratio| 1800.0 / ratio)
    .collect();
    near(
        &rpm[..6],
        &[180.0, 240.03, 320.09, 426.85, 569.21, 759.05],
        0.005,
    );
    near(&rpm[6..], &[1012.2, 1349.8, 1800.0], 0.05);
    let fifths = |first: &str, last: &str| -> Vec<String> {
        let all = targets(&spaced(&format!(
            r#""law": "preferred", "series": "R40", "first": {first}, "last": {last}"#
        )));
        all.into_iter().step_by(5).collect()
    };
    assert_eq!(fifths("18", "5.6"), ["18", "13.2", "10", "7.5", "5.6"]);
    assert_eq!(fifths("5.6", "1.8"), ["5.6", "4.25", "3.15", "2.36", "1.8"]);
}

// Row 1.18; source: ISO 3: R10 list 1 1.25 1.6 2 2.5 3.15 4 5 6.3 8; exact
// steps R10 1.25893, R20 1.12202, R40 1.05925, R20/3 1.41254, within 1e-5.
#[test]
fn preferred_numbers_and_the_steps_they_round() {
    let law = |series: &str, ends: &str| {
        targets(&spaced(&format!(
            r#""law": "preferred", "series": "{series}", {ends}"#
        )))
    };
    let r10 = ["8", "6.3", "5", "4", "3.15", "2.5", "2", "1.6", "1.25", "1"];
    assert_eq!(law("R10", r#""first": 9.99, "last": 1, "count": 10"#), r10);
    assert_eq!(
        law("R20/3", r#""first": 3, "last": 0.7"#),
        ["2.8", "2", "1.4", "1", "0.71"]
    );
    // R20 unless another is named; from the first at most `first` on.
    let r20 = targets(&spaced(r#""law": "preferred", "first": 1.5, "last": 1"#));
    assert_eq!(r20, ["1.4", "1.25", "1.12", "1"]);
    // Over half a decade: 10^(1/2) = 3.162278.
    for (members, step) in [(6, 1.258_93), (11, 1.122_02), (21, 1.059_25)] {
        let exact = numbers(&spaced(&format!(
            r#""law": "geometric", "first": 3.162278, "last": 1, "count": {members}"#
        )));
        near(&[exact[members - 2]], &[step], 1e-5);
    }
}

// Row 1.20; source: none (recomputed): the R20/3 group 1, 1.4125, 1.9953, 2.8184
// on one sum, teeth at least 18: within 2 % sum 68 is the least, within 1 % 84.
#[test]
fn a_spaced_group_on_its_least_sum() {
    let least = |percent: u32| {
        let mut sums = 36..120;
        sums.find(|sum| {
            let text = format!(
                r#"{{ "arrangement": "offset", "centre_distance_mm": {}, "gears": {{ "modules_mm": [1],
                "min_teeth": 18, "max_teeth": 100, "face_width_mm": 8 }},
                "default_tolerance_percent": {percent}, "spacing": {{ "law": "geometric",
                "first": 2.818383, "last": 1, "count": 4 }} }}"#,
                f64::from(*sum) / 2.0
            );
            let problem = parse("sum", &text).unwrap();
            let targets: Vec<f64> = problem.geared().map(|g| g.target().to_f64()).collect();
            near(&targets, &[2.8184, 1.9953, 1.4125, 1.0], 5e-5);
            let request = Request { top: 0, trains: 0, threads: 1 };
            solve(&problem, request, &Control::default()).counts.sets != 0_u32.into()
        })
    };
    assert_eq!((least(2), least(1)), (Some(68), Some(84)));
}

#[test]
fn a_direct_speed_in_a_spacing_is_the_one_whose_ratio_is_1() {
    let keys = |direct: &str, arrangement: &str| {
        text(&spaced(&format!(
            r#""law": "geometric", "first": 4, "last": 0.5, "count": 4 {direct}"#
        )))
        .replace("offset", arrangement)
    };
    let names = |text: &str| -> Vec<(String, bool)> {
        let problem = parse("direct", text).unwrap();
        let all = problem.speeds().iter();
        all.map(|s| (s.name().to_owned(), s.geared().is_some()))
            .collect()
    };
    let named = |third: bool| {
        [("1", true), ("2", true), ("3", third), ("4", true)].map(|(n, g)| (n.to_owned(), g))
    };
    assert_eq!(names(&keys("", "in-line")), named(true));
    assert_eq!(names(&keys(r#", "direct": true"#, "in-line")), named(false));
    let offset = parse("direct", &keys(r#", "direct": true"#, "offset")).unwrap_err();
    assert_eq!(
        offset.list()[0].what,
        "offset shafts can't be locked together"
    );
}

#[test]
fn what_is_wrong_with_words_is_told_at_once() {
    let got = faults(
        r#""speeds": [ { "output_rpm": 900, "ratio": 3 }, { "road_speed_kmh": 30 }, { "name": "x" } ],
        "reverse": { "tolerance_percent": 5 }"#,
    );
    let expected = [
        "speeds[0].output_rpm: needs input_rpm, which is missing (add \"input_rpm\", the speed of the input shaft, at the top of the file)",
        "speeds[0].ratio: speeds[0].output_rpm is given already, and the two exclude each other (keep one of the two)",
        "speeds[1].road_speed_kmh: needs vehicle, which is missing (add \"vehicle\": { \"wheel_diameter_mm\": …, \"final_drive_ratio\": … } at the top of the file)",
        "speeds[2].ratio: missing (add the ratio wanted, an output_rpm or a road speed, or \"direct\": true)",
        "reverse: ratio, output_rpm, road_speed_kmh, road_speed_mph or teeth is missing (add one of them)",
    ];
    let sorted = |list: Vec<String>| {
        let mut list = list;
        list.sort();
        list
    };
    assert_eq!(sorted(got), sorted(expected.map(str::to_owned).to_vec()));
}

#[test]
fn one_thing_wrong_is_one_fault() {
    let laws = r#""law": "geometric", "first": 4, "last": 1"#;
    let preferred = r#""law": "preferred", "first": 4, "last": 1"#;
    let vehicle = r#""vehicle": { "wheel_diameter_mm": 400, "final_drive_ratio": 4 }"#;
    let words = r#""speeds": [ { "output_rpm": 900 }, { "output_rpm": 500 } ]"#;
    for (keys, expected) in [
        // A slip of the pen is not called missing as well.
        (
            format!(r#""inputrpm": 3000, {words}"#),
            "inputrpm: there is no such key (did you mean `input_rpm`?)",
        ),
        (
            format!(r#""input_rpm": 0, {words}"#),
            "input_rpm: 0 is too small (it must be above 0 and up to 1000000)",
        ),
        (
            r#""input_rpm": 1, "speeds": [ { "output_rpm": 1001 } ]"#.to_owned(),
            "speeds[0].output_rpm: the ratio for it is below 0.001 (correct it, or input_rpm)",
        ),
        (
            format!(
                r#""input_rpm": 30000, {vehicle}, "speeds": [ {{ "road_speed_mph": 0.001 }} ]"#
            ),
            "speeds[0].road_speed_mph: the ratio for it is above 1000 (correct it, or input_rpm, or vehicle)",
        ),
        (
            r#""input_rpm": 3000, "vehicle": { "final_drive_ratio": 4 },
            "speeds": [ { "road_speed_kmh": 30 } ]"#
                .to_owned(),
            "vehicle: wheel_diameter_mm or rolling_circumference_mm is missing (add one of the two)",
        ),
        (
            spaced(laws),
            "spacing.count: missing (add it: how many speeds)",
        ),
        (
            spaced(&format!(r#"{laws}, "count": 1"#)),
            "spacing.count: 1 is too small (it must be a whole number from 2 to 32)",
        ),
        (
            spaced(r#""law": "geometric", "first": 1, "last": 4, "count": 3"#),
            "spacing.last: it exceeds spacing.first (swap the two, or correct one)",
        ),
        (
            spaced(r#""law": "geometric", "first": 4, "last": 4, "count": 3"#),
            "spacing.last: the same as spacing.first: there is nothing between (make it smaller)",
        ),
        (
            spaced(&format!(r#"{laws}, "count": 3, "factor": 1.1"#)),
            "spacing.factor: the geometric law has none (remove this key, or set law to \"progressive\")",
        ),
        (
            spaced(&format!(r#"{laws}, "count": 3, "series": "R10""#)),
            "spacing.series: the geometric law has none (remove this key, or set law to \"preferred\")",
        ),
        (
            spaced(r#""law": "progressive", "first": 2, "last": 1, "count": 5, "factor": 1.5"#),
            "spacing.factor: speed 4 would not be faster than speed 3 (fewer speeds, ends further apart, or a factor nearer to 1)",
        ),
        (
            spaced(&format!(r#"{preferred}, "count": 12"#)),
            "spacing.count: R20 has 13 members from 4 to 1 (set it to 13 or leave it out, or move first or last)",
        ),
        (
            spaced(r#""law": "preferred", "first": 1.7, "last": 1.62, "series": "R10""#),
            "spacing: R10 has 0 members from 1.7 to 1.62 (move first and last apart, or take a finer series)",
        ),
        (
            spaced(r#""law": "preferred", "first": 100, "last": 1, "series": "R40""#),
            "spacing: R40 has 81 members from 100 to 1 (move first and last together, or take a coarser series; at most 32)",
        ),
        (
            format!(
                r#"{}, "speeds": [ {{ "ratio": 2 }} ]"#,
                spaced(&format!(r#"{laws}, "count": 3"#))
            ),
            "speeds: spacing is given already, and the two exclude each other (keep one of the two)",
        ),
    ] {
        assert_eq!(faults(&keys), [expected], "{keys}");
    }
    let direct = r#""law": "geometric", "first": 4, "last": 1.1, "count": 3, "direct": true"#;
    let in_line = text(&spaced(direct)).replace("offset", "in-line");
    assert_eq!(
        parse("direct", &in_line).unwrap_err().list()[0].to_string(),
        "3:89: spacing.direct: no speed has a ratio of exactly 1; the nearest is 1.1 (make first or last 1, or remove this key)"
    );
}

#[test]
fn a_direct_speed_may_be_asked_for_by_its_own_rpm_only() {
    let keys = |rpm: u32| {
        let keys = format!(
            r#""input_rpm": 2800, "speeds": [ {{ "output_rpm": 900 }},
            {{ "direct": true, "output_rpm": {rpm} }} ]"#
        );
        text(&keys).replace("offset", "in-line")
    };
    assert!(parse("direct", &keys(2800)).is_ok());
    let faults = parse("direct", &keys(2801)).unwrap_err();
    let fault = &faults.list()[0];
    assert_eq!(faults.list().len(), 1);
    assert_eq!(fault.key, "speeds[1].output_rpm");
    assert_eq!(fault.what, "a direct speed has a ratio of exactly 1");
}

/// The longest sums that a file can ask for are no way to keep a person waiting.
#[test]
fn the_longest_law_is_worked_out_in_a_second() {
    let keys = spaced(
        r#""law": "progressive", "first": 999.999999, "last": 0.001001, "count": 31,
        "factor": 1.000001"#,
    );
    let start = std::time::Instant::now();
    let got = numbers(&keys);
    assert!(start.elapsed().as_secs_f64() < 1.0, "{:?}", start.elapsed());
    assert_eq!(got.len(), 31);
    near(&[got[0], got[30]], &[999.999_999, 0.001_001], 1e-12);
}

/// The sample at the front door: a file in words, and `--with` on it.
struct Words {
    _folder: tempfile::TempDir,
    file: String,
}

impl Words {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("words.json").display().to_string();
        let keys = r#""input_rpm": 2700, "speeds": [
            { "name": "low", "output_rpm": 900 }, // as the old box
            { "name": "high", "ratio": 1.5 } ]"#;
        std::fs::write(&file, text(keys)).unwrap();
        Self {
            _folder: folder,
            file,
        }
    }

    fn solve(&self, args: &[&str]) -> super::front_door::Ended {
        Run::of(&[&["solve", &self.file], args].concat()).ends()
    }

    fn first(&self, args: &[&str]) -> Value {
        let run = self.solve(&[&["--format", "json", "--top", "1"], args].concat());
        let answer: Value = serde_json::from_str(&run.stdout).unwrap();
        answer["sets"][0].clone()
    }
}

#[test]
fn what_was_asked_stands_beside_the_ratio() {
    let words = Words::new();
    let text = words.solve(&[]).stdout;
    let low = text
        .lines()
        .find(|line| line.starts_with("  low "))
        .unwrap();
    assert!(low.contains("3.000  900 rpm"), "{low}");
    let set = words.first(&[]);
    let asked = |i: usize| set["speeds"][i]["asked"].to_string();
    assert_eq!(asked(0), r#"{"output_rpm":900.0,"input_rpm":2700.0}"#);
    assert_eq!(asked(1), r#"{"ratio":1.5}"#);
    assert_eq!(set["speeds"][0]["target"], 3.0);
}

#[test]
fn what_was_asked_stands_beside_what_comes_nearest() {
    let words = Words::new();
    let text = words.solve(&["--with", "speeds[0].output_rpm=100"]).stdout;
    let low = text.lines().find(|line| line.starts_with("  low "));
    assert!(low.unwrap().contains("27.000  100 rpm"), "{text}");
}

#[test]
fn words_can_be_tried_and_kept() {
    let words = Words::new();
    // In place of other words of the same speed, by the same words, and by
    // what all of them rest on.
    let with = words.first(&["--with", "speeds[1].output_rpm=1350"]);
    assert_eq!(with["speeds"][1]["target"], 2.0);
    let with = words.first(&["--with", "speeds[0].output_rpm=1000"]);
    assert_eq!(with["speeds"][0]["target"], 2.7);
    let with = words.first(&["--with", "input_rpm=1800"]);
    assert_eq!(with["speeds"][0]["target"], 2.0);
    let kept = words.solve(&["--with", "speeds[0].ratio=2.5", "--save"]);
    assert_eq!(kept.code, 0, "{}", kept.stderr);
    let text = std::fs::read_to_string(&words.file).unwrap();
    assert!(
        text.contains(r#"{ "name": "low", "ratio": 2.5 }, // as the old box"#),
        "{text}"
    );
}

#[test]
fn a_whole_spacing_can_be_tried() {
    let words = Words::new();
    let spacing = r#"spacing={"law":"preferred","first":2.8,"last":1,"series":"R20/3"}"#;
    let set = words.first(&["--with", "speeds=null", "--with", spacing]);
    let speeds = set["speeds"].as_array().unwrap();
    let targets: Vec<f64> = speeds
        .iter()
        .map(|s| s["target"].as_f64().unwrap())
        .collect();
    near(&targets, &[2.8, 2.0, 1.4, 1.0], 0.0);
    assert_eq!(
        speeds[0]["asked"].to_string(),
        r#"{"spacing":"preferred","series":"R20/3"}"#
    );
    // Evenness is the largest step over the smallest, of the ratios made.
    let made: Vec<f64> = speeds
        .iter()
        .map(|s| s["ratio"].as_f64().unwrap())
        .collect();
    let mut steps: Vec<f64> = made.windows(2).map(|two| two[0] / two[1]).collect();
    steps.sort_by(f64::total_cmp);
    near(
        &[set["step_evenness"].as_f64().unwrap()],
        &[steps[2] / steps[0]],
        1e-12,
    );
    let shown = format!(
        "steps {:.2} to {:.2}, evenness {:.2}",
        steps[0],
        steps[2],
        steps[2] / steps[0]
    );
    let text = words
        .solve(&["--with", "speeds=null", "--with", spacing])
        .stdout;
    assert!(text.contains(&shown), "{shown} in {text}");
}

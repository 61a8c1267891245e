//! `layshaft stock` as a person runs it: sums worked out again from its JSON.

use crate::front_door::Run;
use serde_json::Value;

/// Samples with sets.
const SAMPLES: [&str; 5] = [
    "shunter",
    "walking-tractor",
    "spindle-head",
    "orchard-cart",
    "odd-centres",
];

fn record(sample: &str, more: &[&str]) -> Value {
    let file = format!("problems/{sample}.json");
    let args = [&["stock", &file, "--format", "json"], more].concat();
    let ended = Run::of(&args).ends();
    assert_eq!(ended.code, 0, "{sample}: {}", ended.stderr);
    serde_json::from_str(&ended.stdout).unwrap()
}

fn figure(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-9
}

#[test]
fn lengths_cuts_and_what_is_left_make_the_bar() {
    for sample in SAMPLES {
        let record = record(sample, &[]);
        let (mut bars, mut money) = (0, 0.0);
        for bar in list(&record["bars"]) {
            let mut at = 0.0;
            let kerfs = list(&bar["kerfs_mm"]);
            assert_eq!(kerfs.len(), list(&bar["pieces"]).len());
            for (piece, kerf) in list(&bar["pieces"]).iter().zip(kerfs) {
                assert!(near(figure(&piece["from_mm"]), at), "{sample}");
                at = figure(&piece["to_mm"]) + figure(kerf);
            }
            let length = figure(&bar["length_mm"]);
            assert!(near(at + figure(&bar["left_mm"]), length), "{sample}");
            bars += 1;
            money += figure(&bar["price"]);
        }
        assert!(bars > 0);
        assert!(near(money, figure(&record["money"]["bars"])), "{sample}");
        assert_eq!(record["proved"]["money"], true, "{sample}");
    }
}

#[test]
fn every_part_is_cut_once_from_a_bar_that_does() {
    for sample in SAMPLES {
        let record = record(sample, &[]);
        let mut cut: Vec<(String, f64, f64)> = Vec::new();
        for bar in list(&record["bars"]) {
            for piece in list(&bar["pieces"]) {
                let length = figure(&piece["to_mm"]) - figure(&piece["from_mm"]);
                let name = piece["part"].as_str().unwrap().to_owned();
                cut.push((name, length, figure(&bar["diameter_mm"])));
            }
        }
        let mut parts = 0;
        for part in list(&record["parts"]) {
            for name in list(&part["names"]) {
                let name = name.as_str().unwrap();
                let is_it = |(of, length, diameter): &&(String, f64, f64)| {
                    of == name
                        && near(*length, figure(&part["cut_length_mm"]))
                        && *diameter >= figure(&part["least_bar_mm"])
                };
                assert_eq!(cut.iter().filter(is_it).count(), 1, "{sample}: {name}");
                parts += 1;
            }
        }
        assert_eq!(parts, cut.len(), "{sample}");
    }
}

#[test]
fn money_is_the_sum_of_bars_and_cutters() {
    for sample in SAMPLES {
        let record = record(sample, &[]);
        let money = &record["money"];
        let buy = list(&record["buy"]).iter();
        let bars: f64 = buy
            .map(|bar| figure(&bar["price"]) * figure(&bar["count"]))
            .sum();
        assert!(near(bars, figure(&money["bars"])), "{sample}");
        let needs = list(&record["cutters"]).iter();
        let singles = needs.filter(|need| need["in_set"] == false);
        let singles: f64 = singles.map(|need| figure(&need["price"])).sum();
        let sets = list(&record["cutter_sets"]).iter();
        let cutters = singles + sets.map(|set| figure(&set["price"])).sum::<f64>();
        assert!(near(cutters, figure(&money["cutters"])), "{sample}");
        assert!(near(bars + cutters, figure(&money["together"])), "{sample}");
        // Gears alone never need more than all parts together.
        assert!(figure(&money["gears_and_cutters"]) <= figure(&money["together"]) + 1e-9);
    }
}

#[test]
fn the_screen_answers_first_and_ends_with_what_is_next() {
    for sample in SAMPLES {
        let ended = Run::of(&["stock", &format!("problems/{sample}.json")]).ends();
        let first = ended.stdout.lines().next().unwrap();
        assert!(
            first.starts_with("Buy ") && first.ends_with("(proved)."),
            "{first}"
        );
        // A command is never broken, however long the file's name is.
        let mut text = ended
            .stdout
            .lines()
            .filter(|line| !line.contains("layshaft "));
        assert!(text.all(|line| line.chars().count() <= 80), "{sample}");
        assert!(
            ended
                .stdout
                .contains("Prices of bars and cutters are taken")
        );
        // The sentence may be set over two lines.
        let words: Vec<&str> = ended.stdout.split_whitespace().collect();
        assert!(words.join(" ").contains("Guard every turning gear."));
        assert!(ended.stdout.contains("  Next     layshaft stock"));
        assert!(ended.stdout.contains("Together"));
    }
}

#[test]
fn a_gear_that_no_bar_yields_is_named_with_the_largest_bar() {
    // The largest usual bar is 250 mm.
    let args = [
        "stock",
        "problems/shunter.json",
        "--with",
        "gears.face_width_mm=260",
    ];
    let ended = Run::of(&args).ends();
    assert_eq!(ended.code, 1, "{}", ended.stdout);
    assert!(
        ended
            .stderr
            .contains("the longest that is thick enough is 250 mm"),
        "{}",
        ended.stderr
    );
    assert!(ended.stderr.contains("Next     layshaft solve"));
}

#[test]
fn the_drawing_has_every_bar_and_is_as_wide_as_a_page() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("bars.svg");
    let record = record("shunter", &["--svg", file.to_str().unwrap()]);
    let drawing = std::fs::read_to_string(&file).unwrap();
    assert!(drawing.starts_with("<svg ") && drawing.contains("width=\"190mm\""));
    let bars = list(&record["bars"]);
    let pieces: usize = bars.iter().map(|bar| list(&bar["pieces"]).len()).sum();
    assert_eq!(drawing.matches("class=\"outline\"").count(), bars.len());
    assert_eq!(drawing.matches("class=\"fill\"").count(), pieces);
    // As a name for programs and above the strip.
    let headings = drawing.matches("steel, 250 mm, to buy").count();
    assert_eq!(headings, 2 * bars.len());
}

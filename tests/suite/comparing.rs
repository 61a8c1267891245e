//! `layshaft compare`: its figures against those of other verbs, its verdicts
//! against its figures.

use crate::front_door::Run;
use serde_json::Value;
use std::collections::BTreeSet;

const SAMPLES: [&str; 5] = [
    "shunter",
    "walking-tractor",
    "spindle-head",
    "orchard-cart",
    "odd-centres",
];

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap_or_else(|| panic!("{value}"))
}

fn figure(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

fn word(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value}"))
}

fn run(verb: &str, sample: &str, more: &[&str]) -> Run {
    let file = format!("problems/{sample}.json");
    Run::of(&[&[verb, &file], more].concat())
}

fn compared(sample: &str, more: &[&str]) -> Value {
    let args = [&["--format", "json"], more].concat();
    run("compare", sample, &args).ends().with(0).json()
}

/// What a listing says of a set and the set does not have of itself.
fn bare(set: &Value) -> Value {
    let mut set = set.clone();
    for key in ["rank", "exchange_of", "exchanged"] {
        set.as_object_mut().unwrap().remove(key);
    }
    set
}

#[test]
fn figures_are_those_of_other_verbs() {
    let mut seen = 0;
    for sample in SAMPLES {
        for set in list(&compared(sample, &[])["sets"]) {
            let mark = word(&set["mark"]);
            let named = ["--format", "json", "--set", mark];
            let solved = run("solve", sample, &named).ends().with(0).json();
            assert_eq!(bare(&solved["set"]), bare(&set["set"]), "{sample} {mark}");
            if !set["idler_clear_sides"].is_null() {
                let places = list(&solved["idler"]["places"]).iter();
                let clear: BTreeSet<_> = places.map(|place| word(&place["side"])).collect();
                let told = list(&set["idler_clear_sides"]).iter().map(word).collect();
                assert_eq!(clear, told, "{sample} {mark}");
            }
            let laid = run("layout", sample, &named).ends().json();
            assert_eq!(laid["layout"]["length_mm"], set["inside_length_mm"]);
            seen += 1;
        }
    }
    assert!(seen >= 10, "{seen}");
}

fn ratio(speed: &Value) -> f64 {
    figure(&speed["ratio"])
}

#[test]
fn what_stands_beside_a_set_follows_from_it() {
    for sample in SAMPLES {
        for set in list(&compared(sample, &[])["sets"]) {
            let own = &set["set"];
            let speeds = list(&own["speeds"]);
            let steps = list(&set["steps"]);
            assert_eq!(steps.len() + 1, speeds.len());
            for (two, step) in speeds.windows(2).zip(steps) {
                assert!((ratio(&two[0]) / ratio(&two[1]) - figure(step)).abs() < 1e-12);
            }
            let pairs = std::iter::once(&own["head"]).chain(speeds);
            let hunting = pairs.filter(|pair| pair["hunting_tooth"] == true).count();
            assert_eq!(set["hunting_pairs"], hunting);
            cutters_follow(set);
        }
    }
}

/// Every gear has its cutter once, and those to buy cost what is told.
fn cutters_follow(set: &Value) {
    let cutters = list(&set["cutters"]);
    assert_eq!(set["set"]["distinct_cutters"], cutters.len());
    for gear in list(&set["set"]["gears"]) {
        let cuts = |tool: &&Value| {
            list(&tool["cuts_teeth"]).contains(&gear["teeth"])
                && tool["module_mm"] == gear["module_mm"]
        };
        assert_eq!(cutters.iter().filter(cuts).count(), 1, "{gear}");
    }
    let spent: f64 = cutters.iter().map(|tool| figure(&tool["price"])).sum();
    assert!(list(&set["form_sets_module_mm"]).is_empty());
    assert!((spent - figure(&set["to_spend_on_cutters"])).abs() < 1e-9);
}

/// What a row is judged by, in units of the last digit shown, worked out from
/// its value.
fn units(key: &str, value: &Value) -> Option<i64> {
    let decimals = match key {
        "blank_volume_mm3" => -2,
        "distinct_blanks" | "hunting_pairs" => 0,
        _ => 2,
    };
    if let Some(list) = value.as_array() {
        return i64::try_from(list.len()).ok();
    }
    let scaled = value.as_f64()?.abs() * 10_f64.powi(decimals);
    format!("{:.0}", scaled.round()).parse().ok()
}

/// The sets that are best in a row, worked out anew.
fn best_of<'a>(row: &Value, marks: &[&'a str]) -> Vec<&'a str> {
    let key = word(&row["key"]);
    let values = list(&row["values"]).iter().map(|value| units(key, value));
    let values: Vec<_> = values.collect();
    let known = values.iter().copied().flatten();
    let best = match word(&row["better"]) {
        "less" => known.min(),
        "more" => known.max(),
        _ => None,
    };
    let of = marks.iter().zip(values);
    of.filter(|(_, value)| best.is_some() && *value == best)
        .map(|(mark, _)| *mark)
        .collect()
}

#[test]
fn winners_follow_from_the_figures() {
    let (mut alone, mut shared, mut level) = (0, 0, 0);
    let ten = ["--set", "1,2,3,4,5,6,7,8,9,10"];
    for (sample, more) in SAMPLES
        .iter()
        .flat_map(|sample| [(sample, &[][..]), (sample, &ten[..])])
    {
        let answer = compared(sample, more);
        let marks: Vec<&str> = list(&answer["sets"])
            .iter()
            .map(|s| word(&s["mark"]))
            .collect();
        for row in list(&answer["rows"]) {
            let told: Vec<&str> = list(&row["best"]).iter().map(word).collect();
            assert_eq!(told, best_of(row, &marks), "{sample} {row}");
            let key = &row["key"];
            for standing in list(&answer["standings"]) {
                let mark = word(&standing["mark"]);
                let stands = |list_key: &str| list(&standing[list_key]).contains(key);
                let is_best = told.contains(&mark);
                let judged = !told.is_empty();
                let all = told.len() == marks.len();
                assert_eq!(stands("level"), all, "{sample} {row}");
                assert_eq!(stands("best_alone"), is_best && told.len() == 1);
                assert_eq!(stands("best_shared"), is_best && told.len() > 1 && !all);
                assert_eq!(stands("behind"), judged && !is_best);
            }
            match told.len() {
                0 => {}
                1 => alone += 1,
                n if n == marks.len() => level += 1,
                _ => shared += 1,
            }
        }
    }
    assert!(
        alone > 10 && shared > 10 && level > 10,
        "{alone} {shared} {level}"
    );
}

#[test]
fn the_first_unbeaten_sets_are_compared_unasked() {
    for sample in ["shunter", "walking-tractor"] {
        let solved = run("solve", sample, &["--format", "json"]).ends().json();
        let front = list(&solved["front"]);
        let order = list(&solved["front_order"]).iter().take(3);
        let place = |place: &Value| usize::try_from(place.as_u64().unwrap()).unwrap();
        let first: Vec<&str> = order
            .map(|p| word(&front[place(p)]["set"]["mark"]))
            .collect();
        let answer = compared(sample, &[]);
        let marks: Vec<&str> = list(&answer["sets"])
            .iter()
            .map(|s| word(&s["mark"]))
            .collect();
        assert_eq!(marks, first, "{sample}");
    }
}

#[test]
fn the_screen_shows_what_the_file_holds_in_80_columns() {
    for sample in SAMPLES {
        for more in [&[][..], &["--set", "1,2,3,4,5,6,7,8"][..]] {
            let text = run("compare", sample, more).ends().with(0).stdout;
            let answer = compared(sample, more);
            for line in text.lines() {
                let is_command = line.contains("Pick it");
                assert!(is_command || line.chars().count() <= 80, "{line}");
            }
            let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for row in list(&answer["rows"]) {
                for shown in list(&row["shown"]) {
                    assert!(text.contains(word(shown)), "{sample} {row}");
                }
            }
            for sentence in list(&answer["summary"]) {
                assert!(one_line.contains(word(sentence)), "{sample} {sentence}");
            }
            let pick = format!("--pick {}\n", word(&answer["pick"]));
            assert!(text.ends_with(&pick), "{sample}");
        }
    }
}

#[test]
fn words_that_name_no_sets_are_refused_with_a_way_on() {
    for (words, said) in [
        ("1", "name 2 to 10"),
        ("1,1", "twice"),
        ("ZZZZ,1", "no set is marked ZZZZ"),
        ("1,99999999", "ranks go from 1"),
        ("1,?", "neither a rank nor a mark"),
        ("1,2,3,4,5,6,7,8,9,10,11", "10 at most"),
    ] {
        let ended = run("compare", "shunter", &["--set", words]).ends().with(2);
        assert!(ended.stderr.contains(said), "{words}: {}", ended.stderr);
        assert_eq!(ended.stdout, "");
    }
    let ended = run("compare", "impossible", &[]).ends().with(1);
    assert!(
        ended.stderr.contains("layshaft explain"),
        "{}",
        ended.stderr
    );
}

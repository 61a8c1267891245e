//! Gear sheets through the front door: figures worked out again, pages read
//! back, plates measured.

use crate::front_door::Run;
use layshaft::base::plain;
use layshaft::problem::{Problem, Shaft, parse};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;

const SAMPLES: [&str; 5] = [
    "shunter",
    "walking-tractor",
    "spindle-head",
    "orchard-cart",
    "odd-centres",
];

fn file(sample: &str) -> String {
    format!("problems/{sample}.json")
}

fn problem(sample: &str) -> Problem {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(file(sample));
    let text = std::fs::read_to_string(path).unwrap();
    parse(sample, &text).unwrap_or_else(|_| panic!("{sample} is sound"))
}

fn sheets(sample: &str) -> Value {
    let run = Run::of(&["sheets", &file(sample), "--format", "json"]);
    run.ends().with(0).json()
}

/// The first set by rank, with its inspection sheets.
fn solved(sample: &str) -> Value {
    let args = ["--inspect", "--format", "json"];
    Run::solve(sample, &args).ends().with(0).json()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn whole(value: &Value) -> u64 {
    value.as_u64().unwrap_or_else(|| panic!("{value}"))
}

fn mm(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value}"))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

fn names(page: &Value) -> impl Iterator<Item = &str> {
    list(page, "gears").iter().filter_map(Value::as_str)
}

/// The shaft that a gear's name begins with.
fn shaft_of(name: &str) -> Shaft {
    let own = |shaft: &Shaft| name.starts_with(shaft.word());
    Shaft::ALL.into_iter().find(own).unwrap()
}

#[test]
fn every_gear_has_its_page_with_the_figures_of_solve() {
    let mut bored = 0;
    for sample in SAMPLES {
        let (solved, sheets, problem) = (solved(sample), sheets(sample), problem(sample));
        let set = &list(&solved, "sets")[0];
        assert_eq!(sheets["set"], set["mark"], "{sample}");
        let mut seen = BTreeSet::new();
        for page in list(&sheets, "pages") {
            for name in names(page) {
                assert!(seen.insert(name.to_owned()), "{sample}: {name} twice");
                let gear = list(set, "gears").iter().find(|g| g["gear"] == name);
                let gear = gear.unwrap();
                for key in ["teeth", "module_mm", "pitch_mm"] {
                    assert_eq!(page[key], gear[key], "{sample} {name} {key}");
                }
                assert_eq!(page["cutter"]["kind"], gear["cutter"]["kind"]);
                for key in ["number", "from_teeth", "to_teeth"] {
                    assert_eq!(page["cutter"][key], gear["cutter"][key], "{name} {key}");
                }
                let outside = mm(&page["blank"]["outside_mm"]);
                assert!(near(outside, mm(&gear["blank_mm"])), "{sample} {name}");
                // Depth of full teeth by hand: from the blank to the root.
                let depth = &page["cutting"]["depth"];
                let root = mm(&gear["root_mm"]);
                let full = (outside - root) / 2.0;
                assert!((mm(&depth["full_mm"]) - full).abs() < 1e-3, "{name} {full}");
                let [full, least, most] =
                    ["full_mm", "least_mm", "most_mm"].map(|key| mm(&depth[key]));
                assert!(full < least && least < most, "{sample} {name} {depth}");
                let inspected = list(&solved["sheets"], "gears").iter();
                let inspected = inspected.clone().find(|sheet| sheet["gear"] == name);
                let inspected = inspected.unwrap();
                for key in ["cutting", "inspection", "thinning"] {
                    assert_eq!(page[key], inspected[key], "{sample} {name} {key}");
                }
                bored += u32::from(hole_is_right(&problem, name, &page["blank"]));
            }
        }
        let all = list(set, "gears")
            .iter()
            .map(|g| g["gear"].as_str().unwrap().to_owned());
        assert_eq!(seen, all.collect(), "{sample}");
    }
    assert!(bored >= 10, "{bored}");
}

/// Whether there is a hole; fails where it is not the one of the file.
fn hole_is_right(problem: &Problem, name: &str, blank: &Value) -> bool {
    let Some(bore) = problem.bores().on(shaft_of(name)) else {
        assert!(blank["hole"].is_null(), "{name}");
        return false;
    };
    let hole = &blank["hole"];
    let bore_mm = bore.diameter().mm() + 2.0 * bore.bush().mm();
    assert!(near(mm(&hole["bore_mm"]), bore_mm), "{name} {hole}");
    assert!(near(mm(&hole["shaft_mm"]), bore.diameter().mm()));
    assert!(near(mm(&hole["keyway_mm"]), bore.keyway().mm()));
    true
}

#[test]
fn pieces_leave_what_is_turned_off() {
    for sample in SAMPLES {
        let (sheets, problem) = (sheets(sample), problem(sample));
        let workshop = problem.workshop();
        let turning = workshop.allowances().turning().mm();
        let facing = workshop.allowances().facing().mm();
        for page in list(&sheets, "pages") {
            let blank = &page["blank"];
            let rough = mm(&blank["rough_diameter_mm"]);
            // Both are whole micrometres.
            assert!(near(rough, mm(&blank["outside_mm"]) + turning), "{blank}");
            let length = mm(&blank["length_mm"]);
            assert!(
                near(mm(&blank["rough_length_mm"]), length + 2.0 * facing),
                "{blank}"
            );
            let parts = mm(&blank["face_width_mm"]) + mm(&blank["dog_ring_mm"]);
            assert!(near(length, parts), "{blank}");
            let bars = workshop.bars().iter().map(|bar| bar.diameter().mm());
            let thinnest = bars
                .filter(|bar| *bar >= rough)
                .fold(f64::INFINITY, f64::min);
            assert!(near(mm(&blank["bar_mm"]), thinnest), "{blank}");
        }
    }
}

/// Whether whole turns and holes move 1/teeth of 40 turns, in whole numbers.
fn divides(teeth: u64, whole_turns: u64, holes: u64, circle: u64) -> bool {
    (whole_turns * circle + holes) * teeth == 40 * circle
}

#[test]
fn every_page_says_how_to_divide_and_it_is_exact() {
    let (mut simple, mut printed, mut compound) = (0, 0, 0);
    for sample in SAMPLES {
        for page in list(&sheets(sample), "pages") {
            let (teeth, way) = (whole(&page["teeth"]), &page["dividing"]);
            assert_eq!(whole(&way["count"]), teeth);
            for direct in list(way, "direct") {
                let (plate, moved) = (&direct["plate_holes"], &direct["move_holes"]);
                assert_eq!(whole(moved) * teeth, whole(plate));
            }
            let by_hand = !way["simple"].is_null();
            if by_hand {
                let turns = whole(&way["simple"]["whole_turns"]);
                let circles = list(&way["simple"], "circles");
                assert!(!circles.is_empty() || turns * teeth == 40, "{way}");
                for circle in circles {
                    let [holes, of] = ["move_holes", "circle_holes"].map(|key| whole(&circle[key]));
                    assert!(divides(teeth, turns, holes, of), "{teeth} {circle}");
                    simple += 1;
                }
            }
            let served = by_hand || !list(way, "direct").is_empty();
            assert_eq!(way["printed"].is_null(), served, "{way}");
            if let (false, way) = (served, &way["printed"]) {
                let [turns, holes, of] =
                    ["whole_turns", "move_holes", "circle_holes"].map(|key| whole(&way[key]));
                assert!(
                    of >= 15 && divides(teeth, turns, holes, of),
                    "{teeth} {way}"
                );
                assert!(mm(&page["dividing_errors"]["printed"]["arc_seconds"]) > 0.0);
                printed += 1;
            }
            compound += list(way, "compound").len();
            for way in list(way, "compound") {
                let [turns, a, ca, b, cb] = [
                    "whole_turns",
                    "crank_holes",
                    "crank_circle",
                    "plate_holes",
                    "plate_circle",
                ]
                .map(|key| whole(&way[key]));
                let on = (turns * ca + a) * cb;
                let moved = if way["back"] == true {
                    on - b * ca
                } else {
                    on + b * ca
                };
                assert_eq!(moved * teeth, 40 * ca * cb, "{way}");
            }
        }
    }
    assert!(simple > 20 && printed > 0, "{simple} {printed} {compound}");
}

/// Everything that tells one cutter from another.
fn named_cutter(cutter: &Value, module_mm: &Value) -> String {
    let keys = ["kind", "number", "from_teeth", "to_teeth", "state"];
    let words = keys.map(|key| cutter[key].to_string());
    format!("{module_mm} {}", words.join(" "))
}

#[test]
fn set_ups_take_every_gear_once_and_every_cutter_once() {
    for sample in SAMPLES {
        let sheets = sheets(sample);
        let mut wanted: Vec<String> = Vec::new();
        for page in list(&sheets, "pages") {
            let cutter = named_cutter(&page["cutter"], &page["module_mm"]);
            wanted.extend(names(page).map(|_| format!("{cutter} {}", page["teeth"])));
        }
        let mut cut: Vec<String> = Vec::new();
        for set_up in list(&sheets, "set_ups") {
            let cutter = named_cutter(set_up, &set_up["module_mm"]);
            for cuts in list(set_up, "cuts") {
                let line = format!("{cutter} {}", cuts["teeth"]);
                cut.extend((0..whole(&cuts["gears"])).map(|_| line.clone()));
            }
        }
        wanted.sort();
        cut.sort();
        assert_eq!(cut, wanted, "{sample}");
        // As many as solve counts: none is set up twice.
        let solved = solved(sample);
        let cutters = &list(&solved, "sets")[0]["distinct_cutters"];
        assert_eq!(
            list(&sheets, "set_ups").len() as u64,
            whole(cutters),
            "{sample}"
        );
    }
}

#[test]
fn gears_that_are_alike_share_a_page() {
    let mut shared = 0;
    for sample in SAMPLES {
        let sheets = sheets(sample);
        let pages = list(&sheets, "pages");
        for (place, page) in pages.iter().enumerate() {
            shared += u32::from(names(page).count() > 1);
            for other in &pages[place + 1..] {
                let same = |key: &str| page[key] == other[key];
                let keys = ["teeth", "module_mm", "blank", "cutting", "inspection"];
                assert!(!keys.into_iter().all(same), "{sample}: {page}");
            }
        }
    }
    assert!(shared > 0);
}

/// The rows of a table of Markdown.
fn rows(page: &str) -> Vec<Vec<&str>> {
    let rows = page.lines().filter(|line| line.starts_with("| "));
    rows.skip(1)
        .map(|row| row.trim_matches('|').split('|').map(str::trim).collect())
        .collect()
}

#[test]
fn markdown_says_what_json_says() {
    for sample in SAMPLES {
        let sheets = sheets(sample);
        let text = Run::of(&["sheets", &file(sample), "--format", "markdown"]);
        let text = text.ends().with(0).stdout;
        let parts: Vec<&str> = text.split("\n---\n").collect();
        let pages = list(&sheets, "pages");
        // What comes first, the pages, set-ups, cautions.
        assert_eq!(parts.len(), pages.len() + 3, "{sample}");
        for (part, page) in parts.iter().skip(1).zip(pages) {
            let title = part.trim_start().lines().next().unwrap();
            for name in names(page) {
                assert!(title.contains(name), "{title} {name}");
            }
            assert!(
                title.contains(&format!("{} teeth", page["teeth"])),
                "{title}"
            );
            let depth = &page["cutting"]["depth"];
            let [least, most] = ["least_mm", "most_mm"].map(|key| plain(mm(&depth[key]), 3));
            assert!(part.contains(&format!("{least} to {most} mm")), "{part}");
            let rows = rows(part);
            assert!(rows.iter().all(|row| row[3] == "`[        ]`"), "{rows:?}");
            let measures = &page["inspection"];
            for (way, size) in [
                ("span", &measures["span"]["size"]),
                ("over_pins", &measures["over_pins"]["size"]),
                ("chord", &measures["chord"]["thickness"]),
            ] {
                if measures[way].is_null() {
                    continue;
                }
                let [least, most] =
                    ["smallest_mm", "largest_mm"].map(|key| plain(mm(&size[key]), 3));
                let found = rows.iter().any(|row| row[1] == least && row[2] == most);
                assert!(found, "{way} {least} {most} {rows:?}");
            }
        }
        let cautions = sheets["cautions"].as_str().unwrap();
        assert!(parts[parts.len() - 1].contains(cautions));
        let rated = pages.iter().any(|page| !page["least_safety"].is_null());
        let unrated = cautions.starts_with("Nothing here is rated for strength.");
        assert_eq!(rated, !unrated, "{sample}");
    }
}

/// The figure behind a word of a line: `r="1.5000"`.
fn figure(line: &str, word: &str) -> f64 {
    let from = line.split_once(&format!(" {word}=\"")).unwrap().1;
    let text = from.split('"').next().unwrap();
    text.trim_end_matches("mm").parse().unwrap()
}

#[test]
fn plates_are_drawn_at_full_size() {
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("new");
    let sheets = sheets("orchard-cart");
    let args = [
        "sheets",
        "problems/orchard-cart.json",
        "--plates",
        to.to_str().unwrap(),
    ];
    let ended = Run::of(&args).ends().with(0);
    let plates = list(&sheets, "plates");
    assert!(!plates.is_empty());
    for plate in plates {
        let name = plate["file"].as_str().unwrap();
        assert!(ended.stderr.contains(name), "{}", ended.stderr);
        let svg = std::fs::read_to_string(to.join(name)).unwrap();
        let top = svg.lines().next().unwrap();
        let view = top
            .split_once("viewBox=\"")
            .unwrap()
            .1
            .split('"')
            .next()
            .unwrap();
        let view: Vec<f64> = view.split(' ').map(|side| side.parse().unwrap()).collect();
        assert!(near(figure(top, "width"), view[2]) && near(figure(top, "height"), view[3]));
        let drawing = &plate["drawing"];
        let (count, radius) = (whole(&drawing["circle_holes"]), mm(&drawing["radius_mm"]));
        let pin = mm(&drawing["pin_hole_mm"]);
        let holes: Vec<(f64, f64)> = svg
            .lines()
            .filter(|line| line.starts_with("<circle") && near(figure(line, "r"), pin / 2.0))
            .map(|line| (figure(line, "cx"), figure(line, "cy")))
            .collect();
        assert_eq!(holes.len() as u64, count);
        // All at one radius, neighbours one chord apart, and holes do not touch.
        let chord =
            2.0 * radius * (std::f64::consts::PI / f64::from(u32::try_from(count).unwrap())).sin();
        assert!(chord > pin + 1.0, "{chord}");
        for (place, (x, y)) in holes.iter().enumerate() {
            assert!((x.hypot(*y) - radius).abs() < 2e-4, "{x} {y}");
            let (next_x, next_y) = holes[(place + 1) % holes.len()];
            assert!(((next_x - x).hypot(next_y - y) - chord).abs() < 3e-4);
        }
        let mut after = svg
            .lines()
            .skip_while(|line| !line.contains("\"scale bar\""));
        let bar = after.nth(1).unwrap();
        assert!(near(figure(bar, "x2") - figure(bar, "x1"), 50.0), "{bar}");
        assert!(svg.contains("50 mm: measure it before drilling"));
    }
}

#[test]
fn one_page_is_found_by_name_or_number() {
    let of = |word: &str| Run::of(&["sheets", "problems/shunter.json", "--gear", word]).ends();
    let (named, numbered) = (of("Layshaft, Head").with(0), of("2").with(0));
    assert_eq!(named.stdout, numbered.stdout);
    assert!(
        named.stdout.starts_with("Page 2 of set "),
        "{}",
        named.stdout
    );
    assert!(!named.stdout.contains("layshaft, 1: "), "{}", named.stdout);
    for wrong in ["0", "10", "third"] {
        let ended = of(wrong).with(2);
        assert!(
            ended.stderr.contains("\"layshaft, head\""),
            "{}",
            ended.stderr
        );
    }
}

#[test]
fn pages_read_well_and_nothing_fits_is_an_answer() {
    for sample in SAMPLES {
        let text = Run::of(&["sheets", &file(sample)]).ends().with(0).stdout;
        let wide = text.lines().find(|line| line.chars().count() > 80);
        assert_eq!(wide, None, "{sample}");
        assert!(text.contains("[        ]") && text.contains("  Next     layshaft "));
        assert!(text.contains("licensed engineer's check"));
    }
    let ended = Run::of(&["sheets", "problems/impossible.json"])
        .ends()
        .with(1);
    assert!(
        ended.stderr.contains("layshaft explain"),
        "{}",
        ended.stderr
    );
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("pages.md");
    let to = to.to_str().unwrap();
    let args = ["sheets", "problems/shunter.json", "--format", "markdown"];
    let told = Run::of(&args).ends().with(0).stdout;
    Run::of(&[&args[..], &["--output", to]].concat())
        .ends()
        .with(0);
    assert_eq!(std::fs::read_to_string(to).unwrap(), told);
}

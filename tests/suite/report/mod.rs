//! `layshaft report`: the file, and that every figure in it is the program's own.

mod browser;
mod record;

use crate::front_door::{Run, copy_of};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use flate2::read::DeflateDecoder;
use layshaft::export::{Answer, Packed, ReportSource, report_record};
use layshaft::problem::read;
use layshaft::search::{Control, Request, solve};
use layshaft::train::Set;
use serde_json::Value;
use std::fs;
use std::io::Read;
use std::path::Path;

/// The record inside a page, its sets in columns.
fn packed(page: &Path) -> Value {
    let text = fs::read_to_string(page).unwrap();
    let (_, rest) = text.split_once("id=\"record\">").unwrap();
    let (letters, _) = rest.split_once('<').unwrap();
    let bytes = STANDARD.decode(letters.trim()).unwrap();
    let mut json = String::new();
    DeflateDecoder::new(&bytes[..])
        .read_to_string(&mut json)
        .unwrap();
    serde_json::from_str(&json).unwrap()
}

#[test]
fn the_page_stands_beside_the_problem_and_replaces_only_itself() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("orchard-cart", folder.path());
    let page = file.with_extension("html");
    let report = |flags: &[&str]| {
        Run::of(&[&["report", file.to_str().unwrap(), "--sets", "3"], flags].concat()).ends()
    };
    let told = report(&[]).with(0);
    assert!(
        told.stdout.is_empty() && told.stderr.contains("3 sets"),
        "{}",
        told.stderr
    );
    let first = fs::read(&page).unwrap();
    report(&["--threads", "1"]).with(0);
    assert_eq!(
        fs::read(&page).unwrap(),
        first,
        "the same problem, the same bytes"
    );

    fs::write(&page, "<p>the grocer's list</p>").unwrap();
    let refused = report(&[]).with(2);
    assert!(
        refused.stderr.contains("name another file with -o"),
        "{}",
        refused.stderr
    );
    assert_eq!(fs::read(&page).unwrap(), b"<p>the grocer's list</p>");
    let other = folder.path().join("other.html");
    report(&["-o", other.to_str().unwrap()]).with(0);
    assert_eq!(fs::read(&other).unwrap(), first);
    // Nor over what it was made from.
    let own = report(&["-o", file.to_str().unwrap()]).with(2);
    assert!(own.stderr.contains("would be lost"), "{}", own.stderr);
}

#[test]
fn nothing_to_report_is_an_answer() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("impossible", folder.path());
    let told = Run::of(&["report", file.to_str().unwrap()]).ends().with(1);
    assert!(told.stderr.contains("layshaft explain"), "{}", told.stderr);
    assert!(!file.with_extension("html").exists());
}

/// Stopped at once, a search still has the bounds that hold without it.
#[test]
fn a_stopped_search_is_reported_as_one() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("large", folder.path());
    let told = Run::of(&["report", file.to_str().unwrap(), "--time-limit", "0.001"]);
    let told = told.ends().with(4);
    assert!(
        told.stderr.contains("stopped at its limit"),
        "{}",
        told.stderr
    );
    let record = packed(&file.with_extension("html"));
    assert_eq!(record["solve"]["status"], "stopped");
    assert!(record["solve"]["bounds"]["distinct_cutters"].as_u64() >= Some(1));
}

#[test]
fn what_is_no_sweep_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("orchard-cart", folder.path());
    let told = Run::of(&[
        "report",
        file.to_str().unwrap(),
        "--sweep",
        file.to_str().unwrap(),
    ]);
    let told = told.ends().with(2);
    assert!(told.stderr.contains("no sweep"), "{}", told.stderr);
}

#[test]
fn every_script_of_the_folder_is_in_the_page() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("orchard-cart", folder.path());
    Run::of(&["report", file.to_str().unwrap(), "--sets", "1"])
        .ends()
        .with(0);
    let page = fs::read_to_string(file.with_extension("html")).unwrap();
    let parts = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/export/report/page");
    let mut seen = 0;
    for part in fs::read_dir(parts).unwrap() {
        let part = part.unwrap().path();
        if part
            .extension()
            .is_some_and(|end| end == "js" || end == "css")
        {
            assert!(
                page.contains(&fs::read_to_string(&part).unwrap()),
                "{}",
                part.display()
            );
            seen += 1;
        }
    }
    assert!(seen > 5, "{seen}");
    // It needs nothing but itself.
    for fetch in ["src=", "@import", "url(http", "<link", "fetch("] {
        assert!(!page.contains(fetch), "{fetch}");
    }
}

/// The record of a sample: `before` is done to its control first, `meanwhile` while
/// it is made.
fn made(before: fn(&Control), meanwhile: fn(&Control)) -> Option<Packed> {
    let folder = tempfile::tempdir().unwrap();
    let (source, problem) = read(&copy_of("orchard-cart", folder.path())).unwrap();
    let control = Control::default();
    let request = Request {
        top: 2,
        trains: 0,
        threads: 1,
    };
    let outcome = solve(&problem, request, &control);
    let answer = Answer::new(&problem, &outcome, 2);
    let sets: Vec<&Set> = outcome.sets.iter().collect();
    let source = ReportSource {
        file: "orchard-cart.json",
        text: source.text(),
        command: "layshaft report orchard-cart.json",
        sweep: None,
    };
    before(&control);
    let field = || {
        meanwhile(&control);
        None
    };
    report_record(&answer, (sets[0], &sets), field, &source, &control).unwrap()
}

/// Whoever stops the search still has the page of what it found.
#[test]
fn a_page_that_is_stopped_is_not_written() {
    let nothing: fn(&Control) = |_| ();
    assert!(made(nothing, nothing).is_some());
    assert!(made(Control::interrupt, nothing).is_some());
    assert!(made(nothing, Control::interrupt).is_none());
}

/// Two hundred sets with everything about each; in release mode.
#[test]
#[ignore = "a time limit: alone, optimised"]
fn two_hundred_sets_take_half_a_second_and_two_megabytes() {
    for sample in [
        "odd-centres",
        "orchard-cart",
        "shunter",
        "spindle-head",
        "walking-tractor",
    ] {
        let seconds = small_page(sample);
        println!("{sample}: {seconds:.3} s");
        assert!(seconds < 0.5, "{sample}: {seconds:.3} s");
    }
    // Six speeds: more to tell of each set.
    let seconds = small_page("large");
    println!("large: {seconds:.3} s");
    assert!(seconds < 1.0, "{seconds:.3} s");
}

/// The time that the page of a sample takes, s.
fn small_page(sample: &str) -> f64 {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of(sample, folder.path());
    let report = || {
        let start = std::time::Instant::now();
        Run::of(&["report", file.to_str().unwrap(), "--sets", "200", "--quiet"])
            .ends()
            .with(0);
        start.elapsed().as_secs_f64()
    };
    let fastest = (0..5).map(|_| report()).fold(f64::INFINITY, f64::min);
    let page = file.with_extension("html");
    let bytes = fs::metadata(&page).unwrap().len();
    let marks = packed(&page)["row_marks"].as_array().unwrap().len();
    assert_eq!(marks, 200, "{sample}");
    assert!(bytes < 2_000_000, "{sample}: {bytes} bytes");
    fastest
}

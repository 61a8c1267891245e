//! `layshaft draw` as a person has it.

use crate::front_door::{Run, copy_of};
use std::collections::BTreeSet;
use std::path::Path;

fn draw(args: &[&str]) -> Run {
    Run::of(&[&["draw"], args].concat())
}

fn names(folder: &Path) -> BTreeSet<String> {
    let files = std::fs::read_dir(folder).unwrap();
    let name = |file: std::io::Result<std::fs::DirEntry>| file.unwrap().file_name().into_string();
    files.map(|file| name(file).unwrap()).collect()
}

#[test]
fn a_folder_takes_everything_and_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let into = folder.path().join("new");
    let to = into.to_str().unwrap();
    let ended = draw(&["problems/shunter.json", "--into", to])
        .ends()
        .with(0);
    assert!(ended.stdout.is_empty(), "{}", ended.stdout);
    let names = names(&into);
    for name in [
        "end-view.svg",
        "section.dxf",
        "boring-input.dxf",
        "boring-output.svg",
        "gear-layshaft-1.svg",
        "gear-idler.3mf",
        "set-in-place.stl",
        "set-in-place.3mf",
    ] {
        assert!(names.contains(name), "{name} of {names:?}");
        let (stem, ending) = name.split_once('.').unwrap();
        let mut lines = ended.stderr.lines();
        let line = lines.find(|line| line.split_whitespace().next() == Some(stem));
        assert!(
            line.is_some_and(|line| line.contains(ending)),
            "{}",
            ended.stderr
        );
    }
    let count = format!("Wrote {} files", names.len());
    assert!(ended.stderr.starts_with(&count), "{}", ended.stderr);
    assert!(
        ended.stderr.contains("turning by hand only"),
        "{}",
        ended.stderr
    );
    assert!(ended.stderr.contains("measure the bar"), "{}", ended.stderr);
}

#[test]
fn a_hole_as_wide_as_the_roots_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().to_str().unwrap();
    let wide = "bores={\"layshaft\":{\"bore_mm\":34}}";
    let gears = ["problems/shunter.json", "--what", "gear", "--with", wide];
    let bodies = [&gears[..], &["--format", "stl", "--into", to]].concat();
    let said = draw(&bodies).ends().with(0).stderr;
    assert!(
        said.starts_with("The hole goes as far out as the roots: layshaft"),
        "{said}"
    );
    // Drawings have the hole as it is.
    let flat = [&gears[..], &["--format", "svg", "--into", to]].concat();
    let said = draw(&flat).ends().with(0).stderr;
    assert!(!said.contains("as far out as the roots"), "{said}");
}

#[test]
fn a_file_takes_one_by_its_ending() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let problem = "problems/shunter.json";
    draw(&[problem, "--output", &at("a.svg"), "--state", "Reverse"])
        .ends()
        .with(0);
    let text = std::fs::read_to_string(at("a.svg")).unwrap();
    assert!(text.contains("End view") && text.contains("data-of=\"idler\""));
    draw(&[problem, "--gear", "Main, 1", "--output", &at("b.dxf")])
        .ends()
        .with(0);
    let text = std::fs::read_to_string(at("b.dxf")).unwrap();
    assert!(text.contains("main, 1: "), "{text:.300}");
    draw(&[problem, "--output", &at("c.stl")]).ends().with(0);
    assert!(std::fs::metadata(at("c.stl")).unwrap().len() > 500_000);
    let ended = draw(&[problem, "--output", &at("d.pdf")]).ends().with(2);
    assert!(
        ended.stderr.contains(".svg, .dxf, .stl or .3mf"),
        "{}",
        ended.stderr
    );
    let ended = draw(&[problem, "--what", "boring", "--output", &at("e.svg")])
        .ends()
        .with(2);
    assert!(
        ended.stderr.contains("boring-input, boring-output"),
        "{}",
        ended.stderr
    );
    let ended = draw(&[problem, "--what", "end", "--output", &at("f.stl")])
        .ends()
        .with(2);
    assert!(ended.stderr.contains("say svg or dxf"), "{}", ended.stderr);
    assert_eq!(names(folder.path()).len(), 3);
}

#[test]
fn what_is_not_there_is_told_with_what_is() {
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("x.svg").to_str().unwrap().to_owned();
    let problem = "problems/shunter.json";
    let said = |args: &[&str]| {
        let args = [&[problem, "--output", &to], args].concat();
        draw(&args).ends().with(2).stderr
    };
    let told = said(&["--gear", "layshaft, 7"]);
    assert!(
        told.contains("\"layshaft, 1\"") && told.contains("\"idler\""),
        "{told}"
    );
    let told = said(&["--state", "overdrive"]);
    assert!(told.contains("say neutral, 1, 2, 3, reverse"), "{told}");
    let told = said(&["--allow", "3"]);
    assert!(told.contains("0 to 1 mm"), "{told}");
    assert!(draw(&[problem]).ends().with(2).stderr.contains("--into"));
    assert!(names(folder.path()).is_empty());
    let impossible = draw(&["problems/impossible.json", "--output", &to])
        .ends()
        .with(1);
    assert!(
        impossible.stderr.contains("explain"),
        "{}",
        impossible.stderr
    );
}

#[test]
fn what_is_read_is_never_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("shunter", folder.path());
    // A problem file may be called anything.
    let named = folder.path().join("end-view.svg");
    std::fs::rename(file, &named).unwrap();
    let before = std::fs::read(&named).unwrap();
    let problem = named.to_str().unwrap();
    let folder = folder.path().to_str().unwrap();
    draw(&[problem, "--output", problem]).ends().with(2);
    draw(&[problem, "--into", folder]).ends().with(2);
    assert_eq!(std::fs::read(&named).unwrap(), before);
}

#[test]
fn what_cannot_be_laid_out_is_left_out_and_told() {
    let folder = tempfile::tempdir().unwrap();
    // Dog rings far over the roots of every gear.
    let wide = [
        "problems/shunter.json",
        "--with",
        "layout.dog_ring_outside_mm=200",
    ];
    let into = folder.path().to_str().unwrap();
    let ended = draw(&[&wide[..], &["--into", into]].concat())
        .ends()
        .with(0);
    assert!(ended.stderr.contains("layshaft layout"), "{}", ended.stderr);
    let names = names(folder.path());
    assert!(
        names.contains("end-view.svg") && names.contains("gear-idler.stl"),
        "{names:?}"
    );
    assert!(
        !names
            .iter()
            .any(|n| n.starts_with("section") || n.starts_with("set")),
        "{names:?}"
    );
    let to = folder.path().join("section.svg");
    let args = ["--what", "section", "--output", to.to_str().unwrap()];
    draw(&[&wide[..], &args].concat()).ends().with(1);
    assert!(!to.exists());
}

/// Where the idler's pin is bored in a boring plan's table.
fn pin_x(file: &Path) -> f64 {
    let text = std::fs::read_to_string(file).unwrap();
    let about = text.split_once("idler pin at ").unwrap().1;
    about.split(',').next().unwrap().parse().unwrap()
}

#[test]
fn the_idler_may_be_on_either_side() {
    let folder = tempfile::tempdir().unwrap();
    let place = |side: &str, face: &str| {
        let file = folder.path().join(format!("{side}-{face}.svg"));
        let (what, to) = (format!("boring-{face}"), file.to_str().unwrap());
        let args = ["problems/walking-tractor.json", "--side", side, "--what"];
        let args = [&args[..], &[&what, "--output", to]].concat();
        draw(&args).ends().with(0);
        pin_x(&file)
    };
    // Seen from the output end left and right change places.
    let (left, right) = (place("left", "output"), place("right", "output"));
    assert!(left > 1.0 && (left + right).abs() < 1e-9, "{left} {right}");
    let to = folder.path().join("x.svg");
    let args = ["problems/spindle-head.json", "--side", "left", "--output"];
    let ended = draw(&[&args[..], &[to.to_str().unwrap()]].concat())
        .ends()
        .with(2);
    assert!(ended.stderr.contains("no reverse"), "{}", ended.stderr);
}

#[test]
fn the_same_set_gives_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let of = |name: &str| {
        let into = folder.path().join(name);
        draw(&[
            "problems/walking-tractor.json",
            "--into",
            into.to_str().unwrap(),
        ])
        .ends()
        .with(0);
        into
    };
    let (one, other) = (of("one"), of("other"));
    let all = names(&one);
    assert_eq!(all, names(&other));
    assert!(all.contains("plate-61-teeth.dxf"), "{all:?}");
    for name in &all {
        let read = |at: &Path| std::fs::read(at.join(name)).unwrap();
        assert!(read(&one) == read(&other), "{name}");
    }
}

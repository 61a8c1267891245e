//! Bad problem files and the exact words they get.
//!
//! `rejects/NAME.json` is the file, `rejects/NAME.txt` what is said of it. With
//! `LAYSHAFT_WRITE_REJECTS` set the texts are written anew; read the
//! difference before keeping it.

use layshaft::problem::{Faults, parse, read};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/rejects")
}

/// The bad files, by name.
pub(crate) fn files() -> Vec<PathBuf> {
    let entries = fs::read_dir(folder()).expect("the folder is there");
    let mut files: Vec<PathBuf> = entries
        .map(|entry| entry.expect("a file").path())
        .filter(|path| path.extension().is_some_and(|end| end == "json"))
        .collect();
    files.sort();
    files
}

/// What is said of a file, without the folder's name in it.
fn said(path: &Path) -> String {
    let start = Instant::now();
    let faults = read(path).expect_err(&path.display().to_string());
    let text = faults.to_string();
    assert!(
        start.elapsed() < Duration::from_secs(1),
        "{}",
        path.display()
    );
    text.replace(&format!("{}/", folder().display()), "")
}

#[test]
fn each_bad_file_gets_its_exact_words() {
    let write = std::env::var_os("LAYSHAFT_WRITE_REJECTS").is_some();
    let files = files();
    assert!(files.len() > 50);
    for path in files {
        let expected = path.with_extension("txt");
        let got = said(&path);
        if write {
            fs::write(&expected, &got).unwrap();
        }
        let expected = fs::read_to_string(&expected).unwrap();
        assert_eq!(got, expected, "{}", path.display());
    }
}

#[test]
fn no_line_is_wider_than_80_columns() {
    for path in files() {
        for line in said(&path).lines() {
            assert!(line.chars().count() <= 80, "{}: {line}", path.display());
        }
    }
}

#[test]
fn colour_changes_no_word() {
    for path in files() {
        let faults = read(&path).unwrap_err();
        let coloured = anstream::adapter::strip_str(&faults.render(true)).to_string();
        assert_eq!(coloured, faults.render(false), "{}", path.display());
    }
}

/// The faults of a text, found within a second.
fn refused(text: &str) -> Faults {
    let start = Instant::now();
    let faults = parse("box.json", text).expect_err("a bad file");
    let printed = faults.to_string();
    assert!(
        start.elapsed() < Duration::from_secs(1),
        "{:?}",
        start.elapsed()
    );
    assert!(printed.len() < 40_000, "{} bytes printed", printed.len());
    faults
}

fn only(text: &str) -> String {
    let faults = refused(text);
    assert_eq!(faults.list().len(), 1, "{faults}");
    faults.list()[0].to_string()
}

/// A sound problem with one stretch of text in place of another.
fn with(old: &str, new: &str) -> String {
    let sound = r#"{
  "centre_distance_mm": 40,
  "gears": { "modules_mm": [1], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8 },
  "speeds": [{ "ratio": 2 }]
}"#;
    assert!(parse("box.json", sound).is_ok() && sound.contains(old));
    sound.replace(old, new)
}

#[test]
fn nesting_bombs_are_refused_before_they_are_parsed() {
    let words = "nested more than 32 levels deep (a problem needs four levels; look for a bracket too many)";
    let bomb = "[".repeat(1 << 20);
    assert_eq!(only(&bomb), format!("1:33: {words}"));
    let bomb = "{\"a\":".repeat(200_000);
    assert_eq!(only(&bomb), format!("1:161: {words}"));
    let quoted = with(
        "\"speeds\"",
        &format!("\"title\": \"{}\", \"speeds\"", "[".repeat(99)),
    );
    assert!(parse("box.json", &quoted).is_ok());
    let commented = with("\"speeds\"", &format!("// {}\n\"speeds\"", "{".repeat(99)));
    assert!(parse("box.json", &commented).is_ok());
}

#[test]
fn long_lists_are_told_by_their_count_alone() {
    let speeds = vec!["{}"; 100_000].join(",");
    let text = with("[{ \"ratio\": 2 }]", &format!("[{speeds}]"));
    assert_eq!(
        only(&text),
        "4:3: speeds: the list has 100000 entries (it takes 0 to 64)"
    );
    let modules = vec!["1"; 500_000].join(",");
    let text = with("[1]", &format!("[{modules}]"));
    assert_eq!(
        only(&text),
        "3:14: gears.modules_mm: the list has 500000 entries (it takes 1 to 64)"
    );
}

#[test]
fn more_reverse_gearings_than_memory_are_refused() {
    let modules: Vec<String> = (0..64)
        .map(|i| format!("{}", 1.0 + f64::from(i) / 8.0))
        .collect();
    let text = format!(
        r#"{{ "centre_distance_mm": 200, "gears": {{ "modules_mm": [{}], "min_teeth": 5,
        "max_teeth": 1000, "face_width_mm": 10 }}, "reverse": {{ "ratio": 3 }} }}"#,
        modules.join(",")
    );
    assert!(
        only(&text).contains("64 modules by 996 tooth counts"),
        "{}",
        only(&text)
    );
    // Half the tooth counts and an eighth of the modules are a large problem, not too large.
    let text = format!(
        r#"{{ "centre_distance_mm": 200, "gears": {{ "modules_mm": [{}], "min_teeth": 12,
        "max_teeth": 500, "face_width_mm": 10 }}, "reverse": {{ "ratio": 3 }} }}"#,
        modules[..8].join(",")
    );
    assert!(parse("box.json", &text).is_ok());
}

#[test]
fn a_million_modules_make_the_file_too_large() {
    let modules = vec!["1"; 1_000_000].join(",");
    let text = with("[1]", &format!("[{modules}]"));
    assert!(
        only(&text).starts_with("the file has 2000"),
        "{}",
        only(&text)
    );
}

#[test]
fn a_file_full_of_faults_is_told_in_bounds() {
    let keys: Vec<String> = (0..60_000).map(|i| format!("\"k{i}\":0")).collect();
    let faults = refused(&with(
        "\"speeds\"",
        &format!("{},\"speeds\"", keys.join(",")),
    ));
    assert_eq!(faults.list().len(), 60_000);
    assert!(faults.to_string().ends_with("\nand 59950 more\n"));
}

#[test]
fn one_long_word_is_shown_short() {
    let long = "x".repeat(1_000_000);
    refused(&with("\"speeds\"", &format!("\"{long}\": 1, \"speeds\"")));
    refused(&with(
        "\"ratio\": 2",
        &format!("\"ratio\": 2, \"name\": \"{long}\""),
    ));
    refused(&with(
        "\"ratio\": 2",
        &format!("\"ratio\": 1{}", "0".repeat(900_000)),
    ));
    refused(&with("\"ratio\": 2", &format!("\"ratio\": {long}")));
}

#[test]
fn a_large_file_is_refused_unread() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("large.json");
    fs::File::create(&path).unwrap().set_len(100 << 20).unwrap();
    let start = Instant::now();
    let faults = read(&path).unwrap_err();
    assert!(start.elapsed() < Duration::from_millis(100));
    assert_eq!(
        faults.list()[0].what,
        "the file has 104857600 bytes; a problem has at most 1048576"
    );
}

#[test]
fn what_is_no_file_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let what = |path: &Path| read(path).unwrap_err().list()[0].what.clone();
    assert_eq!(what(folder.path()), "this is a folder, not a problem file");
    assert_eq!(
        what(&folder.path().join("no.json")),
        "there is no such file"
    );
    if cfg!(unix) {
        assert_eq!(what(Path::new("/dev/zero")), "this is not a plain file");
    }
}

#[cfg(unix)]
#[test]
fn a_pipe_does_not_keep_the_reader_waiting() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("pipe.json");
    let made = std::process::Command::new("mkfifo").arg(&path).status();
    if made.is_ok_and(|status| status.success()) {
        let faults = read(&path).unwrap_err();
        assert_eq!(faults.list()[0].what, "this is not a plain file");
    }
}

#[test]
fn the_machine_form_has_every_fault_with_its_place() {
    let faults = refused(&with("70", "7000"));
    let json = serde_json::to_value(faults.list()).unwrap();
    assert_eq!(
        json,
        serde_json::json!([{
            "place": { "start": 92, "end": 96, "line": 3, "column": 63 },
            "key": "gears.max_teeth",
            "what": "7000 is too large",
            "next": "it must be a whole number from 5 to 1000"
        }])
    );
}

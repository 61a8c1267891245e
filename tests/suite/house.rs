//! How the house is kept: rooms use only rooms above them.

use std::fs;
use std::path::{Path, PathBuf};

/// The rooms of `src`, in the order in which data flows.
const ROOMS: &[&str] = &[
    "base", "geometry", "involute", "problem", "making", "inspect", "rating", "train", "stock",
    "place", "mesh", "search", "verify", "design", "examine", "shop", "sheet", "export", "cli",
];

/// Parts of the search that the integer program may name: what carries no
/// answer. It must not lean on what it checks.
const PROGRAM_SEES: &[&str] = &["Control", "program"];

/// All that the re-check may see: it must not lean on what it checks.
const VERIFY_SEES: &[&str] = &["base", "involute", "problem", "train", "verify"];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
}

/// Rooms named in a file as `crate::room`, outside comments.
fn named_rooms(text: &str) -> Vec<String> {
    let code = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    let paths = code.flat_map(|line| line.split("crate::").skip(1));
    let word = |path: &str| {
        path.chars()
            .take_while(|c| c.is_alphanumeric() || *c == '_')
            .collect()
    };
    paths.map(word).collect()
}

#[test]
fn imports_point_upstream_only() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    let place = |room: &str| ROOMS.iter().position(|known| *known == room);
    let mut imports = 0;
    for file in files {
        let inside = file.strip_prefix(&src).unwrap();
        let Some(own) = inside.iter().next().and_then(|room| place(room.to_str()?)) else {
            // lib.rs and main.rs stand before all rooms.
            assert_eq!(
                inside.iter().count(),
                1,
                "{} is in no known room",
                inside.display()
            );
            continue;
        };
        for room in named_rooms(&fs::read_to_string(&file).unwrap()) {
            let used = place(&room);
            let about = || format!("{} uses crate::{room}", inside.display());
            assert!(used.is_some_and(|used| used <= own), "{}", about());
            if ROOMS[own] == "verify" {
                assert!(VERIFY_SEES.contains(&room.as_str()), "{}", about());
            }
            imports += 1;
        }
    }
    assert!(imports > 50, "{imports}");
}

#[test]
fn the_integer_program_sees_nothing_of_the_search() {
    let program = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/search/program");
    let mut files = Vec::new();
    sources(&program, &mut files);
    let mut uses = 0;
    for file in &files {
        let text = fs::read_to_string(file).unwrap();
        let about = file.display();
        assert!(!text.contains("super::super"), "{about}");
        for used in text.split("crate::search::").skip(1) {
            let seen = PROGRAM_SEES.iter().any(|name| used.starts_with(name));
            assert!(seen, "{about} uses crate::search::{used:.20}");
            uses += 1;
        }
        assert!(
            !text.contains("search::{"),
            "{about}: name parts one by one"
        );
    }
    assert!(files.len() > 5 && uses > 3, "{} {uses}", files.len());
}

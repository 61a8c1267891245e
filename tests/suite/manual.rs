//! The README's commands do what the README says.

use std::path::Path;
use std::process::Command;

const README: &str = include_str!("../../README.md");

/// The commands of the README: its lines set as code that begin with `word`.
fn commands(word: &str) -> Vec<Vec<&'static str>> {
    let code = README.lines().filter_map(|line| line.strip_prefix("    "));
    code.filter(|line| line.starts_with(word))
        .map(|line| line.split_whitespace().collect())
        .collect()
}

#[test]
fn every_command_of_the_manual_works() {
    let folder = tempfile::tempdir().unwrap();
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    std::fs::create_dir(folder.path().join("problems")).unwrap();
    for file in std::fs::read_dir(samples).unwrap() {
        let file = file.unwrap().path();
        let name = file.file_name().unwrap();
        std::fs::copy(&file, folder.path().join("problems").join(name)).unwrap();
    }
    let commands = commands("layshaft ");
    assert!(commands.len() >= 7, "{commands:?}");
    for command in commands {
        said(&command, folder.path());
    }
    assert!(folder.path().join("winch-sets.json").is_file());
}

/// All that a command says in a folder, its spaces single, once it succeeded.
fn said(command: &[&str], folder: &Path) -> String {
    let run = Command::new(env!("CARGO_BIN_EXE_layshaft"))
        .args(&command[1..])
        .current_dir(folder)
        .output()
        .unwrap();
    let said = [run.stdout, run.stderr].concat();
    let said = String::from_utf8_lossy(&said).into_owned();
    assert!(run.status.success(), "{}: {said}", command.join(" "));
    single(&said)
}

fn single(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_walk_to_an_order_says_what_the_program_says() {
    let (_, walk) = README
        .split_once("## From a bored case to an order in ten minutes")
        .unwrap();
    let (walk, _) = walk.split_once("### The report").unwrap();
    let folder = tempfile::tempdir().unwrap();
    let mut last = String::new();
    let (mut commands, mut quotes) = (0, 0);
    for line in walk.lines() {
        if let Some(command) = line.strip_prefix("    ") {
            let words: Vec<&str> = command.split_whitespace().collect();
            last = said(&words, folder.path());
            commands += 1;
        } else if let Some(quote) = line.strip_prefix("> ") {
            assert!(last.contains(&single(quote)), "{quote}: {last}");
            quotes += 1;
        }
    }
    assert!(commands > 8 && quotes > 5, "{commands} {quotes}");
    for made in ["ferry.html", "ferry-drawings/section.dxf", "rack.json"] {
        assert!(folder.path().join(made).is_file(), "{made}");
    }
}

#[test]
fn the_pictures_are_those_that_the_named_command_makes() {
    let marked = "`layshaft draw problems/shunter.json --what end,section,names --state 1 \
                  --format svg --into tests/pictures`";
    assert!(README.contains(marked));
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = tempfile::tempdir().unwrap();
    let into = folder.path().to_str().unwrap();
    let mut command: Vec<&str> = marked.trim_matches('`').split_whitespace().collect();
    *command.last_mut().unwrap() = into;
    said(&command, root);
    for name in ["end-view.svg", "section.svg", "names-of-parts.svg"] {
        let [kept, made] = [root.join("tests/pictures"), folder.path().to_owned()]
            .map(|folder| std::fs::read_to_string(folder.join(name)).unwrap());
        assert!(kept == made, "tests/pictures/{name} is out of date");
        assert!(
            README.contains(&format!("(tests/pictures/{name})")),
            "{name}"
        );
    }
}

#[test]
fn the_first_two_commands_are_the_job_and_the_tests() {
    let first = [
        "cargo",
        "run",
        "--release",
        "--",
        "solve",
        "problems/shunter.json",
    ];
    assert_eq!(commands("cargo "), [first.to_vec(), vec!["cargo", "test"]]);
    let ci = include_str!("../../.ci/run");
    assert!(ci.lines().any(|line| line == "step cargo test"));
}

#[test]
fn every_verb_is_in_the_help_and_every_exit_code_in_the_manual() {
    let help = Command::new(env!("CARGO_BIN_EXE_layshaft"))
        .arg("--help")
        .output()
        .unwrap();
    let help = String::from_utf8_lossy(&help.stdout).into_owned();
    for verb in [
        "solve", "sweep", "sheets", "draw", "report", "new", "schema",
    ] {
        assert!(help.contains(verb), "{verb}");
    }
    for code in ["| 0 |", "| 1 |", "| 2 |", "| 3 |", "| 4 |", "| 130 |"] {
        assert!(README.contains(code), "{code}");
    }
}

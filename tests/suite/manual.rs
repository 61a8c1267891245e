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
        let run = Command::new(env!("CARGO_BIN_EXE_layshaft"))
            .args(&command[1..])
            .current_dir(folder.path())
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&run.stderr);
        assert!(run.status.success(), "{}: {said}", command.join(" "));
    }
    assert!(folder.path().join("winch-sets.json").is_file());
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
    for verb in ["solve", "sweep", "sheets", "new", "schema", "completions"] {
        assert!(help.contains(verb), "{verb}");
    }
    for code in ["| 0 |", "| 1 |", "| 2 |", "| 3 |", "| 4 |", "| 130 |"] {
        assert!(README.contains(code), "{code}");
    }
}

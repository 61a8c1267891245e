//! Exit codes, streams, files: how the program behaves whatever it answers.

use crate::front_door::{Run, copy_of};

#[test]
fn alone_it_says_where_to_start() {
    let ended = Run::of(&[]).ends().with(0);
    assert!(ended.stdout.starts_with("Settles the gears"));
    for verb in ["new", "solve", "schema", "completions"] {
        assert!(ended.stdout.contains(verb), "{verb}");
        let help = Run::of(&["help", verb]).ends().with(0);
        assert!(help.stdout.contains("Usage: layshaft"), "{verb}");
    }
}

#[test]
fn a_wrong_command_line_is_bad_input() {
    for args in [
        ["solve"].as_slice(),
        &["solve", "problems/shunter.json", "--format", "xml"],
        &["solve", "problems/shunter.json", "--top", "100001"],
        &["solve", "problems/shunter.json", "--threads", "0"],
        &["solve", "problems/shunter.json", "--time-limit", "-1"],
        &[
            "solve",
            "problems/shunter.json",
            "--measures",
            "worst_error,worst_error",
        ],
        &[
            "solve",
            "problems/shunter.json",
            "--set",
            "1",
            "--pick",
            "1",
        ],
        &["solve", "problems/shunter.json", "--set", "XYZ"],
        &["solve", "problems/shunter.json", "--set", "ZZZZZZ"],
        &["solve", "problems/none-such.json"],
        &["solve", "problems"],
        &["none-such"],
    ] {
        let ended = Run::of(args).ends().with(2);
        assert!(
            ended.stdout.is_empty() && !ended.stderr.is_empty(),
            "{args:?}"
        );
    }
}

#[test]
fn no_set_is_an_answer() {
    let ended = Run::solve("impossible", &[]).ends().with(1);
    assert!(ended.stdout.starts_with("No set fits."));
    assert!(ended.stderr.is_empty());
}

#[test]
fn a_place_that_can_not_be_written_is_a_failure() {
    let folder = tempfile::tempdir().unwrap();
    let inner = folder.path().join("none-such/result.json");
    for place in [folder.path(), &inner] {
        let place = place.to_str().unwrap();
        let ended = Run::solve("shunter", &["--output", place]).ends().with(3);
        assert!(ended.stderr.contains("can't be written"));
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn a_closed_pipe_is_no_failure() {
    for args in [["--format", "json"].as_slice(), &["--format", "csv"], &[]] {
        let args = [args, &["--top", "2000"]].concat();
        let ended = Run::solve("shunter", &args).ends_unread().with(0);
        assert_eq!(ended.stderr, "");
    }
    Run::of(&["completions", "bash"]).ends_unread().with(0);
    Run::of(&["schema"]).ends_unread().with(0);
    Run::of(&["help"]).ends_unread().with(0);
}

#[test]
fn colour_is_for_those_who_want_it() {
    let escape = '\u{1b}';
    let plain = Run::solve("shunter", &[]).ends().with(0).stdout;
    assert!(!plain.contains(escape));
    let forced = Run::solve("shunter", &[]).env("CLICOLOR_FORCE", "1");
    assert!(forced.ends().with(0).stdout.contains(escape));
    let refused = Run::solve("shunter", &[])
        .env("CLICOLOR_FORCE", "1")
        .env("NO_COLOR", "1");
    assert_eq!(refused.ends().with(0).stdout, plain);
}

#[test]
fn an_output_file_holds_what_stdout_would() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("result");
    let name = file.to_str().unwrap();
    for format in ["text", "json", "csv"] {
        let shown = Run::solve("shunter", &["--format", format])
            .ends()
            .with(0)
            .stdout;
        let args = ["--format", format, "--output", name];
        let ended = Run::solve("shunter", &args)
            .env("CLICOLOR_FORCE", "1")
            .ends()
            .with(0);
        assert_eq!(ended.stdout, "");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), shown, "{format}");
    }
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn the_problem_file_is_never_the_output() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("shunter", folder.path());
    let before = std::fs::read(&file).unwrap();
    let name = file.to_str().unwrap();
    for verb in ["solve", "sweep", "explain"] {
        let ended = Run::of(&[verb, name, "--output", name]).ends().with(2);
        assert!(ended.stderr.contains("--output"), "{verb}");
        assert_eq!(std::fs::read(&file).unwrap(), before, "{verb}");
    }
}

#[test]
fn statistics_stay_out_of_results() {
    let plain = Run::solve("shunter", &[]).ends().with(0);
    let told = Run::solve("shunter", &["--stats"]).ends().with(0);
    assert_eq!(plain.stdout, told.stdout);
    assert!(told.stderr.starts_with("time ") && plain.stderr.is_empty());
    let json = Run::solve("shunter", &["--stats", "--format", "json"])
        .ends()
        .with(0)
        .json();
    for key in ["seconds", "threads", "nodes"] {
        assert!(json["stats"][key].is_number(), "{key}");
    }
}

#[test]
fn new_then_solve_then_pick() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("my box.json");
    let name = file.to_str().unwrap();
    let flags = "--centres 45 --modules 1.5 --teeth 18..42 --ratios 3.4,1.8,direct --reverse 3.4";
    let words = ["new", name].into_iter().chain(flags.split_whitespace());
    Run::of(&words.collect::<Vec<_>>()).ends().with(0);
    let solved = Run::of(&["solve", name, "--format", "json"]).ends();
    let code = solved.code;
    if code == 0 {
        let mark = solved.json()["sets"][0]["mark"]
            .as_str()
            .unwrap()
            .to_owned();
        Run::of(&["solve", name, "--pick", &mark]).ends().with(0);
        assert!(std::fs::read_to_string(&file).unwrap().contains(&mark));
    }
    assert!(code < 2, "{}", solved.stderr);
}

//! `solve --engine program`: one measure made least by one integer program.

use super::{Args, Format, changes, detail};
use crate::cli::exit::{Exit, Failure};
use crate::cli::out;
use crate::cli::recheck::recheck;
use crate::cli::screen::{Screen, paragraph, strong};
use crate::cli::shell::quoted;
use crate::cli::words::{measure, value};
use crate::export::{Answer, least_json};
use crate::problem::{Change, Measure, Problem, Ranking};
use crate::search::{
    MOST_UNKNOWNS, Outcome, Refused, Status, Whole, count_plainly, least_by_program,
};
use crate::train::Set;
use std::fmt::Write;

pub(super) fn run(args: &Args, problem: &Problem, changes: Vec<Change>) -> Result<Exit, Failure> {
    let least = refuse_or_measure(args, problem)?;
    let ended = args
        .watch
        .over(|control| least_by_program(problem, least, control))?;
    let (set, exit) = match ended.outcome {
        Whole::Best(set, _) => (Some(set), Exit::Done),
        Whole::NoSet => (None, Exit::No),
        Whole::TooLarge(unknowns) => return Err(too_large(unknowns)),
        Whole::Open if ended.interrupted => (None, Exit::Interrupted),
        Whole::Open => (None, Exit::Stopped),
    };
    recheck(problem, set.iter())?;
    let outcome = outcome(problem, set);
    let mut answer = Answer::new(problem, &outcome, 1);
    answer.changes = changes;
    answer.stats = args.stats.then_some(ended.stats);
    let output = args.output.as_deref();
    if args.format == Format::Json {
        let proven = matches!(exit, Exit::Done | Exit::No);
        let value = least_json(&answer, least, proven);
        out::deliver_json(output, &value)?;
    } else {
        let screen = Screen::of(output);
        let text = page(args, &answer, least, exit, screen.width);
        out::deliver_text(output, &screen, &text)?;
    }
    Ok(exit)
}

/// What one program can not do is said before it is tried.
fn refuse_or_measure(args: &Args, problem: &Problem) -> Result<Measure, Failure> {
    if args.format == Format::Csv {
        let text = "--engine program finds one set, not a table: say --format text or json";
        return Err(Failure::BadInput(text.to_owned()));
    }
    match problem.ranking() {
        Ranking::By(measure) => Ok(measure),
        Ranking::Balanced => Err(Failure::BadInput(
            "--engine program makes one measure least: say which, as --sort blank_volume or \
             --sort cost"
                .to_owned(),
        )),
    }
}

fn too_large(unknowns: usize) -> Failure {
    Failure::BadInput(format!(
        "one integer program over all choices would have {unknowns} unknowns; at most \
         {MOST_UNKNOWNS} are tried.\nLeave --engine out: the search has no such limit, and \
         --certify proves its list by many small programs."
    ))
}

fn outcome(problem: &Problem, set: Option<Set>) -> Outcome {
    Outcome {
        status: Status::Proven,
        counts: count_plainly(problem),
        front: Vec::new(),
        front_order: Vec::new(),
        sets: set.into_iter().collect(),
        trains: Vec::new(),
        pairs: 0,
        refused: Refused::default(),
        without_place: None,
        without_strength: None,
    }
}

fn page(args: &Args, answer: &Answer<'_>, least: Measure, exit: Exit, width: usize) -> String {
    let mut out = String::new();
    let sentence = match (answer.outcome.sets.first(), exit) {
        (Some(set), _) => {
            let record = answer.record(set);
            let then = match least {
                Measure::BlankVolume => "",
                _ => ", of those level the least metal",
            };
            format!(
                "Least {} {}{then}: set {}, proved by one integer program.",
                measure(least),
                value(&record, least),
                record.mark
            )
        }
        (None, Exit::No) => "No set fits: proved by one integer program.".to_owned(),
        (None, Exit::Interrupted) => "You stopped the program; nothing is proved.".to_owned(),
        (None, _) => "The program was stopped at a limit; nothing is proved.".to_owned(),
    };
    for line in paragraph(&sentence, 0, width).lines() {
        let _ = writeln!(out, "{}", strong(line));
    }
    for line in changes::said(&answer.changes) {
        out += &paragraph(&line, 0, width);
    }
    if let Some(set) = answer.outcome.sets.first() {
        let record = answer.record(set);
        let _ = write!(out, "\n{}", detail::detail(answer, set, &record, width));
        let cautions = super::closing::cautions(answer.problem, &record);
        let _ = write!(out, "\n{}", paragraph(&cautions, 2, width));
    }
    let file = quoted(&args.problem.to_string_lossy()) + &changes::flags(&answer.changes);
    // No certificate speaks of what the workshop has; the search can be asked.
    let next = if answer.problem.measures_purchases() {
        format!("--sort {}", least.word())
    } else {
        "--certify".to_owned()
    };
    let _ = writeln!(out, "\n  Next     layshaft solve {file} {next}");
    out
}

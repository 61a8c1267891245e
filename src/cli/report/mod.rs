//! `layshaft report`: one page to look at, all figures inside.

mod place;

use super::choose::Wanted;
use super::exit::{Exit, Failure};
use super::recheck::recheck;
use super::shell::quoted;
use super::watch::{Ended, Watch};
use super::{changes, out};
use crate::export::{Answer, MOST_SETS, ReportSource, report_record, shown_sets, write_report};
use crate::problem::Problem;
use crate::search::{Control, Field, Outcome, Request, Status, field, solve};
use crate::train::Set;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// So many points make the field behind the unbeaten sets: more look the same.
const FIELD: usize = 40_000;

/// Arguments of `report`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The problem file
    problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// The set to open with: its mark or rank; the one picked in the file, else
    /// the first by rank
    #[arg(long, value_name = "MARK|RANK")]
    set: Option<String>,
    /// How many sets the page holds at most, the unbeaten ones first
    #[arg(long, value_name = "N", default_value_t = 60,
        value_parser = clap::value_parser!(u32).range(1..=200))]
    sets: u32,
    /// Show this sweep of centre distances, as layshaft sweep --format json
    /// wrote it
    #[arg(long, value_name = "FILE")]
    sweep: Option<PathBuf>,
    /// Where to write the page; beside the problem file, its name with .html,
    /// where not said
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Open the page when it is written
    #[arg(long)]
    open: bool,
    #[command(flatten)]
    watch: Watch,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let page = place::of(&args.problem, args.output.as_deref());
    args.changes.spare(&args.problem, Some(&page))?;
    place::spare(&page)?;
    let sweep = args.sweep.as_deref().map(read_sweep).transpose()?;
    let (source, problem, made) = changes::read(&args.problem, &args.changes)?;
    let wanted = args.set.as_deref().map(Wanted::read).transpose()?;
    let Ended {
        outcome,
        interrupted,
        ..
    } = search(&problem, wanted.as_ref(), args)?;
    let mut answer = Answer::new(&problem, &outcome, MOST_SETS);
    answer.changes.clone_from(&made);
    let file = quoted(&args.problem.to_string_lossy()) + &changes::flags(&made);
    let Some(first) = opened(&problem, &answer, wanted.as_ref())? else {
        out::complain(&format!(
            "No set fits, so there is nothing to report.\n\n  Next     layshaft explain {file}"
        ));
        return Ok(Exit::No);
    };
    let sets = shown_sets(&answer, &first, args.sets as usize);
    recheck(&problem, sets.iter().copied())?;
    let name = args
        .problem
        .file_name()
        .unwrap_or_default()
        .to_string_lossy();
    let source = ReportSource {
        file: &name,
        text: source.text(),
        command: &command(args, &name, &made),
        sweep,
    };
    let Ended {
        outcome: record, ..
    } = args.watch.over(|control| {
        let field = drawn(&problem, control);
        report_record(&answer, (&first, &sets), field.as_ref(), &source, control)
    })?;
    out::deliver(Some(&page), |to| write_report(problem.title(), &record, to))?;
    let stopped = matches!(outcome.status, Status::Stopped(_));
    tell(args, &page, (sets.len(), stopped), &file);
    Ok(match (stopped, interrupted) {
        (_, true) => Exit::Interrupted,
        (true, false) => Exit::Stopped,
        (false, false) => Exit::Done,
    })
}

fn search(
    problem: &Problem,
    wanted: Option<&Wanted>,
    args: &Args,
) -> Result<Ended<Outcome>, Failure> {
    let rank = wanted.map_or(0, Wanted::rank);
    let request = Request {
        top: rank.max(args.sets as usize).max(super::chosen::KNOWN),
        trains: super::chosen::KNOWN,
        threads: args.watch.threads(),
    };
    args.watch.over(|control| solve(problem, request, control))
}

/// The field, where the search was not stopped.
fn drawn(problem: &Problem, control: &Control) -> Option<Field> {
    let field = field(problem, FIELD, control);
    (!field.points.is_empty()).then_some(field)
}

/// The set that the page opens with; none where there is no set at all.
fn opened(
    problem: &Problem,
    answer: &Answer<'_>,
    wanted: Option<&Wanted>,
) -> Result<Option<Set>, Failure> {
    if let Some(wanted) = wanted {
        return wanted.find(answer).map(|set| Some(set.clone()));
    }
    if let Some(picked) = problem.picked() {
        return super::chosen::picked(problem, picked).map(Some);
    }
    let outcome = answer.outcome;
    Ok(outcome
        .sets
        .first()
        .or_else(|| outcome.front.first())
        .cloned())
}

fn read_sweep(path: &Path) -> Result<Value, Failure> {
    let told = |why: String| Failure::BadInput(format!("--sweep {}: {why}", path.display()));
    let text = fs::read_to_string(path).map_err(|error| told(error.to_string()))?;
    let value: Value = serde_json::from_str(&text).map_err(|error| told(error.to_string()))?;
    if value["rows"].is_array() {
        return Ok(value);
    }
    Err(told(
        "this is no sweep: write one with layshaft sweep --format json --output".to_owned(),
    ))
}

/// The command that makes the page again, wherever the file is.
fn command(args: &Args, name: &str, made: &[crate::problem::Change]) -> String {
    let set = args.set.iter().map(|set| format!(" --set {}", quoted(set)));
    let flags = changes::flags(made) + &set.collect::<String>();
    format!("layshaft report {}{flags}", quoted(name))
}

fn tell(args: &Args, page: &Path, (count, stopped): (usize, bool), file: &str) {
    let opened = args.open && place::open(page);
    let mut text = format!(
        "Wrote {}: {count} {} with everything about each, in one file that needs no network.",
        page.display(),
        if count == 1 { "set" } else { "sets" }
    );
    if stopped {
        text += "\nThe search was stopped at its limit: the page says so, and what is proved.";
    }
    if args.open && !opened {
        text += "\nNothing here opens it: open it in a browser by hand.";
    }
    out::complain(&format!(
        "{text}\n\n  Next     layshaft draw {file} --into drawings"
    ));
}

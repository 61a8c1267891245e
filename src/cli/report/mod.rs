//! `layshaft report`: one page to look at, all figures inside.

mod place;

use super::choose::Wanted;
use super::exit::{Exit, Failure};
use super::recheck::recheck;
use super::shell::quoted;
use super::watch::{Ended, Watch};
use super::{changes, out};
use crate::export::{
    Answer, MOST_SETS, Packed, ReportSource, report_record, shown_sets, write_report,
};
use crate::problem::{Change, Problem};
use crate::search::{Control, Field, Request, Status, field, solve};
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
    let file = quoted(&args.problem.to_string_lossy()) + &changes::flags(&made);
    let wanted = args.set.as_deref().map(Wanted::read).transpose()?;
    let name = args.problem.file_name().unwrap_or_default();
    let name = name.to_string_lossy();
    let source = ReportSource {
        file: &name,
        text: source.text(),
        command: &command(args, &name, &made),
        sweep,
    };
    let making = Making {
        args,
        problem: &problem,
        changes: &made,
        wanted: wanted.as_ref(),
        source: &source,
    };
    let Ended {
        outcome,
        interrupted,
        ..
    } = args.watch.over(|control| making.made(control))?;
    let written = match outcome? {
        Made::NoSet => {
            out::complain(&format!(
                "No set fits, so there is nothing to report.\n\n  Next     layshaft explain {file}"
            ));
            return Ok(Exit::No);
        }
        Made::Nothing(why) => {
            out::complain(&format!("Stopped: {why}, and no page was written."));
            return Ok(if interrupted {
                Exit::Interrupted
            } else {
                Exit::Stopped
            });
        }
        Made::Page(written) => written,
    };
    let record = &written.record;
    out::deliver(Some(&page), |to| write_report(problem.title(), record, to))?;
    tell(args, &page, &written, &file);
    Ok(match written.stopped {
        _ if interrupted => Exit::Interrupted,
        Some(_) => Exit::Stopped,
        None => Exit::Done,
    })
}

/// All that a page is made of.
struct Making<'a> {
    args: &'a Args,
    problem: &'a Problem,
    changes: &'a [Change],
    wanted: Option<&'a Wanted>,
    source: &'a ReportSource<'a>,
}

/// What came of it.
enum Made {
    /// There is no set at all.
    NoSet,
    /// It was stopped before there was a page.
    Nothing(&'static str),
    Page(Written),
}

struct Written {
    record: Packed,
    sets: usize,
    /// What was stopped by the person or the clock.
    stopped: Option<&'static str>,
}

impl Making<'_> {
    /// Searches, and makes the record of what was found. Whoever stops the search
    /// gets the page of what it found; whoever stops the page gets none.
    fn made(&self, control: &Control) -> Result<Made, Failure> {
        let problem = self.problem;
        let outcome = solve(problem, self.request(), control);
        let cut_short = matches!(outcome.status, Status::Stopped(_));
        let mut answer = Answer::new(problem, &outcome, MOST_SETS);
        answer.changes = self.changes.to_vec();
        let Some(first) = opened(problem, &answer, self.wanted)? else {
            return Ok(if cut_short {
                Made::Nothing("the search had found no set by then")
            } else {
                Made::NoSet
            });
        };
        let sets = shown_sets(&answer, &first, self.args.sets as usize);
        recheck(problem, sets.iter().copied())?;
        let field = || drawn(problem, control);
        let record = report_record(&answer, (&first, &sets), field, self.source, control);
        let record = record.map_err(|error| Failure::Failed(format!("no page: {error}")))?;
        let Some(record) = record else {
            return Ok(Made::Nothing("the page was not whole by then"));
        };
        Ok(Made::Page(Written {
            record,
            sets: sets.len(),
            stopped: match (cut_short, control.stopped()) {
                (true, _) => Some(
                    "The search was stopped at its limit: the page says so, and what is proved.",
                ),
                (false, true) => Some(
                    "The time was over while the page was made: it says of each plan of bars \
                     what is proved.",
                ),
                (false, false) => None,
            },
        }))
    }

    fn request(&self) -> Request {
        let rank = self.wanted.map_or(0, Wanted::rank);
        Request {
            top: rank.max(self.args.sets as usize).max(super::chosen::KNOWN),
            trains: super::chosen::KNOWN,
            threads: self.args.watch.threads(),
        }
    }
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
fn command(args: &Args, name: &str, made: &[Change]) -> String {
    let set = args.set.iter().map(|set| format!(" --set {}", quoted(set)));
    let flags = changes::flags(made) + &set.collect::<String>();
    format!("layshaft report {}{flags}", quoted(name))
}

fn tell(args: &Args, page: &Path, written: &Written, file: &str) {
    let count = written.sets;
    let opened = args.open && place::open(page);
    let mut text = format!(
        "Wrote {}: {count} {} with everything about each, in one file that needs no network.",
        page.display(),
        if count == 1 { "set" } else { "sets" }
    );
    if let Some(stopped) = written.stopped {
        text += "\n";
        text += stopped;
    }
    if args.open && !opened {
        text += "\nNothing here opens it: open it in a browser by hand.";
    }
    out::complain(&format!(
        "{text}\n\n  Next     layshaft draw {file} --into drawings"
    ));
}

//! `layshaft idler`: where the reverse idler can sit.

mod page;

use super::chosen::chosen;
use super::exit::{Exit, Failure};
use super::screen::Screen;
use super::watch::Watch;
use super::{changes, out};
use crate::design::idler::study;
use crate::export::IdlerAnswer;
use clap::ValueEnum;
use std::path::PathBuf;

/// Arguments of `idler`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The problem file
    problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// The set whose reverse is meant: its mark or rank; the one picked in the
    /// file, else the first by rank
    #[arg(long, value_name = "MARK|RANK")]
    set: Option<String>,
    /// Show every place and every reason
    #[arg(long)]
    all: bool,
    /// Spelling of the result
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Write the result to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    watch: Watch,
}

/// Spellings of the result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    Text,
    /// Everything, for programs
    Json,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    out::spare(&args.problem, args.output.as_deref())?;
    let (_, problem, changes) = changes::read(&args.problem, &args.changes)?;
    if problem.reverse().is_none() {
        let text = "this box has no reverse, so no idler: add \"reverse\" to the file";
        return Err(Failure::BadInput(text.to_owned()));
    }
    let file = args.problem.display();
    let chosen = chosen(&problem, args.set.as_deref(), args.watch)?;
    let Some(chosen) = chosen else {
        out::complain(&format!(
            "No set fits, so there is no idler to place.\n\n  Next     layshaft explain {file}"
        ));
        return Ok(Exit::No);
    };
    let Some(study) = study(&problem, &chosen.set) else {
        return Err(Failure::Failed("the set has no reverse".to_owned()));
    };
    let answer = IdlerAnswer {
        problem: &problem,
        set: &chosen.set,
        mark: &chosen.mark,
        study: &study,
    };
    let output = args.output.as_deref();
    match args.format {
        Format::Json => out::deliver_json(output, &answer.record())?,
        Format::Text => {
            let screen = Screen::of(output);
            let view = page::View {
                args,
                how: chosen.how,
                changes: &changes,
                width: screen.width,
            };
            out::deliver_text(output, &screen, &page::page(&answer, &view))?;
        }
    }
    Ok(if study.places.is_empty() {
        Exit::No
    } else {
        Exit::Done
    })
}

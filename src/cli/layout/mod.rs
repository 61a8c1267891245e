//! `layshaft layout`: where everything stands, and where to bore.

mod along;
mod boring;
mod carrying;
mod page;
mod turning;

use super::chosen::chosen;
use super::exit::{Exit, Failure};
use super::screen::Screen;
use super::watch::Watch;
use super::{changes, out};
use crate::design::Plan;
use crate::export::LayoutAnswer;
use clap::ValueEnum;
use std::path::PathBuf;

/// Arguments of `layout`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The problem file
    problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// The set that is meant: its mark or rank; the one picked in the file, else
    /// the first by rank
    #[arg(long, value_name = "MARK|RANK")]
    set: Option<String>,
    /// The wall whose bores are listed, seen from outside
    #[arg(long, value_enum, default_value_t = Face::Both)]
    face: Face,
    /// Tell how every shaft and gear turns in every speed
    #[arg(long)]
    turning: bool,
    /// Tell what meshes, bearings and the idler's pin carry in every speed
    #[arg(long)]
    forces: bool,
    /// Spelling of the result
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Write the result to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    watch: Watch,
}

/// A wall of the box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Face {
    /// The input wall, seen from the input end
    Input,
    /// The output wall, seen from the output end
    Output,
    /// One after the other
    Both,
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
    let file = args.problem.display();
    let Some(chosen) = chosen(&problem, args.set.as_deref(), args.watch)? else {
        out::complain(&format!(
            "No set fits, so there is no box to lay out.\n\n  Next     layshaft explain {file}"
        ));
        return Ok(Exit::No);
    };
    let plan = Plan::new(&problem, &chosen.set);
    let answer = LayoutAnswer {
        problem: &problem,
        set: &chosen.set,
        mark: &chosen.mark,
        plan: &plan,
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
    let whole = plan
        .layout
        .as_ref()
        .is_ok_and(|layout| layout.assembly.is_ok());
    Ok(if whole { Exit::Done } else { Exit::No })
}

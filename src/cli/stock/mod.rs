//! `layshaft stock`: what to buy, and what to cut from what.

mod order;
mod page;
mod strip;

use super::chosen::OfSet;
use super::exit::{Exit, Failure};
use super::{changes, out};
use crate::design::Plan;
use crate::export::{StockAnswer, svg, why_words};
use crate::problem::Problem;
use crate::search::Control;
use crate::sheet::strips;
use crate::shop::job::{Job, Undoable};
use crate::stock::Stock;
use std::path::PathBuf;

/// Arguments of `stock`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: OfSet,
    /// Draw the bars into an SVG file, to be printed
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    args.of.spare(args.svg.as_deref())?;
    let (problem, changes) = args.of.read()?;
    let Some(chosen) = args.of.chosen(&problem)? else {
        return Ok(Exit::No);
    };
    let design = Plan::new(&problem, &chosen.set);
    let job = match Job::new(&problem, &chosen.set, &design, &Control::default()) {
        Ok(job) => job,
        Err(undoable) => {
            out::complain(&refusal(&problem, &undoable, args, &changes));
            return Ok(Exit::No);
        }
    };
    let answer = StockAnswer {
        problem: &problem,
        set: &chosen.set,
        mark: &chosen.mark,
        job: &job,
    };
    if let Some(file) = &args.svg {
        let drawing = svg(&strips(&answer.strips()));
        out::deliver(Some(file), |to| to.write_all(drawing.as_bytes()))?;
    }
    args.of.delivery.write(
        || answer.record(),
        |screen| {
            let shown = args.of.shown(&chosen, &changes, screen.width);
            page::page(&answer, args, &shown)
        },
    )?;
    Ok(Exit::Done)
}

/// What is missing, and where to say that it is not.
fn refusal(
    problem: &Problem,
    undoable: &Undoable,
    args: &Args,
    changes: &[crate::problem::Change],
) -> String {
    let blank = &undoable.blank;
    let stock = Stock::of(problem);
    let why = why_words(blank, undoable.why, |of| stock.name(of).to_owned());
    let file = super::shell::quoted(&args.of.problem.to_string_lossy()) + &changes::flags(changes);
    format!(
        "{} can't be cut: {why}.\nName a bar that does under \"workshop\" in the file, or take a \
         set of other gears.\n\n  Next     layshaft solve {file}",
        blank.name
    )
}

//! `layshaft idler`: where the reverse idler can sit.

mod page;

use super::chosen::OfSet;
use super::exit::{Exit, Failure};
use crate::design::idler::study;
use crate::export::IdlerAnswer;

/// Arguments of `idler`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: OfSet,
    /// Show every place and every reason
    #[arg(long)]
    all: bool,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let (problem, changes) = args.of.read()?;
    if problem.reverse().is_none() {
        let text = "this box has no reverse, so no idler: add \"reverse\" to the file";
        return Err(Failure::BadInput(text.to_owned()));
    }
    let Some(chosen) = args.of.chosen(&problem)? else {
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
    args.of.delivery.write(
        || answer.record(),
        |screen| {
            let shown = args.of.shown(&chosen, &changes, screen.width);
            page::page(&answer, args, &shown)
        },
    )?;
    Ok(if study.places.is_empty() {
        Exit::No
    } else {
        Exit::Done
    })
}

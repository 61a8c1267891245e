//! `layshaft check`: a gearbox whose teeth are known, looked over.

mod page;
mod tables;
mod trial;

use super::chosen::{Chosen, OfSet};
use super::exit::{Exit, Failure};
use super::out;
use super::screen::paragraph;
use crate::examine::{Examined, given_set, taken};
use crate::export::CheckAnswer;
use crate::problem::Problem;
use crate::train::{Mark, SHORTEST_MARK};
use std::path::PathBuf;

/// Columns of a message.
const WIDTH: usize = 80;

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: OfSet,
    /// Write a page for the bench: proving the box by hand, and finding faults
    #[arg(long, value_name = "PAGE.md")]
    trial: Option<PathBuf>,
    /// Tell every part and every factor of the rating
    #[arg(long)]
    every: bool,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let (problem, changes, unbuilt) = args.of.read_mended()?;
    args.of.spare(args.trial.as_deref())?;
    let Some(chosen) = known(args, &problem)? else {
        return Ok(Exit::No);
    };
    let problem = taken(&problem, &chosen.set);
    let examined = Examined::new(&problem, &chosen.set, &unbuilt);
    let answer = CheckAnswer::new(&examined, &chosen.mark);
    if let Some(page) = &args.trial {
        let text = trial::page(&answer);
        out::deliver(Some(page), |to| to.write_all(text.as_bytes()))?;
    }
    args.of.delivery.write(
        || answer.record(),
        |screen| {
            let shown = args.of.shown(&chosen, &changes, screen.width);
            page::page(&answer, args, &shown)
        },
    )?;
    if let Some(page) = &args.trial {
        out::complain(&format!(
            "Wrote {}: print it and take it to the bench.",
            page.display()
        ));
    }
    let sound = examined.faults().next().is_none() && answer.strength.holds() != Some(false);
    Ok(if sound { Exit::Done } else { Exit::No })
}

/// The set that the file gives by its teeth; the one named or picked, where one
/// is named, or where teeth are not all given.
fn known(args: &Args, problem: &Problem) -> Result<Option<Chosen>, Failure> {
    let named = args.of.is_named();
    let given = given_set(problem);
    match given {
        Ok(set) if !named => {
            let mark = Mark::of(problem, &set).as_str()[..SHORTEST_MARK].to_owned();
            Ok(Some(Chosen {
                set,
                mark,
                how: "its teeth as the file gives them",
            }))
        }
        Err(lacking) if !named && problem.picked().is_none() => {
            let told = paragraph(&lacking.words(), 0, WIDTH);
            let file = args.of.command_file();
            Err(Failure::BadInput(format!(
                "{told}\n  Next     layshaft check {file} --set 1"
            )))
        }
        _ => args.of.chosen(problem),
    }
}

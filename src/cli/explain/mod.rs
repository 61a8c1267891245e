//! `layshaft explain`: why nothing fits, and what would.

mod gained;
mod page;
mod weak;
mod words;

use super::changes;
use super::delivery::{Delivers, Delivery};
use super::exit::{Exit, Failure};
use super::recheck::recheck;
use super::watch::Watch;
use crate::export::ExplainRecord;
use crate::problem::known_key;
use crate::search::{Effort, explain};
use std::path::PathBuf;

/// Arguments of `explain`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The problem file
    problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// What is made already and may not change, beside the file's own "fixed"
    #[arg(long, value_name = "KEY,KEY", value_delimiter = ',')]
    keep: Vec<String>,
    #[command(flatten)]
    delivery: Delivery,
    #[command(flatten)]
    watch: Watch,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    args.changes.spare(&args.problem, args.delivery.output())?;
    let (source, problem, made) = changes::read(&args.problem, &args.changes)?;
    let text = changes::applied(source.text(), &made);
    let keep = args.keep.iter().map(|key| {
        let known = known_key(key.trim());
        known.map_err(|error| Failure::BadInput(format!("--keep {key}: {error}")))
    });
    let problem = problem.keeping(keep.collect::<Result<Vec<_>, _>>()?);
    let effort = Effort::usual(args.watch.threads());
    let ended = args
        .watch
        .over(|control| (explain(&problem, &text, effort, control), control.stopped()))?;
    let (explanation, stopped) = &ended.outcome;
    for way in explanation.ways().into_iter().flatten() {
        recheck(&way.problem, std::iter::once(&way.best))?;
    }
    let record = ExplainRecord::new(&problem, made, *stopped, explanation);
    args.delivery.write(
        || &record,
        |screen| {
            page::page(&page::View {
                problem: &problem,
                explanation,
                record: &record,
                file: &args.problem,
                width: screen.width,
            })
        },
    )?;
    Ok(match explanation {
        _ if ended.interrupted => Exit::Interrupted,
        _ if *stopped => Exit::Stopped,
        _ if explanation
            .ways()
            .is_some_and(|mut ways| ways.next().is_none()) =>
        {
            Exit::No
        }
        _ => Exit::Done,
    })
}

//! `layshaft layout`: where everything stands, and where to bore.

mod along;
mod boring;
mod carrying;
mod page;
mod turning;

use super::chosen::OfSet;
use super::exit::{Exit, Failure};
use crate::design::Plan;
use crate::export::{LayoutAnswer, StrengthRecord};
use clap::ValueEnum;

/// Arguments of `layout`.
#[derive(Debug, clap::Args)]
#[allow(clippy::struct_excessive_bools, reason = "flags are independent")]
pub(super) struct Args {
    #[command(flatten)]
    of: OfSet,
    /// The wall whose bores are listed, seen from outside
    #[arg(long, value_enum, default_value_t = Face::Both)]
    face: Face,
    /// Tell how every shaft and gear turns in every speed
    #[arg(long)]
    turning: bool,
    /// Tell what meshes, bearings and the idler's pin carry in every speed
    #[arg(long)]
    forces: bool,
    /// Tell whether teeth, shafts, bearings, bushes, dogs and joints hold; where
    /// they do not, the answer is no
    #[arg(long)]
    strength: bool,
    /// As --strength, with every part and every figure behind it
    #[arg(long)]
    factors: bool,
}

impl Args {
    const fn rates(&self) -> bool {
        self.strength || self.factors
    }
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

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let (problem, changes) = args.of.read()?;
    let Some(chosen) = args.of.chosen(&problem)? else {
        return Ok(Exit::No);
    };
    let plan = Plan::new(&problem, &chosen.set);
    let answer = LayoutAnswer {
        problem: &problem,
        set: &chosen.set,
        mark: &chosen.mark,
        plan: &plan,
    };
    let strength = StrengthRecord::new(&problem, &chosen.set, &plan);
    let asked = Some(&strength).filter(|_| args.rates());
    args.of.delivery.write(
        || {
            let mut record = answer.record();
            record["strength"] = strength.record();
            record
        },
        |screen| {
            let shown = args.of.shown(&chosen, &changes, screen.width);
            page::page(&answer, asked, args, &shown)
        },
    )?;
    let layout = plan.layout.as_ref();
    let whole = layout.is_ok_and(|layout| layout.assembly.is_ok());
    let holds = asked.is_none_or(|strength| strength.holds() == Some(true));
    Ok(if whole && holds { Exit::Done } else { Exit::No })
}

//! `layshaft compare`: sets side by side.

mod page;

use super::choose::Wanted;
use super::chosen::{KNOWN, Shown};
use super::delivery::{Delivers, Delivery};
use super::exit::{Exit, Failure};
use super::recheck::recheck;
use super::shell::quoted;
use super::watch::{Ended, Watch};
use super::{changes, out};
use crate::export::{Answer, Comparison};
use crate::problem::Problem;
use crate::search::{Outcome, Request, Status, solve};
use crate::train::{Found, Set};
use std::path::PathBuf;

/// More sets no screen holds beside each other.
const MOST: usize = 10;
/// So many are compared where none is named.
const USUAL: usize = 3;

/// Arguments of `compare`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The problem file
    problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// The sets, 2 to 10 of them: marks or ranks; the first three unbeaten ones
    /// by rank where none is named
    #[arg(long, value_name = "MARK|RANK,...", value_delimiter = ',')]
    set: Vec<String>,
    #[command(flatten)]
    delivery: Delivery,
    #[command(flatten)]
    watch: Watch,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let wanted = read(&args.set)?;
    args.changes.spare(&args.problem, args.delivery.output())?;
    let (_, problem, made) = changes::read(&args.problem, &args.changes)?;
    let ended = search(&problem, &wanted, args.watch)?;
    let mut answer = Answer::new(&problem, &ended.outcome, KNOWN);
    answer.changes.clone_from(&made);
    let Some((sets, chosen)) = sets(&answer, &wanted)? else {
        out::complain(&nothing(args, &answer));
        return Ok(if ended.interrupted {
            Exit::Interrupted
        } else {
            Exit::No
        });
    };
    recheck(&problem, sets.iter().copied())?;
    let comparison = Comparison::new(&answer, chosen, &sets);
    args.delivery.write(
        || &comparison,
        |screen| {
            let shown = Shown::new(&args.problem, chosen, &made, screen.width);
            page::page(&comparison, &shown)
        },
    )?;
    Ok(Exit::Done)
}

/// What a person named: nothing, or 2 to 10 sets.
fn read(words: &[String]) -> Result<Vec<Wanted>, Failure> {
    let wanted: Vec<Wanted> = words
        .iter()
        .map(|word| Wanted::read(word.trim()))
        .collect::<Result<_, _>>()?;
    match wanted.len() {
        0 | 2..=MOST => Ok(wanted),
        1 => Err(Failure::BadInput(
            "--set names one set alone: name 2 to 10 with commas between them, as in --set 1,2"
                .to_owned(),
        )),
        count => Err(Failure::BadInput(format!(
            "--set names {count} sets; {MOST} at most are compared at a time"
        ))),
    }
}

fn search(problem: &Problem, wanted: &[Wanted], watch: Watch) -> Result<Ended<Outcome>, Failure> {
    let rank = wanted.iter().map(Wanted::rank).max().unwrap_or(0);
    let request = Request {
        top: rank.max(KNOWN),
        trains: KNOWN,
        threads: watch.threads(),
    };
    watch.over(|control| solve(problem, request, control))
}

/// The sets to compare, and how they were come by; none where fewer than two
/// are there.
fn sets<'a>(
    answer: &Answer<'a>,
    wanted: &[Wanted],
) -> Result<Option<(Vec<&'a Set>, &'static str)>, Failure> {
    if !answer.has_sets() {
        return Ok(None);
    }
    if wanted.is_empty() {
        return Ok(usual(answer));
    }
    let named: Vec<&Set> = wanted
        .iter()
        .map(|wanted| find(answer, wanted))
        .collect::<Result<_, _>>()?;
    for (place, set) in named.iter().enumerate() {
        if named.iter().take(place).any(|earlier| earlier == set) {
            return Err(Failure::BadInput(format!(
                "--set names the set {} twice: name each set once",
                answer.register().shown(set)
            )));
        }
    }
    Ok(Some((named, "as you said")))
}

/// This verb lists nothing, so a mark that is not known is one that `solve` has
/// shown further down.
fn find<'a>(answer: &Answer<'a>, wanted: &Wanted) -> Result<&'a Set, Failure> {
    if let Wanted::Mark(mark) = wanted
        && matches!(answer.register().find(mark), Found::None)
    {
        return Err(Failure::BadInput(format!(
            "no set is marked {}: name the set by its rank, or by a mark that layshaft solve \
             shows without --top, --sort and --measures",
            mark.to_ascii_uppercase()
        )));
    }
    wanted.find(answer)
}

/// The first unbeaten sets; where there is but one, the next by rank beside it.
fn usual<'a>(answer: &Answer<'a>) -> Option<(Vec<&'a Set>, &'static str)> {
    let outcome = answer.outcome;
    let order = outcome.front_order.iter();
    let front = order.filter_map(|&place| outcome.front.get(place));
    let mut sets: Vec<&Set> = front.take(USUAL).collect();
    let mut how = match outcome.status {
        Status::Proven => "the first unbeaten ones by rank",
        Status::Stopped(_) => "the best found in time",
    };
    if sets.len() == 1 {
        how = "the first two by rank; one alone is unbeaten";
        let next = outcome.sets.iter().find(|set| !sets.contains(set));
        sets.extend(next);
    }
    (sets.len() > 1).then_some((sets, how))
}

fn nothing(args: &Args, answer: &Answer<'_>) -> String {
    let file = quoted(&args.problem.to_string_lossy()) + &changes::flags(&answer.changes);
    if answer.outcome.front.is_empty() && answer.has_sets() {
        return format!(
            "The search was stopped before it found two sets to compare.\n\n  \
             Next     layshaft compare {file}"
        );
    }
    if answer.has_sets() {
        return format!(
            "One set alone fits, so there is nothing to compare it with.\n\n  \
             Next     layshaft solve {file} --set 1"
        );
    }
    format!("No set fits, so there is nothing to compare.\n\n  Next     layshaft explain {file}")
}

//! The set that a verb is about: named on the command line, picked in the file,
//! or the best by the file's ranking.

use super::choose::Wanted;
use super::exit::Failure;
use super::recheck::recheck;
use super::watch::{Ended, Watch};
use crate::export::Answer;
use crate::problem::Problem;
use crate::search::{Outcome, Request, solve};
use crate::train::Set;

/// Marks of so many ranked sets and trains are known at least: as many as
/// `solve` shows.
const KNOWN: usize = 25;

/// A set, and how the person knows it.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    pub(super) set: Set,
    pub(super) mark: String,
    /// How it was come by, in a few words.
    pub(super) how: &'static str,
}

/// The set; none where the problem has no set at all.
pub(super) fn chosen(
    problem: &Problem,
    word: Option<&str>,
    watch: Watch,
) -> Result<Option<Chosen>, Failure> {
    if let (None, Some(picked)) = (word, problem.picked()) {
        let set = Set::picked(problem, picked).ok_or_else(|| outdated(&picked.mark))?;
        recheck(problem, std::iter::once(&set)).map_err(|_| outdated(&picked.mark))?;
        return Ok(Some(Chosen {
            set,
            mark: picked.mark.clone(),
            how: "picked in the file",
        }));
    }
    let wanted = word.map(Wanted::read).transpose()?;
    let rank = wanted.as_ref().map_or(1, Wanted::rank);
    let request = Request {
        top: rank.max(KNOWN),
        trains: if wanted.is_some() { KNOWN } else { 0 },
        threads: watch.threads(),
    };
    let Ended { outcome, .. } = watch.over(|control| solve(problem, request, control))?;
    if outcome.sets.is_empty() && outcome.front.is_empty() {
        return Ok(None);
    }
    named(problem, &outcome, wanted.as_ref()).map(Some)
}

fn named(problem: &Problem, outcome: &Outcome, wanted: Option<&Wanted>) -> Result<Chosen, Failure> {
    let answer = Answer::new(problem, outcome, KNOWN);
    let set = if let Some(wanted) = wanted {
        wanted.find(&answer)?
    } else {
        let first = outcome.sets.first().or_else(|| outcome.front.first());
        first.ok_or_else(|| Failure::Failed("the search found no set in time".to_owned()))?
    };
    recheck(problem, std::iter::once(set))?;
    Ok(Chosen {
        set: set.clone(),
        mark: answer.register().shown(set),
        how: if wanted.is_some() {
            "as you said"
        } else {
            "the first by rank"
        },
    })
}

fn outdated(mark: &str) -> Failure {
    Failure::BadInput(format!(
        "the set {mark} picked in the file no longer fits it: name another with --set, or pick \
         one with layshaft solve --pick"
    ))
}

//! Lists of real alternatives: what is asked for, and how it is told.

use super::MOST_LISTED;
use crate::base::thousands;
use crate::cli::exit::Failure;
use crate::cli::out;
use crate::cli::words::{counted, few};
use crate::export::Answer;
use crate::problem::Problem;
use crate::search::{Alternatives, Walk, WalkEnd};
use num_bigint::BigUint;

/// What `--differ-by` asks of the search.
pub(super) fn wanted(
    differ_by: Option<u32>,
    problem: &Problem,
) -> Result<Option<Alternatives>, Failure> {
    let Some(differ_by) = differ_by else {
        return Ok(None);
    };
    let gears = gears(problem);
    if differ_by as usize > gears {
        return Err(Failure::BadInput(format!(
            "--differ-by {differ_by}: a set of this problem has {gears} gears, so no two sets \
             differ in more; ask for {gears} or fewer"
        )));
    }
    Ok(Some(Alternatives {
        differ_by: differ_by as usize,
        longest: MOST_LISTED as usize,
    }))
}

/// How many gears a set has.
fn gears(problem: &Problem) -> usize {
    let head = if problem.head().is_some() { 2 } else { 0 };
    let reverse = match (problem.reverse(), problem.shared_speed()) {
        (None, _) => 0,
        (Some(_), None) => 3,
        // Its driver is the gear of a speed.
        (Some(_), Some(_)) => 2,
    };
    head + 2 * problem.geared().count() + reverse
}

/// What a list of alternatives leaves out, behind what it is ranked by.
pub(super) fn rule(walk: &Walk) -> String {
    let gears = few(walk.wanted.differ_by, "gear", "gears");
    format!("; each differs from every one listed before it in {gears} or more")
}

/// How far the ranking was walked, and why no further.
pub(super) fn told(walk: &Walk, sets: &BigUint) -> String {
    let found = few(walk.ranks.len(), "alternative", "alternatives");
    let first = thousands(&walk.walked.to_string());
    match walk.end {
        WalkEnd::Found => format!(
            "{found} among the first {} of the ranking (--top N)",
            few(walk.walked, "set", "sets")
        ),
        WalkEnd::Exhausted => {
            let all = counted(sets, "set", "sets");
            format!("No more: {found} in all, the whole ranking of {all} was walked")
        }
        WalkEnd::Limit => format!(
            "{found} among the first {first} sets of the ranking, which is as far as it is walked: \
             there may be more. A smaller --differ-by finds others sooner"
        ),
        WalkEnd::Stopped => {
            format!("{found} found when the search was stopped: there may be more")
        }
    }
}

/// Tells on stderr that a table is shorter than asked for.
pub(super) fn warn(answer: &Answer<'_>) {
    if let Some(walk) = answer.walk().filter(|walk| walk.end != WalkEnd::Found) {
        out::complain(&told(walk, &answer.outcome.counts.sets));
    }
}

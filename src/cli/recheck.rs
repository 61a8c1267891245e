//! The last look before anything is printed.

use super::exit::Failure;
use crate::problem::Problem;
use crate::search::Outcome;
use crate::train::{Figures, Set};
use crate::verify::{verify, verify_figures};
use rayon::prelude::*;

/// Derives every claim about the sets to print again, from their teeth alone.
pub(super) fn recheck<'a>(
    problem: &Problem,
    mut sets: impl Iterator<Item = &'a Set>,
) -> Result<(), Failure> {
    sets.try_for_each(|set| recheck_one(problem, set))
}

/// The same of what a search found, by the threads that found it.
pub(super) fn recheck_all(problem: &Problem, outcome: &Outcome) -> Result<(), Failure> {
    let Outcome {
        front,
        sets,
        trains,
        ..
    } = outcome;
    let sets = front.par_iter().chain(sets).chain(trains);
    sets.try_for_each(|set| recheck_one(problem, set))
}

fn recheck_one(problem: &Problem, set: &Set) -> Result<(), Failure> {
    let figures = Figures::of(problem, set);
    let mut breaches = verify(problem, set);
    breaches.extend(verify_figures(problem, set, &figures));
    let Some(breach) = breaches.first() else {
        return Ok(());
    };
    Err(Failure::Failed(format!(
        "a set did not pass its check and nothing is printed: {breach}\n\
         This is a fault of the program, not of the problem file: please report it."
    )))
}

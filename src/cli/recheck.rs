//! The last look before anything is printed.

use super::exit::Failure;
use crate::problem::Problem;
use crate::train::{Figures, Set};
use crate::verify::{verify, verify_figures};

/// Derives every claim about the sets to print again, from their teeth alone.
pub(super) fn recheck<'a>(
    problem: &Problem,
    sets: impl Iterator<Item = &'a Set>,
) -> Result<(), Failure> {
    for set in sets {
        let figures = Figures::of(problem, set);
        let mut breaches = verify(problem, set);
        breaches.extend(verify_figures(problem, set, &figures));
        if let Some(breach) = breaches.first() {
            return Err(Failure::Failed(format!(
                "a set did not pass its check and nothing is printed: {breach}\n\
                 This is a fault of the program, not of the problem file: please report it."
            )));
        }
    }
    Ok(())
}

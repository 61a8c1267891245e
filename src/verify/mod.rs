//! A set held against every claim made of it.
//!
//! In: a checked [`Problem`] and a [`Set`], however it was come by. Out: each
//! [`Breach`] of what the problem asks; none for a sound set. Assumed: nothing
//! about the set. All is derived anew from the tooth counts, with arithmetic of
//! its own: this room sees neither the options nor the search, and does not
//! call what computes the figures it checks. Formulas: ISO 21771.

mod breach;
mod claims;
mod exact;
mod figures;
mod making;
mod needs;
mod pin;
mod reverse;
mod room;
mod ruler;
mod shed;
mod strength;
mod tooth;
mod words;

pub use breach::{Breach, Gear, Role};
pub use figures::verify_figures;

use crate::problem::Problem;
use crate::train::Set;

/// Everything about `set` that `problem` does not allow.
pub fn verify(problem: &Problem, set: &Set) -> Vec<Breach> {
    let mut breaches = claims::structure(problem, set);
    if breaches
        .iter()
        .any(|breach| matches!(breach, Breach::Module { .. }))
    {
        // Gears of no known module have no size to check.
        return breaches;
    }
    claims::pairs(problem, set, &mut breaches);
    reverse::check(problem, set, &mut breaches);
    shed::check(problem, set, &mut breaches);
    strength::check(problem, set, &mut breaches);
    breaches
}

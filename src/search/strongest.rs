//! What strength could be had where nothing but strength shuts every set out.

use super::{Control, Request, solve};
use crate::problem::Problem;
use crate::train::{Set, rate, weakest};

/// More safety than any gear has: widths that follow from it are the most.
const OUT_OF_REACH: f64 = 1e6;

/// The strongest of the sets looked at.
#[derive(Clone, Debug)]
pub struct Strongest {
    /// The set.
    pub set: Set,
    /// The problem that asks for more than any set has, so that widths that
    /// follow from the load are the most allowed.
    pub problem: Problem,
    /// Its least safety.
    pub safety: f64,
    /// How many were looked at: the unbeaten ones and the first by rank. Another
    /// may be stronger.
    pub looked_at: usize,
}

/// Looks at the best sets that there would be if nothing were asked of the
/// strength of teeth; none where there is none, or no duty.
pub fn strongest(problem: &Problem, request: Request, control: &Control) -> Option<Strongest> {
    let outcome = solve(&problem.clone().unrated(), request, control);
    let asking = problem.clone().holding(OUT_OF_REACH);
    let mut best: Option<(f64, Set)> = None;
    let mut looked_at = 0;
    for set in outcome.sets.iter().chain(&outcome.front) {
        looked_at += 1;
        let Some(weak) = rate(&asking, set).and_then(|meshes| weakest(&meshes)) else {
            continue;
        };
        if best
            .as_ref()
            .is_none_or(|(safety, _)| weak.safety > *safety)
        {
            best = Some((weak.safety, set.clone()));
        }
    }
    let (safety, set) = best?;
    Some(Strongest {
        set,
        problem: asking,
        safety,
        looked_at,
    })
}

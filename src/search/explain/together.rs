//! Two changes at once: one of the gears, and a tolerance.

use super::gears;
use super::ratios::{Least, asked, tolerance_step};
use super::trial::Trials;
use super::way::Step;

/// Changes of one limit of the gears tried beside a tolerance.
const MOST_STEPS: usize = 40;

/// Per limit of the gears its smallest change behind which one tolerance is
/// enough, and then the tolerance that grows least.
pub(super) fn pairs(trials: &Trials<'_>) -> Vec<Vec<Step>> {
    let asked = asked(trials.problem);
    let mut lists: Vec<Vec<Step>> = gears::rising(trials)
        .into_iter()
        .map(|rising| rising.steps)
        .collect();
    // One module each: none of them includes another.
    lists.extend(gears::modules(trials).into_iter().map(|step| vec![step]));
    let mut found: Vec<(i64, Vec<Step>)> = Vec::new();
    for list in lists {
        for step in list.into_iter().take(MOST_STEPS) {
            let Some(problem) = trials.with(&step.edits) else {
                continue;
            };
            let Some(least) = Least::of(&problem, trials.control) else {
                break;
            };
            let free = |role: usize| trials.may_change(&asked[role].tolerance_key);
            let growth = |role: usize, tolerance: i64| {
                100 * tolerance - asked[role].tolerance.millionths() / 100
            };
            let tolerances = least.tolerance.iter().filter(|(role, _)| free(**role));
            let best = tolerances.min_by_key(|(role, t)| growth(**role, **t));
            if let Some((&role, &tolerance)) = best {
                let second = tolerance_step(&asked[role], role, tolerance);
                found.push((growth(role, tolerance), vec![step, second]));
                break;
            }
        }
    }
    found.sort_by_key(|(growth, _)| *growth);
    found.into_iter().map(|(_, steps)| steps).collect()
}

//! How much of the strength asked for the sets have that strength shuts out.
//!
//! A set that holds a safety holds every lower one, so that the most that any
//! set holds is found by halving, with the exact count at each step.

use super::trial::{has_a_set, hundredths};
use crate::base::Decimal;
use crate::problem::{Duty, Measure, Problem, Ranking};
use crate::rating::least_that;
use crate::search::solve::{count, solve};
use crate::search::{Control, Request};
use crate::train::{Set, Weakest, rate, weakest};
use num_bigint::BigUint;

/// The least safety that a file may ask for, hundredths.
pub(super) const LEAST_SAFETY: i64 = 10;

/// What sets there would be, and how strong they are.
#[derive(Clone, Debug)]
pub struct Shortfall {
    /// How many sets there would be with nothing asked of the strength of teeth.
    pub sets: BigUint,
    /// The strongest of them; none where none holds the least safety that a file
    /// may ask for, 0.1.
    pub strongest: Option<Box<Strongest>>,
}

/// A set that holds as much as any.
#[derive(Clone, Debug)]
pub struct Strongest {
    /// What it holds at its roots and flanks, in whole hundredths; no set holds a
    /// hundredth more.
    pub safety: Decimal,
    /// The problem that asks for no more than that.
    pub problem: Problem,
    /// Of the sets that hold it, the one with the least worst error; of those
    /// level the one with least metal, then with fewest cutters.
    pub set: Set,
    /// Its weakest place.
    pub weakest: Weakest,
    /// What the gear there is made of.
    pub material: String,
}

impl Shortfall {
    /// Of a problem whose sets are all too weak; none when stopped.
    pub(super) fn of(problem: &Problem, threads: usize, control: &Control) -> Option<Self> {
        let request = Request {
            top: 0,
            trains: 0,
            threads,
        };
        let sets = count(&problem.clone().unrated(), request, control);
        let holds = |safety: i64| {
            let eased = problem.clone().holding(hundredths(safety).to_f64());
            has_a_set(&eased, control)
        };
        let best = most_that(LEAST_SAFETY, asked(problem), holds);
        if control.stopped() {
            return None;
        }
        let strongest = best.and_then(|best| strongest(problem, best, request, control));
        let strongest = strongest.map(Box::new);
        Some(Self { sets, strongest })
    }
}

/// Hundredths that no set holds at roots and flanks both.
fn asked(problem: &Problem) -> i64 {
    let of = |least: fn(&Duty) -> Option<f64>| problem.duty().and_then(least);
    let asked = [of(Duty::min_root_safety), of(Duty::min_flank_safety)];
    let most = asked.into_iter().flatten().fold(0.0, f64::max);
    #[allow(
        clippy::cast_possible_truncation,
        reason = "at most 10 by the checks of the file"
    )]
    let hundredths = (100.0 * most).ceil() as i64;
    hundredths
}

/// The most from `least` on and below `beyond` that holds, where what holds
/// holds lower down too.
fn most_that(least: i64, beyond: i64, holds: impl Fn(i64) -> bool) -> Option<i64> {
    if beyond <= least || !holds(least) {
        return None;
    }
    Some(least_that(least + 1..beyond, |safety| !holds(safety)) - 1)
}

fn strongest(
    problem: &Problem,
    best: i64,
    request: Request,
    control: &Control,
) -> Option<Strongest> {
    let safety = hundredths(best);
    let eased = problem.clone().holding(safety.to_f64());
    let eased = eased.ranked(Ranking::By(Measure::WorstError), Measure::USUAL.to_vec());
    let set = solve(&eased, request, control).front.into_iter().next()?;
    let rated = rate(&eased, &set)?;
    let weakest = weakest(&rated)?;
    let mesh = &rated[weakest.mesh];
    let material = &mesh.materials[usize::from(mesh.gears[1] == weakest.gear)];
    Some(Strongest {
        material: material.name().to_owned(),
        safety,
        problem: eased,
        set,
        weakest,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_most_that_holds_is_found_by_halving() {
        for most in 10..30 {
            assert_eq!(most_that(10, 30, |safety| safety <= most), Some(most));
        }
        assert_eq!(most_that(10, 30, |_| false), None);
        assert_eq!(most_that(10, 10, |_| true), None);
        assert_eq!(most_that(10, 5, |_| true), None);
    }
}

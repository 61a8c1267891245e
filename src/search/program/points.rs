//! Whether a point of a front is a set of the problem at all.

use super::options::{as_cut, ratio_of, reverse_as_cut};
use crate::base::{Ratio, Window};
use crate::mesh::{pairs_at, reverses_at};
use crate::problem::{CutPair, Problem};
use crate::train::{Pair, Set};

/// Whether every role of `set` takes gears that it may take.
pub(super) fn is_a_set(problem: &Problem, set: &Set) -> bool {
    let known = problem
        .centre_distances()
        .iter()
        .any(|centres| centres == set.centre_distance);
    let closing = pairs_at(problem, set.centre_distance);
    let fits = |pair: Pair, head: Ratio, window: Window, cut: Option<CutPair>| {
        closing.contains(&pair)
            && as_cut(problem, pair, cut)
            && window.contains(head.then(ratio_of(pair)))
    };
    let head = match (problem.head(), set.head) {
        (None, None) => true,
        (Some(wanted), Some(pair)) => fits(pair, Ratio::ONE, wanted.window(), wanted.cut()),
        _ => false,
    };
    let ratio = set.head.map_or(Ratio::ONE, ratio_of);
    let mut speeds = problem.geared().zip(&set.pairs);
    known
        && head
        && problem.geared().count() == set.pairs.len()
        && speeds.all(|(wanted, &pair)| fits(pair, ratio, wanted.window(), wanted.cut()))
        && reverse_fits(problem, set, ratio)
}

fn reverse_fits(problem: &Problem, set: &Set, head: Ratio) -> bool {
    let (wanted, gears) = match (problem.reverse(), set.reverse) {
        (None, None) => return true,
        (Some(wanted), Some(gears)) => (wanted, gears),
        _ => return false,
    };
    let (driver, driven) = (gears.driver.get(), gears.driven.get());
    let own = |l, m| (l, m) == (driver, driven);
    let placed = reverses_at(problem, wanted, set.centre_distance, own)
        .iter()
        .any(|span| {
            span.module == gears.module && (span.idler_min..=span.idler_max).contains(&gears.idler)
        });
    placed
        && reverse_as_cut(problem, wanted, gears)
        && wanted
            .window()
            .contains(head.then(Ratio::of(driven, driver)))
}

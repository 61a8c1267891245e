//! Whether a point of a front is a set of the problem at all.

use super::options::{as_cut, ratio_of, reverse_as_cut};
use crate::base::{Ratio, Window};
use crate::mesh::{Pairs, reverses_at};
use crate::problem::{CutPair, Problem, Seating};
use crate::train::{Pair, Set};

/// Whether every role of `set` takes gears that it may take.
pub(super) fn is_a_set(problem: &Problem, set: &Set) -> bool {
    let known = problem
        .centre_distances()
        .iter()
        .any(|centres| centres == set.centre_distance);
    let closing = Pairs::at(problem, set.centre_distance);
    let offered = |pair: Pair, seating: &Seating| {
        let list = closing.of(seating);
        list.iter().any(|made| made.pair == pair)
    };
    let fits = |pair: Pair, seating, head: Ratio, window: Window, cut: Option<CutPair>| {
        offered(pair, &seating)
            && as_cut(problem, pair, cut)
            && window.contains(head.then(ratio_of(pair)))
    };
    let head = match (problem.head(), set.head) {
        (None, None) => true,
        (Some(wanted), Some(pair)) => {
            let seating = problem.head_seating();
            fits(pair, seating, Ratio::ONE, wanted.window(), wanted.cut())
        }
        _ => false,
    };
    let ratio = set.head.map_or(Ratio::ONE, ratio_of);
    let roles = problem.geared().zip(problem.speed_seatings());
    let mut speeds = roles.zip(&set.pairs);
    known
        && head
        && problem.geared().count() == set.pairs.len()
        && speeds.all(|((wanted, seating), &pair)| {
            fits(pair, seating, ratio, wanted.window(), wanted.cut())
        })
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
        .spans
        .iter()
        .any(|span| {
            span.module == gears.module && (span.idler_min..=span.idler_max).contains(&gears.idler)
        });
    let shared = problem
        .shared_speed()
        .and_then(|place| set.pairs.get(place));
    placed
        && shared.is_none_or(|pair| (pair.module, pair.driver) == (gears.module, gears.driver))
        && reverse_as_cut(problem, wanted, gears)
        && wanted
            .window()
            .contains(head.then(Ratio::of(driven, driver)))
}

//! A changed problem: made as `--with` makes it, so that what is proposed is
//! what will be read.

use super::view::{Ratios, Wanted, admits};
use crate::base::{Decimal, Length};
use crate::problem::{CentreDistances, Problem, parse, set};
use crate::search::solve::count;
use crate::search::{Control, Request};
use num_bigint::BigUint;
use rayon::prelude::*;
use serde_json::{Value, json};

/// Keys to set, and to what; null removes one.
pub type Edits = Vec<(String, Value)>;

/// Trials made between two looks at the clock.
const CHUNK: usize = 32;
/// Changes that would open the problem as far as lists tell, tried at most.
const MOST_RATED: usize = 64;

/// What trials start from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trials<'a> {
    /// The text of the problem file.
    pub(super) text: &'a str,
    /// What it says.
    pub(super) problem: &'a Problem,
    pub(super) control: &'a Control,
}

impl Trials<'_> {
    /// The problem so changed; none where the change is no sound problem.
    pub(super) fn with(&self, edits: &Edits) -> Option<Problem> {
        let mut text = self.text.to_owned();
        for (key, value) in edits {
            text = set(&text, key, value).ok()?;
        }
        parse("", &text).ok()
    }

    /// Whether the problem so changed has a set.
    pub(super) fn opens(&self, edits: &Edits) -> bool {
        self.with(edits)
            .is_some_and(|problem| has_a_set(&problem, self.control))
    }

    /// The first change of a list that opens the problem, where every change
    /// behind it does too.
    pub(super) fn first_of_rising<T: Copy>(
        &self,
        list: &[T],
        edits: impl Fn(T) -> Edits,
    ) -> Option<T> {
        let mut list = list;
        // A problem too large to hold is no way out; half as much may be one.
        while list
            .last()
            .is_some_and(|&last| self.with(&edits(last)).is_none())
        {
            list = &list[..list.len() / 2];
        }
        let last = *list.last()?;
        if self.control.stopped() || !self.opens(&edits(last)) {
            return None;
        }
        let first = list.partition_point(|&one| !self.opens(&edits(one)));
        list.get(first).copied()
    }

    /// The first `count` changes of a list that open the problem, in order.
    pub(super) fn first_of<T: Copy + Sync>(
        &self,
        list: &[T],
        count: usize,
        opens: impl Fn(T) -> bool + Sync,
    ) -> Vec<T> {
        let mut found = Vec::new();
        for chunk in list.chunks(CHUNK) {
            if self.control.stopped() {
                break;
            }
            let good = all(chunk.len(), &|i| opens(chunk[i]));
            let good = chunk.iter().zip(good).filter(|(_, good)| *good);
            found.extend(good.map(|(one, _)| *one));
            if found.len() >= count {
                found.truncate(count);
                break;
            }
        }
        found
    }

    /// The first change of a list that opens the problem. Where lists do not tell
    /// all, of the first few alone that open it as far as these tell.
    pub(super) fn nearest_of<T: Copy + Sync>(
        &self,
        list: &[T],
        admits: impl Fn(T) -> bool + Sync,
        holds: impl Fn(T) -> bool + Sync,
    ) -> Option<T> {
        if lists_tell_all(self.problem) {
            return self.first_of(list, 1, admits).pop();
        }
        let few = self.first_of(list, MOST_RATED, admits);
        self.first_of(&few, 1, holds).pop()
    }

    pub(super) fn may_change(&self, key: &str) -> bool {
        !self.problem.is_fixed(key)
    }
}

/// The answer at each place, found by all threads. It asks through a call, so that
/// the machinery of threads is compiled once, not for every kind of change.
fn all(count: usize, opens: &(dyn Fn(usize) -> bool + Sync)) -> Vec<bool> {
    (0..count).into_par_iter().map(opens).collect()
}

/// Whether the problem has a set at all; when stopped, whether one was found.
pub(super) fn has_a_set(problem: &Problem, control: &Control) -> bool {
    let wanted = Wanted::of(problem);
    let distances = problem.centre_distances();
    let ratios = Ratios::of(problem);
    (0..distances.len()).into_par_iter().any(|i| {
        let at = distances.at(i);
        !control.stopped()
            && admits(problem, &wanted, &ratios, at)
            && holds_at(problem, at, control)
    })
}

/// Whether lists of pairs and reverse gears tell that there are sets: they know
/// nothing of strength, nor of gears that the idler's pin passes.
pub(super) fn lists_tell_all(problem: &Problem) -> bool {
    !problem.asks_strength() && problem.passed_by_pin().is_none()
}

/// Whether some set holds at a centre distance whose lists admit sets.
pub(super) fn holds_at(problem: &Problem, centres: Length, control: &Control) -> bool {
    if lists_tell_all(problem) {
        return true;
    }
    let here = CentreDistances::stepped(centres, Length::ZERO, 1);
    let request = Request {
        top: 0,
        trains: 0,
        threads: 1,
    };
    count(&problem.clone().at(here), request, control) > BigUint::ZERO
}

/// A decimal as a problem file spells it.
pub(super) fn number(decimal: Decimal) -> Value {
    serde_json::from_str(&decimal.to_string()).unwrap_or_else(|_| json!(decimal.to_f64()))
}

/// Hundredths as a decimal.
pub(super) const fn hundredths(count: i64) -> Decimal {
    Decimal::from_millionths(count * 10_000)
}

/// How many whole hundredths a length has.
pub(super) const fn in_hundredths(length: Length) -> i64 {
    length.steps().div_euclid(crate::problem::HUNDREDTH)
}

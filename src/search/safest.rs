//! Sets by the least safety of their teeth, beside other measures.
//!
//! A limit of safety is something that the search knows (`strong`), and the
//! safety of a set is easily told. So the front is that of the other measures
//! under one limit after another, in hundredths: each limit is just above the
//! least safe set that was unbeaten under the one before. In between nothing can
//! change, for all that was unbeaten is still there. Under the limit that is a
//! point's own safety, its set is the first of all with its values.
//!
//! The safest sets are found from exact counts: by halving, the greatest limit
//! that leaves as many as are asked for.

use super::Control;
use super::solve::{Bounds, Outcome, Request, Status, count, usual};
use crate::problem::{Measure, Problem, Ranking};
use crate::rating::least_that;
use crate::stock::exact;
use crate::train::{Figures, MOST_HUNDREDTHS, Set, of_hundredths, safety_hundredths};
use num_bigint::BigUint;
use std::collections::BTreeMap;

/// Values in the order of the measures, that of strength last.
type Key = Vec<u64>;

/// Searches a problem that is measured or ranked by the strength of teeth.
pub(super) fn by_safety(problem: &Problem, request: Request, control: &Control) -> Outcome {
    let safest = Safest::of(problem, request, control);
    let (mut outcome, _) = usual(&safest.plain, Request { top: 0, ..request }, None, control);
    if outcome.counts.sets == BigUint::ZERO || outcome.status != Status::Proven {
        return outcome;
    }
    let bounds = bounds(problem, &outcome.front);
    if problem.measures().contains(&Measure::LeastSafety) {
        outcome.front = safest.front(std::mem::take(&mut outcome.front));
    }
    if !control.stopped() {
        outcome.sets = safest.ranked(&outcome.counts.sets);
    }
    let ranked = |place: usize| safest.ranked_key(&outcome.front[place]);
    let mut order: Vec<usize> = (0..outcome.front.len()).collect();
    order.sort_by_cached_key(|place| ranked(*place));
    outcome.front_order = order;
    if control.stopped() {
        outcome.status = Status::Stopped(bounds);
        if outcome.sets.is_empty() {
            let best = outcome.front_order.iter().take(request.top);
            outcome.sets = best.map(|place| outcome.front[*place].clone()).collect();
        }
    }
    outcome
}

/// What no set is better than, from a proven front of the other measures.
fn bounds(problem: &Problem, front: &[Set]) -> Bounds {
    let figures: Vec<Figures> = front.iter().map(|set| Figures::of(problem, set)).collect();
    let errors = figures.iter().map(|f| f.worst_error);
    Bounds {
        worst_error: errors.fold(f64::INFINITY, f64::min),
        blank_um2: figures.iter().map(|f| f.blank_um2).min().unwrap_or(0),
        distinct_cutters: figures
            .iter()
            .map(|f| f.distinct_cutters)
            .min()
            .unwrap_or(1),
    }
}

struct Safest<'a> {
    problem: &'a Problem,
    /// The same by the other measures alone.
    plain: Problem,
    request: Request,
    control: &'a Control,
}

impl<'a> Safest<'a> {
    fn of(problem: &'a Problem, request: Request, control: &'a Control) -> Self {
        let measures = problem.measures().iter().copied();
        let others: Vec<Measure> = measures.filter(|m| *m != Measure::LeastSafety).collect();
        let first = others.first().copied().unwrap_or(Measure::WorstError);
        let leading = match problem.ranking() {
            Ranking::By(measure) if measure != Measure::LeastSafety => measure,
            _ => first,
        };
        Self {
            problem,
            plain: problem.clone().ranked(Ranking::By(leading), others),
            request,
            control,
        }
    }

    /// The problem by the other measures, with a limit of safety.
    fn within(&self, hundredths: u32) -> Problem {
        self.plain.clone().safer(of_hundredths(hundredths))
    }

    /// The front in all measures, from that without a limit.
    fn front(&self, unlimited: Vec<Set>) -> Vec<Set> {
        let mut points: BTreeMap<Key, Set> = BTreeMap::new();
        let mut front = unlimited;
        let request = Request {
            top: 0,
            trains: 0,
            ..self.request
        };
        while !front.is_empty() {
            let mut least = MOST_HUNDREDTHS;
            for set in front {
                least = least.min(safety_hundredths(self.problem, &set));
                points.entry(self.key(&set)).or_insert(set);
            }
            if least == MOST_HUNDREDTHS || self.control.stopped() {
                break;
            }
            let limited = self.within(least + 1);
            front = usual(&limited, request, None, self.control).0.front;
        }
        let beaten = |key: &Key| {
            let beats = |other: &&Key| *other != key && other.iter().zip(key).all(|(x, y)| x <= y);
            points.keys().any(|other| beats(&other))
        };
        let unbeaten = points.iter().filter(|(key, _)| !beaten(key));
        unbeaten.map(|(_, set)| set.clone()).collect()
    }

    /// A set's values in the problem's measures, in order.
    fn key(&self, set: &Set) -> Key {
        let figures = Figures::of(self.problem, set);
        let measures = self.problem.measures().iter();
        let value = |measure: &Measure| exact(self.problem, set, &figures, *measure);
        measures.map(value).collect()
    }

    /// What ranks a set: the ranking's own figure, the measures, set order.
    fn ranked_key(&self, set: &Set) -> (u64, Key, Set) {
        let own = match self.problem.ranking() {
            Ranking::By(measure) => {
                exact(self.problem, set, &Figures::of(self.problem, set), measure)
            }
            Ranking::Balanced => 0,
        };
        (own, self.key(set), set.clone())
    }

    fn ranked(&self, all: &BigUint) -> Vec<Set> {
        let top = self.request.top;
        if top == 0 {
            return Vec::new();
        }
        let mut sets = if self.problem.ranking() == Ranking::By(Measure::LeastSafety) {
            let level = self.level_of(top, all);
            let safer = self.within(level + 1);
            let count = usize::try_from(self.count(&safer)).unwrap_or(usize::MAX);
            // All that are safer, and the best that are not.
            let mut sets = self.best(&safer, count);
            let level_sets = self.best_of_level(&self.within(level), level, top - count.min(top));
            sets.extend(level_sets);
            sets
        } else {
            self.with_ties(top)
        };
        sets.sort_by_cached_key(|set| self.ranked_key(set));
        sets.truncate(top);
        sets
    }

    fn count(&self, problem: &Problem) -> BigUint {
        count(problem, self.request, self.control)
    }

    /// The greatest limit that leaves so many sets; 0 where there are fewer.
    fn level_of(&self, top: usize, all: &BigUint) -> u32 {
        if *all < BigUint::from(top) {
            return 0;
        }
        let enough = |limit: u32| self.count(&self.within(limit)) >= BigUint::from(top);
        // No limit leaves all of them.
        let limits = 1..i64::from(MOST_HUNDREDTHS) + 1;
        let beyond = least_that(limits, |limit| !u32::try_from(limit).is_ok_and(enough));
        u32::try_from(beyond - 1).unwrap_or(MOST_HUNDREDTHS)
    }

    /// The best sets by the other measures, and those level with the last.
    fn with_ties(&self, top: usize) -> Vec<Set> {
        let mut room = top.saturating_add(1);
        loop {
            let sets = self.best(&self.plain, room);
            let others = |set: &Set| {
                let mut key = self.ranked_key(set);
                key.1.pop();
                (key.0, key.1)
            };
            let ends = match (sets.get(top - 1), sets.last()) {
                (Some(level), Some(last)) => others(level) != others(last),
                _ => true,
            };
            if ends || sets.len() < room || self.control.stopped() {
                return sets;
            }
            room = room.saturating_mul(2);
        }
    }

    /// The best sets of exactly a safety, by the other measures.
    fn best_of_level(&self, within: &Problem, level: u32, wanted: usize) -> Vec<Set> {
        let mut room = self.request.top;
        loop {
            let sets = self.best(within, room);
            let listed = sets.len();
            let exactly = |set: &Set| safety_hundredths(self.problem, set) == level;
            let own: Vec<Set> = sets.into_iter().filter(exactly).collect();
            if own.len() >= wanted || listed < room || self.control.stopped() {
                return own;
            }
            room = room.saturating_mul(2);
        }
    }

    fn best(&self, problem: &Problem, top: usize) -> Vec<Set> {
        if top == 0 {
            return Vec::new();
        }
        let request = Request {
            top,
            trains: 0,
            ..self.request
        };
        usual(problem, request, None, self.control).0.sets
    }
}

//! The best value vectors found so far, and what they rule out.

use super::meter::{Extras, place_of};
use crate::problem::Measure;
use crate::train::Set;
use std::collections::BTreeMap;

/// The values of a set in all measures, exactly comparable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Values {
    /// Bits of the worst error: doubles that are not negative sort by their bits.
    pub(super) error: u64,
    /// Σ OD², µm².
    pub(super) volume: u64,
    /// Distinct cutters.
    pub(super) cutters: u32,
    /// What else is measured.
    pub(super) extras: Extras,
}

impl Values {
    /// The same but for one measure that masks hold.
    pub(super) fn with(mut self, measure: Measure, value: u64) -> Self {
        match place_of(measure) {
            Some(place) => self.extras[place] = value,
            None => self.cutters = u32::try_from(value).unwrap_or(u32::MAX),
        }
        self
    }
}

/// "This error costs at least this volume", a step of a staircase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step {
    pub(super) error: u64,
    pub(super) volume: u64,
}

/// Unbeaten values of error, volume and cutters with one set each. For each number of cutters `k` it
/// keeps the staircase of error and volume that at most `k` cutters reach, so
/// that asking whether something is beaten is one binary search.
#[derive(Clone, Debug)]
pub(super) struct Store {
    stairs: Vec<Vec<Step>>,
    found: BTreeMap<Values, Set>,
}

impl Store {
    /// An empty store for sets of at most `most_cutters` cutters.
    pub(super) fn new(most_cutters: usize) -> Self {
        Self {
            stairs: vec![Vec::new(); most_cutters + 1],
            found: BTreeMap::new(),
        }
    }

    /// The staircase of at most `cutters` cutters, by rising error.
    pub(super) fn stair(&self, cutters: u32) -> &[Step] {
        &self.stairs[(cutters as usize).min(self.stairs.len() - 1)]
    }

    /// The least volume found with at most this error and this many cutters.
    pub(super) fn cap(&self, error: u64, cutters: u32) -> u64 {
        volume_at(self.stair(cutters), error)
    }

    /// Takes a set in unless something as good in every measure is there.
    pub(super) fn offer(&mut self, values: Values, set: impl FnOnce() -> Set) {
        if self.offer_values(values) {
            self.found.insert(values, set());
        }
    }

    /// Takes values in; false when something as good in every measure is there.
    pub(super) fn offer_values(&mut self, values: Values) -> bool {
        if self.cap(values.error, values.cutters) <= values.volume {
            return false;
        }
        let step = Step {
            error: values.error,
            volume: values.volume,
        };
        for stair in &mut self.stairs[values.cutters as usize..] {
            if volume_at(stair, step.error) <= step.volume {
                break;
            }
            let start = stair.partition_point(|s| s.error < step.error);
            let end = start + stair[start..].partition_point(|s| s.volume >= step.volume);
            stair.splice(start..end, [step]);
        }
        true
    }

    /// Whether nothing in the store beats these values, which it was offered.
    pub(super) fn holds(&self, values: Values) -> bool {
        let fewer = values
            .cutters
            .checked_sub(1)
            .map_or(u64::MAX, |k| self.cap(values.error, k));
        let stair = self.stair(values.cutters);
        let at = stair.partition_point(|s| s.error < values.error);
        let step = Step {
            error: values.error,
            volume: values.volume,
        };
        fewer > values.volume && stair.get(at) == Some(&step)
    }

    /// Takes in all that another store holds.
    pub(super) fn merge(&mut self, other: Self) {
        for (values, set) in other.found {
            self.offer(values, || set);
        }
    }

    /// The unbeaten vectors, each with the set it was found with.
    pub(super) fn unbeaten(&self) -> impl Iterator<Item = (Values, &Set)> {
        let found = self.found.iter().map(|(&values, set)| (values, set));
        found.filter(|&(values, _)| self.holds(values))
    }
}

/// The volume of the last step at or before `error`.
pub(super) fn volume_at(stair: &[Step], error: u64) -> u64 {
    let after = stair.partition_point(|step| step.error <= error);
    after.checked_sub(1).map_or(u64::MAX, |i| stair[i].volume)
}

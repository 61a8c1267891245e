//! The ranked list over all centre distances: level by level where something
//! that masks hold ranks before all else, and of the sets level with the last the
//! first in set order.

use super::best::{Best, Entry};
use super::bills::{Bills, tells};
use super::cheapest::climb;
use super::ladder::Ladder;
use super::mask::Mask;
use super::meter::{EXTRAS, place_of};
use super::nearby::{Pool, look_nearby};
use super::order::{Wanted, first_sets};
use super::quest::{Among, Quest};
use super::rank::rank;
use super::scale::{Key, Scale};
use super::solve::{Live, Search};
use super::space::Space;
use super::terms::Terms;
use crate::problem::Measure;
use crate::train::Set;
use std::collections::BTreeSet;

/// How many sets to look around of before a ranking, at least.
const TRIES: usize = 24;

/// A value of a measure that masks hold, and the terms that let no more of it
/// through.
#[derive(Debug)]
pub(super) struct Level {
    measure: Measure,
    value: u64,
    terms: Terms,
}

impl Level {
    fn new(measure: Measure, value: u64) -> Self {
        let mut most = [u64::MAX; EXTRAS];
        if let Some(place) = place_of(measure) {
            most[place] = value;
        }
        Self {
            measure,
            value,
            terms: Terms::at_most(most),
        }
    }
}

impl<M: Mask> Search<'_, M> {
    /// A key that at least `room` sets reach, if so many were found.
    fn limit(
        &self,
        room: usize,
        scale: &Scale,
        among: Among,
        exactly: Option<&Level>,
        starts: &[Set],
    ) -> Option<Key> {
        let mut pool = Pool::new(room, among);
        for &Live { place, .. } in &self.live {
            let here = self.problem.centre_distances().at(place);
            if !starts.iter().any(|set| set.centre_distance == here) {
                continue;
            }
            self.with(place, |space| {
                let quest = self.quest(space, scale, among, exactly);
                look_nearby(&quest, starts, TRIES + room / 8, &mut pool);
            });
        }
        pool.ceiling()
    }

    fn improve(
        &self,
        best: &mut Best,
        scale: &Scale,
        among: Among,
        exactly: Option<&Level>,
        starts: &[Set],
    ) {
        // A list with room for every set needs no limit.
        if best.missing() < self.all {
            best.lower_ceiling(self.limit(best.missing(), scale, among, exactly, starts));
        }
        for live in &self.live {
            let floor = live.floor();
            let floor = exactly.map_or(floor, |level| floor.with(level.measure, level.value));
            if !best.admits(&scale.key(floor), true) {
                continue;
            }
            self.with(live.place, |space| {
                let bills = exactly.and_then(|level| Bills::of(space, level.measure));
                let quest = Quest {
                    bills: bills.as_ref(),
                    ..self.quest(space, scale, among, exactly)
                };
                rank(&quest, best, self.request.threads);
            });
        }
    }

    fn best_entries(
        &self,
        scale: &Scale,
        fewest: u32,
        room: usize,
        among: Among,
        starts: &[Set],
    ) -> Best {
        let mut best = Best::new(room);
        let leading = scale.leading_measure().filter(|m| m.is_of_needs());
        let Some(measure) = leading else {
            self.improve(&mut best, scale, among, None, starts);
            return best;
        };
        if tells(measure) {
            return self.cheapest(measure, scale, room, among, starts);
        }
        // Few needs leave few options: rising limits find the best at once.
        let cutters = measure == Measure::DistinctCutters;
        let mut value = if cutters { u64::from(fewest) } else { 0 };
        let most_cutters = 2 * self.problem.geared().count() as u64 + 5;
        while !best.is_full() && !self.control.stopped() {
            let level = Level::new(measure, value);
            best.lift_ceiling();
            self.improve(&mut best, scale, among, Some(&level), starts);
            let next = match place_of(measure) {
                Some(place) => Some(level.terms.beyond()[place]).filter(|next| *next < u64::MAX),
                None => (value < most_cutters).then_some(value + 1),
            };
            let Some(next) = next else {
                break;
            };
            value = next;
        }
        best
    }

    /// What bills tell is known before sets are ranked: of which values there are
    /// sets, with some to look around of.
    fn cheapest(
        &self,
        measure: Measure,
        scale: &Scale,
        room: usize,
        among: Among,
        starts: &[Set],
    ) -> Best {
        let limit = (room < self.all)
            .then(|| self.limit(room, scale, among, None, starts))
            .flatten();
        let limit = limit.map_or(u64::MAX, |key| key.primary().saturating_add(1));
        let mut ladder = Ladder::new(room);
        for live in &self.live {
            let threads = self.request.threads;
            self.with(live.place, |space| {
                climb(
                    space,
                    measure,
                    &mut ladder,
                    (limit, among),
                    threads,
                    self.control,
                );
            });
        }
        let mut best = Best::new(room);
        for (value, rung) in ladder.into_rungs() {
            if best.is_full() || self.control.stopped() {
                break;
            }
            let level = Level::new(measure, value);
            let starts: Vec<Set> = starts.iter().chain(&rung.examples).cloned().collect();
            best.lift_ceiling();
            self.improve(&mut best, scale, among, Some(&level), &starts);
        }
        best
    }

    pub(super) fn quest<'s>(
        &'s self,
        space: &'s Space<M>,
        scale: &'s Scale,
        among: Among,
        exactly: Option<&'s Level>,
    ) -> Quest<'s, M> {
        Quest {
            space,
            scale,
            among,
            exactly: exactly.map(|level| (level.measure, level.value)),
            terms: exactly.map_or(&self.any, |level| &level.terms),
            bills: None,
            control: self.control,
        }
    }

    pub(super) fn best_sets(
        &self,
        top: usize,
        scale: &Scale,
        fewest: u32,
        starts: &[Set],
    ) -> Vec<Set> {
        if top == 0 {
            return Vec::new();
        }
        let best = self.best_entries(scale, fewest, top, Among::Sets, starts);
        let full = best.is_full();
        let mut entries = best.into_sorted();
        if full && !self.control.stopped() {
            self.settle_ties(&mut entries, scale);
        }
        entries.into_iter().map(|entry| entry.set).collect()
    }

    /// Of the sets level with the last, takes the first in set order.
    fn settle_ties(&self, entries: &mut Vec<Entry>, scale: &Scale) {
        let Some(last) = entries.last().cloned() else {
            return;
        };
        let clear = entries.partition_point(|entry| entry.key < last.key);
        let room = entries.len() - clear;
        let mut measures = self.problem.measures().to_vec();
        measures.extend(scale.leading_measure());
        let wanted = Wanted::new(last.values, &measures);
        let mut level = Vec::with_capacity(room);
        for live in &self.live {
            if level.len() >= room {
                break;
            }
            if !wanted.above(live.floor()) {
                continue;
            }
            let missing = room - level.len();
            level.extend(self.with(live.place, |space| {
                first_sets(space, wanted, missing, None, self.control)
            }));
        }
        if level.len() == room {
            entries.truncate(clear);
            entries.extend(level.into_iter().map(|set| Entry {
                set,
                ..last.clone()
            }));
        }
    }

    pub(super) fn best_trains(&self, scale: &Scale, fewest: u32, starts: &[Set]) -> Vec<Set> {
        let wanted = self.request.trains;
        if wanted == 0 {
            return Vec::new();
        }
        let scale = scale.by_all_measures();
        let mut room = wanted;
        loop {
            let best = self.best_entries(&scale, fewest, room, Among::Trains, starts);
            let full = best.is_full();
            let mut known: BTreeSet<Set> = BTreeSet::new();
            let mut sets: Vec<Set> = best.into_sorted().into_iter().map(|e| e.set).collect();
            // One train may stand with the best reverse of each of several groups.
            sets.retain(|set| known.insert(set.train()));
            if sets.len() >= wanted || !full || self.control.stopped() {
                sets.truncate(wanted);
                return sets;
            }
            room *= 2;
        }
    }
}

//! The front of all measures: of error, volume and cutters under one limit of
//! the others after another.
//!
//! Where bars, blanks, set-ups or cost are measured, the front of the three
//! usual measures is found once without a limit and then within rising limits
//! of the others, one inside another. A set that is unbeaten in all measures is
//! unbeaten in the three usual ones among the sets that need no more than it of
//! the others, so that it is met at its own limits. Each limit rises to the
//! least that was met beyond it inside the limits around it; the innermost need
//! not rise further once the three-measure front within it is that without it.
//!
//! No unbeaten set is missed. Take the last limits that do not pass its own
//! needs: nothing that the search could drop it for beats it there, so that the
//! search goes on with it until some limit stops it, and that limit then rises
//! to its need or less.

use super::control::Control;
use super::front::{Reach, front};
use super::mask::Mask;
use super::meter::{EXTRAS, Extras};
use super::space::Space;
use super::store::{Step, Store, Values, volume_at};
use super::terms::{Terms, Within};
use crate::train::Set;
use std::collections::BTreeMap;

/// Value vectors found, with one set each.
#[derive(Clone, Debug)]
pub(super) struct Found {
    usual: Store,
    /// All of them, where more than the usual measures count.
    all: BTreeMap<Values, Set>,
    asked: [bool; EXTRAS],
    most_cutters: usize,
}

impl Found {
    /// Nothing yet, for sets of at most `most_cutters` cutters.
    pub(super) fn new(most_cutters: usize, asked: [bool; EXTRAS]) -> Self {
        Self {
            usual: Store::new(most_cutters),
            all: BTreeMap::new(),
            asked,
            most_cutters,
        }
    }

    fn asks_more(&self) -> bool {
        self.asked != [false; EXTRAS]
    }

    /// Adds the unbeaten sets of `space`.
    pub(super) fn search<M: Mask>(
        &mut self,
        space: &Space<M>,
        threads: usize,
        control: &Control,
    ) -> Reach {
        let terms = Terms::any();
        let within = Within::new(space, &terms);
        let reach = front(&within, &mut self.usual, None, threads, control);
        if !self.asks_more() || control.stopped() {
            return reach;
        }
        let whole = self.usual.clone();
        self.keep(&whole);
        let mut climb = Climb {
            space,
            found: self,
            threads,
            control,
        };
        let finished = climb.rise([u64::MAX; EXTRAS], 0, &whole).is_some();
        let fewest = whole.unbeaten().map(|(values, _)| values.cutters).min();
        if finished {
            reach
        } else {
            Reach::Stopped {
                least_open_cutters: fewest.unwrap_or(1),
            }
        }
    }

    fn keep(&mut self, store: &Store) {
        for (values, set) in store.unbeaten() {
            self.all.entry(values).or_insert_with(|| set.clone());
        }
    }

    /// What was found that needs no more than `most` of the extras.
    fn within(&self, most: Extras) -> Store {
        let mut store = Store::new(self.most_cutters);
        for (values, set) in &self.all {
            if values
                .extras
                .iter()
                .zip(most)
                .all(|(own, most)| *own <= most)
            {
                store.offer(*values, || set.clone());
            }
        }
        store
    }

    /// Takes in all that another one holds.
    pub(super) fn merge(&mut self, other: Self) {
        self.usual.merge(other.usual);
        self.all.extend(other.all);
    }

    /// The vectors that are unbeaten in all measures, or a few more, each with
    /// the set it was found with.
    pub(super) fn unbeaten(&self) -> Box<dyn Iterator<Item = (Values, &Set)> + '_> {
        if self.asks_more() {
            Box::new(self.all.iter().map(|(values, set)| (*values, set)))
        } else {
            Box::new(self.usual.unbeaten())
        }
    }
}

struct Climb<'a, M> {
    space: &'a Space<M>,
    found: &'a mut Found,
    threads: usize,
    control: &'a Control,
}

impl<M: Mask> Climb<'_, M> {
    /// Searches within rising limits of the extras from place `first` on, those
    /// before it being `most`; `whole` is the front within these alone. The least
    /// that was met beyond each limit; none when stopped.
    fn rise(&mut self, mut most: Extras, first: usize, whole: &Store) -> Option<Extras> {
        let mut beyond = [u64::MAX; EXTRAS];
        let Some(extra) = (first..EXTRAS).find(|x| self.found.asked[*x]) else {
            return Some(beyond);
        };
        let innermost = !(extra + 1..EXTRAS).any(|x| self.found.asked[x]);
        let mut limit = 0;
        loop {
            most[extra] = limit;
            let terms = Terms::at_most(most);
            let mut store = self.found.within(most);
            let within = Within::new(self.space, &terms);
            let reach = front(&within, &mut store, Some(whole), self.threads, self.control);
            self.found.keep(&store);
            if reach != Reach::Proven {
                return None;
            }
            let inside = self.rise(most, extra + 1, &store)?;
            let met = least_of(terms.beyond(), inside);
            beyond = least_of(beyond, met);
            // Beyond this limit sets may still need less of what is limited
            // further inside, unless nothing is.
            let enough = innermost && reaches(&store, whole, self.found.most_cutters);
            if enough || met[extra] == u64::MAX {
                return Some(beyond);
            }
            limit = met[extra];
        }
    }
}

fn least_of(one: Extras, other: Extras) -> Extras {
    std::array::from_fn(|x| one[x].min(other[x]))
}

/// Whether one front is nowhere above another.
fn reaches(store: &Store, whole: &Store, most_cutters: usize) -> bool {
    let below = |stair: &[Step], step: &Step| volume_at(stair, step.error) <= step.volume;
    (0..=u32::try_from(most_cutters).unwrap_or(u32::MAX)).all(|cutters| {
        let (own, all) = (store.stair(cutters), whole.stair(cutters));
        all.iter().all(|step| below(own, step))
    })
}

//! Real alternatives: the ranking walked from its best set on, with all that
//! is much like a set listed before left out.

use super::control::Control;
use crate::train::{Distinct, Set};

/// How many ranked sets to begin with: fewer would save no time.
const FIRST_STRETCH: usize = 256;

/// Which of the ranked sets to list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alternatives {
    /// In how many gears, at least, a set must differ from each listed before
    /// it ([`differing_gears`](crate::train::differing_gears)).
    pub differ_by: usize,
    /// How many ranked sets to walk at most.
    pub longest: usize,
}

/// How a walk of the ranking went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Walk {
    /// What was asked for.
    pub wanted: Alternatives,
    /// The place in the whole ranking, from 1, of each set listed.
    pub ranks: Vec<usize>,
    /// How many ranked sets were looked at.
    pub walked: usize,
    /// Why it went no further.
    pub end: WalkEnd,
}

/// Why a walk of the ranking ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WalkEnd {
    /// The list is as long as asked for.
    Found,
    /// No further set exists.
    Exhausted,
    /// It went as far as it may.
    Limit,
    /// The search was stopped.
    Stopped,
}

impl Walk {
    /// Of a ranking without sets.
    pub(super) const fn of_nothing(wanted: Alternatives) -> Self {
        Self {
            wanted,
            ranks: Vec::new(),
            walked: 0,
            end: WalkEnd::Exhausted,
        }
    }
}

/// Which list of ranked sets is asked for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Listing {
    pub(super) top: usize,
    /// Whether to list real alternatives only.
    pub(super) alternatives: Option<Alternatives>,
    /// How many sets the ranking has, or more than any list holds.
    pub(super) all: usize,
    /// Whether reverse is driven by the gear of a speed, which counts once.
    pub(super) shares_driver: bool,
}

impl Listing {
    /// The list of a ranking of which `ranked` gives the first so many sets.
    pub(super) fn of_ranking(
        self,
        control: &Control,
        mut ranked: impl FnMut(usize) -> Vec<Set>,
    ) -> (Vec<Set>, Option<Walk>) {
        match self.alternatives {
            None => (ranked(self.top), None),
            Some(wanted) => {
                let walker = Walker::new(wanted, self.top, self.shares_driver);
                let (listed, walk) = walker.over(self.all, control, ranked);
                (listed, Some(walk))
            }
        }
    }

    /// The list of what was found, best first, when the search was stopped.
    pub(super) fn of_found(self, mut found: Vec<Set>) -> (Vec<Set>, Option<Walk>) {
        match self.alternatives {
            None => {
                found.truncate(self.top);
                (found, None)
            }
            Some(wanted) => {
                let mut walker = Walker::new(wanted, self.top, self.shares_driver);
                walker.walk(&found);
                let (listed, walk) = walker.ended(WalkEnd::Stopped);
                (listed, Some(walk))
            }
        }
    }
}

/// A ranking that is walked stretch by stretch.
#[derive(Debug)]
struct Walker {
    wanted: Alternatives,
    top: usize,
    distinct: Distinct,
    ranks: Vec<usize>,
    walked: usize,
}

impl Walker {
    fn new(wanted: Alternatives, top: usize, shares_driver: bool) -> Self {
        Self {
            wanted,
            top,
            distinct: Distinct::new(wanted.differ_by, shares_driver),
            ranks: Vec::new(),
            walked: 0,
        }
    }

    /// Walks on into `ranking`, which begins with what was walked before.
    fn walk(&mut self, ranking: &[Set]) {
        for set in ranking.iter().skip(self.walked) {
            if self.is_full() {
                break;
            }
            self.walked += 1;
            if self.distinct.keep(set) {
                self.ranks.push(self.walked);
            }
        }
    }

    /// Walks a ranking of `all` sets. Asks `ranked` for the first so many sets, twice as many each time: what
    /// is ranked again costs no more than what is new.
    fn over(
        mut self,
        all: usize,
        control: &Control,
        mut ranked: impl FnMut(usize) -> Vec<Set>,
    ) -> (Vec<Set>, Walk) {
        let most = all.min(self.wanted.longest);
        let mut stretch = FIRST_STRETCH.max(self.top).min(most);
        while !self.is_full() {
            let ranking = ranked(stretch);
            // Of a ranking that was cut short only the first is worth a look:
            // what was walked before is proved, the rest of this one is not.
            if !control.stopped() || self.walked == 0 {
                self.walk(&ranking);
            }
            if stretch == most || control.stopped() {
                break;
            }
            stretch = if most == all {
                // All of them at once are ranked sooner than half of them.
                all
            } else {
                stretch.saturating_mul(2).min(most)
            };
        }
        let end = match () {
            () if self.is_full() => WalkEnd::Found,
            () if control.stopped() => WalkEnd::Stopped,
            () if most == all => WalkEnd::Exhausted,
            () => WalkEnd::Limit,
        };
        self.ended(end)
    }

    /// What was listed.
    fn ended(self, end: WalkEnd) -> (Vec<Set>, Walk) {
        let Self {
            wanted,
            ranks,
            walked,
            ..
        } = self;
        let walk = Walk {
            wanted,
            ranks,
            walked,
            end,
        };
        (self.distinct.into_sets(), walk)
    }

    fn is_full(&self) -> bool {
        self.distinct.len() >= self.top
    }
}

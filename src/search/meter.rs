//! What a set needs beside cutters, counted from its mask: distinct bars,
//! blanks and set-ups, and money.
//!
//! Each of these never falls when a gear is added to a choice, so that a part
//! of a set bounds the whole. Only what the problem measures or ranks by is
//! held in masks; where that is nothing, masks are cutters alone.

use super::gears::{GearEntry, GearTable};
use super::mask::Mask;
use super::purse::Purse;
use crate::mesh::{Pairs, ReverseList};
use crate::problem::{Measure, Problem, Ranking};
use crate::train::{Role, Seat, bar_sizes_um, finished_length, rough_um};
use std::ops::Range;

/// How many measures there are beside error, volume and cutters.
pub(super) const EXTRAS: usize = 4;

/// Values of those measures: bars, blanks, set-ups, cost; 0 where one is not
/// asked for.
pub(super) type Extras = [u64; EXTRAS];

/// The place of a measure among the extras.
pub(super) const fn place_of(measure: Measure) -> Option<usize> {
    match measure {
        Measure::WorstError
        | Measure::BlankVolume
        | Measure::DistinctCutters
        | Measure::LeastSafety => None,
        Measure::Bars => Some(0),
        Measure::Blanks => Some(1),
        Measure::Setups => Some(2),
        Measure::Cost => Some(3),
    }
}

const BARS: usize = 0;
const BLANKS: usize = 1;
const SETUPS: usize = 2;
const COST: usize = 3;

/// Asked for bars and nothing else.
const BARS_ALONE: [bool; EXTRAS] = [true, false, false, false];

/// Which extras a problem asks for.
pub(super) fn asked(problem: &Problem) -> [bool; EXTRAS] {
    let mut asked = [false; EXTRAS];
    let leading = match problem.ranking() {
        Ranking::By(measure) => Some(measure),
        Ranking::Balanced => None,
    };
    for &measure in problem.measures().iter().chain(&leading) {
        if let Some(place) = place_of(measure) {
            asked[place] = true;
        }
    }
    asked
}

/// A gear's seat, by its place among all seats of a set: head, speeds in file
/// order, reverse; driver before driven.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slot(usize);

impl Slot {
    /// The head's driver.
    pub(super) const HEAD: Self = Self(0);

    /// The driver of the speed at place `r` among the geared ones.
    pub(super) const fn speed(r: usize) -> Self {
        Self(2 + 2 * r)
    }

    pub(super) const fn place(self) -> usize {
        self.0
    }

    /// The driver of reverse in a problem of so many geared speeds.
    pub(super) const fn reverse(speeds: usize) -> Self {
        Self::speed(speeds)
    }
}

/// Counts what masks hold.
#[derive(Debug)]
pub(super) struct Meter {
    asked: [bool; EXTRAS],
    /// Diameters of bars for sale, µm, ascending.
    bars: Vec<u64>,
    /// What is turned off a piece of bar, µm.
    turning_um: u64,
    /// Finished length of the gear in each slot, as its place among the lengths.
    lengths: Vec<u8>,
    /// Distinct blanks: outside diameter, µm, and place of the length.
    blanks: Vec<(u64, u8)>,
    /// Distinct set-ups: cutter and teeth.
    setups: Vec<(u32, u32)>,
    purse: Option<Purse>,
}

impl Meter {
    /// For masks that hold cutters alone.
    pub(super) const fn nothing() -> Self {
        Self {
            asked: [false; EXTRAS],
            bars: Vec::new(),
            turning_um: 0,
            lengths: Vec::new(),
            blanks: Vec::new(),
            setups: Vec::new(),
            purse: None,
        }
    }

    /// For what one centre distance offers.
    pub(super) fn new(
        problem: &Problem,
        gears: &GearTable,
        pairs: &Pairs,
        reverses: &ReverseList,
    ) -> Self {
        let asked = asked(problem);
        if asked == [false; EXTRAS] {
            return Self::nothing();
        }
        let mut meter = Self {
            asked,
            bars: bar_sizes_um(problem),
            turning_um: rough_um(problem, 0),
            lengths: lengths(problem),
            ..Self::nothing()
        };
        if asked[BLANKS] || asked[SETUPS] {
            meter.number(gears.offered(problem, pairs, reverses));
        }
        if asked[COST] {
            meter.purse = Some(Purse::new(problem, gears, slots(problem).as_slice()));
        }
        meter
    }

    fn number(&mut self, offered: impl Iterator<Item = GearEntry>) {
        let most = self.lengths.iter().max().copied().unwrap_or(0);
        for gear in offered {
            self.setups.push((gear.cutter, gear.teeth));
            self.blanks
                .extend((0..=most).map(|length| (gear.od_um(), length)));
            // A few gears come many times: the lists need not grow long.
            if self.setups.len() > 1 << 16 {
                self.settle();
            }
        }
        self.settle();
    }

    fn settle(&mut self) {
        self.setups.sort_unstable();
        self.setups.dedup();
        self.blanks.sort_unstable();
        self.blanks.dedup();
    }

    /// Whether masks say which seat a gear stands in; the blanks of one seat are
    /// alike in all speeds.
    pub(super) const fn tells_seats(&self) -> bool {
        self.asked[COST]
    }

    /// What money is counted by, and where in masks its bits begin.
    pub(super) fn purse(&self) -> Option<(&Purse, usize)> {
        Some((self.purse.as_ref()?, self.seats_from()))
    }

    /// Whether a measure is all that masks are asked for beside cutters.
    pub(super) fn asks_only(&self, measure: Measure) -> bool {
        let mut asked = self.asked.iter().enumerate();
        asked.all(|(place, asked)| *asked == (Some(place) == place_of(measure)))
    }

    /// How many coarse bits masks need.
    pub(super) fn coarse_bits(&self) -> usize {
        if self.asked[BARS] {
            self.bars.len() + 1
        } else {
            0
        }
    }

    /// How many fine bits masks need.
    pub(super) fn fine_bits(&self) -> usize {
        let seats = self.purse.as_ref().map_or(0, Purse::bits);
        self.setups_from() + self.setups.len() * usize::from(self.asked[SETUPS]) + seats
    }

    const fn setups_from(&self) -> usize {
        if self.asked[BLANKS] {
            self.blanks.len()
        } else {
            0
        }
    }

    const fn seats_from(&self) -> usize {
        let setups = if self.asked[SETUPS] {
            self.setups.len()
        } else {
            0
        };
        self.setups_from() + setups
    }

    /// The mask of the gears that stand in a slot and those after it.
    pub(super) fn mask<M: Mask>(&self, slot: Slot, gears: &[GearEntry]) -> M {
        let cutters = gears
            .iter()
            .fold(M::EMPTY, |mask, gear| mask.with(gear.cutter as usize));
        if !M::HOLDS_MORE {
            return cutters;
        }
        let seats = (slot.0..).zip(gears);
        seats.fold(cutters, |mask, (seat, gear)| self.with(mask, seat, gear))
    }

    #[inline(never)]
    fn with<M: Mask>(&self, mut mask: M, seat: usize, gear: &GearEntry) -> M {
        let rough_um = gear.od_um() + self.turning_um;
        if self.asked[BARS] {
            // What no bar holds counts as one size more.
            let bar = self.bars.partition_point(|&bar| bar < rough_um);
            mask = mask.with_coarse(bar);
        }
        if self.asked[BLANKS] {
            let length = self.lengths.get(seat).copied().unwrap_or(0);
            let own = (gear.od_um(), length);
            mask = mask.with_fine(self.blanks.partition_point(|&blank| blank < own));
        }
        if self.asked[SETUPS] {
            let own = (gear.cutter, gear.teeth);
            let place = self.setups.partition_point(|&setup| setup < own);
            mask = mask.with_fine(self.setups_from() + place);
        }
        if let Some(purse) = &self.purse {
            for bit in purse.bits_of(seat, rough_um) {
                mask = mask.with_fine(self.seats_from() + bit);
            }
        }
        mask
    }

    /// The extras of a choice of gears: of a part of a set never more than of
    /// the whole.
    pub(super) fn extras<M: Mask>(&self, mask: &M) -> Extras {
        if !M::HOLDS_MORE {
            [0; EXTRAS]
        } else if self.asked == BARS_ALONE {
            // Asked so often that a call for it would be dear.
            let mut extras = [0; EXTRAS];
            extras[BARS] = coarse_ones(mask);
            extras
        } else {
            self.extras_held(mask)
        }
    }

    #[inline(never)]
    fn extras_held<M: Mask>(&self, mask: &M) -> Extras {
        let mut extras = [0; EXTRAS];
        let (blanks, setups) = (self.setups_from(), self.seats_from());
        if self.asked[BARS] {
            extras[BARS] = coarse_ones(mask);
        }
        if self.asked[BLANKS] {
            extras[BLANKS] = ones(mask.fine(), 0..blanks);
        }
        if self.asked[SETUPS] {
            extras[SETUPS] = ones(mask.fine(), blanks..setups);
        }
        if let Some(purse) = &self.purse {
            extras[COST] = purse.cost(mask, setups);
        }
        extras
    }
}

/// How many things of few kinds.
fn coarse_ones<M: Mask>(mask: &M) -> u64 {
    let words = mask.coarse().iter();
    words.map(|word| u64::from(word.count_ones())).sum()
}

/// How many bits of a run are set.
pub(super) fn ones(words: &[u64], run: Range<usize>) -> u64 {
    let mut count = 0;
    let mut at = run.start;
    while at < run.end {
        let Some(word) = words.get(at / 64) else {
            break;
        };
        let end = run.end.min((at / 64 + 1) * 64);
        let kept = (word >> (at % 64)) << (64 - (end - at));
        count += u64::from(kept.count_ones());
        at = end;
    }
    count
}

/// Every seat of a set, in the order of slots; a driver of reverse that is the
/// gear of a speed is no piece of its own.
pub(super) fn slots(problem: &Problem) -> Vec<Option<(Role, Seat)>> {
    let geared = problem.speeds().iter().enumerate();
    let geared = geared.filter(|(_, speed)| speed.geared().is_some());
    let pairs = [Role::Head]
        .into_iter()
        .chain(geared.map(|(place, _)| Role::Speed(place)));
    let mut slots: Vec<_> = pairs
        .flat_map(|role| [(role, Seat::Driver), (role, Seat::Driven)])
        .map(Some)
        .collect();
    let own = problem.shared_speed().is_none();
    slots.push(own.then_some((Role::Reverse, Seat::Driver)));
    slots.extend([Seat::Idler, Seat::Driven].map(|seat| Some((Role::Reverse, seat))));
    slots
}

/// The finished length in each slot, as its place among the distinct lengths.
fn lengths(problem: &Problem) -> Vec<u8> {
    let length = |slot: &Option<(Role, Seat)>| {
        let (role, seat) = slot.unwrap_or((Role::Reverse, Seat::Driver));
        finished_length(problem, role, seat, problem.gears().face().unit())
    };
    let all: Vec<_> = slots(problem).iter().map(length).collect();
    let mut distinct = all.clone();
    distinct.sort_unstable();
    distinct.dedup();
    let place = |length| distinct.partition_point(|known| *known < length);
    all.into_iter()
        .map(|length| u8::try_from(place(length)).unwrap_or(u8::MAX))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ones_of_a_run_are_counted_across_words() {
        let words = [u64::MAX, 0b1011, 0];
        assert_eq!(ones(&words, 0..192), 67);
        assert_eq!(ones(&words, 60..66), 6);
        assert_eq!(ones(&words, 65..68), 2);
        assert_eq!(ones(&words, 64..64), 0);
        assert_eq!(ones(&words, 3..64), 61);
    }
}

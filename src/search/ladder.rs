//! The costs of the cheapest sets found so far, as many as a list has room for.

use crate::train::Set;
use std::collections::BTreeMap;

/// Sets kept of one cost, to look around of.
pub(super) const EXAMPLES: usize = 64;

/// Sets of one cost.
#[derive(Clone, Debug, Default)]
pub(super) struct Rung {
    pub(super) count: u64,
    /// Some of them.
    pub(super) examples: Vec<Set>,
}

/// The costs of the cheapest sets (or trains), no more than it takes for a list.
#[derive(Clone, Debug)]
pub(super) struct Ladder {
    pub(super) room: u64,
    held: u64,
    rungs: BTreeMap<u64, Rung>,
}

impl Ladder {
    pub(super) const fn new(room: usize) -> Self {
        Self {
            room: room as u64,
            held: 0,
            rungs: BTreeMap::new(),
        }
    }

    /// The costs, the least first.
    pub(super) fn into_rungs(self) -> impl Iterator<Item = (u64, Rung)> {
        self.rungs.into_iter()
    }

    /// What sets must stay below to be of any use.
    pub(super) fn limit(&self) -> u64 {
        let last = self.rungs.last_key_value();
        match last {
            Some((money, _)) if self.held >= self.room => *money,
            _ => u64::MAX,
        }
    }

    pub(super) fn add(&mut self, money: u64, rung: Rung) {
        if money >= self.limit() {
            return;
        }
        self.held = self.held.saturating_add(rung.count);
        let own = self.rungs.entry(money).or_default();
        own.count = own.count.saturating_add(rung.count);
        let missing = EXAMPLES.saturating_sub(own.examples.len());
        own.examples.extend(rung.examples.into_iter().take(missing));
        while let Some(last) = self.rungs.last_entry() {
            if self.held - last.get().count < self.room {
                return;
            }
            self.held -= last.remove().count;
        }
    }

    pub(super) fn merge(&mut self, other: Self) {
        for (money, rung) in other.rungs {
            self.add(money, rung);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rung(count: u64) -> Rung {
        Rung {
            count,
            examples: Vec::new(),
        }
    }

    fn costs(ladder: Ladder) -> Vec<(u64, u64)> {
        let rungs = ladder.into_rungs();
        rungs.map(|(cost, rung)| (cost, rung.count)).collect()
    }

    #[test]
    fn a_ladder_is_as_high_as_its_room_needs() {
        let mut ladder = Ladder::new(5);
        ladder.add(30, rung(2));
        assert_eq!(ladder.limit(), u64::MAX);
        ladder.add(20, rung(4));
        // Two of 30 are needed for five.
        assert_eq!(ladder.limit(), 30);
        ladder.add(30, rung(7));
        ladder.add(10, rung(1));
        assert_eq!(ladder.limit(), 20);
        assert_eq!(costs(ladder), [(10, 1), (20, 4)]);
    }

    #[test]
    fn ladders_of_threads_add_up() {
        let mut one = Ladder::new(4);
        one.add(10, rung(2));
        one.add(40, rung(9));
        let mut other = Ladder::new(4);
        other.add(10, rung(1));
        other.add(30, rung(5));
        one.merge(other);
        assert_eq!(costs(one), [(10, 3), (30, 5)]);
    }
}

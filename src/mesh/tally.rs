//! How many gears were refused, and why.

use crate::making::Refusal;
use std::ops::AddAssign;

/// Counts of what was tried and refused. Each is counted under the first limit
/// that it breaks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    centres: u64,
    by_limit: [u64; Refusal::ALL.len()],
}

impl Tally {
    /// Nothing refused.
    pub const NONE: Self = Self {
        centres: 0,
        by_limit: [0; Refusal::ALL.len()],
    };

    /// Pairs of legal tooth counts that do not close the centre distance.
    pub const fn centres(&self) -> u64 {
        self.centres
    }

    /// Those refused by `limit`.
    pub const fn by(&self, limit: Refusal) -> u64 {
        self.by_limit[limit as usize]
    }

    /// Those refused by any limit of the teeth.
    pub fn by_limits(&self) -> u64 {
        self.by_limit.iter().sum()
    }

    pub(super) const fn add(&mut self, limit: Refusal) {
        self.by_limit[limit as usize] += 1;
    }

    pub(super) const fn add_centres(&mut self, pairs: u64) {
        self.centres += pairs;
    }
}

impl AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.centres += other.centres;
        for (sum, more) in self.by_limit.iter_mut().zip(other.by_limit) {
            *sum += more;
        }
    }
}

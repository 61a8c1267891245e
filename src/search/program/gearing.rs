//! Gears that a role may take, as the program sees them.

use crate::base::{Ratio, Teeth};
use crate::train::{ModuleId, Pair, ReverseGears};

/// At most three cutters, ascending, none twice: those of one role.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cutters {
    ids: [u32; 3],
    count: usize,
}

impl Cutters {
    fn new(of_gears: &[u32]) -> Self {
        let mut sorted = of_gears.to_vec();
        sorted.sort_unstable();
        sorted.dedup();
        let mut ids = [0; 3];
        ids[..sorted.len()].copy_from_slice(&sorted);
        Self {
            ids,
            count: sorted.len(),
        }
    }

    pub(super) const NONE: Self = Self {
        ids: [0; 3],
        count: 0,
    };

    pub(super) fn ids(&self) -> &[u32] {
        &self.ids[..self.count]
    }

    /// Those that `owned` does not hold.
    pub(super) fn beyond(&self, owned: &Self) -> impl Iterator<Item = u32> + use<> {
        let owned = *owned;
        let ids = self.ids.into_iter().take(self.count);
        ids.filter(move |id| !owned.ids().contains(id))
    }

    /// Whether every one is in `other` or `owned`.
    pub(super) fn within(&self, other: &Self, owned: &Self) -> bool {
        self.beyond(owned).all(|id| other.ids().contains(&id))
    }
}

/// What makes a role turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Taken {
    Pair(Pair),
    Reverse(ReverseGears),
}

impl Taken {
    /// Module and teeth of the driving gear.
    pub(super) const fn driver(self) -> (ModuleId, Teeth) {
        match self {
            Self::Pair(pair) => (pair.module, pair.driver),
            Self::Reverse(gears) => (gears.module, gears.driver),
        }
    }
}

/// One gear as it is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct MadeGear {
    pub(super) od_um: u64,
    pub(super) cutter: u32,
    pub(super) teeth: Teeth,
}

/// The gears of one role, driver first; at most three.
#[derive(Clone, Copy, Debug)]
pub(super) struct Made {
    gears: [Option<MadeGear>; 3],
}

impl Made {
    pub(super) const NONE: Self = Self { gears: [None; 3] };

    /// Of these gears, the first three.
    pub(super) fn of(gears: impl Iterator<Item = MadeGear>) -> Self {
        let mut made = Self::NONE;
        for (own, gear) in made.gears.iter_mut().zip(gears) {
            *own = Some(gear);
        }
        made
    }

    pub(super) fn gear(&self, place: usize) -> Option<MadeGear> {
        self.gears.get(place).copied().flatten()
    }

    /// Σ OD², µm².
    pub(super) fn volume(&self) -> u64 {
        let gears = self.gears.iter().flatten();
        gears.map(|gear| gear.od_um * gear.od_um).sum()
    }

    pub(super) fn cutters(&self) -> Cutters {
        let gears = self.gears.iter().flatten();
        Cutters::new(&gears.map(|gear| gear.cutter).collect::<Vec<_>>())
    }

    /// Whether no gear is larger than the other's in its place.
    fn fits_within(&self, other: &Self) -> bool {
        let od = |gear: &Option<MadeGear>| gear.map_or(0, |gear| gear.od_um);
        let mut both = self.gears.iter().zip(&other.gears);
        both.all(|(own, other)| od(own) <= od(other))
    }
}

/// Gears that a role may take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gearing {
    pub(super) teeth: Taken,
    /// Without the head.
    pub(super) ratio: Ratio,
    /// Σ OD², µm².
    pub(super) volume: u64,
    pub(super) cutters: Cutters,
    pub(super) made: Made,
}

/// Which idlers stay between the same driver and driven gear: they all make
/// the same ratio.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Idlers {
    /// Of those of the same cutters the one that takes the least metal.
    Lightest,
    /// The same, if no gear beside it is larger either.
    Smallest,
    /// Every one: a larger one may go with what other gears need.
    All,
}

impl Idlers {
    /// Whether `other` serves nobody who has `known`.
    pub(super) fn settles(self, known: &Gearing, other: &Gearing) -> bool {
        let lighter = known.cutters == other.cutters && known.volume <= other.volume;
        match self {
            Self::Lightest => lighter,
            Self::Smallest => lighter && known.made.fits_within(&other.made),
            Self::All => false,
        }
    }
}

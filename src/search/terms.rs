//! What sets may need at most beside error, volume and cutters.

use super::mask::Mask;
use super::meter::{EXTRAS, Extras};
use super::space::Space;
use super::store::Values;
use std::ops::Deref;
use std::sync::atomic::{AtomicU64, Ordering};

/// Limits of the extras, and what was met just beyond them.
#[derive(Debug)]
pub(super) struct Terms {
    most: Extras,
    /// Per extra, the least value above its limit of a choice that was met.
    beyond: [AtomicU64; EXTRAS],
}

impl Terms {
    /// Anything goes.
    pub(super) const fn any() -> Self {
        Self::at_most([u64::MAX; EXTRAS])
    }

    pub(super) const fn at_most(most: Extras) -> Self {
        Self {
            most,
            beyond: [const { AtomicU64::new(u64::MAX) }; EXTRAS],
        }
    }

    pub(super) const fn most(&self) -> Extras {
        self.most
    }

    /// Whether there is a limit at all.
    pub(super) fn limit(&self) -> bool {
        self.most != [u64::MAX; EXTRAS]
    }

    pub(super) fn admit(&self, extras: &Extras) -> bool {
        let mut inside = true;
        for ((own, most), beyond) in extras.iter().zip(self.most).zip(&self.beyond) {
            if *own > most {
                // Seldom less, and threads need not wait for each other to read.
                if *own < beyond.load(Ordering::Relaxed) {
                    beyond.fetch_min(*own, Ordering::Relaxed);
                }
                inside = false;
            }
        }
        inside
    }

    /// Per extra the least that any set needs that its limit kept out, or less;
    /// the greatest number where it kept none out.
    pub(super) fn beyond(&self) -> Extras {
        std::array::from_fn(|x| self.beyond[x].load(Ordering::Relaxed))
    }
}

/// A space under terms.
#[derive(Debug)]
pub(super) struct Within<'a, M> {
    space: &'a Space<M>,
    pub(super) terms: &'a Terms,
}

impl<M> Deref for Within<'_, M> {
    type Target = Space<M>;

    fn deref(&self) -> &Space<M> {
        self.space
    }
}

impl<'a, M: Mask> Within<'a, M> {
    pub(super) const fn new(space: &'a Space<M>, terms: &'a Terms) -> Self {
        Self { space, terms }
    }

    /// Whether a choice may be part of a set: of so many cutters at most, and
    /// within the terms.
    pub(super) fn fits(&self, mask: M, cutters: u32) -> bool {
        mask.count() <= cutters && self.admits(mask)
    }

    /// Whether a choice is within the terms.
    pub(super) fn admits(&self, mask: M) -> bool {
        !M::HOLDS_MORE || !self.terms.limit() || self.terms.admit(&self.meter.extras(&mask))
    }
}

impl<M: Mask> Space<M> {
    /// The values of a choice of gears.
    pub(super) fn values(&self, error: u64, volume: u64, mask: M) -> Values {
        Values {
            error,
            volume,
            cutters: mask.count(),
            extras: self.meter.extras(&mask),
        }
    }
}

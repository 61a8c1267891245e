//! What is looked for in a ranking, and how partial choices stand to it.

use super::bills::Bills;
use super::control::Control;
use super::mask::Mask;
use super::meter::EXTRAS;
use super::reverses::Piece;
use super::scale::{Key, Scale, exact};
use super::space::{HeadGroup, Space};
use super::store::Values;
use super::terms::Terms;
use crate::problem::Measure;

/// Which sets may stand in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Among {
    /// Every set.
    Sets,
    /// Of each forward train only the set with the best reverse.
    Trains,
}

/// What a ranking at one centre distance needs to know.
pub(super) struct Quest<'a, M> {
    pub(super) space: &'a Space<M>,
    pub(super) scale: &'a Scale,
    pub(super) among: Among,
    /// Only sets of exactly this value of a measure that masks hold.
    pub(super) exactly: Option<(Measure, u64)>,
    /// Lets no more of that measure through.
    pub(super) terms: &'a Terms,
    /// What choices cost, where that is the measure.
    pub(super) bills: Option<&'a Bills<'a, M>>,
    pub(super) control: &'a Control,
}

impl<M: Mask> Quest<'_, M> {
    /// The best key that a partial choice can reach.
    pub(super) fn key(&self, at: Partial<M>) -> Key {
        self.scale.key(match self.exactly {
            // What is exactly known need not be counted.
            Some((measure, value)) if self.space.meter.asks_only(measure) => Values {
                error: at.error,
                volume: at.volume,
                cutters: at.mask.count(),
                extras: [0; EXTRAS],
            }
            .with(measure, value),
            Some((measure, value)) => at.values(self.space).with(measure, value),
            None => at.values(self.space),
        })
    }

    /// Whether a set of these values is one that is asked for.
    pub(super) fn asks_for(&self, values: &Values) -> bool {
        self.exactly
            .is_none_or(|(measure, value)| exact(*values, measure) == value)
    }

    /// Whether ties must be looked at: among trains set order decides at once.
    pub(super) fn ties(&self) -> bool {
        self.among == Among::Trains
    }

    /// Whether a train with these cutters was listed already, by a reverse that
    /// needs fewer cutters than are now asked for.
    pub(super) fn listed_before(&self, group: &HeadGroup<M>, train: M) -> bool {
        self.among == Among::Trains
            && self.exactly.is_some_and(|(measure, asked)| {
                let mut pieces = self.space.leading_pieces(group).iter();
                let of_set = |piece: &Piece<M>| self.space.values(0, 0, train.union(piece.mask));
                pieces.any(|piece| exact(of_set(piece), measure) < asked)
            })
    }

    pub(super) fn fits(&self, mask: M) -> bool {
        match self.exactly {
            None => true,
            Some((Measure::DistinctCutters, limit)) => u64::from(mask.count()) <= limit,
            Some(_) => self.terms.admit(&self.space.meter.extras(&mask)),
        }
    }

    /// The most of its measure.
    pub(super) fn most(&self) -> u64 {
        self.exactly.map_or(u64::MAX, |(_, value)| value)
    }

    pub(super) fn exact_cutters(&self) -> Option<u32> {
        match self.exactly {
            Some((Measure::DistinctCutters, cutters)) => u32::try_from(cutters).ok(),
            _ => None,
        }
    }
}

/// A partial choice.
#[derive(Clone, Copy)]
pub(super) struct Partial<M> {
    pub(super) error: u64,
    pub(super) volume: u64,
    pub(super) mask: M,
}

impl<M: Mask> Partial<M> {
    pub(super) fn values(&self, space: &Space<M>) -> Values {
        space.values(self.error, self.volume, self.mask)
    }
}

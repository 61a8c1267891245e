//! What plans take at least, given the bars.
//!
//! Each piece is charged for the bar that it is cut from. Give each piece a
//! worth: then whatever a plan is charged is the worth of all pieces and, per
//! bar, what its pieces are charged less what they are worth; each bar does at
//! best as well as the best haul from it. That holds for any worths, and with
//! good ones it comes close. Where the pieces cannot
//! be cut from these bars, it may rise without end.

use super::bench::{Bar, Bench};
use super::hauls::Hauls;

/// Charges are brought near this in all: fine enough for worths that are parts
/// of charges, and far from where sums leave their type.
const FULL: u128 = 1 << 52;

/// Charges, worths, and the best hauls.
#[derive(Clone, Debug)]
pub(super) struct Bound {
    /// Per kind and piece.
    charges: Vec<Vec<i64>>,
    /// Parts that charges count in, in a unit of metal, and units in a part.
    parts: u128,
    units: u128,
    /// Per piece.
    pub(super) worths: Vec<i64>,
    /// Of the pieces from each on.
    coming: Vec<i64>,
    /// Per kind, of those that there are bars of.
    hauls: Vec<Option<Hauls>>,
    /// What worths come to in all, about.
    size: i64,
}

impl Bound {
    /// Metal: D² × need for each piece; without bars.
    pub(super) fn new(bench: &Bench) -> Self {
        let thickest = bench.kinds.iter().map(|kind| kind.square).max();
        let needs: u128 = bench.pieces.iter().map(|one| u128::from(one.need)).sum();
        let most = thickest.unwrap_or(0).saturating_mul(needs).max(1);
        let scale = if most > FULL {
            (1, most.div_ceil(FULL))
        } else {
            (1 << (FULL / most).ilog2(), 1)
        };
        let metal = |kind: usize, piece: usize| {
            let kind = bench.kinds.get(kind).map_or(0, |kind| kind.square);
            let need = bench.pieces.get(piece).map_or(0, |one| one.need);
            kind.saturating_mul(u128::from(need))
        };
        let thinnest = |piece: usize| {
            let kinds = bench.kinds.iter().enumerate();
            let yields = kinds.filter(|(_, kind)| kind.yields(piece));
            let metals = yields.map(|(kind, _)| metal(kind, piece));
            scaled(metals.min().unwrap_or(0), scale)
        };
        let worths: Vec<i64> = (0..bench.pieces.len()).map(thinnest).collect();
        let charge = |kind, piece| scaled(metal(kind, piece), scale);
        let pieces = 0..bench.pieces.len();
        let of_kind = |kind| pieces.clone().map(|piece| charge(kind, piece)).collect();
        Self {
            charges: (0..bench.kinds.len()).map(of_kind).collect(),
            parts: scale.0,
            units: scale.1,
            size: worths.iter().sum(),
            worths,
            coming: Vec::new(),
            hauls: Vec::new(),
        }
    }

    /// The same where there are so many bars of each kind.
    pub(super) fn with_bars(&self, bench: &Bench, counts: &[usize]) -> Self {
        let kinds = bench.kinds.iter().zip(counts);
        let hauls = kinds.map(|(kind, count)| {
            let there_are = *count > 0;
            there_are.then(|| Hauls::new(kind.room, &bench.needs(kind)))
        });
        let mut bound = Self {
            hauls: hauls.collect(),
            ..self.clone()
        };
        bound.weigh(0);
        bound
    }

    /// Takes the worths of the pieces from `first` on as they are now.
    pub(super) fn weigh(&mut self, first: usize) {
        for (hauls, charges) in self.hauls.iter_mut().zip(&self.charges) {
            let Some(hauls) = hauls else { continue };
            let net = charges.iter().zip(&self.worths);
            hauls.weigh(first, net.map(|(charge, worth)| charge - worth));
        }
        let mut sum = 0;
        let coming = self.worths.iter().rev().map(|worth| {
            sum += worth;
            sum
        });
        self.coming = std::iter::once(0).chain(coming).collect();
        self.coming.reverse();
    }

    /// What worths come to in all, about.
    pub(super) fn size(&self) -> i64 {
        self.size
    }

    pub(super) fn charge(&self, kind: usize, piece: usize) -> i64 {
        let charges = self.charges.get(kind);
        let charge = charges.and_then(|charges| charges.get(piece));
        charge.copied().unwrap_or(0)
    }

    fn hauls_of(&self, kind: usize) -> Option<&Hauls> {
        self.hauls.get(kind).and_then(Option::as_ref)
    }

    /// What so much of a bar saves at best, by the pieces from `first` on.
    pub(super) fn haul(&self, kind: usize, first: usize, left: u64) -> i64 {
        let hauls = self.hauls_of(kind);
        hauls.map_or(0, |hauls| hauls.least(first, left))
    }

    /// What the pieces from `first` on are charged at least, given the kinds of
    /// all bars and what is left of them.
    pub(super) fn rest(&self, first: usize, bars: &[Bar]) -> i64 {
        let worth = self.coming.get(first).copied().unwrap_or(0);
        let hauls = bars.iter().map(|bar| self.haul(bar.kind, first, bar.left));
        worth + hauls.sum::<i64>()
    }

    /// How often the best hauls take each piece, of those from `first` on.
    pub(super) fn taken(&self, first: usize, bars: &[Bar], times: &mut [i64]) {
        times.fill(0);
        for bar in bars {
            if let Some(hauls) = self.hauls_of(bar.kind) {
                hauls.best(first, bar.left, |piece| {
                    if let Some(times) = times.get_mut(piece) {
                        *times += 1;
                    }
                });
            }
        }
    }

    /// What no plan is charged more than.
    pub(super) fn ceiling(&self) -> i64 {
        let of_piece = |piece| {
            let charges = self.charges.iter().filter_map(|all| all.get(piece));
            charges.max().copied().unwrap_or(0)
        };
        (0..self.worths.len()).map(of_piece).sum()
    }

    /// The most that a plan is charged which takes no more units of metal.
    pub(super) fn charged(&self, units: u128) -> i64 {
        scaled(units, (self.parts, self.units))
    }
}

fn scaled(units: u128, (by, over): (u128, u128)) -> i64 {
    i64::try_from(units.saturating_mul(by) / over).unwrap_or(i64::MAX)
}

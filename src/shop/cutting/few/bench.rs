//! What a search sees of pieces and bars: small whole numbers.

use crate::base::gcd;
use crate::shop::cutting::groups::{Groups, Sources};
use crate::stock::{Piece, Rod, Source, Stock};

/// The pieces in the order in which they are placed, and what yields them.
#[derive(Debug)]
pub(super) struct Bench {
    /// Thickest first, then longest.
    pub(super) pieces: Vec<One>,
    /// Thickest first.
    pub(super) kinds: Vec<Kind>,
    /// Steps cubed in a unit of metal.
    pub(super) metal_unit: u128,
}

/// One piece.
#[derive(Clone, Copy, Debug)]
pub(super) struct One {
    pub(super) piece: Piece,
    /// Its place in the list given.
    pub(super) place: usize,
    /// What it takes of a bar, units of length.
    pub(super) need: u64,
}

/// A bar of which there are some.
#[derive(Debug)]
pub(super) struct Kind {
    pub(super) source: Source,
    pub(super) rod: Rod,
    /// Units of length.
    pub(super) room: u64,
    /// As many as can be of use.
    pub(super) copies: usize,
    /// D² in units.
    pub(super) square: u128,
    /// The first of the kinds whose bars are alike, once cut, where as much is
    /// left of them.
    pub(super) alike: usize,
    /// Per piece, whether it may come from it.
    pub(super) yields: Vec<bool>,
}

/// A bar that is there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bar {
    pub(super) kind: usize,
    pub(super) left: u64,
}

impl Bench {
    pub(super) fn new(groups: &Groups, sources: &Sources, stock: &Stock) -> Self {
        let mut pieces = Vec::new();
        for group in &groups.all {
            let one = |&place: &usize| One {
                piece: group.piece,
                place,
                need: groups.whole_units(group.need),
            };
            pieces.extend(group.places.iter().map(one));
        }
        let diameter = |rod: &Rod| rod.diameter.steps().unsigned_abs();
        let diameters = sources.all.iter().map(|supply| diameter(&supply.rod));
        let thickness = diameters.fold(0, gcd).max(1);
        let mut order: Vec<_> = sources.all.iter().collect();
        order.sort_by_key(|supply| (std::cmp::Reverse(supply.rod.diameter), supply.source));
        let mut kinds: Vec<Kind> = Vec::new();
        for supply in order {
            let rod = supply.rod;
            let key = |rod: &Rod| (rod.diameter, rod.material);
            let alike = kinds.iter().position(|kind| key(&kind.rod) == key(&rod));
            let yields = pieces.iter().map(|one| stock.yields(&rod, &one.piece));
            kinds.push(Kind {
                source: supply.source,
                rod,
                room: groups.whole_units(supply.room),
                copies: supply.copies,
                square: u128::from(diameter(&rod) / thickness).pow(2),
                alike: alike.unwrap_or(kinds.len()),
                yields: yields.collect(),
            });
        }
        let thickness = u128::from(thickness);
        Self {
            pieces,
            kinds,
            metal_unit: thickness * thickness * u128::from(groups.unit),
        }
    }

    /// Money and new bars if every piece that may come from a new bar had one of
    /// its own. A plan that buys more bought some in vain.
    pub(super) fn one_bar_each(&self) -> (u64, usize) {
        let cheapest = |piece: usize| {
            let kinds = self.kinds.iter().filter(|kind| kind.is_new());
            let yields = kinds.filter(|kind| kind.yields(piece));
            yields.map(|kind| kind.rod.price_millionths).min()
        };
        let all = (0..self.pieces.len()).filter_map(cheapest);
        all.fold((0, 0), |(money, bars), price| {
            (money.saturating_add(price), bars + 1)
        })
    }

    /// So many whole bars of each kind.
    pub(super) fn whole_bars(&self, counts: &[usize]) -> Vec<Bar> {
        let kinds = self.kinds.iter().enumerate().zip(counts);
        let bars = kinds.flat_map(|((at, kind), count)| {
            let bar = Bar {
                kind: at,
                left: kind.room,
            };
            std::iter::repeat_n(bar, *count)
        });
        bars.collect()
    }

    /// The needs of the pieces that a kind yields.
    pub(super) fn needs(&self, kind: &Kind) -> Vec<Option<u64>> {
        let yields = self.pieces.iter().zip(&kind.yields);
        yields
            .map(|(one, yields)| yields.then_some(one.need))
            .collect()
    }
}

impl Kind {
    pub(super) fn yields(&self, piece: usize) -> bool {
        self.yields.get(piece) == Some(&true)
    }

    pub(super) fn is_new(&self) -> bool {
        matches!(self.source, Source::Bar(_))
    }
}

//! Pieces in the order in which they are cut, and what is sold for each.

use super::rooms::Offer;
use super::types::{Material, Piece, Rod, Stock};

/// A piece as the search sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Wanted {
    pub(super) piece: Piece,
    /// Its place in the list given.
    pub(super) place: usize,
    /// What it takes of a bar, with its cut.
    pub(super) need: i64,
}

/// The pieces, thickest first, then longest.
pub(super) fn ordered(pieces: &[Piece], stock: &Stock) -> Vec<Wanted> {
    let with_need = |(place, &piece): (usize, &Piece)| Wanted {
        piece,
        place,
        need: stock.need(&piece),
    };
    let mut wanted: Vec<Wanted> = pieces.iter().enumerate().map(with_need).collect();
    wanted.sort_unstable_by(|a, b| {
        let keys = |w: &Wanted| (w.piece.diameter, w.need, w.piece.material);
        keys(b).cmp(&keys(a))
    });
    wanted
}

/// Pieces and bars that are looked at together: all, or those of a material.
pub(super) type Side = Option<Material>;

/// Whether a piece is one of a side's.
pub(super) fn is_of(side: Side, piece: &Piece) -> bool {
    side.is_none() || piece.material == side
}

/// Whether a bar is one of a side's.
pub(super) fn has(side: Side, material: Material) -> bool {
    side.is_none_or(|named| named == material)
}

/// The materials that pieces name, each once.
pub(super) fn named(wanted: &[Wanted]) -> Vec<Side> {
    let mut named: Vec<Side> = wanted.iter().map(|w| w.piece.material).collect();
    named.retain(Option::is_some);
    named.sort_unstable();
    named.dedup();
    named
}

/// Rooms of the pieces up to each of `wanted`: the least need and whether all
/// are alike, so that only whole multiples of it are of use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sizes {
    least: i64,
    most: i64,
}

impl Sizes {
    /// Of no piece.
    pub(super) const NONE: Self = Self {
        least: i64::MAX,
        most: 0,
    };

    /// With one more piece.
    pub(super) fn and(self, need: i64) -> Self {
        Self {
            least: self.least.min(need),
            most: self.most.max(need),
        }
    }

    /// What of a room these pieces can use at most.
    pub(super) const fn usable(self, room: i64) -> i64 {
        if room < self.least {
            0
        } else if self.least == self.most {
            room - room % self.least
        } else {
            room
        }
    }
}

/// What is sold at the threshold of each piece of a side.
pub(super) fn offers(wanted: &[Wanted], stock: &Stock, side: Side) -> Vec<Option<Offer>> {
    let mut sizes = Sizes::NONE;
    let at = |w: &Wanted| {
        if !is_of(side, &w.piece) {
            return None;
        }
        sizes = sizes.and(w.need);
        let thick = |rod: &&Rod| rod.diameter >= w.piece.diameter && has(side, rod.material);
        let bars = stock.bars().iter().filter(thick);
        let sizes = sizes;
        Offer::of(bars.map(|rod| {
            let room = stock.room(rod);
            (rod.price_millionths, room, sizes.usable(room))
        }))
    };
    wanted.iter().map(at).collect()
}

/// Bars worth opening for each piece, cheapest first: from here on every piece
/// is as thin or thinner, so that of two bars of a material the one that is no
/// dearer and no shorter serves for both.
pub(super) fn worth(wanted: &[Wanted], stock: &Stock) -> Vec<Vec<(usize, Rod)>> {
    let mut cheapest: Vec<(usize, Rod)> = stock.bars().iter().copied().enumerate().collect();
    cheapest.sort_by_key(|(_, rod)| (rod.price_millionths, std::cmp::Reverse(stock.room(rod))));
    let materials_matter = wanted.iter().any(|w| w.piece.material.is_some());
    let of = |w: &Wanted| {
        let mut kept: Vec<(usize, Rod)> = Vec::new();
        let yields = |(_, rod): &&(usize, Rod)| stock.yields(rod, &w.piece);
        for (place, rod) in cheapest.iter().filter(yields) {
            let beaten = |(_, by): &(usize, Rod)| {
                let alike = !materials_matter || by.material == rod.material;
                alike && stock.room(by) >= stock.room(rod)
            };
            if !kept.iter().any(beaten) {
                kept.push((*place, *rod));
            }
        }
        kept
    };
    wanted.iter().map(of).collect()
}

//! Why pieces cannot be had.

use crate::base::Length;
use crate::stock::{Piece, Rod, Stock};

/// A piece that cannot be had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Impossible {
    /// Its place in the list given.
    pub piece: usize,
    /// Why.
    pub why: Why,
}

/// Why a piece cannot be had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// There is no bar of its material at all.
    NoMaterial,
    /// Every bar is too thin.
    TooThick {
        /// The diameter it needs.
        needs: Length,
        /// The thickest bar there is of its material.
        largest: Length,
    },
    /// Every bar that is thick enough is too short.
    TooLong {
        /// The length it needs, with whatever is lost at an end.
        needs: Length,
        /// The longest bar there is that is thick enough.
        longest: Length,
    },
    /// The rack alone has bars for it, and they do not yield all such pieces.
    RackTooSmall,
}

/// Every piece has a bar of its own, at least.
pub(super) fn check(pieces: &[Piece], stock: &Stock) -> Result<(), Impossible> {
    let refused = |(place, piece): (usize, &Piece)| {
        let why = why_not(piece, stock)?;
        Some(Impossible { piece: place, why })
    };
    let mut refused = pieces.iter().enumerate().filter_map(refused);
    refused.next().map_or(Ok(()), Err)
}

fn why_not(piece: &Piece, stock: &Stock) -> Option<Why> {
    let rods = || {
        let all = stock.rack().iter().chain(stock.bars());
        all.filter(|rod| piece.material.is_none_or(|named| named == rod.material))
    };
    if rods().any(|rod| stock.yields(rod, piece)) {
        return None;
    }
    let Some(largest) = rods().map(|rod| rod.diameter).max() else {
        return Some(Why::NoMaterial);
    };
    let thick = |rod: &&Rod| rod.suits(piece);
    let Some(longest) = rods().filter(thick).map(|rod| rod.length).max() else {
        return Some(Why::TooThick {
            needs: piece.diameter,
            largest,
        });
    };
    let lost = if stock.grip() == Length::ZERO {
        0
    } else {
        stock.grip().steps() + stock.kerf().steps()
    };
    Some(Why::TooLong {
        needs: Length::from_steps(piece.length.steps() + lost),
        longest,
    })
}

/// The piece to name where each has a bar and yet not all can be cut: one that
/// nothing for sale yields, the thickest of them.
pub(super) fn together(pieces: &[Piece], stock: &Stock) -> Impossible {
    let owned_only =
        |(_, piece): &(usize, &Piece)| !stock.bars().iter().any(|rod| stock.yields(rod, piece));
    let named = pieces.iter().enumerate().filter(owned_only);
    let named = named.max_by_key(|(_, piece)| piece.diameter);
    Impossible {
        piece: named.map_or(0, |(place, _)| place),
        why: Why::RackTooSmall,
    }
}

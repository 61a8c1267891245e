//! The plan, with every cut in its place.

use crate::base::Length;
use crate::stock::{Opened, Piece, Rod, Source, Stock};

/// One bar and all that comes off it. Lengths, kerfs and what is left add up to
/// the bar exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Which bar.
    pub source: Source,
    /// The bar.
    pub rod: Rod,
    /// Its pieces by their places in the list given, thickest first, and where
    /// each begins and ends from the faced end.
    pub pieces: Vec<(usize, [Length; 2])>,
    /// Width of the cut behind each piece: the saw's, less where the bar ends
    /// in it.
    pub kerfs: Vec<Length>,
    /// What is left of the bar, with the end it is held at.
    pub left: Length,
}

/// How much of a plan is proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Proof {
    /// No plan costs less than this, in millionths.
    pub money_at_least_millionths: u64,
    /// No plan for this money has fewer new bars.
    pub bars: bool,
    /// No plan for this money with so many new bars takes less metal.
    pub metal: bool,
}

/// What to cut from what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Every bar that is cut, the rack's first, then thickest first.
    pub cuts: Vec<Cut>,
    /// Bars to buy: places in [`Stock::bars`], and how many of each.
    pub buys: Vec<(usize, usize)>,
    /// Money for them, in millionths.
    pub money_millionths: u64,
    /// New bars.
    pub bars: usize,
    /// Σ D² × (length + kerf) over pieces, in steps of length cubed: with π/4 it
    /// is the metal that leaves the rack.
    pub metal: u128,
    /// What is proved.
    pub proof: Proof,
}

impl Plan {
    /// Whether no plan costs less.
    pub const fn money_is_proved(&self) -> bool {
        self.money_millionths == self.proof.money_at_least_millionths
    }

    /// Metal that the pieces take with their cuts, mm³.
    #[allow(
        clippy::cast_precision_loss,
        reason = "a figure to be read; plans are compared by the whole number"
    )]
    pub fn metal_mm3(&self) -> f64 {
        std::f64::consts::FRAC_PI_4 * self.metal as f64 * 1e-27
    }
}

/// What plans are compared by: money, new bars, metal.
pub(super) type Cost = (u64, usize, u128);

/// What a way of cutting costs; none where it is no way: a piece that is not
/// cut once, from a bar that does not yield it, or more from a bar, or more
/// bars, than there are.
pub(super) fn cost(pieces: &[Piece], stock: &Stock, way: &[Opened]) -> Option<Cost> {
    let mut seen = vec![false; pieces.len()];
    let mut owned: Vec<usize> = stock.rack().iter().map(|rod| rod.count).collect();
    let (mut money, mut bars, mut metal) = (0_u64, 0_usize, 0_u128);
    for opened in way {
        let rod = stock.rod_of(opened.source)?;
        match opened.source {
            Source::Rack(place) => {
                let left = owned.get_mut(place)?;
                *left = left.checked_sub(1)?;
            }
            Source::Bar(_) => {
                money = money.checked_add(rod.price_millionths)?;
                bars += 1;
            }
        }
        let mut room = stock.room(rod);
        for &place in &opened.pieces {
            let piece = pieces.get(place)?;
            let seen = seen.get_mut(place)?;
            room -= stock.need(piece);
            if *seen || room < 0 || !rod.suits(piece) {
                return None;
            }
            *seen = true;
            metal = metal.checked_add(metal_of(stock, rod, piece))?;
        }
    }
    seen.iter()
        .all(|seen| *seen)
        .then_some((money, bars, metal))
}

/// D² × (length + kerf) in steps.
pub(super) fn metal_of(stock: &Stock, rod: &Rod, piece: &Piece) -> u128 {
    let diameter = u128::from(rod.diameter.steps().unsigned_abs());
    diameter * diameter * u128::from(stock.need(piece).unsigned_abs())
}

/// Puts every piece of a way in its place.
pub(super) fn laid_out(
    pieces: &[Piece],
    stock: &Stock,
    way: &[Opened],
    proof: Proof,
) -> Option<Plan> {
    let (money_millionths, bars, metal) = cost(pieces, stock, way)?;
    let cuts = way.iter().map(|opened| cut(pieces, stock, opened));
    let mut cuts = cuts.collect::<Option<Vec<Cut>>>()?;
    cuts.sort_by_key(|cut| {
        let bought = matches!(cut.source, Source::Bar(_));
        let first = cut.pieces.first().map(|(place, _)| *place);
        (
            bought,
            std::cmp::Reverse(cut.rod.diameter),
            cut.source,
            first,
        )
    });
    let mut buys: Vec<(usize, usize)> = Vec::new();
    for cut in &cuts {
        if let Source::Bar(place) = cut.source {
            match buys.iter_mut().find(|(known, _)| *known == place) {
                Some((_, count)) => *count += 1,
                None => buys.push((place, 1)),
            }
        }
    }
    Some(Plan {
        cuts,
        buys,
        money_millionths,
        bars,
        metal,
        proof,
    })
}

fn cut(pieces: &[Piece], stock: &Stock, opened: &Opened) -> Option<Cut> {
    let rod = *stock.rod_of(opened.source)?;
    let mut order = opened.pieces.clone();
    let key = |place: &usize| {
        pieces
            .get(*place)
            .map(|piece| (piece.diameter, piece.length))
    };
    order.sort_by(|a, b| key(b).cmp(&key(a)).then(a.cmp(b)));
    let (mut at, mut placed, mut kerfs) = (0, Vec::new(), Vec::new());
    for place in order {
        let end = at + pieces.get(place)?.length.steps();
        placed.push((place, [at, end].map(Length::from_steps)));
        // The saw may run out at the end of the bar.
        let kerf = stock.kerf().steps().min(rod.length.steps() - end);
        kerfs.push(Length::from_steps(kerf));
        at = end + kerf;
    }
    Some(Cut {
        source: opened.source,
        rod,
        pieces: placed,
        kerfs,
        left: Length::from_steps(rod.length.steps() - at),
    })
}

//! A quick bound on the money for bars.

use super::rooms::{Offer, Short, least_for};
use super::sides::{Side, has, is_of};
use super::types::{Piece, Rod, Stock};

/// Money that these pieces cost at least, in millionths; nothing where no money
/// gets them. It looks at room alone: whether lengths go together is not asked.
/// It never falls when a piece is added, or made thicker or longer.
pub fn money_bound(pieces: &[Piece], stock: &Stock) -> Option<u64> {
    let mut sides: Vec<Side> = pieces.iter().map(|piece| piece.material).collect();
    sides.retain(Option::is_some);
    sides.sort_unstable();
    sides.dedup();
    // Bars of different materials are different bars: their money adds up.
    let mut apart: u64 = 0;
    for &side in &sides {
        apart = apart.saturating_add(of_side(pieces, stock, side)?);
    }
    Some(apart.max(of_side(pieces, stock, None)?))
}

fn of_side(pieces: &[Piece], stock: &Stock, side: Side) -> Option<u64> {
    let mut wanted: Vec<&Piece> = pieces.iter().filter(|p| is_of(side, p)).collect();
    wanted.sort_unstable_by_key(|piece| std::cmp::Reverse(piece.diameter));
    let mut demand: i64 = 0;
    let at = |piece: &&Piece| -> Short {
        demand = demand.saturating_add(stock.need(piece));
        let thick = |rod: &&Rod| rod.diameter >= piece.diameter && has(side, rod.material);
        let bars = stock.bars().iter().filter(thick);
        let offer = Offer::of(bars.map(|rod| {
            let room = stock.room(rod);
            (rod.price_millionths, room, room)
        }));
        let rack = stock.rack().iter().filter(thick);
        let owned = rack
            .map(|rod| total(stock.room(rod), rod.count))
            .sum::<i64>();
        (demand.saturating_sub(owned), offer)
    };
    least_for(wanted.iter().map(at))
}

fn total(room: i64, count: usize) -> i64 {
    room.saturating_mul(i64::try_from(count).unwrap_or(i64::MAX))
}

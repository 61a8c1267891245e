//! Which piece is cut from which bar.
//!
//! In: pieces and a stock. Out: a plan: what comes off each bar, what is left,
//! what is bought. Least money comes first, then fewest new bars, then least
//! metal, each proved or open within limits that count steps, not seconds: few
//! pieces by a search of what may be bought and how it is cut, many by an
//! integer program of patterns. Whatever either says is worked out again in
//! whole numbers before it counts.

mod fault;
mod few;
mod groups;
mod patterns;
mod plan;
mod staged;

pub use fault::{Impossible, Why};
pub use plan::{Cut, Plan, Proof};

use crate::search::Control;
use crate::stock::{Least, Piece, Stock, cheapest};
use groups::{Groups, Sources};
use staged::Best;

/// Partial plans that the search for the least money looks at first.
const STEPS: u64 = 20_000;
/// The same where there are many pieces: it looks for a way, not for a proof.
const STEPS_OF_MANY: u64 = 2_000;

/// Pieces from which on patterns are counted instead of placing pieces.
const MANY: usize = 40;

/// The best plan that is found.
///
/// # Errors
/// A piece that no bar yields, or that the rack cannot yield together with the
/// others while no bar for sale yields it.
pub fn plan(pieces: &[Piece], stock: &Stock, control: &Control) -> Result<Plan, Impossible> {
    fault::check(pieces, stock)?;
    let groups = Groups::of(pieces, stock);
    let many = pieces.len() >= MANY;
    let steps = if many { STEPS_OF_MANY } else { STEPS };
    let (least, way) = cheapest(pieces, stock, steps);
    let mut best = Best::start(pieces, stock, way);
    match least {
        Least::Impossible => return Err(fault::together(pieces, stock)),
        Least::Money(money) => best.money_is(money),
        Least::Between(at_least, _) => best.money_is_at_least(at_least),
    }
    if many {
        patterns::improve(&mut best, &groups, control);
    } else {
        let sources = Sources::of(&groups, stock, best.money());
        few::improve(&mut best, &groups, &sources, control);
    }
    best.plan().ok_or_else(|| fault::together(pieces, stock))
}

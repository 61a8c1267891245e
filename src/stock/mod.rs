//! Pieces of round bar, and the least money that gets them.
//!
//! In: pieces with their least diameter and length; what lies on the rack and
//! what bars can be bought. Out: the least money, exactly, and a bound on it
//! that costs next to nothing. Assumed: a piece may come from any bar that is
//! at least as thick, of its material where it names one; cuts are square, and
//! each takes the width of the saw.

mod bound;
mod cutters;
mod least;
mod measure;
mod rooms;
mod sides;
mod types;

pub use bound::money_bound;
pub use cutters::{BoughtSet, CutterNeed, Cutters, cutters};
pub use least::{Least, cheapest, least_money, least_money_within};
pub use measure::{NO_BAR, bar_money, cost, exact, gear_pieces};
pub use types::{Material, Opened, Piece, Rod, Source, Stock};

//! Which gears close a centre distance.
//!
//! In: a checked [`Problem`](crate::problem::Problem) and one centre distance. Out: every pair and every
//! reverse gearing that the distance, the tooth limits, the closing rule, the
//! limits of the teeth and the workshop's admit, in set order, and how many were refused by
//! which limit. Formulas: ISO 21771.

mod doubt;
mod hand;
mod pairs;
mod reverse;
mod tally;

pub use doubt::doubts;
pub use pairs::{Fit, MadePair, Pairs, fit, shift_sum};
pub use reverse::{ReverseList, ReverseSpan, reverses_at};
pub use tally::Tally;

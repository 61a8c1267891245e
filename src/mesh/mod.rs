//! Which gears close a centre distance.
//!
//! In: a checked [`Problem`](crate::problem::Problem) and one centre distance. Out: every pair and every
//! reverse gearing that the distance, the tooth limits and the closing rule
//! admit, in set order. Assumed: unshifted gears. Formulas: ISO 21771.

mod doubt;
mod pairs;
mod reverse;

pub use doubt::doubts;
pub use pairs::{Fit, fit, pairs_at};
pub use reverse::{ReverseSpan, reverses_at};

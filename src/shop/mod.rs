//! From a set of teeth to work at the bench: what to buy, what to cut.
//!
//! In: a problem, a set, its box where there is one. Out: pieces of bar, a plan
//! to cut them, cutters to have. Assumed: what the workshop says it has, it has.

pub mod blanks;
pub mod cutters;
pub mod cutting;
pub mod job;

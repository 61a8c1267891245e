//! From a set of teeth to work at the bench: what to buy, what to cut from what,
//! how a gear's teeth are spaced, what it is turned from, which cutter is set up
//! when.
//!
//! In: a problem, a set, its box where there is one; a dividing head and a
//! count. Out: pieces of bar and a plan to cut them, cutters to have, plain
//! figures; exact wherever money, turns, holes and lengths are compared.
//! Assumed: what the workshop says it has, it has; the crank of a dividing head
//! turns a worm, so that one turn of it is one part of the work's turn; plates
//! have their circles on one side. Sources: the rules of dividing are common
//! practice, no source; published tables are held against them in the tests.

pub mod blanks;
pub mod cutting;
pub mod dividing;
pub mod job;
mod setups;
mod turning;

pub use setups::{SetUp, set_ups};
pub use turning::{Hole, Piece};

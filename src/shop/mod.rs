//! What the workshop has to do: how a gear's teeth are spaced, what it is
//! turned from, which cutter is set up when.
//!
//! In: a dividing head and a count; a problem and a set. Out: plain figures,
//! exact wherever turns, holes and lengths are compared. Assumed: the crank
//! turns a worm, so that one turn of it is one part of the work's turn; plates
//! have their circles on one side. Sources: the rules of dividing are common
//! practice, no source; published tables are held against them in the tests.

pub mod dividing;
mod setups;
mod turning;

pub use setups::{SetUp, set_ups};
pub use turning::{Hole, Piece};

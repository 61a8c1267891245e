//! From a set of teeth to a box that goes together.
//!
//! In: gears whose sizes are settled, shafts, a case. Out: where everything
//! stands. Assumed: parallel shafts. Sources stand at each formula.

mod housed;
pub mod idler;
pub mod planes;

pub use housed::Housed;

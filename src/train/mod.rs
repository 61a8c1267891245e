//! The candidate everybody talks about: a set of gears, its figures, its mark.
//!
//! In: a checked [`Problem`](crate::problem::Problem) and tooth counts. Out:
//! ratios, errors, blank volume, cutters, idler centres of one set. Assumed:
//! the set's modules are indices into the problem's. Sources: `ISO 21771` for
//! sizes; the order of sets and the figures are the project's own definitions,
//! written at each item.

mod cutter;
mod figures;
mod set;

pub use cutter::{Cutter, cutter_of};
pub(crate) use figures::volume_mm3;
pub use figures::{Figures, PairFigures, ReverseFigures};
pub use set::{ModuleId, Pair, ReverseGears, Set};

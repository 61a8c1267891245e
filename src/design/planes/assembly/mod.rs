//! Putting the box together, step by step, each proved free of collisions.
//!
//! In: the parts of a layout in neutral, and how the case comes apart. Out: an
//! order of [`Step`]s, or every [`Obstacle`] that the tried orders met.
//! Assumed: parts are plain rings; teeth that work together may slide along or
//! into each other; a ring that turns with its shaft slides on it. Sources:
//! geometry of swept rings; the orders tried are common practice,
//! no source.

mod closed;
mod plates;
mod split;
mod sweep;
mod yard;

use super::given::Gearbox;
use super::layout::Layout;
use super::part::PartId;
use crate::problem::{Case, Shaft};

/// Where a step is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Site {
    /// Outside the box, on this shaft.
    Bench(Shaft),
    /// In the box.
    Case,
}

/// Which way parts move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Along the shafts, towards the input wall.
    TowardsInput,
    /// Along the shafts, towards the output wall.
    TowardsOutput,
    /// Across the shafts, y falling.
    Down,
    /// Across the shafts, x growing.
    Right,
    /// Across the shafts, x falling.
    Left,
    /// It is there from the beginning.
    Stays,
}

/// Parts that move together in one line.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Where it is done.
    pub site: Site,
    /// The parts that move.
    pub parts: Vec<PartId>,
    /// Which way.
    pub direction: Direction,
    /// How far the parts are from their final places at first, (x, y, z) in
    /// mm: clear of all that is there already.
    pub from_mm: [f64; 3],
    /// How far they are from their final places at last, mm; 0 but where
    /// another step brings them on.
    pub to_mm: [f64; 3],
    /// What is done, as a sentence.
    pub words: String,
}

/// Something in the way of something else.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// What cannot pass.
    pub part: PartId,
    /// What it cannot pass; none is the hole or the length of the case.
    pub in_the_way: Option<PartId>,
    /// The step it was tried in, as a sentence.
    pub words: String,
}

/// The steps that put a layout together, or what is in the way of all orders
/// that were tried.
pub(super) fn assemble(gearbox: &Gearbox, layout: &Layout) -> Result<Vec<Step>, Vec<Obstacle>> {
    match gearbox.case {
        Case::Plates => plates::assemble(gearbox, layout),
        Case::Split => split::assemble(gearbox, layout),
        Case::Closed => closed::assemble(gearbox, layout),
    }
}

//! Putting the box together, step by step, each proved free of collisions.

use super::part::PartId;

/// Which way parts move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Along the shafts, towards the input wall.
    TowardsInput,
    /// Along the shafts, towards the output wall.
    TowardsOutput,
    /// Across the shafts, y falling.
    Down,
    /// Across the shafts, x growing from the open side of a split case.
    Across,
}

/// Parts that move together to their place.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The parts that move.
    pub parts: Vec<PartId>,
    /// Which way.
    pub direction: Direction,
    /// How far they move to where they end, mm.
    pub travel_mm: f64,
    /// What is done, as a sentence.
    pub words: String,
}

/// Something in the way of something else.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// What cannot pass.
    pub part: PartId,
    /// What it cannot pass; none is the case's own hole.
    pub in_the_way: Option<PartId>,
    /// What was tried, as a sentence.
    pub words: String,
}

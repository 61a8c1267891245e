//! Every way to space a count of teeth with a dividing head.
//!
//! In: a [`DividingHead`] and a count. Out: a [`Dividing`], its ways in the
//! order in which a person tries them: a plate on the work's own spindle,
//! turns and holes, a plate printed for the count, two circles of a plate,
//! change gears. Assumed: one turn of the crank is 1/worm of the work's turn.
//! Sources: the rules are common practice, no source; MH and index tables are
//! held against them in the tests. All moves are exact fractions.

mod compound;
mod differential;
mod plain;
mod printed;
mod turns;

pub use compound::{Compound, Nearest, compound, compound_turns, nearest, nearest_turns};
pub use differential::{Differential, differential};
pub use plain::{Direct, OnCircle, Simple, direct, simple, simple_turns};
pub use printed::{
    AtWork, PlateDrawing, PlateHole, PrintedCircle, crank_error, plate_error, printed,
};
pub use turns::Turns;

use crate::problem::DividingHead;
use rayon::prelude::*;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Compound ways and differential ways kept, the best first: more would hide
/// these.
const KEPT: usize = 3;
/// Divisions of a move that is only near: more would have the work go round
/// more often than a person can keep count of.
const MOST_STEP: u32 = 5;

/// How a count can be divided. Ways that need more than a plate at hand are
/// worked out only where no plate at hand serves by itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Dividing {
    /// The count.
    pub count: u32,
    /// Turns of the crank from tooth to tooth.
    pub crank_turns: Turns,
    /// Plates on the work's own spindle.
    pub direct: Vec<Direct>,
    /// Turns and holes of one circle.
    pub simple: Option<Simple>,
    /// A plate to be printed.
    pub printed: Option<PrintedCircle>,
    /// Two circles of one plate, exact.
    pub compound: Vec<Compound>,
    /// Change gears.
    pub differential: Vec<Differential>,
    /// Two circles of one plate, nearly; only where they give no exact way and
    /// change gears give none.
    pub nearest: Option<Nearest>,
}

impl Dividing {
    /// Every way of `head` for `count`, which must not be 0.
    pub fn of(head: &DividingHead, count: u32) -> Self {
        let mut dividing = Self {
            count,
            crank_turns: Turns::of(i64::from(head.worm()), count),
            direct: direct(head, count),
            simple: simple(head, count),
            printed: None,
            compound: Vec::new(),
            differential: Vec::new(),
            nearest: None,
        };
        if dividing.at_hand() {
            return dividing;
        }
        dividing.printed = printed(head, count);
        dividing.compound = compound(head, count);
        dividing.compound.truncate(KEPT);
        dividing.differential = differential(head, count);
        dividing.differential.truncate(KEPT);
        if dividing.compound.is_empty() && dividing.differential.is_empty() {
            dividing.nearest = nearest(head, count, MOST_STEP);
        }
        dividing
    }

    /// Whether a plate at hand serves by itself.
    pub fn at_hand(&self) -> bool {
        !self.direct.is_empty() || self.simple.is_some()
    }
}

/// The ways of some counts: looking for them takes long, and the gears of many
/// sets share few counts.
#[derive(Clone, Debug)]
pub struct Known<'a> {
    head: &'a DividingHead,
    ways: BTreeMap<u32, Dividing>,
}

impl<'a> Known<'a> {
    /// Of no count yet.
    pub const fn none(head: &'a DividingHead) -> Self {
        Self {
            head,
            ways: BTreeMap::new(),
        }
    }

    /// Of each of these counts.
    pub fn of(head: &'a DividingHead, counts: &BTreeSet<u32>) -> Self {
        let ways = counts.par_iter();
        Self {
            head,
            ways: ways.map(|&n| (n, Dividing::of(head, n))).collect(),
        }
    }

    /// The head that they are ways of.
    pub const fn head(&self) -> &'a DividingHead {
        self.head
    }

    /// Every way for `count`, known or not.
    pub fn dividing(&self, count: u32) -> Dividing {
        let known = self.ways.get(&count).cloned();
        known.unwrap_or_else(|| Dividing::of(self.head, count))
    }
}

impl Nearest {
    /// What one move errs at the work, at a pitch circle of that radius.
    pub fn of_a_move(&self, head: &DividingHead, pitch_radius_mm: f64) -> AtWork {
        crank_error(head, self.error, pitch_radius_mm)
    }

    /// What has come together after all moves of `count` divisions: the
    /// largest error of any, as all err the same way.
    pub fn of_all_moves(&self, head: &DividingHead, count: u32, pitch_radius_mm: f64) -> AtWork {
        crank_error(head, self.error.times(count), pitch_radius_mm)
    }
}

//! What is near what across the shafts.

use super::given::Gearbox;
use super::part::{apart_mm, axis, fixed_shaft, free_shaft};
use crate::base::LENGTH_SLACK_MM;
use crate::problem::Shaft;

/// The three axes inside a box; input and main shaft share one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Axis {
    /// Of the gears that turn with their shaft.
    Fixed,
    /// Of the free gears and sleeves.
    Free,
    /// Of the idler.
    Idler,
}

/// Distances between the axes, and the gap to keep; mm.
#[derive(Clone, Copy, Debug)]
#[allow(
    clippy::struct_field_names,
    reason = "a length wears its unit, and all of these are lengths"
)]
pub(super) struct Across {
    fixed_to_free_mm: f64,
    fixed_to_idler_mm: f64,
    free_to_idler_mm: f64,
    gap_mm: f64,
}

impl Across {
    pub(super) fn of(gearbox: &Gearbox) -> Self {
        let apart = |one: Shaft, other: Shaft| {
            let axes = axis(gearbox, one).zip(axis(gearbox, other));
            // An idler that is not there is in nobody's way.
            axes.map_or(f64::INFINITY, |(one, other)| apart_mm(one, other))
        };
        let fixed = fixed_shaft(gearbox.arrangement);
        let free = free_shaft(gearbox.arrangement);
        Self {
            fixed_to_free_mm: apart(fixed, free),
            fixed_to_idler_mm: apart(fixed, Shaft::Idler),
            free_to_idler_mm: apart(free, Shaft::Idler),
            gap_mm: gearbox.sizes.least_gap_mm,
        }
    }

    /// What the gap between two rings on different axes lacks, mm; 0 or less
    /// when they may stand side by side. On one axis it is nothing: parts
    /// there stand behind each other.
    pub(super) fn short_mm(&self, one: (Axis, f64), other: (Axis, f64)) -> f64 {
        let distance_mm = match (one.0, other.0) {
            (Axis::Fixed, Axis::Free) | (Axis::Free, Axis::Fixed) => self.fixed_to_free_mm,
            (Axis::Fixed, Axis::Idler) | (Axis::Idler, Axis::Fixed) => self.fixed_to_idler_mm,
            (Axis::Free, Axis::Idler) | (Axis::Idler, Axis::Free) => self.free_to_idler_mm,
            _ => return 0.0,
        };
        one.1 + other.1 + self.gap_mm - distance_mm
    }

    /// Whether two rings on different axes would meet side by side.
    pub(super) fn meet(&self, one: (Axis, f64), other: (Axis, f64)) -> bool {
        self.short_mm(one, other) > LENGTH_SLACK_MM
    }
}

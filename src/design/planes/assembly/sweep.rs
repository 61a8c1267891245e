//! Whether a ring that moves in a straight line meets one that stands.

use crate::base::LENGTH_SLACK_MM;
use crate::design::planes::given::{Gearbox, ReverseForm};
use crate::design::planes::part::{Part, PartId, axis};
use crate::train::{Role, Seat};

/// From where to where a part moves, as distances (x, y, z) from its final
/// place, mm: along the shafts, or across them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    pub(super) from_mm: [f64; 3],
    pub(super) to_mm: [f64; 3],
}

/// Whether the two meet anywhere on the way. Gears that work together may
/// overlap by their teeth while one slides along its axis; across, they may
/// come as near as they are in the end.
pub(super) fn meets(gearbox: &Gearbox, moving: &Part, still: &Part, way: Way) -> bool {
    let low_mm = moving.from_mm + way.from_mm[2].min(way.to_mm[2]);
    let high_mm = moving.to_mm + way.from_mm[2].max(way.to_mm[2]);
    let along_mm = high_mm.min(still.to_mm) - low_mm.max(still.from_mm);
    let axes = axis(gearbox, moving.shaft).zip(axis(gearbox, still.shaft));
    let Some((own, other)) = axes.filter(|_| along_mm > LENGTH_SLACK_MM) else {
        return false;
    };
    let rest_mm = [other.x_mm - own.x_mm, other.y_mm - own.y_mm];
    let apart_mm = rest_mm[0].hypot(rest_mm[1]);
    let across_mm = [way.to_mm[0] - way.from_mm[0], way.to_mm[1] - way.from_mm[1]];
    let way_mm = across_mm[0].hypot(across_mm[1]);
    if way_mm <= LENGTH_SLACK_MM && apart_mm <= LENGTH_SLACK_MM {
        // One inside the other's hole.
        let inner_mm = moving.inner_radius_mm.max(still.inner_radius_mm);
        let outer_mm = moving.outer_radius_mm.min(still.outer_radius_mm);
        return outer_mm - inner_mm > LENGTH_SLACK_MM;
    }
    let nearest_mm = nearest(rest_mm, way, across_mm, way_mm);
    let allowed_mm = if mates(gearbox, moving.id, still.id) {
        apart_mm
    } else {
        moving.outer_radius_mm + still.outer_radius_mm
    };
    nearest_mm < allowed_mm - LENGTH_SLACK_MM
}

/// The least distance of a moving axis from a standing one, which is `rest_mm`
/// from the moving one's final place.
fn nearest(rest_mm: [f64; 2], way: Way, across_mm: [f64; 2], way_mm: f64) -> f64 {
    let start = [rest_mm[0] - way.from_mm[0], rest_mm[1] - way.from_mm[1]];
    let share = if way_mm > LENGTH_SLACK_MM {
        let along = start[0] * across_mm[0] + start[1] * across_mm[1];
        (along / (way_mm * way_mm)).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let at = |i: usize| start[i] - share * across_mm[i];
    at(0).hypot(at(1))
}

/// Whether the teeth of two gears work together.
pub(super) fn mates(gearbox: &Gearbox, one: PartId, other: PartId) -> bool {
    let (PartId::Gear(role, seat), PartId::Gear(other_role, other_seat)) = (one, other) else {
        return false;
    };
    let idlers = [seat, other_seat].contains(&Seat::Idler);
    if role == other_role {
        return idlers || role != Role::Reverse;
    }
    let form = gearbox.reverse.as_ref().map(|reverse| reverse.form);
    match form {
        Some(ReverseForm::Shared { with }) => {
            let driver = |role, seat| role == with && seat == Seat::Driver;
            idlers && (driver(role, seat) || driver(other_role, other_seat))
        }
        _ => false,
    }
}

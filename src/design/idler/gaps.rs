//! Gaps of idler and pin to every other part of the box, in three dimensions.

use crate::design::planes::{Gearbox, Layout, Part, PartId, ReverseForm, axis};
use crate::train::{Role, Seat};

/// A part near the idler or its pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// The part.
    pub part: PartId,
    /// Whether the pin is meant, not the idler.
    pub from_pin: bool,
    /// The gap, mm; negative where they overlap.
    pub gap_mm: f64,
}

/// The gap between two round parts on parallel axes so far apart, mm; where
/// they overlap, the less of what they overlap across and along, negative.
pub fn clearance_mm(apart_mm: f64, one: &Part, other: &Part) -> f64 {
    let across = apart_mm - one.outer_radius_mm - other.outer_radius_mm;
    let along = (one.from_mm - other.to_mm).max(other.from_mm - one.to_mm);
    match (across >= 0.0, along >= 0.0) {
        (true, true) => across.hypot(along),
        (true, false) => across,
        (false, true) => along,
        (false, false) => across.max(along),
    }
}

/// Every part of the box but those that idler and pin touch: mates, the walls'
/// bearings (a matter of metal, not of gaps), each other. Each with its least
/// gap over all that may be engaged; the nearest first.
pub fn nearby(gearbox: &Gearbox, layout: &Layout) -> Vec<Near> {
    let positions = layout.rods.iter().flat_map(|rod| &rod.positions);
    let engaged = positions.filter_map(|position| position.engages);
    let mut near: Vec<Near> = Vec::new();
    for state in std::iter::once(None).chain(engaged.map(Some)) {
        among(gearbox, &layout.parts_in(state), &mut near);
    }
    near.sort_by(|a, b| a.gap_mm.total_cmp(&b.gap_mm));
    near
}

fn among(gearbox: &Gearbox, parts: &[Part], near: &mut Vec<Near>) {
    let is_own = |part: &&Part| matches!(part.id, PartId::Pin | PartId::Gear(_, Seat::Idler));
    for own in parts.iter().filter(is_own) {
        let from_pin = own.id == PartId::Pin;
        for part in parts.iter().filter(|part| !is_own(part)) {
            let (Some(here), Some(there)) = (axis(gearbox, own.shaft), axis(gearbox, part.shaft))
            else {
                continue;
            };
            if touches(gearbox, part.id, from_pin) {
                continue;
            }
            let apart_mm = (here.x_mm - there.x_mm).hypot(here.y_mm - there.y_mm);
            let gap_mm = clearance_mm(apart_mm, own, part);
            let known = |known: &&mut Near| (known.part, known.from_pin) == (part.id, from_pin);
            match near.iter_mut().find(known) {
                Some(known) => known.gap_mm = known.gap_mm.min(gap_mm),
                None => near.push(Near {
                    part: part.id,
                    from_pin,
                    gap_mm,
                }),
            }
        }
    }
}

/// What has no gap to be looked at. The dog ring of reverse stays under the
/// roots of its gear, and the gears of reverse mesh with the idler: the driver
/// may be the gear of a speed.
fn touches(gearbox: &Gearbox, part: PartId, from_pin: bool) -> bool {
    let form = gearbox.reverse.as_ref().map(|reverse| reverse.form);
    let drives = |role| form == Some(ReverseForm::Shared { with: role });
    match part {
        PartId::Bearing(..) => true,
        PartId::Gear(Role::Reverse, _) | PartId::DogRing(Role::Reverse) => !from_pin,
        PartId::Gear(role, Seat::Driver) => !from_pin && drives(role),
        _ => false,
    }
}

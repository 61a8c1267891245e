//! Whether parts, taken as rings in space, overlap anywhere. Knows nothing of
//! how they were placed.

use super::Draw;
use super::boxes::random_box;
use layshaft::design::planes::{Fault, Gearbox, Part, PartId, ReverseForm, lay_out};
use layshaft::problem::{Arrangement, Shaft};
use layshaft::train::{Role, Seat};

/// How much two lengths may run into each other by rounding, mm.
const ROUNDING_MM: f64 = 1e-6;

/// Where a part's axis is.
pub(super) fn at(gearbox: &Gearbox, part: &Part) -> (f64, f64) {
    match part.shaft {
        Shaft::Input | Shaft::Main => (0.0, 0.0),
        Shaft::Layshaft | Shaft::Output => (0.0, -gearbox.centre_distance_mm),
        Shaft::Idler => {
            let place = gearbox.reverse.as_ref().unwrap().idler.place;
            (place.x_mm, place.y_mm)
        }
    }
}

/// Whether two gears' teeth work together.
pub(super) fn mates(gearbox: &Gearbox, one: PartId, other: PartId) -> bool {
    let (PartId::Gear(role, seat), PartId::Gear(other_role, other_seat)) = (one, other) else {
        return false;
    };
    if role == other_role {
        let idler = seat == Seat::Idler || other_seat == Seat::Idler;
        return role != Role::Reverse || idler;
    }
    let form = gearbox.reverse.as_ref().map(|reverse| reverse.form);
    let Some(ReverseForm::Shared { with }) = form else {
        return false;
    };
    let shared = (with, Seat::Driver);
    let idler = (Role::Reverse, Seat::Idler);
    let both = [(role, seat), (other_role, other_seat)];
    both.contains(&shared) && both.contains(&idler)
}

/// Whether two parts fill the same space.
fn overlap(gearbox: &Gearbox, one: &Part, other: &Part) -> bool {
    overlap_at(one, at(gearbox, one), other, at(gearbox, other))
        && !mates(gearbox, one.id, other.id)
}

/// Whether two rings with their axes at these places fill the same space.
pub(super) fn overlap_at(one: &Part, a: (f64, f64), other: &Part, b: (f64, f64)) -> bool {
    let along = one.to_mm.min(other.to_mm) - one.from_mm.max(other.from_mm);
    if along <= ROUNDING_MM {
        return false;
    }
    let apart = (a.0 - b.0).hypot(a.1 - b.1);
    if apart < ROUNDING_MM {
        let low = one.inner_radius_mm.max(other.inner_radius_mm);
        let high = one.outer_radius_mm.min(other.outer_radius_mm);
        return high - low > ROUNDING_MM;
    }
    one.outer_radius_mm + other.outer_radius_mm - apart > ROUNDING_MM
}

/// Every overlap of a list of parts.
fn overlaps(gearbox: &Gearbox, parts: &[Part]) -> Vec<(PartId, PartId)> {
    let mut found = Vec::new();
    for (i, one) in parts.iter().enumerate() {
        let others = parts[i + 1..].iter();
        let others = others.filter(|other| overlap(gearbox, one, other));
        found.extend(others.map(|other| (one.id, other.id)));
    }
    found
}

/// A sleeve's dogs go over those of the ring it engages.
fn dogs(pair: &(PartId, PartId)) -> bool {
    let kinds = [pair.0, pair.1];
    let sleeve = kinds.iter().any(|id| matches!(id, PartId::Sleeve(_)));
    sleeve && kinds.iter().any(|id| matches!(id, PartId::DogRing(_)))
}

/// In neutral, and on the way to every speed.
fn hold_apart(gearbox: &Gearbox, about: &str) {
    let layout = lay_out(gearbox).unwrap();
    let neutral = layout.parts_in(None);
    assert_eq!(overlaps(gearbox, &neutral), [], "{about}");
    for rod in &layout.rods {
        for role in rod.positions.iter().filter_map(|p| p.engages) {
            let engaged = layout.parts_in(Some(role));
            for step in 1..=8 {
                let share = f64::from(step) / 8.0;
                let between: Vec<Part> = neutral
                    .iter()
                    .zip(&engaged)
                    .map(|(from, to)| Part {
                        from_mm: from.from_mm + share * (to.from_mm - from.from_mm),
                        to_mm: from.to_mm + share * (to.to_mm - from.to_mm),
                        ..*from
                    })
                    .collect();
                let mut found = overlaps(gearbox, &between);
                found.retain(|pair| !dogs(pair));
                assert_eq!(found, [], "{about} towards {role:?}");
            }
        }
    }
}

/// Arrangement and form of reverse, as a number.
fn kind(gearbox: &Gearbox) -> usize {
    let form = match gearbox.reverse.as_ref().map(|reverse| reverse.form) {
        None => 0,
        Some(ReverseForm::ConstantMesh) => 1,
        Some(ReverseForm::SlidingIdler { .. }) => 2,
        Some(ReverseForm::Shared { .. }) => 3,
    };
    form + if gearbox.arrangement == Arrangement::InLine {
        0
    } else {
        4
    }
}

#[test]
fn no_two_parts_of_a_layout_overlap() {
    let mut draw = Draw::new(31);
    let mut laid_out = [0; 8];
    for round in 0..4000 {
        let gearbox = random_box(&mut draw, 4);
        match lay_out(&gearbox) {
            Ok(_) => {
                hold_apart(&gearbox, &format!("box {round}"));
                laid_out[kind(&gearbox)] += 1;
            }
            Err(faults) => assert!(!faults.is_empty()),
        }
    }
    assert!(laid_out.iter().all(|&count| count > 20), "{laid_out:?}");
}

// The check itself: rings that are pushed together are found.
#[test]
fn a_part_that_is_moved_into_another_is_found() {
    let mut draw = Draw::new(32);
    let mut found = 0;
    for _ in 0..200 {
        let gearbox = random_box(&mut draw, 4);
        let Ok(layout) = lay_out(&gearbox) else {
            continue;
        };
        let mut parts = layout.parts;
        for part in &mut parts {
            if let PartId::Gear(Role::Speed(_), Seat::Driven) = part.id {
                part.from_mm -= 40.0;
                part.to_mm -= 40.0;
            }
        }
        found += usize::from(!overlaps(&gearbox, &parts).is_empty());
    }
    assert!(found > 40, "{found}");
}

#[test]
fn what_forbids_a_layout_is_said() {
    let mut draw = Draw::new(33);
    let mut kinds = [0; 3];
    for _ in 0..2000 {
        let gearbox = random_box(&mut draw, 4);
        for fault in lay_out(&gearbox).err().into_iter().flatten() {
            assert!(!fault.words(&gearbox).is_empty());
            match fault {
                Fault::RingTooThin {
                    left_mm, least_mm, ..
                } => {
                    assert!(left_mm < least_mm);
                    kinds[0] += 1;
                }
                Fault::Touch { short_mm, .. } => {
                    assert!(short_mm > 0.0);
                    kinds[1] += 1;
                }
                Fault::NoOrder(pairs) => {
                    assert!(!pairs.is_empty());
                    kinds[2] += 1;
                }
                other => panic!("{other:?}"),
            }
        }
    }
    assert!(kinds.iter().all(|&count| count > 5), "{kinds:?}");
}

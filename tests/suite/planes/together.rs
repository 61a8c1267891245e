//! Replays the steps of assembly in small movements and looks for overlaps.

use super::Draw;
use super::boxes::random_box;
use super::solid::{at, mates, overlap_at};
use layshaft::design::planes::{Gearbox, Layout, Part, PartId, Site, Step, lay_out};
use layshaft::problem::{Arrangement, Case};

/// Movements that a step is seen in.
const MOVEMENTS: u32 = 240;

/// What of the step meets what stands already.
fn met(
    gearbox: &Gearbox,
    layout: &Layout,
    stands: &[PartId],
    step: &Step,
) -> Vec<(PartId, PartId)> {
    let ring = |ids: &[PartId]| -> Vec<Part> {
        let parts = layout.parts.iter().filter(|part| ids.contains(&part.id));
        parts.copied().collect()
    };
    let moving = ring(&step.parts);
    let stands: Vec<PartId> = stands
        .iter()
        .copied()
        .filter(|id| !step.parts.contains(id))
        .collect();
    let still = ring(&stands);
    let mut met = Vec::new();
    for movement in 0..=MOVEMENTS {
        let share = f64::from(movement) / f64::from(MOVEMENTS);
        let off = [0, 1, 2].map(|i| step.from_mm[i] + share * (step.to_mm[i] - step.from_mm[i]));
        let across = off[0].hypot(off[1]) > 1e-9;
        for part in &moving {
            let place = at(gearbox, part);
            let place = (place.0 + off[0], place.1 + off[1]);
            let moved = Part {
                from_mm: part.from_mm + off[2],
                to_mm: part.to_mm + off[2],
                ..*part
            };
            for other in &still {
                // Gears of a pair may mesh, not run through each other.
                let there = at(gearbox, other);
                let apart = (place.0 - there.0).hypot(place.1 - there.1);
                let home = at(gearbox, part);
                let at_home = (home.0 - there.0).hypot(home.1 - there.1);
                let through = across && apart < at_home - 1e-6;
                let teeth = mates(gearbox, part.id, other.id) && !through;
                if !teeth && overlap_at(&moved, place, other, there) {
                    met.push((part.id, other.id));
                }
            }
        }
    }
    met
}

/// All steps in turn; every part ends in the box, once.
fn replay(gearbox: &Gearbox, layout: &Layout, steps: &[Step], about: &str) {
    let mut sites: Vec<(Site, PartId)> = Vec::new();
    for step in steps {
        let stands: Vec<PartId> = sites
            .iter()
            .filter(|(site, _)| *site == step.site)
            .map(|(_, id)| *id)
            .collect();
        assert_eq!(
            met(gearbox, layout, &stands, step),
            [],
            "{about}: {}",
            step.words
        );
        sites.retain(|(_, id)| !step.parts.contains(id));
        if step.to_mm.iter().all(|part| part.abs() < 1e-12) {
            sites.extend(step.parts.iter().map(|id| (step.site, *id)));
        }
        assert!(
            step.words.ends_with('.') && !step.words.contains("unknown"),
            "{}",
            step.words
        );
    }
    let mut placed: Vec<PartId> = sites.iter().map(|(_, id)| *id).collect();
    assert!(sites.iter().all(|(site, _)| *site == Site::Case), "{about}");
    placed.sort_unstable();
    let mut all: Vec<PartId> = layout.parts.iter().map(|part| part.id).collect();
    all.sort_unstable();
    all.dedup();
    assert_eq!(placed, all, "{about}");
}

#[test]
fn every_step_of_assembly_is_free() {
    let mut draw = Draw::new(51);
    let mut built = [[0; 2]; 3];
    let mut stuck = [0; 3];
    for round in 0..700 {
        let gearbox = random_box(&mut draw, 4);
        let Ok(layout) = lay_out(&gearbox) else {
            continue;
        };
        let case = match gearbox.case {
            Case::Plates => 0,
            Case::Split => 1,
            Case::Closed => 2,
        };
        match &layout.assembly {
            Ok(steps) => {
                replay(&gearbox, &layout, steps, &format!("box {round}"));
                let offset = gearbox.arrangement == Arrangement::Offset;
                built[case][usize::from(offset)] += 1;
            }
            Err(obstacles) => {
                assert!(!obstacles.is_empty());
                stuck[case] += 1;
            }
        }
    }
    assert!(built.iter().flatten().all(|&count| count > 5), "{built:?}");
}

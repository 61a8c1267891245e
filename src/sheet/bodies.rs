//! Which bodies there are: single gears to print, and a whole set in place.

use super::solid::{SOLID_CHORD_MM, Solid, Stand, corners_of};
use super::teeth::cut_of;
use super::views::{Scene, Wheel};
use super::{Phases, section};
use crate::design::Plan;
use crate::design::forces::Hand;
use crate::design::planes::{Layout, Part, PartId};
use crate::involute::outline::Tooth;
use crate::problem::Problem;
use crate::train::Set;

/// Turns of this angle never meet again: no two round bodies share a corner, so
/// that programs which weld corners leave them apart.
const GOLDEN_RAD: f64 = 2.399_963;

/// Every gear that has teeth, lying on its face on the origin. `allowance_mm`
/// is taken off every flank, and all round out of the hole: printers lay on
/// more than they are told.
pub fn gear_solids(
    problem: &Problem,
    set: &Set,
    plan: &Plan<'_>,
    allowance_mm: f64,
) -> Vec<(String, Solid)> {
    let scene = Scene::new(problem, set, plan);
    let zero = super::drawing::at(0.0, 0.0);
    let solids = scene.wheels.iter().filter_map(|wheel| {
        let stand = Stand::plain(zero, [0.0, wheel.gear.face.mm()]);
        let hole = hole_of(wheel.hole_mm, allowance_mm);
        let solid = toothed(&scene, wheel, hole, allowance_mm, stand)?;
        Some((wheel.name.clone(), solid))
    });
    solids.collect()
}

/// The gears whose holes go as far out as their roots: bodies of these have none,
/// there would be no gear left to speak of.
pub fn too_wide_holes(
    problem: &Problem,
    set: &Set,
    plan: &Plan<'_>,
    allowance_mm: f64,
) -> Vec<String> {
    let scene = Scene::new(problem, set, plan);
    let wide = scene.wheels.iter().filter(|wheel| {
        let hole_mm = hole_of(wheel.hole_mm, allowance_mm);
        !has_room(wheel, hole_mm)
    });
    wide.map(|wheel| wheel.name.clone()).collect()
}

/// Whether a hole leaves metal under the teeth.
fn has_room(wheel: &Wheel, hole_mm: f64) -> bool {
    hole_mm < wheel.made.root_mm() / 2.0
}

/// All parts of a set where the layout has them, all sleeves in neutral, the
/// teeth of all meshes between each other; z is 0 at the output wall's inner
/// face. None where nothing is laid out.
pub fn set_in_place(problem: &Problem, set: &Set, plan: &Plan<'_>) -> Option<Vec<Solid>> {
    let layout = plan.layout.as_ref().ok()?;
    let scene = Scene::new(problem, set, plan);
    let phases = Phases::new(&scene);
    let is_shaft = |part: &&Part| matches!(part.id, PartId::Shaft(_));
    let shafts = section::shaft_lengths(layout);
    let others = layout.parts.iter().filter(|part| !is_shaft(part)).copied();
    let bodies = (0_u32..).zip(shafts.into_iter().chain(others));
    Some(
        bodies
            .filter_map(|(place, part)| {
                let turned_rad = f64::from(place) * GOLDEN_RAD;
                body(&scene, layout, &phases, &part, turned_rad)
            })
            .collect(),
    )
}

/// A part in its place; if round, turned by an angle of no matter.
fn body(
    scene: &Scene<'_>,
    layout: &Layout,
    phases: &Phases,
    part: &Part,
    turned_rad: f64,
) -> Option<Solid> {
    let side = scene.plan.side;
    let axis = scene.axis(part.shaft, side)?;
    let z_mm = [
        layout.length_mm - part.to_mm,
        layout.length_mm - part.from_mm,
    ];
    let stand = Stand::plain(axis, z_mm);
    if let PartId::Gear(role, seat) = part.id {
        let wheel = scene.wheel(role, seat)?;
        let turned_rad = phases.of(&wheel.name, side);
        let stand = Stand {
            turned_rad,
            ..stand
        };
        return toothed(scene, wheel, part.inner_radius_mm, 0.0, stand);
    }
    let radii = [part.inner_radius_mm, part.outer_radius_mm];
    let name = part.id.name(&scene.plan.gearbox);
    let stand = Stand {
        turned_rad,
        ..stand
    };
    (radii[1] > radii[0]).then(|| Solid::ring(name, radii, &stand))
}

/// The hole of a gear to print; none stays none.
fn hole_of(radius_mm: f64, allowance_mm: f64) -> f64 {
    if radius_mm > 0.0 {
        radius_mm + allowance_mm
    } else {
        0.0
    }
}

fn toothed(
    scene: &Scene<'_>,
    wheel: &Wheel,
    hole_mm: f64,
    allowance_mm: f64,
    stand: Stand,
) -> Option<Solid> {
    let (made, toothing) = (&wheel.made, wheel.made.toothing());
    let cos_alpha = toothing.transverse_angle_rad().cos();
    let cut = cut_of(made, 2.0 * allowance_mm / cos_alpha);
    let outline = Tooth::new(&cut).ok()?.outline(SOLID_CHORD_MM).ok()?;
    let hole_mm = if has_room(wheel, hole_mm) {
        hole_mm
    } else {
        0.0
    };
    let hand = Hand::of_problem(scene.problem).of_gear(wheel.gear.role, wheel.gear.seat);
    let along = toothing.helix_rad().tan() / (made.reference_mm() / 2.0);
    let stand = Stand {
        // Clockwise going away from the input end is counter-clockwise coming
        // towards it, as z does.
        twist_rad_per_mm: match hand {
            Hand::Right => along,
            Hand::Left => -along,
        },
        ..stand
    };
    Some(Solid::prism(
        &wheel.name,
        &corners_of(&outline),
        hole_mm,
        &stand,
    ))
}

//! Metal between root and hole, where the hole is known.

use super::finding::{Amount, Finding};
use crate::base::{LENGTH_SLACK_MM, plain};
use crate::design::Housed;
use crate::problem::{Arrangement, Holding, Origin, Problem, Shaft};
use crate::train::{Gear, Role, Seat, gears_of};

/// The wall of one gear; diameters in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// The gear.
    pub gear: Gear,
    /// Its root circle.
    pub root_mm: f64,
    /// How wide its hole reaches, keyway and bush counted.
    pub hole_mm: f64,
    /// What is left between them, mm; negative where the hole is the larger.
    pub wall_mm: f64,
}

/// The walls of all gears whose hole the file gives, or a shaft in it.
pub(super) fn walls(problem: &Problem, housed: &Housed<'_>) -> Vec<Wall> {
    let (_, set) = housed.of();
    let shared = set.shared_place(problem);
    let gears = gears_of(problem, set).into_iter().enumerate();
    gears
        .filter(|(place, gear)| Some(*place) != shared && is_known(problem, housed, gear))
        .filter_map(|(_, gear)| {
            let wheel = housed.wheel(gear.role, gear.seat)?;
            Some(Wall {
                gear,
                root_mm: 2.0 * wheel.root_radius_mm,
                hole_mm: 2.0 * wheel.hole_radius_mm,
                wall_mm: wheel.root_radius_mm - wheel.hole_radius_mm,
            })
        })
        .collect()
}

/// Whether the file says how wide the hole is, itself or by what goes in it.
fn is_known(problem: &Problem, housed: &Housed<'_>, gear: &Gear) -> bool {
    let shaft = gear.shaft(problem);
    if problem.bores().on(shaft).is_some() {
        return true;
    }
    let fixed = match problem.arrangement() {
        Arrangement::InLine => Shaft::Layshaft,
        Arrangement::Offset => Shaft::Input,
    };
    if shaft == fixed && problem.layout().holding() == Holding::OnePiece {
        // Cut from the shaft itself, there is no hole.
        return false;
    }
    let is_input_gear =
        problem.head().is_some() && gear.role == Role::Head && gear.seat == Seat::Driver;
    match shaft {
        Shaft::Idler => problem.idler_pin().is_some(),
        _ if is_input_gear => problem.shafting().spigot().is_some(),
        _ => housed
            .size(shaft)
            .is_some_and(|size| size.origin() != Origin::Assumed),
    }
}

/// Gears too small for their holes.
pub(super) fn findings(problem: &Problem, walls: &[Wall]) -> Vec<Finding> {
    let least_mm = problem.limits().min_wall().mm();
    let thin = walls
        .iter()
        .filter(|wall| wall.wall_mm < least_mm - LENGTH_SLACK_MM);
    thin.map(|wall| {
        let (teeth, hole) = (wall.gear.teeth, plain(wall.hole_mm, 2));
        let root = plain(wall.root_mm, 2);
        let what = if wall.wall_mm <= LENGTH_SLACK_MM {
            let cuts = if wall.wall_mm < -LENGTH_SLACK_MM {
                format!(
                    "the hole cuts {} mm into the teeth",
                    plain(-wall.wall_mm, 2)
                )
            } else {
                "no metal is left".to_owned()
            };
            format!(
                "{teeth} teeth are too few for the hole: it reaches to Ø {hole} mm, the root \
                 circle is Ø {root} mm, so {cuts}"
            )
        } else {
            format!(
                "{teeth} teeth are few for the hole: {} mm of wall between the root at Ø {root} \
                 mm and the hole, which reaches to Ø {hole} mm; {} mm is the least",
                plain(wall.wall_mm, 2),
                plain(least_mm, 2)
            )
        };
        let next = format!(
            "measure bore and keyway again; if they are right, make it of one piece with its \
             shaft, or with {} teeth or more",
            least_teeth(problem, wall, least_mm)
        );
        let place = wall.gear.name(problem);
        Finding::fault("thin_wall", place, what, next).by(Amount::mm(least_mm - wall.wall_mm))
    })
    .collect()
}

/// Fewest teeth of its module that leave the wall: each tooth adds one
/// transverse module to the root circle.
fn least_teeth(problem: &Problem, wall: &Wall, least_mm: f64) -> String {
    let beta = problem.gears().helix_angle_deg().to_radians();
    let step_mm = wall.gear.module.of(problem).mm() / beta.cos();
    let more = 2.0 * (least_mm - wall.wall_mm) / step_mm - LENGTH_SLACK_MM;
    plain(f64::from(wall.gear.teeth.get()) + more.ceil().max(0.0), 0)
}

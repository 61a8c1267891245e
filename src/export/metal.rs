//! What a gear is made of, and how safe its teeth are.

use crate::problem::Problem;
use crate::train::{Gear, RatedMesh, Role, Seat, Spot, material_of};
use serde::Serialize;

/// What a gear is made of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct MetalRecord {
    /// Its name in the file or the program's table.
    pub material: String,
    /// Whether the file names any material; else the usual one is taken.
    pub given: bool,
    /// Whether its teeth have a hard case.
    pub case_hardened: bool,
    /// What to mind at the bench; may be empty.
    pub note: &'static str,
}

impl MetalRecord {
    pub(super) fn of(problem: &Problem, gear: &Gear) -> Self {
        let material = material_of(problem, gear);
        Self {
            material: material.name().to_owned(),
            given: problem.materials().given(),
            case_hardened: material.case_hardened(),
            note: material.note(),
        }
    }
}

/// The least safety of a gear.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlaceSafety {
    /// The safety.
    pub safety: f64,
    /// `root` or `flank`.
    pub place: &'static str,
    /// The face width that it is rated for, mm.
    pub face_width_mm: f64,
}

/// The least safety of a gear in all its meshes.
pub(super) fn least_of(problem: &Problem, rated: &[RatedMesh], gear: &Gear) -> Option<PlaceSafety> {
    let shared = problem.shared_speed_among_all().map(Role::Speed) == Some(gear.role)
        && gear.seat == Seat::Driver;
    let own = |one: &Gear| {
        (one.role, one.seat) == (gear.role, gear.seat)
            || (shared && (one.role, one.seat) == (Role::Reverse, Seat::Driver))
    };
    let spots = rated.iter().flat_map(|mesh| {
        let places = (0..2).filter(move |&i| own(&mesh.gears[i]));
        places.flat_map(move |i| {
            let safety = &mesh.safety;
            [(Spot::Root, safety.root[i]), (Spot::Flank, safety.flank[i])]
                .map(|(spot, safety)| (spot, safety, mesh.width_mm))
        })
    });
    let (spot, safety, face_width_mm) = spots.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(PlaceSafety {
        safety,
        place: spot.word(),
        face_width_mm,
    })
}

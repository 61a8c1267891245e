//! The meshes as they are rated.

use super::AskedSafety;
use super::factors::FactorRecord;
use crate::problem::Problem;
use crate::rating::Lewis;
use crate::train::{self, RatedMesh, Set, Spot, rate};
use serde::Serialize;

/// A weak place of the teeth.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WeakestRecord {
    /// The safety.
    pub safety: f64,
    /// `root` or `flank`.
    pub place: &'static str,
    /// The gear by shaft and role.
    pub gear: String,
    /// The gear that it meets there.
    pub against: String,
}

/// A mesh, rated.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MeshRating {
    /// Head, a speed or reverse.
    pub role: String,
    /// Torque on the driving gear, N m; shock is not part of it.
    pub driver_torque_n_m: f64,
    /// Speed of the driving gear, rpm.
    pub driver_rpm: f64,
    /// Face width, mm.
    pub face_width_mm: f64,
    /// What is taken off each gear's teeth for backlash, normal arc, mm.
    pub thinning_mm: f64,
    /// Driving and driven gear.
    pub gears: [GearRating; 2],
    /// Figures of the mesh.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub factors: Vec<FactorRecord>,
}

/// One gear of a mesh, rated.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GearRating {
    /// Its name by shaft and role.
    pub gear: String,
    /// Its teeth.
    pub teeth: u32,
    /// What it is made of.
    pub material: String,
    /// How often a tooth is loaded.
    pub loads: f64,
    /// Whether its teeth bend both ways.
    pub bends_both_ways: bool,
    /// Stress at the root, MPa.
    pub root_mpa: f64,
    /// What the root may have, MPa.
    pub root_limit_mpa: f64,
    /// Safety of the root.
    pub root_safety: f64,
    /// Pressure on the flank, MPa.
    pub flank_mpa: f64,
    /// What the flank may have, MPa.
    pub flank_limit_mpa: f64,
    /// Safety of the flank.
    pub flank_safety: f64,
    /// The older rating beside it, where its table holds.
    pub lewis: Option<LewisRecord>,
    /// Figures of the gear.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub factors: Vec<FactorRecord>,
}

/// A tooth as a beam, after Lewis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct LewisRecord {
    pub form_factor: f64,
    pub velocity_factor: f64,
    pub stress_mpa: f64,
    pub allowed_mpa: Option<f64>,
}

impl LewisRecord {
    fn of(lewis: Lewis) -> Self {
        Self {
            form_factor: lewis.form_factor,
            velocity_factor: lewis.velocity_factor,
            stress_mpa: lewis.stress_mpa,
            allowed_mpa: lewis.allowed_mpa,
        }
    }
}

pub(super) fn ratings(problem: &Problem, meshes: &[RatedMesh]) -> Vec<MeshRating> {
    let rating = |mesh: &RatedMesh| MeshRating {
        role: mesh.role.name(problem).to_owned(),
        driver_torque_n_m: mesh.load.driver_torque_n_m,
        driver_rpm: mesh.load.driver_rpm,
        face_width_mm: mesh.width_mm,
        thinning_mm: mesh.thinning_mm,
        gears: [gear(problem, mesh, 0), gear(problem, mesh, 1)],
        factors: factors(mesh, None),
    };
    meshes.iter().map(rating).collect()
}

fn gear(problem: &Problem, mesh: &RatedMesh, i: usize) -> GearRating {
    let (stress, safety) = (&mesh.stress, &mesh.safety);
    GearRating {
        gear: mesh.gears[i].name(problem),
        teeth: mesh.gears[i].teeth.get(),
        material: mesh.materials[i].name().to_owned(),
        loads: mesh.load.cycles[i],
        bends_both_ways: mesh.load.both_ways[i],
        root_mpa: stress.root_mpa[i],
        root_limit_mpa: stress.root_limit_mpa[i],
        root_safety: safety.root[i],
        flank_mpa: stress.flank_mpa[i],
        flank_limit_mpa: stress.flank_limit_mpa[i],
        flank_safety: safety.flank[i],
        lewis: mesh.lewis[i].map(LewisRecord::of),
        factors: factors(mesh, Some(i)),
    }
}

fn factors(mesh: &RatedMesh, of: Option<usize>) -> Vec<FactorRecord> {
    let own = mesh.factors.iter().filter(|factor| factor.gear == of);
    own.map(FactorRecord::of_teeth).collect()
}

/// The least safety of all teeth of a set, and where; none without a duty.
pub fn least_safety(problem: &Problem, set: &Set) -> Option<WeakestRecord> {
    weakest(problem, &rate(problem, set)?)
}

pub(in crate::export) fn weakest(problem: &Problem, meshes: &[RatedMesh]) -> Option<WeakestRecord> {
    let found = train::weakest(meshes)?;
    let mesh = &meshes[found.mesh];
    let i = usize::from(mesh.gears[0] != found.gear);
    Some(record(problem, mesh, i, (found.spot, found.safety)))
}

fn record(
    problem: &Problem,
    mesh: &RatedMesh,
    i: usize,
    (spot, safety): (Spot, f64),
) -> WeakestRecord {
    WeakestRecord {
        safety,
        place: spot.word(),
        gear: mesh.gears[i].name(problem),
        against: mesh.gears[1 - i].name(problem),
    }
}

/// The place that falls shortest of what is asked, or of 1 where nothing is;
/// none where all hold.
pub(super) fn shortest(
    problem: &Problem,
    meshes: &[RatedMesh],
    asked: AskedSafety,
) -> Option<WeakestRecord> {
    let least = |spot| match spot {
        Spot::Root => asked.root.unwrap_or(1.0),
        Spot::Flank => asked.flank.unwrap_or(1.0),
    };
    let spots = meshes.iter().flat_map(|mesh| {
        [0, 1].into_iter().flat_map(move |i| {
            let safety = &mesh.safety;
            [(Spot::Root, safety.root[i]), (Spot::Flank, safety.flank[i])]
                .map(|place| (mesh, i, place))
        })
    });
    let part = |(spot, safety): (Spot, f64)| safety / least(spot);
    let (mesh, i, place) = spots.min_by(|a, b| part(a.2).total_cmp(&part(b.2)))?;
    (part(place) < 1.0).then(|| record(problem, mesh, i, place))
}

//! How a set and its box hold, with every figure behind it.
//!
//! In: a problem, a set of it, and the box laid out. Out: the meshes as they are
//! rated, the other parts, weakest first, what could not be rated, and what was
//! taken where the file says nothing. Nothing is rated without a duty.

mod factors;
mod meshes;
mod parts;

pub use factors::{FactorRecord, Taken, TakenRecord};
pub(super) use meshes::weakest;
pub use meshes::{GearRating, LewisRecord, MeshRating, WeakestRecord, least_safety};
pub use parts::{BearingHours, PartRecord, UnratedRecord};

use super::bench::tidy;
use super::cautions::strength_cautions;
use crate::design::Plan;
use crate::design::strength::{Service, Strength, Utilisation};
use crate::problem::{Duty, Problem};
use crate::train::{Set, rate};
use serde::Serialize;
use serde_json::Value;

/// What the duty asks of the teeth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AskedSafety {
    /// Of the roots; none where nothing is asked.
    pub root: Option<f64>,
    /// Of the flanks.
    pub flank: Option<f64>,
}

impl AskedSafety {
    /// What the file asks for.
    pub fn of(problem: &Problem) -> Self {
        let duty = problem.duty();
        Self {
            root: duty.and_then(Duty::min_root_safety),
            flank: duty.and_then(Duty::min_flank_safety),
        }
    }
}

/// How a set and its box hold. Field order is key order.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StrengthRecord {
    /// Whether anything is rated: only with a duty.
    pub rated: bool,
    /// Torque on the input shaft, N m.
    pub input_torque_n_m: Option<f64>,
    /// The safety that the file asks for.
    pub asked_safety: AskedSafety,
    /// Whether every mesh holds what is asked, or 1 where nothing is.
    pub teeth_hold: Option<bool>,
    /// The weakest place of all teeth.
    pub weakest: Option<WeakestRecord>,
    /// The place that falls shortest of what is asked; none where teeth hold.
    pub shortest: Option<WeakestRecord>,
    /// Whether every other part that is rated bears no more than it may.
    pub parts_hold: Option<bool>,
    /// The meshes: head, speeds, both of reverse.
    pub meshes: Vec<MeshRating>,
    /// The other parts, of each matter the worst, weakest first.
    pub parts: Vec<PartRecord>,
    /// Why no other part is rated at all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub parts_missing: Option<&'static str>,
    /// What could not be rated.
    pub unrated: Vec<UnratedRecord>,
    /// Figures that the file does not give: teeth.
    pub taken_for_teeth: Vec<TakenRecord>,
    /// Every figure behind the other parts.
    pub part_factors: Vec<FactorRecord>,
    /// What to know beside all of it.
    pub cautions: Vec<&'static str>,
}

const NO_BOX: &str = "shafts, bearings, bushes, dogs and joints are not rated: the box could not be \
     laid out and loaded";

impl StrengthRecord {
    /// Of a set and its box.
    pub fn new(problem: &Problem, set: &Set, plan: &Plan<'_>) -> Self {
        let strength = problem
            .duty()
            .and_then(|_| Strength::of(plan, Service::of(problem)));
        Self::of(problem, set, strength.as_ref())
    }

    fn of(problem: &Problem, set: &Set, strength: Option<&Strength>) -> Self {
        let duty = problem.duty();
        let rated = rate(problem, set);
        let meshes = rated.as_deref().unwrap_or_default();
        let asked_safety = AskedSafety::of(problem);
        let shortest = meshes::shortest(problem, meshes, asked_safety);
        let parts = strength.map(|strength| parts::parts(problem, strength));
        let mut unrated = match &rated {
            Some(meshes) => parts::unrated_meshes(problem, set, meshes),
            None => Vec::new(),
        };
        unrated.extend(strength.iter().flat_map(|s| parts::unrated(problem, s)));
        Self {
            rated: duty.is_some(),
            input_torque_n_m: duty.map(Duty::input_torque_n_m),
            asked_safety,
            teeth_hold: rated.is_some().then_some(shortest.is_none()),
            weakest: weakest(problem, meshes),
            shortest,
            parts_hold: strength.map(|s| !s.weakest.iter().any(Utilisation::is_too_much)),
            taken_for_teeth: factors::taken(problem, meshes),
            meshes: meshes::ratings(problem, meshes),
            parts: parts.unwrap_or_default(),
            parts_missing: (duty.is_some() && strength.is_none()).then_some(NO_BOX),
            unrated,
            part_factors: strength.map_or_else(Vec::new, factors::of_parts),
            cautions: strength_cautions(problem),
        }
    }

    /// Whether all that is rated holds; none where nothing is.
    pub fn holds(&self) -> Option<bool> {
        Some(self.teeth_hold? && self.parts_hold != Some(false))
    }

    /// The same without the figures behind each mesh, which are most of it.
    #[must_use]
    pub fn without_factors(mut self) -> Self {
        for mesh in &mut self.meshes {
            mesh.factors = Vec::new();
            for gear in &mut mesh.gears {
                gear.factors = Vec::new();
            }
        }
        self
    }

    /// Everything, for programs.
    pub fn record(&self) -> Value {
        let mut record = serde_json::to_value(self).unwrap_or_default();
        tidy(&mut record);
        record
    }
}

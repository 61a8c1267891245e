//! How strong the sets are that strength shuts out, as JSON.

use super::record::{SetRecord, set_record};
use crate::problem::{Duty, Problem};
use crate::search::{Shortfall, Strongest};
use crate::train::Register;
use serde::Serialize;

/// What strength shuts out.
#[derive(Debug, Serialize)]
pub struct ShortfallRecord {
    /// Exact number of sets with nothing asked of the strength of teeth.
    pub sets_without_strength: String,
    /// Least safety of roots that is asked for, where one is.
    pub min_root_safety: Option<f64>,
    /// Least safety of flanks that is asked for, where one is.
    pub min_flank_safety: Option<f64>,
    /// The strongest of those sets; null where none holds a safety of 0.1.
    pub strongest: Option<StrongestRecord>,
}

/// A set that holds as much as any.
#[derive(Debug, Serialize)]
pub struct StrongestRecord {
    /// What it holds, in whole hundredths: no set holds a hundredth more.
    pub safety: f64,
    /// Where it is weakest.
    pub weakest: WeakPlaceRecord,
    /// The set, sized for that safety where widths follow from the load.
    pub set: SetRecord,
}

/// The weakest place of a set.
#[derive(Debug, Serialize)]
pub struct WeakPlaceRecord {
    /// The gear, by shaft and role.
    pub gear: String,
    /// Its teeth.
    pub teeth: u32,
    /// Its module.
    pub module_mm: f64,
    /// What it is made of.
    pub material: String,
    /// Its face width.
    pub face_width_mm: f64,
    /// "root" or "flank".
    pub place: &'static str,
    /// Safety there, an estimate.
    pub safety: f64,
}

impl ShortfallRecord {
    pub(super) fn of(problem: &Problem, shortfall: &Shortfall) -> Self {
        Self {
            sets_without_strength: shortfall.sets.to_string(),
            min_root_safety: problem.duty().and_then(Duty::min_root_safety),
            min_flank_safety: problem.duty().and_then(Duty::min_flank_safety),
            strongest: shortfall.strongest.as_deref().map(strongest_record),
        }
    }
}

fn strongest_record(strongest: &Strongest) -> StrongestRecord {
    let (problem, set) = (&strongest.problem, &strongest.set);
    let mark = Register::new(problem, std::iter::once(set)).shown(set);
    StrongestRecord {
        safety: strongest.safety.to_f64(),
        weakest: weakest_record(strongest),
        set: set_record(problem, set, None, mark),
    }
}

fn weakest_record(strongest: &Strongest) -> WeakPlaceRecord {
    let (problem, weakest) = (&strongest.problem, &strongest.weakest);
    let gear = &weakest.gear;
    WeakPlaceRecord {
        gear: gear.name(problem),
        teeth: gear.teeth.get(),
        module_mm: gear.module.of(problem).mm(),
        material: strongest.material.clone(),
        face_width_mm: gear.face.mm(),
        place: weakest.spot.word(),
        safety: weakest.safety,
    }
}

//! Parts other than teeth.

use crate::design::forces::Flow;
use crate::design::strength::{Member, Strength, Utilisation, What, When};
use crate::export::layout::state_name;
use crate::problem::{Problem, Role};
use crate::train::{RatedMesh, Set, pairs_of};
use serde::Serialize;

/// How much of what it can bear a part bears.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartRecord {
    /// The part.
    pub part: String,
    /// By what it is rated.
    pub what: &'static str,
    /// When: a state, `over the duty` or `always`.
    pub when: String,
    /// How much it bears.
    pub value: f64,
    /// The unit of both.
    pub unit: &'static str,
    /// How much it may bear.
    pub limit: f64,
    /// Percent of the limit: above 100 is too much.
    pub share_percent: f64,
    /// `given`, `derived` or `defaulted`.
    pub limit_origin: &'static str,
    /// Where the limit comes from.
    pub limit_from: &'static str,
    /// How long a bearing lasts, where that is the matter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hours: Option<BearingHours>,
}

/// The life of a bearing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BearingHours {
    /// L10, hours: nine in ten reach it.
    pub l10_hours: Option<f64>,
    /// How long the box is to run.
    pub asked_hours: f64,
    /// How many in a hundred last that.
    pub last_percent: f64,
}

/// What could not be rated.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct UnratedRecord {
    /// The part.
    pub part: String,
    /// Why, and what to do about it.
    pub why: &'static str,
}

pub(super) fn parts(problem: &Problem, strength: &Strength) -> Vec<PartRecord> {
    let all = strength.weakest.iter();
    all.map(|part| record(problem, strength, part)).collect()
}

fn record(problem: &Problem, strength: &Strength, part: &Utilisation) -> PartRecord {
    PartRecord {
        part: part.part.name(problem),
        what: part.what.words(),
        when: when(problem, part.when),
        value: part.value,
        unit: part.unit,
        limit: part.limit,
        share_percent: 100.0 * part.share,
        limit_origin: part.limit_from.standing.word(),
        limit_from: part.limit_from.words,
        hours: hours(strength, part),
    }
}

fn hours(strength: &Strength, part: &Utilisation) -> Option<BearingHours> {
    let Member::Bearing(shaft, support) = part.part else {
        return None;
    };
    let own = |life: &&crate::design::strength::BearingLife| {
        life.shaft == shaft && life.support == support
    };
    let life = strength.bearings.iter().find(own)?;
    (part.what == What::Life).then_some(BearingHours {
        l10_hours: life.l10_hours,
        asked_hours: strength.service.hours,
        last_percent: life.last_percent,
    })
}

fn when(problem: &Problem, when: When) -> String {
    match when {
        When::Always => "always".to_owned(),
        When::Duty => "over the duty".to_owned(),
        When::In(state, flow) => {
            let name = state_name(problem, state);
            match flow {
                Flow::Drives => format!("in {name}"),
                Flow::Overruns => format!("in {name}, overrun"),
            }
        }
    }
}

pub(super) fn unrated(problem: &Problem, strength: &Strength) -> Vec<UnratedRecord> {
    let all = strength.unrated.iter();
    all.map(|unrated| UnratedRecord {
        part: unrated.part.name(problem),
        why: unrated.why,
    })
    .collect()
}

/// Roles whose gears cannot be, or cannot meet.
pub(super) fn unrated_meshes(
    problem: &Problem,
    set: &Set,
    rated: &[RatedMesh],
) -> Vec<UnratedRecord> {
    let count = |role: Role| rated.iter().filter(|mesh| mesh.role == role).count();
    let pairs = pairs_of(problem, set)
        .into_iter()
        .map(|(role, _)| (role, 1));
    let reverse = set.reverse.map(|_| (Role::Reverse, 2));
    let missing = pairs
        .chain(reverse)
        .filter(|(role, all)| count(*role) < *all);
    missing
        .map(|(role, _)| UnratedRecord {
            part: format!("teeth of {}", role.name(problem)),
            why: "such gears cannot be cut or do not meet: change their teeth or the centres",
        })
        .collect()
}

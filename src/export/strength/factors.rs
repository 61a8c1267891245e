//! The figures that ratings rest on, and those of them that nobody gave.

use crate::design::strength::{self, Basis, Standing, Strength};
use crate::problem::Problem;
use crate::rating::{Factor, Origin};
use crate::train::RatedMesh;
use serde::Serialize;

/// A figure that a rating rests on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FactorRecord {
    /// Its letter in the norms; none where it has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub symbol: Option<&'static str>,
    /// The value.
    pub value: f64,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// `given`, `derived` or `defaulted`.
    pub origin: &'static str,
    /// What it is.
    pub what: &'static str,
    /// The norm or habit behind it.
    pub source: &'static str,
}

/// A figure of the teeth that the file does not give.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TakenRecord {
    /// Its letter in the norms; none of a material.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub symbol: Option<&'static str>,
    /// What was taken: a number, or the name of a material.
    pub value: Taken,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// What it is.
    pub what: &'static str,
    /// The key of the file that gives it.
    pub key: &'static str,
    /// The roles that it holds for; empty for all.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub roles: Vec<String>,
}

/// What was taken.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
#[allow(missing_docs, reason = "the words say it")]
pub enum Taken {
    Number(f64),
    Name(String),
}

impl FactorRecord {
    pub(super) fn of_teeth(factor: &Factor) -> Self {
        Self {
            symbol: Some(factor.symbol),
            value: factor.value,
            unit: factor.unit,
            origin: factor.origin.word(),
            what: factor.what,
            source: factor.source,
        }
    }

    fn of_part(factor: &strength::Factor) -> Self {
        Self::based(factor.name, (factor.value, factor.unit), factor.basis)
    }

    fn based(what: &'static str, (value, unit): (f64, &'static str), basis: Basis) -> Self {
        Self {
            symbol: None,
            value,
            unit,
            origin: basis.standing.word(),
            what,
            source: basis.words,
        }
    }

    /// Whether nobody gave it.
    pub fn is_taken(&self) -> bool {
        self.origin == Standing::Defaulted.word()
    }
}

/// Every figure behind shafts, bearings, bushes, dogs and joints.
pub(super) fn of_parts(strength: &Strength) -> Vec<FactorRecord> {
    let service = &strength.service;
    let mut all = vec![
        FactorRecord::based(
            "speed of the input shaft",
            (service.input_rpm, "rpm"),
            service.rpm_from,
        ),
        FactorRecord::based("running time", (service.hours, "h"), service.hours_from),
    ];
    all.extend(strength.factors.iter().map(FactorRecord::of_part));
    all
}

/// Keys that give what else is taken, by symbol.
const KEYS: &[(&str, &str)] = &[
    ("n_in", "input_rpm"),
    ("h", "duty.hours"),
    ("share", "share_percent"),
    ("grade", "gears.accuracy_grade"),
    ("K_A", "duty.shock"),
    ("K_Fα, K_Hα", "duty.transverse_factor"),
    ("Z_L Z_v Z_R", "gears.accuracy_grade"),
    ("Z_oil", "duty.lubrication"),
];

/// What was taken for the teeth, each once.
pub(super) fn taken(problem: &Problem, meshes: &[RatedMesh]) -> Vec<TakenRecord> {
    let mut all: Vec<TakenRecord> = Vec::new();
    if !meshes.is_empty() && !problem.materials().given() {
        all.extend(material(meshes));
    }
    for mesh in meshes {
        let role = mesh.role.name(problem);
        let defaulted = |factor: &&Factor| factor.origin == Origin::Defaulted;
        for factor in mesh.factors.iter().filter(defaulted) {
            add(&mut all, factor, role);
        }
    }
    for one in &mut all {
        let of = |mesh: &RatedMesh| one.roles.iter().any(|role| role == mesh.role.name(problem));
        if meshes.iter().all(of) {
            one.roles.clear();
        }
    }
    all
}

/// All gears are of one material where the file names none.
fn material(meshes: &[RatedMesh]) -> Option<TakenRecord> {
    let [first, _] = &meshes.first()?.materials;
    Some(TakenRecord {
        symbol: None,
        value: Taken::Name(first.name().to_owned()),
        unit: "",
        what: "material of the gears",
        key: "gears.material",
        roles: Vec::new(),
    })
}

fn add(all: &mut Vec<TakenRecord>, factor: &Factor, role: &str) {
    let value = Taken::Number(factor.value);
    let same = |one: &&mut TakenRecord| one.symbol == Some(factor.symbol) && one.value == value;
    let key = KEYS.iter().find(|(symbol, _)| *symbol == factor.symbol);
    match all.iter_mut().find(same) {
        Some(one) if one.roles.iter().any(|known| known == role) => {}
        Some(one) => one.roles.push(role.to_owned()),
        None => all.push(TakenRecord {
            symbol: Some(factor.symbol),
            value,
            unit: factor.unit,
            what: factor.what,
            key: key.map_or("duty", |(_, key)| *key),
            roles: vec![role.to_owned()],
        }),
    }
}

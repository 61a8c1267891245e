//! What gears may be made of, and how strong teeth of it are.
//!
//! In: a name of the file. Out: a [`Material`] with the endurance limits that
//! the rating works with. The grades are those of EN standards that a small
//! workshop can buy; hardness, yield strength and elasticity are from memory,
//! and the limits follow from the hardness ([`Class`]).

mod class;
mod table;

pub use class::{Class, Life, Line};
pub(in crate::problem) use table::HARDENING;
pub use table::ROWS;

use super::model::Problem;

/// A row of the program's table.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// What files call it.
    pub name: &'static str,
    /// The making that its limits follow from.
    pub class: Class,
    /// Surface hardness, in the class's scale.
    pub hardness: f64,
    /// Yield strength (0.2 % proof stress), MPa; none for what breaks first.
    pub yield_mpa: Option<f64>,
    /// Modulus of elasticity, GPa.
    pub youngs_gpa: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// What to mind at the bench.
    pub note: &'static str,
    /// Where hardness, yield and elasticity come from.
    pub source: &'static str,
}

/// What a gear is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    pub(super) name: String,
    pub(super) class: Class,
    pub(super) hardness: Option<f64>,
    pub(super) bending_mpa: f64,
    pub(super) contact_mpa: f64,
    pub(super) youngs_gpa: f64,
    pub(super) poisson: f64,
    pub(super) yield_mpa: Option<f64>,
    pub(super) case_hardened: bool,
    pub(super) note: &'static str,
}

impl Material {
    /// What is taken where nothing is said.
    pub const USUAL: &'static str = "C45 normalised";

    /// The row of the program's table of that name.
    pub fn known(name: &str) -> Option<Self> {
        ROWS.iter().find(|row| row.name == name).map(Self::of)
    }

    /// A row as a material.
    pub fn of(row: &Row) -> Self {
        let [contact_mpa, bending_mpa] = row.limits_mpa();
        Self {
            name: row.name.to_owned(),
            class: row.class,
            hardness: Some(row.hardness),
            bending_mpa,
            contact_mpa,
            youngs_gpa: row.youngs_gpa,
            poisson: row.poisson,
            yield_mpa: row.yield_mpa,
            case_hardened: row.class == Class::CaseHardened,
            note: row.note,
        }
    }

    /// Its name in the file.
    pub fn name(&self) -> &str {
        &self.name
    }
    /// The making that its limits follow from.
    pub const fn class(&self) -> Class {
        self.class
    }
    /// Surface hardness in the class's scale; none for a row of the file.
    pub const fn hardness(&self) -> Option<f64> {
        self.hardness
    }
    /// Endurance limit of tooth roots, σ_Flim, MPa.
    pub const fn bending_mpa(&self) -> f64 {
        self.bending_mpa
    }
    /// Endurance limit of flanks, σ_Hlim, MPa.
    pub const fn contact_mpa(&self) -> f64 {
        self.contact_mpa
    }
    /// Modulus of elasticity, GPa.
    pub const fn youngs_gpa(&self) -> f64 {
        self.youngs_gpa
    }
    /// Poisson's ratio.
    pub const fn poisson(&self) -> f64 {
        self.poisson
    }
    /// Yield strength, MPa, where it is known.
    pub const fn yield_mpa(&self) -> Option<f64> {
        self.yield_mpa
    }
    /// Whether the teeth have a hard case.
    pub const fn case_hardened(&self) -> bool {
        self.case_hardened
    }
    /// How its strength falls with the number of loads.
    pub const fn life(&self) -> Life {
        if self.case_hardened {
            Life::Case
        } else {
            self.class.life()
        }
    }
    /// What to mind at the bench; of a row of the file only that of hardening.
    pub const fn note(&self) -> &'static str {
        self.note
    }
    /// Where the limits come from.
    pub const fn source(&self) -> &'static str {
        self.class.source()
    }
}

/// What each gear of a problem is made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Materials {
    pub(super) given: bool,
    pub(super) head: [Material; 2],
    pub(super) speeds: Vec<[Material; 2]>,
    pub(super) reverse: [Material; 3],
}

impl Materials {
    /// Whether the file names any material of gears; else the usual one is taken.
    pub const fn given(&self) -> bool {
        self.given
    }
    /// Of driver and driven gear of the head pair.
    pub const fn head(&self) -> &[Material; 2] {
        &self.head
    }
    /// Whether any gear has a hard case, among those of the head pair and of
    /// reverse where the box has them.
    pub(super) fn any_case_hardened(&self, head: bool, reverse: bool) -> bool {
        let head = self.head.iter().filter(|_| head);
        let reverse = self.reverse.iter().filter(|_| reverse);
        let all = self.speeds.iter().flatten().chain(head).chain(reverse);
        all.into_iter().any(Material::case_hardened)
    }
    /// Of driver and driven gear of each geared speed, in file order.
    pub fn speeds(&self) -> &[[Material; 2]] {
        &self.speeds
    }
}

impl Problem {
    /// What gears are made of, reverse aside.
    pub fn materials(&self) -> &Materials {
        &self.materials
    }
    /// What driver, idler and driven gear of reverse are made of; a shared driver
    /// is that of its speed.
    pub fn reverse_materials(&self) -> [&Material; 3] {
        let [driver, idler, driven] = &self.materials.reverse;
        let shared = self.shared_speed();
        let shared = shared.and_then(|place| self.materials.speeds.get(place));
        [shared.map_or(driver, |pair| &pair[0]), idler, driven]
    }
}

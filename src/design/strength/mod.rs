//! Whether shafts, bearings, bushes, spigot, dogs and joints hold.
//!
//! In: a box as laid out and loaded ([`Plan`]), how long and how fast it runs
//! ([`Service`]). Out: [`Strength`]: how much of what it can bear every part
//! bears, weakest first, each with its limit and where that comes from, and the
//! detail behind it. Assumed: steel shafts of one material, rigid supports, no
//! shear in bending, loads in the middle of the gears. Estimates by the stated
//! formulas, no proof of safety. Sources stand at each formula and figure.

mod basis;
mod bearings;
mod bushes;
mod case;
mod dogs;
mod joint;
mod joints;
mod life;
mod line;
mod material;
mod pieces;
mod service;
mod shafts;
mod stress;
mod utilisation;

pub use basis::{Basis, Factor, Standing};
pub use bearings::BearingLife;
pub use bushes::{Bush, BushLoad};
pub use dogs::DogLoad;
pub use joint::{
    COUNTED_DIAMETERS, Press, Spline, bond_thrust_n, bond_torque_n_m, counted_length_mm, groove_mm,
    groove_pressure_mpa, key_pressure_mpa, key_shear_mpa,
};
pub use joints::{Held, JointLoad};
pub use life::{
    Spell, at_rest_n, equivalent_n, hours, lasting_n, life_factor, mean, million_turns, reliability,
};
pub use line::{Bent, Hold, Line, Section};
pub use service::Service;
pub use shafts::{MeshBend, ShaftBend};
pub use stress::{Peak, equivalent_moment, torsion_mpa, twist_rad, von_mises_mpa};
pub use utilisation::{Member, Unrated, Utilisation, What, When};

use super::{Plan, torque_n_m};
use case::Case;

/// How a box holds.
#[derive(Clone, Debug)]
pub struct Strength {
    /// Torque on the input shaft that all of this is for, N m.
    pub torque_n_m: f64,
    /// Whether the file gives that torque; else all is for 1 N m.
    pub is_for_duty: bool,
    /// How long and how fast it runs.
    pub service: Service,
    /// Every figure that the ratings rest on.
    pub factors: Vec<Factor>,
    /// Of every part and matter the worst, weakest first.
    pub weakest: Vec<Utilisation>,
    /// All of them in every state, weakest first.
    pub all: Vec<Utilisation>,
    /// What could not be rated, and why.
    pub unrated: Vec<Unrated>,
    /// How the shafts give at every loaded mesh.
    pub meshes: Vec<MeshBend>,
    /// What every shaft bears.
    pub shafts: Vec<ShaftBend>,
    /// The bearings over the duty.
    pub bearings: Vec<BearingLife>,
    /// The bushes in every state.
    pub bushes: Vec<BushLoad>,
    /// The dogs where they engage.
    pub dogs: Vec<DogLoad>,
    /// The joints where they pass torque on.
    pub joints: Vec<JointLoad>,
}

impl Strength {
    /// Of a box; none where it could not be laid out, loaded or turned.
    pub fn of(plan: &Plan<'_>, service: Service) -> Option<Self> {
        let case = Case::of(plan, service)?;
        let bends = shafts::bends(&case);
        let bearings = bearings::bearings(&case);
        let bushes = bushes::bushes(&case);
        let dogs = dogs::dogs(&case, &bends.meshes);
        let joints = joints::joints(&case);
        let mut all = bends.rated;
        for rated in [bearings.rated, bushes.rated, dogs.rated, joints.rated] {
            all.extend(rated);
        }
        utilisation::weakest_first(&mut all);
        let unrated = [
            bearings.unrated,
            bushes.unrated,
            dogs.unrated,
            joints.unrated,
        ];
        Some(Self {
            torque_n_m: torque_n_m(case.problem),
            is_for_duty: case.problem.duty().is_some(),
            factors: material::factors(case.problem),
            weakest: utilisation::worst_of_each(&all),
            all,
            unrated: unrated.into_iter().flatten().collect(),
            meshes: bends.meshes,
            shafts: bends.shafts,
            bearings: bearings.lives,
            bushes: bushes.loads,
            dogs: dogs.loads,
            joints: joints.loads,
            service: case.service,
        })
    }
}

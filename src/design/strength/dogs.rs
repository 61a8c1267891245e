//! Dogs: pressure, shear, overlap, back taper, detent.
//!
//! Sources: force over area; a flank leant by γ against its axis turns a
//! tangential force F into F tan γ along it (statics). Limits: common practice,
//! no source, unless said.

use super::Basis;
use super::case::Case;
use super::joint::Spline;
use super::material::{
    BEARING_SHARE, BUSH_CLEARANCE, DOG_PRESSURE, DOG_SHEAR, EASED, FORK_FORCE, FORK_PLAY, FRICTION,
    OVERLAP_LOST, SHAKE,
};
use super::shafts::MeshBend;
use super::utilisation::{Member, Unrated, Utilisation, What, When};
use crate::design::forces::StateForces;
use crate::problem::Dogs;
use crate::train::Role;
use std::f64::consts::PI;

/// Of steel, kg/mm³.
const STEEL_KG_MM3: f64 = 7.85e-6;
const GRAVITY_M_S2: f64 = 9.81;

/// The dogs of one gear in the state that they engage in.
#[derive(Clone, Debug, PartialEq)]
pub struct DogLoad {
    /// Whose; [`Role::Head`] are the input gear's.
    pub role: Role,
    /// When.
    pub when: When,
    /// How they bear.
    pub spline: Spline,
    /// Width of a dog, mm.
    pub width_mm: f64,
    /// Torque with shock, N m.
    pub torque_n_m: f64,
    /// Force round the ring with shock, N.
    pub tangential_n: f64,
    /// How far the gear leans against the sleeve: shaft and bush clearance,
    /// deg.
    pub lean_deg: f64,
    /// Force that draws the sleeve in, N; below 0 it pushes it out.
    pub drawn_in_n: f64,
    /// Force at the fork to pull it out under this torque, N.
    pub pull_out_n: f64,
    /// What the detent must hold, N.
    pub detent_n: f64,
    /// Free turn in the pockets, deg.
    pub play_deg: f64,
}

#[derive(Debug, Default)]
pub(super) struct Dogging {
    pub(super) loads: Vec<DogLoad>,
    pub(super) rated: Vec<Utilisation>,
    pub(super) unrated: Vec<Unrated>,
}

pub(super) fn dogs(case: &Case<'_>, meshes: &[MeshBend]) -> Dogging {
    let mut all = Dogging::default();
    let served = case.gearbox.sleeves.iter().flatten().copied();
    for role in served {
        let Some(ring_mm) = case.ring_radius_mm(role) else {
            continue;
        };
        let given = case.problem.layout().dogs();
        let Some(ring) = Ring::of(case, ring_mm, given) else {
            all.unrated.push(Unrated {
                part: Member::Dogs(role),
                why: "dogs and pockets do not fit round the ring: ask fewer or lower dogs, or \
                      less play",
            });
            continue;
        };
        all.unrated.extend(untapered(role, given));
        all.rated.extend(ring.standing(case, role, given));
        for (flow, state) in &case.states {
            if case.engaged(state.state) == Some(role) {
                let when = Case::when(*flow, state.state);
                let load = ring.load(case, (role, when), state, meshes);
                all.rated.extend(ratings(case, &load, given));
                all.loads.push(load);
            }
        }
    }
    all
}

fn untapered(role: Role, given: &Dogs) -> Option<Unrated> {
    (given.back_taper_deg <= 0.0).then_some(Unrated {
        part: Member::Dogs(role),
        why: "without back taper only detent and friction keep the dogs in",
    })
}

/// Dogs round one ring.
#[derive(Clone, Copy, Debug)]
struct Ring {
    spline: Spline,
    width_mm: f64,
}

impl Ring {
    /// None where they have no room.
    fn of(case: &Case<'_>, ring_mm: f64, dogs: &Dogs) -> Option<Self> {
        let mean_mm = 2.0 * ring_mm - dogs.height_mm;
        let pitch_mm = PI * mean_mm / f64::from(dogs.count);
        let usual_mm = (pitch_mm - dogs.play_mm) / 2.0;
        let width_mm = dogs.width_mm.unwrap_or(usual_mm);
        let spline = Spline {
            count: dogs.count,
            mean_mm,
            height_mm: dogs.height_mm,
            length_mm: case.problem.layout().dog_overlap().mm(),
            share: BEARING_SHARE.value,
        };
        (mean_mm > 0.0 && width_mm > 0.0).then_some(Self { spline, width_mm })
    }

    /// What does not depend on the load.
    fn standing(&self, case: &Case<'_>, role: Role, dogs: &Dogs) -> Vec<Utilisation> {
        let layout = case.problem.layout();
        let rated = |what, value, limit, basis| {
            Utilisation::new(
                Member::Dogs(role),
                When::Always,
                what,
                (value, limit),
                basis,
            )
        };
        let lost_mm = layout.end_float().mm() + FORK_PLAY.value;
        let mut all = vec![rated(
            What::OverlapLost,
            lost_mm,
            OVERLAP_LOST.value * layout.dog_overlap().mm(),
            Basis::derived("half of layout.dog_overlap: common practice, no source"),
        )];
        if dogs.width_mm.is_some() {
            let round_mm = f64::from(dogs.count) * (2.0 * self.width_mm + dogs.play_mm);
            all.push(rated(
                What::Room,
                round_mm,
                PI * self.spline.mean_mm,
                Basis::derived("round the ring at half the dogs' height"),
            ));
        }
        all
    }

    fn load(
        &self,
        case: &Case<'_>,
        (role, when): (Role, When),
        state: &StateForces,
        meshes: &[MeshBend],
    ) -> DogLoad {
        let dogs = case.problem.layout().dogs();
        let torque_n_m = case.shock() * state.output_torque_n_m.abs();
        let tangential_n = 2e3 * torque_n_m / self.spline.mean_mm;
        let lean_rad = lean_rad(case, (role, when), meshes);
        let taper_rad = dogs.back_taper_deg.to_radians();
        let drawn_in_n = tangential_n * (taper_rad - lean_rad).tan();
        let shaken_n = sleeve_kg(case) * SHAKE.value * GRAVITY_M_S2;
        DogLoad {
            role,
            when,
            spline: self.spline,
            width_mm: self.width_mm,
            torque_n_m,
            tangential_n,
            lean_deg: lean_rad.to_degrees(),
            drawn_in_n,
            // The sleeve rubs on the dogs and on its hub.
            pull_out_n: tangential_n * (taper_rad.tan() + 2.0 * FRICTION.value),
            detent_n: shaken_n + (0.0 - drawn_in_n).max(0.0),
            play_deg: (2.0 * dogs.play_mm / self.spline.mean_mm).to_degrees(),
        }
    }
}

/// How far a gear leans on its shaft, bush clearance included.
fn lean_rad(case: &Case<'_>, (role, when): (Role, When), meshes: &[MeshBend]) -> f64 {
    let free = meshes.iter().filter(|bend| bend.when == when);
    let own = free.filter(|bend| bend.gears[1].role == role);
    let bent = own.map(|bend| bend.bent[1].slope_rad);
    let shaft = bent.map(|[x, y]| x.hypot(y)).fold(0.0, f64::max);
    let (diameter_mm, length_mm) = match (role, case.gearbox.shafts.input) {
        (Role::Head, Some(input)) => (2.0 * input.spigot_radius_mm, case.housed.spigot_reach_mm()),
        _ => (
            case.diameter_mm(crate::design::planes::free_shaft(
                case.problem.arrangement(),
            )),
            case.housed.face_mm(role),
        ),
    };
    shaft + BUSH_CLEARANCE.value * diameter_mm / length_mm
}

/// A sleeve as a plain ring of steel, the hub included: more than it weighs.
fn sleeve_kg(case: &Case<'_>) -> f64 {
    let sizes = &case.gearbox.sizes;
    let hole_mm = case.gearbox.shafts.free.radius_mm;
    let area_mm2 = PI * (sizes.sleeve_radius_mm.powi(2) - hole_mm.powi(2));
    area_mm2 * sizes.sleeve_width_mm * STEEL_KG_MM3
}

fn ratings(case: &Case<'_>, load: &DogLoad, dogs: &Dogs) -> Vec<Utilisation> {
    let rated = |part: Member, what, value, limit, basis| {
        Utilisation::new(part, load.when, what, (value, limit), basis)
    };
    let own = || Member::Dogs(load.role);
    let hub = Spline {
        length_mm: case.problem.layout().sleeve_width().mm() / 2.0,
        ..load.spline
    };
    let mut all = vec![
        rated(
            own(),
            What::SidePressure,
            load.spline.pressure_mpa(load.torque_n_m),
            DOG_PRESSURE.value,
            DOG_PRESSURE.basis,
        ),
        rated(
            own(),
            What::Shear,
            load.spline.shear_mpa(load.torque_n_m, load.width_mm),
            DOG_SHEAR.value,
            DOG_SHEAR.basis,
        ),
        rated(
            Member::Sleeve(load.role),
            What::SidePressure,
            hub.pressure_mpa(load.torque_n_m),
            DOG_PRESSURE.value,
            DOG_PRESSURE.basis,
        ),
    ];
    all.push(rated(
        own(),
        What::ForkForce,
        EASED.value * load.pull_out_n,
        FORK_FORCE.value,
        FORK_FORCE.basis,
    ));
    if dogs.back_taper_deg > 0.0 {
        all.push(rated(
            own(),
            What::JumpOut,
            load.lean_deg,
            dogs.back_taper_deg,
            from(dogs.given.back_taper, "layout.dogs.back_taper_deg"),
        ));
    }
    if dogs.detent_n > 0.0 {
        all.push(rated(
            own(),
            What::Detent,
            load.detent_n,
            dogs.detent_n,
            from(dogs.given.detent, "layout.dogs.detent_n"),
        ));
    }
    all
}

const fn from(given: bool, words: &'static str) -> Basis {
    if given {
        Basis::given(words)
    } else {
        Basis::defaulted(words)
    }
}

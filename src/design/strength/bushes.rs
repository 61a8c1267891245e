//! Bushes: of free gears, which slip unloaded and are loaded without slip; of
//! the idler and of the spigot, which are loaded and slip.
//!
//! Sources: p = F / (d L), v = π d n; a couple adds 6 C / (d L²) at the edge
//! (statics). Limits: bush maker's data.

use super::Basis;
use super::case::Case;
use super::material::{BUSH_AT_REST, BUSH_PV, BUSH_SLIPPING, BUSH_SPEED};
use super::utilisation::{Member, Unrated, Utilisation, What, When};
use crate::design::forces::{StateForces, Support};
use crate::design::motion::Hold;
use crate::problem::Lubrication;
use crate::problem::Shaft;
use crate::train::{Gear, Seat};
use std::f64::consts::PI;

/// Part of the lubricated limit of pressure times speed that a dry bush has
/// (from memory).
const DRY_SHARE: f64 = 0.2;

/// A plain bush.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bush {
    /// Diameter that slips, mm.
    pub diameter_mm: f64,
    /// Its length, mm.
    pub length_mm: f64,
}

impl Bush {
    /// Pressure over its whole projected area, N/mm².
    pub fn pressure(&self, load_n: f64) -> f64 {
        load_n / (self.diameter_mm * self.length_mm)
    }

    /// What a tilting couple adds at the edge, N/mm².
    pub fn edge_pressure(&self, couple_n_m: f64) -> f64 {
        6e3 * couple_n_m / (self.diameter_mm * self.length_mm.powi(2))
    }

    /// Speed of slip, m/s.
    pub fn speed_m_s(&self, slip_rpm: f64) -> f64 {
        PI * self.diameter_mm * slip_rpm / 60_000.0
    }
}

/// A bush in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct BushLoad {
    /// Which.
    pub part: Member,
    /// When.
    pub when: When,
    /// Its size.
    pub bush: Bush,
    /// Load, shock left out, N.
    pub load_n: f64,
    /// Pressure with shock, edge included, N/mm².
    pub pressure: f64,
    /// Slip, m/s.
    pub speed_m_s: f64,
    /// Pressure without shock times speed, N/mm² m/s.
    pub pressure_speed: f64,
}

#[derive(Debug, Default)]
pub(super) struct Bushes {
    pub(super) loads: Vec<BushLoad>,
    pub(super) rated: Vec<Utilisation>,
    pub(super) unrated: Vec<Unrated>,
}

pub(super) fn bushes(case: &Case<'_>) -> Bushes {
    let mut all = Bushes::default();
    let needle = case
        .problem
        .shafting()
        .spigot()
        .is_some_and(|spigot| spigot.needle());
    if needle {
        all.unrated.push(Unrated {
            part: Member::Spigot,
            why: "needle rollers are not rated here: hold its load against the maker's",
        });
    }
    for (flow, state) in &case.states {
        let when = Case::when(*flow, state.state);
        let mut loads = gears(case, state, when);
        loads.extend(spigot(case, state, when).filter(|_| !needle));
        for load in loads {
            all.rated.extend(ratings(case, &load));
            all.loads.push(load);
        }
    }
    all
}

/// Every gear that is free or locked in a state; the idler among them.
fn gears(case: &Case<'_>, state: &StateForces, when: When) -> Vec<BushLoad> {
    let Some(motion) = case.motion_in(state.state) else {
        return Vec::new();
    };
    let free = motion.gears.iter().filter(|gear| gear.hold != Hold::Fixed);
    free.map(|gear| {
        let bush = Bush {
            diameter_mm: case.diameter_mm(gear.shaft),
            length_mm: gear.gear.face.mm(),
        };
        let slip = gear.slip.map_or(0.0, |slip| slip.per_input_turn);
        let (load_n, couple_n_m) = borne(state, &gear.gear);
        loaded(
            case,
            (Member::Bush(gear.gear), when, bush),
            (load_n, couple_n_m),
            case.rpm(slip),
        )
    })
    .collect()
}

/// Load across the shaft and tilting couple of a gear on its bush.
fn borne(state: &StateForces, gear: &Gear) -> (f64, f64) {
    if let (Seat::Idler, Some(idler)) = (gear.seat, &state.idler) {
        return (idler.pin_load.across_n(), idler.tilting_n_m);
    }
    let all = state
        .meshes
        .iter()
        .flat_map(|m| [&m.on_driver, &m.on_driven]);
    let own = all.filter(|at| (at.gear.role, at.gear.seat) == (gear.role, gear.seat));
    (own.map(|at| at.force.across_n()).fold(0.0, f64::max), 0.0)
}

fn spigot(case: &Case<'_>, state: &StateForces, when: When) -> Option<BushLoad> {
    let main = state.shaft(Shaft::Main)?;
    let mut held = main.reactions.iter();
    let load = held.find(|held| held.support == Support::Spigot)?;
    let slip = case.motion_in(state.state)?.spigot_slip?;
    let bush = Bush {
        diameter_mm: 2.0 * case.gearbox.shafts.input?.spigot_radius_mm,
        length_mm: case.housed.spigot_reach_mm(),
    };
    Some(loaded(
        case,
        (Member::Spigot, when, bush),
        (load.radial_n, 0.0),
        case.rpm(slip.per_input_turn),
    ))
}

fn loaded(
    case: &Case<'_>,
    (part, when, bush): (Member, When, Bush),
    (load_n, couple_n_m): (f64, f64),
    slip_rpm: f64,
) -> BushLoad {
    let steady = bush.pressure(load_n) + bush.edge_pressure(couple_n_m);
    let speed_m_s = bush.speed_m_s(slip_rpm);
    BushLoad {
        part,
        when,
        bush,
        load_n,
        pressure: case.shock() * steady,
        speed_m_s,
        pressure_speed: steady * speed_m_s,
    }
}

fn ratings(case: &Case<'_>, load: &BushLoad) -> Vec<Utilisation> {
    let rated = |what, value, limit, basis| {
        Utilisation::new(load.part.clone(), load.when, what, (value, limit), basis)
    };
    let is_loaded = load.pressure > 0.0;
    let slips = load.speed_m_s > 0.0;
    let mut all = Vec::new();
    if is_loaded && !slips {
        all.push(rated(
            What::StillPressure,
            load.pressure,
            BUSH_AT_REST.value,
            BUSH_AT_REST.basis,
        ));
    }
    if slips {
        all.push(rated(
            What::SlipSpeed,
            load.speed_m_s,
            BUSH_SPEED.value,
            BUSH_SPEED.basis,
        ));
    }
    if is_loaded && slips {
        let (limit, basis) = pv_limit(case);
        all.extend([
            rated(
                What::Pressure,
                load.pressure,
                BUSH_SLIPPING.value,
                BUSH_SLIPPING.basis,
            ),
            rated(What::PressureSpeed, load.pressure_speed, limit, basis),
        ]);
    }
    all
}

fn pv_limit(case: &Case<'_>) -> (f64, Basis) {
    match case.service.lubrication {
        Lubrication::Oil | Lubrication::Grease => (BUSH_PV.value, BUSH_PV.basis),
        Lubrication::Dry => (
            DRY_SHARE * BUSH_PV.value,
            Basis::defaulted("a fifth of the lubricated bush's, dry (from memory)"),
        ),
    }
}

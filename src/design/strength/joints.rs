//! The joints of a box: gears on the layshaft (input shaft of an offset box),
//! hubs of sleeves, circlips.

use super::Basis;
use super::case::Case;
use super::joint::{
    Press, bond_length_mm, bond_torque_n_m, groove_pressure_mpa, key_pressure_mpa, key_shear_mpa,
};
use super::material::{
    BOND, ELASTICITY, GROOVE_PRESSURE, KEY_PRESSURE, KEY_SHEAR, PRESS_FRICTION, PRESS_SAFETY,
    PRESS_SHARE, SAFETY, YIELD, bond_allowed_mpa,
};
use super::utilisation::{Member, Unrated, Utilisation, What, When};
use crate::base::Length;
use crate::design::forces::{GearForce, StateForces};
use crate::design::planes::{fixed_shaft, free_shaft};
use crate::problem::{Holding, ReverseForm, Shaft, key_section};
use crate::train::{Gear, Role, Seat, gears_of};

/// How a joint holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Held {
    /// A parallel key: width, height, and length, mm.
    Key([f64; 3]),
    /// A bond; how much of its length counts, mm.
    Bond(f64),
    /// A hub pressed on.
    Press(Press),
}

/// What a joint passes on.
#[derive(Clone, Debug, PartialEq)]
pub struct JointLoad {
    /// The joint: gears of one piece, or a sleeve's hub.
    pub part: Member,
    /// When.
    pub when: When,
    /// Diameter of the shaft, mm.
    pub shaft_mm: f64,
    /// How it holds.
    pub held: Held,
    /// Torque that it passes on, with shock, N m.
    pub torque_n_m: f64,
    /// Of a bond or a press: what it would hold without any safety, N m.
    pub full_n_m: Option<f64>,
}

#[derive(Debug, Default)]
pub(super) struct Joints {
    pub(super) loads: Vec<JointLoad>,
    pub(super) rated: Vec<Utilisation>,
    pub(super) unrated: Vec<Unrated>,
}

/// A joint before it is loaded.
#[derive(Debug)]
struct Joint {
    part: Member,
    shaft: Shaft,
    shaft_mm: f64,
    length_mm: f64,
    holding: Holding,
    /// Outside of its hub, mm.
    hub_mm: f64,
}

pub(super) fn joints(case: &Case<'_>) -> Joints {
    let mut all = Joints::default();
    for piece in pieces(case) {
        let shaft = piece[0].shaft(case.problem);
        let joint = Joint {
            shaft,
            shaft_mm: case.diameter_mm(shaft),
            length_mm: case.problem.gears().face_width().mm() * count(&piece),
            holding: case.problem.layout().holding(),
            hub_mm: least_root_mm(case, &piece),
            part: Member::Joint(piece.clone()),
        };
        let torque = |state: &StateForces| piece_torque_n_m(state, &piece);
        all.add(case, &joint, torque);
    }
    for served in hubs(case) {
        let shaft = free_shaft(case.problem.arrangement());
        let joint = Joint {
            shaft,
            shaft_mm: case.diameter_mm(shaft),
            length_mm: case.problem.layout().sleeve_width().mm(),
            holding: Holding::Keyed,
            hub_mm: 0.0,
            part: Member::Hub(served),
        };
        let torque = |state: &StateForces| match case.engaged(state.state) {
            Some(role) if role == served => state.output_torque_n_m.abs(),
            _ => 0.0,
        };
        all.add(case, &joint, torque);
    }
    all.rated.extend(circlips(case));
    all
}

fn count(piece: &[Gear]) -> f64 {
    piece.iter().map(|_| 1.0).sum()
}

impl Joints {
    fn add(&mut self, case: &Case<'_>, joint: &Joint, torque: impl Fn(&StateForces) -> f64) {
        let Some(held) = held(case, joint) else {
            self.unrated.push(Unrated {
                part: joint.part.clone(),
                why: "there is no standard key for so thin or so thick a shaft: pin, bond or \
                      cut it in one piece",
            });
            return;
        };
        for (flow, state) in &case.states {
            let torque_n_m = case.shock() * torque(state);
            if torque_n_m <= 0.0 {
                continue;
            }
            let load = JointLoad {
                part: joint.part.clone(),
                when: Case::when(*flow, state.state),
                shaft_mm: joint.shaft_mm,
                held,
                torque_n_m,
                full_n_m: match held {
                    Held::Bond(counted_mm) => {
                        Some(bond_torque_n_m(BOND.value, joint.shaft_mm, counted_mm))
                    }
                    Held::Press(press) => Some(press.torque_n_m(PRESS_FRICTION.value)),
                    Held::Key(_) => None,
                },
            };
            self.rated.extend(ratings(&load));
            self.loads.push(load);
        }
    }
}

fn held(case: &Case<'_>, joint: &Joint) -> Option<Held> {
    match joint.holding {
        Holding::Bonded => {
            let counted_mm = bond_length_mm(joint.shaft_mm, joint.length_mm);
            return Some(Held::Bond(counted_mm));
        }
        Holding::Pressed => return Some(Held::Press(press(case, joint))),
        Holding::Auto | Holding::OnePiece | Holding::Keyed => {}
    }
    let size = case.housed.size(joint.shaft)?;
    let [width, height] = key_section(size.diameter())?.map(Length::mm);
    Some(Held::Key([width, height, joint.length_mm]))
}

fn press(case: &Case<'_>, joint: &Joint) -> Press {
    let given = case.problem.layout().press_interference();
    let usual_mm = PRESS_SHARE.value * joint.shaft_mm;
    Press {
        shaft_mm: joint.shaft_mm,
        hub_mm: joint.hub_mm,
        length_mm: joint.length_mm,
        interference_mm: given.map_or(usual_mm, Length::mm),
        elasticity_mpa: ELASTICITY.value,
    }
}

/// A gear's hub reaches to its root circle; of several the thinnest counts.
fn least_root_mm(case: &Case<'_>, piece: &[Gear]) -> f64 {
    let wheels = piece
        .iter()
        .filter_map(|gear| case.housed.wheel(gear.role, gear.seat));
    wheels
        .map(|wheel| 2.0 * wheel.root_radius_mm)
        .fold(f64::INFINITY, f64::min)
}

fn ratings(load: &JointLoad) -> Vec<Utilisation> {
    let rated = |what, value, limit, basis| {
        Utilisation::new(load.part.clone(), load.when, what, (value, limit), basis)
    };
    let (torque_n_m, shaft_mm) = (load.torque_n_m, load.shaft_mm);
    match load.held {
        Held::Key([width_mm, height_mm, length_mm]) => vec![
            rated(
                What::SidePressure,
                key_pressure_mpa(torque_n_m, shaft_mm, height_mm, length_mm),
                KEY_PRESSURE.value,
                KEY_PRESSURE.basis,
            ),
            rated(
                What::Shear,
                key_shear_mpa(torque_n_m, shaft_mm, width_mm, length_mm),
                KEY_SHEAR.value,
                KEY_SHEAR.basis,
            ),
        ],
        Held::Press(press) => vec![
            rated(
                What::Grip,
                torque_n_m,
                press.torque_n_m(PRESS_FRICTION.value) / PRESS_SAFETY.value,
                Basis::derived("Lame, friction and safety as listed"),
            ),
            rated(
                What::Burst,
                press.hub_stress_mpa(),
                YIELD.value / SAFETY.value,
                Basis::defaulted("yield stress of C45, normalised (from memory), over safety"),
            ),
        ],
        Held::Bond(counted_mm) => vec![rated(
            What::Shear,
            torque_n_m / bond_torque_n_m(1.0, shaft_mm, counted_mm),
            bond_allowed_mpa(),
            Basis::defaulted(
                "makers' range 13.8 to 34.5 MPa; less for heat, repeated load and safety",
            ),
        )],
    }
}

/// Gears that are fixed to their shafts by a joint, those of one piece
/// together. The input gear of an in-line box is of one piece with its shaft.
fn pieces(case: &Case<'_>) -> Vec<Vec<Gear>> {
    let (problem, set) = case.housed.of();
    let own = fixed_shaft(problem.arrangement());
    let shares = problem.shared_speed().is_some();
    let all = gears_of(problem, set).into_iter();
    let fixed: Vec<Gear> = all
        .filter(|gear| gear.shaft(problem) == own)
        .filter(|gear| !(shares && gear.role == Role::Reverse))
        .collect();
    let mut alone = slid_into(case);
    let together = matches!(
        problem.layout().holding(),
        Holding::Auto | Holding::OnePiece
    );
    if !together {
        alone.extend(fixed.into_iter().map(|gear| vec![gear]));
        return alone;
    }
    let pieces = case.layout.pieces.iter().map(|roles| {
        let mine = fixed.iter().filter(|gear| roles.contains(&gear.role));
        mine.copied().collect::<Vec<_>>()
    });
    alone.extend(pieces.filter(|piece| !piece.is_empty()));
    alone
}

/// The driven gear of a sliding idler is fixed to its shaft.
fn slid_into(case: &Case<'_>) -> Vec<Vec<Gear>> {
    let (problem, set) = case.housed.of();
    if problem.reverse_form() != Some(ReverseForm::SlidingIdler) {
        return Vec::new();
    }
    let all = gears_of(problem, set).into_iter();
    let driven = all.filter(|gear| (gear.role, gear.seat) == (Role::Reverse, Seat::Driven));
    driven.map(|gear| vec![gear]).collect()
}

/// What a piece gives to its shaft: what its gears take and give among
/// themselves does not pass the joint.
fn piece_torque_n_m(state: &StateForces, piece: &[Gear]) -> f64 {
    let own = |at: &&GearForce| {
        let mut gears = piece.iter();
        gears.any(|gear| (gear.role, gear.seat) == (at.gear.role, at.gear.seat))
    };
    let all = state
        .meshes
        .iter()
        .flat_map(|m| [&m.on_driver, &m.on_driven]);
    let torques: Vec<f64> = all.filter(own).map(GearForce::torque_n_m).collect();
    let greatest = torques.iter().fold(0.0, |most: f64, t| most.max(t.abs()));
    let left: f64 = torques.iter().sum();
    // What cancels on paper is not to be left over by the last bits.
    if left.abs() <= crate::base::FIGURE_SLACK * greatest {
        0.0
    } else {
        left.abs()
    }
}

/// What the sleeves engage, [`Role::Head`] in the direct speed.
fn hubs(case: &Case<'_>) -> Vec<Role> {
    case.gearbox.sleeves.iter().flatten().copied().collect()
}

/// Every gear with thrust is taken to be kept by a circlip.
fn circlips(case: &Case<'_>) -> Vec<Utilisation> {
    let mut rated = Vec::new();
    for (flow, state) in &case.states {
        let all = state
            .meshes
            .iter()
            .flat_map(|m| [&m.on_driver, &m.on_driven]);
        for at in all.filter(|at| at.gear.seat != Seat::Idler && at.force.z_n.abs() > 0.0) {
            let shaft_mm = case.diameter_mm(at.gear.shaft(case.problem));
            let thrust_n = case.shock() * at.force.z_n.abs();
            rated.push(Utilisation::new(
                Member::Circlip(at.gear),
                Case::when(*flow, state.state),
                What::SidePressure,
                (
                    groove_pressure_mpa(thrust_n, shaft_mm),
                    GROOVE_PRESSURE.value,
                ),
                GROOVE_PRESSURE.basis,
            ));
        }
    }
    rated
}

//! The joints of a box: gears on the layshaft (input shaft of an offset box),
//! hubs of sleeves, circlips.

use super::Basis;
use super::case::Case;
use super::joint::{
    Press, bond_torque_n_m, counted_length_mm, groove_pressure_mpa, key_pressure_mpa, key_shear_mpa,
};
use super::material::{
    BOND, ELASTICITY, GROOVE_PRESSURE, KEY_PRESSURE, KEY_SHEAR, PRESS_FRICTION, PRESS_SAFETY,
    PRESS_SHARE, SAFETY, YIELD, bond_allowed_mpa,
};
use super::pieces::{Passed, least_root_mm, piece_load, pieces};
use super::utilisation::{Member, Unrated, Utilisation, What, When};
use crate::base::Length;
use crate::design::forces::StateForces;
use crate::design::planes::{fixed_shaft, free_shaft};
use crate::problem::{Holding, Shaft, key_section};
use crate::train::{Gear, Role};

/// How a joint holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Held {
    /// A parallel key: width, height, and how much of its length counts, mm.
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
    /// Thrust of its gears, with shock, N; a key leaves it to a circlip.
    pub thrust_n: f64,
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
    let pieces = pieces(case);
    for piece in &pieces {
        let shaft = piece[0].shaft(case.problem);
        let joint = Joint {
            shaft,
            shaft_mm: case.diameter_mm(shaft),
            length_mm: piece.iter().map(|gear| gear.face.mm()).sum(),
            // What the file says is said of the gears that are all fixed.
            holding: if shaft == fixed_shaft(case.problem.arrangement()) {
                case.problem.layout().holding()
            } else {
                Holding::Keyed
            },
            hub_mm: least_root_mm(case, piece),
            part: Member::Joint(piece.clone()),
        };
        all.add(case, &joint, |state| piece_load(state, piece));
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
        all.add(case, &joint, |state| Passed {
            torque_n_m: match case.engaged(state.state) {
                Some(role) if role == served => state.output_torque_n_m.abs(),
                _ => 0.0,
            },
            thrust_n: 0.0,
        });
    }
    all.rated.extend(circlips(case, &pieces));
    all
}

impl Joints {
    fn add(&mut self, case: &Case<'_>, joint: &Joint, passed: impl Fn(&StateForces) -> Passed) {
        let Some(held) = held(case, joint) else {
            self.unrated.push(Unrated {
                part: joint.part.clone(),
                why: "there is no standard key for so thin or so thick a shaft: pin, bond or \
                      cut it in one piece",
            });
            return;
        };
        for (flow, state) in &case.states {
            let Passed {
                torque_n_m,
                thrust_n,
            } = passed(state);
            let bears_thrust = thrust_n > 0.0 && !matches!(held, Held::Key(_));
            if torque_n_m <= 0.0 && !bears_thrust {
                continue;
            }
            let load = JointLoad {
                part: joint.part.clone(),
                when: Case::when(*flow, state.state),
                shaft_mm: joint.shaft_mm,
                held,
                torque_n_m: case.shock() * torque_n_m,
                thrust_n: case.shock() * thrust_n,
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
    let counted_mm = counted_length_mm(joint.shaft_mm, joint.length_mm);
    match joint.holding {
        Holding::Bonded => {
            return Some(Held::Bond(counted_mm));
        }
        Holding::Pressed => return Some(Held::Press(press(case, joint))),
        Holding::Auto | Holding::OnePiece | Holding::Keyed => {}
    }
    let size = case.housed.size(joint.shaft)?;
    let [width, height] = key_section(size.diameter())?.map(Length::mm);
    Some(Held::Key([width, height, counted_mm]))
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

fn ratings(load: &JointLoad) -> Vec<Utilisation> {
    let rated = |what, value, limit, basis| {
        Utilisation::new(load.part.clone(), load.when, what, (value, limit), basis)
    };
    let (torque_n_m, shaft_mm) = (load.torque_n_m, load.shaft_mm);
    // Round and along together, as a torque: what bond and grip hold.
    let gripped_n_m = torque_n_m.hypot(load.thrust_n * shaft_mm / 2e3);
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
                gripped_n_m,
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
            gripped_n_m / bond_torque_n_m(1.0, shaft_mm, counted_mm),
            bond_allowed_mpa(),
            Basis::defaulted(
                "makers' range 13.8 to 34.5 MPa; less for heat, repeated load and safety",
            ),
        )],
    }
}

/// What the sleeves engage, [`Role::Head`] in the direct speed.
fn hubs(case: &Case<'_>) -> Vec<Role> {
    case.gearbox.sleeves.iter().flatten().copied().collect()
}

/// Gears with thrust are taken to be kept by circlips, those of one piece by
/// one; free gears too.
fn circlips(case: &Case<'_>, pieces: &[Vec<Gear>]) -> Vec<Utilisation> {
    let free = free_shaft(case.problem.arrangement());
    let mut rated = Vec::new();
    for (flow, state) in &case.states {
        let loose = state.meshes.iter().map(|mesh| mesh.on_driven.gear);
        let loose = loose.filter(|gear| gear.shaft(case.problem) == free);
        let alone = loose.map(|gear| vec![gear]);
        let alone = alone.filter(|gear| !pieces.contains(gear));
        let kept = pieces.iter().cloned().chain(alone);
        for piece in kept {
            let thrust_n = case.shock() * piece_load(state, &piece).thrust_n;
            let (Some(first), true) = (piece.first(), thrust_n > 0.0) else {
                continue;
            };
            let shaft_mm = case.diameter_mm(first.shaft(case.problem));
            rated.push(Utilisation::new(
                Member::Circlip(piece),
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

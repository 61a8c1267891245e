//! What loads a set's box: the figures of the problem as the forces want them.
//!
//! Where the file gives no torque, loads are for 1 N m on the input shaft.

use super::Housed;
use super::forces::{
    Bearings, Drive, Flow, ForceFault, Hand, IdlerMounting, Locating, MainMounting, Mounting, Pin,
    ShaftBearings, StateForces, Vector, forces,
};
use super::motion::State;
use super::planes::{Layout, Load};
use crate::base::Length;
use crate::problem::{Arrangement, Duty, HeldIn, Problem, ReverseForm, Shaft, Side};
use crate::train::{Role, pairs_of};

/// The two bearings of an in-line box's input shaft are so many of its
/// diameters apart where the file does not say (common practice, no source).
const USUAL_SPAN: f64 = 3.0;

/// Torque on the input shaft that loads are for, N m.
pub fn torque_n_m(problem: &Problem) -> f64 {
    problem.duty().map_or(1.0, Duty::input_torque_n_m)
}

/// Between the bearings of an in-line box's input shaft, mm.
pub fn input_span_mm(problem: &Problem, housed: &Housed<'_>) -> f64 {
    let given = problem.layout().input_span().map(Length::mm);
    let size = housed.size(Shaft::Input);
    given.unwrap_or_else(|| USUAL_SPAN * size.map_or(0.0, |size| size.diameter().mm()))
}

/// The loads of every state in the box as laid out.
///
/// # Errors
/// What does not fit together.
pub(super) fn state_forces(
    housed: &Housed<'_>,
    layout: &Layout,
    side: Side,
    flow: Flow,
) -> Result<Vec<StateForces>, ForceFault> {
    let (problem, set) = housed.of();
    let planes = layout
        .planes
        .iter()
        .map(|plane| (plane.role, plane.middle_mm));
    let mounting = mounting(housed, planes.collect(), layout.length_mm, side);
    forces(problem, set, &mounting, &drive(problem, flow))
}

fn drive(problem: &Problem, flow: Flow) -> Drive {
    Drive {
        input_torque_n_m: torque_n_m(problem),
        input_turns: problem.input_turns(),
        flow,
    }
}

fn mounting(
    housed: &Housed<'_>,
    planes_mm: Vec<(Role, f64)>,
    length_mm: f64,
    side: Side,
) -> Mounting {
    let (problem, set) = housed.of();
    let half = problem.layout().wall().mm() / 2.0;
    let in_walls = Bearings {
        input_end_mm: -half,
        output_end_mm: length_mm + half,
        locating: Locating::EitherEnd,
    };
    let head_mm = planes_mm.iter().find(|(role, _)| *role == Role::Head);
    let head_mm = head_mm.map_or(0.0, |(_, middle)| *middle);
    let width = housed.face_mm(Role::Head);
    let bearings = match problem.arrangement() {
        Arrangement::InLine => ShaftBearings::InLine {
            input: Bearings {
                input_end_mm: -half - input_span_mm(problem, housed),
                output_end_mm: -half,
                locating: Locating::EitherEnd,
            },
            layshaft: in_walls,
            main: MainMounting {
                spigot_mm: head_mm + (width - housed.spigot_reach_mm()) / 2.0,
                bearing_mm: length_mm + half,
                locating: Locating::OutputEnd,
            },
        },
        Arrangement::Offset => ShaftBearings::Offset {
            input: in_walls,
            output: in_walls,
        },
    };
    let pin = match housed.held_in() {
        HeldIn::InputWall => Pin::Stub { wall_mm: 0.0 },
        HeldIn::OutputWall => Pin::Stub { wall_mm: length_mm },
        HeldIn::BothWalls => Pin::Through {
            input_end_mm: -half,
            output_end_mm: length_mm + half,
        },
    };
    Mounting {
        planes_mm,
        bearings,
        idler: set.reverse.map(|_| IdlerMounting { side, pin }),
        // Of no matter without reverse.
        reverse: problem.reverse_form().unwrap_or(ReverseForm::ConstantMesh),
        hand: Hand::of_problem(problem),
    }
}

/// Forces on the gears in every state. They do not depend on where the planes
/// are, so any order will do; those on shafts do, and are of no use here.
pub fn gear_forces(housed: &Housed<'_>, side: Side, flow: Flow) -> Vec<StateForces> {
    let (problem, set) = housed.of();
    let mut roles: Vec<Role> = pairs_of(problem, set)
        .into_iter()
        .map(|(role, _)| role)
        .collect();
    roles.extend(set.reverse.map(|_| Role::Reverse));
    // Any plane will do: forces on gears do not depend on it.
    let width = problem.gears().face().unit().mm();
    let middle = |i: u32| width * (f64::from(i) + 1.0);
    let planes: Vec<(Role, f64)> = roles.iter().copied().zip((0..).map(middle)).collect();
    let length_mm = planes.last().map_or(width, |(_, middle)| middle + width);
    let mounting = mounting(housed, planes, length_mm, side);
    forces(problem, set, &mounting, &drive(problem, flow)).unwrap_or_default()
}

/// Those across the shafts, on every loaded gear.
pub(super) fn loads(states: &[StateForces]) -> Vec<Load> {
    states.iter().filter_map(load).collect()
}

/// What the idler's pin carries; none where the set has no reverse.
pub(super) fn pin_load(states: &[StateForces]) -> Option<Vector> {
    let idler = states.iter().find_map(|state| state.idler.as_ref())?;
    Some(idler.pin_load)
}

fn load(state: &StateForces) -> Option<Load> {
    let role = match state.state {
        State::Neutral => return None,
        State::Speed(place) => Role::Speed(place),
        State::Reverse => Role::Reverse,
    };
    let across = |force: Vector| [force.x_n, force.y_n];
    let own: Vec<_> = state
        .meshes
        .iter()
        .filter(|mesh| mesh.on_driver.gear.role == role || mesh.on_driven.gear.role == role)
        .collect();
    let (first, last) = (own.first()?, own.last()?);
    let head = state
        .meshes
        .iter()
        .find(|mesh| mesh.on_driven.gear.role == Role::Head);
    Some(Load {
        role,
        on_driver_n: across(first.on_driver.force),
        on_driven_n: across(last.on_driven.force),
        on_head_n: head.map_or([0.0; 2], |mesh| across(mesh.on_driven.force)),
    })
}

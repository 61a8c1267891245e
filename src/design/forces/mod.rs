//! What loads teeth, shafts, bearings and the idler's pin, in every state.
//!
//! In: problem, set, how the box is built ([`Mounting`]) and driven
//! ([`Drive`]). Out: [`StateForces`]. Assumed: no friction, no weight, rigid
//! shafts, each load in the middle of its gear's width at the pitch point;
//! nothing pulls at the ends of the shafts. Sources: ISO 21771 for the working
//! angles; statics for the rest.
//!
//! The power passes the gears of the state's path alone: every other gear
//! idles unloaded. A gear that is given the torque T (positive clockwise) is
//! pushed along its turning with F_t = 2 T / d_w, away from its mate with
//! F_t tan α_wt, and along its axis with F_t tan β_w.

mod beam;
mod fault;
mod idler;
mod mesh;
mod mounting;
mod places;
mod shafts;
mod vector;

pub use beam::{Bending, Load, LoadFrom, Reaction, Support};
pub use fault::ForceFault;
pub use idler::IdlerForces;
pub use mesh::{GearForce, MeshForces};
pub use mounting::{
    Bearings, Drive, Flow, Hand, IdlerMounting, Locating, MainMounting, Mounting, Pin,
    ShaftBearings,
};
pub use shafts::{ShaftForces, Thrust};
pub use vector::{Couple, Vector};

use crate::design::motion::{Gearing, State, StateMotion};
use crate::problem::{Arrangement, Problem, Shaft};
use crate::train::Set;
use places::{Meeting, Places};
use shafts::loads_on;

/// The loads of one state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateForces {
    /// Which.
    pub state: State,
    /// Torque that the input shaft is given from outside, N m, positive
    /// clockwise seen from the input end. 0 in neutral: nothing holds it.
    pub input_torque_n_m: f64,
    /// Torque that the last shaft gives to the load, N m, positive clockwise.
    pub output_torque_n_m: f64,
    /// Torque that holds the case from turning, N m, positive clockwise: the
    /// difference of the two.
    pub case_torque_n_m: f64,
    /// The loaded meshes, in the order that the power passes them.
    pub meshes: Vec<MeshForces>,
    /// Input, layshaft (in-line), main or output shaft, pin of the idler.
    pub shafts: Vec<ShaftForces>,
    /// The reverse idler, where it is loaded.
    pub idler: Option<IdlerForces>,
}

impl StateForces {
    /// What a shaft bears; none where the box has no such shaft.
    pub fn shaft(&self, shaft: Shaft) -> Option<&ShaftForces> {
        self.shafts.iter().find(|at| at.shaft == shaft)
    }
}

/// The loads of `set`, a set of `problem`, in neutral, the speeds in file
/// order, reverse.
///
/// # Errors
/// What does not fit together, by name ([`ForceFault`]).
pub fn forces(
    problem: &Problem,
    set: &Set,
    mounting: &Mounting,
    drive: &Drive,
) -> Result<Vec<StateForces>, ForceFault> {
    if !(drive.input_torque_n_m > 0.0 && drive.input_torque_n_m.is_finite()) {
        return Err(ForceFault::Torque);
    }
    mounting.check(problem.arrangement())?;
    let gearing = Gearing::new(problem, set, mounting.reverse)?;
    let places = Places::new(&gearing, set, mounting)?;
    let states = gearing.states().into_iter();
    states
        .map(|state| state_forces(&places, mounting, drive, state))
        .collect()
}

fn state_forces(
    places: &Places<'_>,
    mounting: &Mounting,
    drive: &Drive,
    state: State,
) -> Result<StateForces, ForceFault> {
    let motion = places.gearing.motion_in(state, None);
    let given_n_m = match state {
        State::Neutral => 0.0,
        State::Speed(_) | State::Reverse => drive.signed_n_m(),
    };
    let meetings = places.meetings(state)?;
    let meshes: Vec<_> = meetings
        .iter()
        .map(|meeting| {
            let torque_n_m = torque_of(meeting, &motion, given_n_m);
            (mesh::loaded(meeting, torque_n_m), meeting.shafts)
        })
        .collect();
    let idler = match (&meshes[..], places.reverse) {
        ([.., (first, _), (second, _)], Some((_, centre))) if state == State::Reverse => {
            Some(idler::idler_forces(centre, first, second))
        }
        _ => None,
    };
    let torques = Torques {
        motion: &motion,
        given_n_m,
        is_geared: !meshes.is_empty(),
    };
    let last_n_m = torques.through(places.gearing.last_shaft());
    Ok(StateForces {
        state,
        input_torque_n_m: given_n_m,
        output_torque_n_m: last_n_m,
        case_torque_n_m: last_n_m - given_n_m,
        shafts: shafts_of(mounting, &meshes, &torques),
        meshes: meshes.into_iter().map(|(mesh, _)| mesh).collect(),
        idler,
    })
}

/// Torque that a mesh gives to its driven gear: nothing is lost, so torque and
/// turns have the same product everywhere.
fn torque_of(meeting: &Meeting, motion: &StateMotion, given_n_m: f64) -> f64 {
    let [_, driven] = meeting.gears;
    let gear = motion.gear(driven.role, driven.seat);
    gear.map_or(0.0, |gear| over_turns(given_n_m, gear.rate.per_input_turn))
}

fn over_turns(given_n_m: f64, per_input_turn: f64) -> f64 {
    if per_input_turn.abs() > 0.0 {
        given_n_m / per_input_turn
    } else {
        0.0
    }
}

/// What each shaft passes on.
#[derive(Debug)]
struct Torques<'a> {
    motion: &'a StateMotion,
    given_n_m: f64,
    is_geared: bool,
}

impl Torques<'_> {
    fn through(&self, shaft: Shaft) -> f64 {
        let rate = self.motion.shaft(shaft);
        let all = rate.map_or(0.0, |rate| over_turns(self.given_n_m, rate.per_input_turn));
        match shaft {
            // In the direct speed it only turns along.
            Shaft::Layshaft if !self.is_geared => 0.0,
            Shaft::Idler => 0.0,
            _ => all,
        }
    }
}

fn shafts_of(
    mounting: &Mounting,
    meshes: &[(MeshForces, [Shaft; 2])],
    torques: &Torques<'_>,
) -> Vec<ShaftForces> {
    let plain = |shaft, bearings: &Bearings| {
        let loads = loads_on(shaft, meshes);
        ShaftForces::in_bearings(shaft, torques.through(shaft), loads, bearings)
    };
    let mut shafts = match &mounting.bearings {
        ShaftBearings::InLine {
            input,
            layshaft,
            main,
        } => {
            // The main shaft first: its end loads the input shaft.
            let last = Shaft::Main;
            let main = ShaftForces::main(torques.through(last), loads_on(last, meshes), main);
            let first = Shaft::Input;
            let loads = loads_on(first, meshes).into_iter().chain(main.spigot());
            let torque_n_m = torques.through(first);
            let turned = ShaftForces::in_bearings(first, torque_n_m, loads.collect(), input);
            vec![turned, plain(Shaft::Layshaft, layshaft), main]
        }
        ShaftBearings::Offset { input, output } => {
            vec![plain(Shaft::Input, input), plain(Shaft::Output, output)]
        }
    };
    let pin = mounting
        .idler
        .filter(|_| torques.motion.shaft(Shaft::Idler).is_some());
    shafts.extend(pin.map(|held| ShaftForces::pin(loads_on(Shaft::Idler, meshes), &held.pin)));
    shafts
}

impl Mounting {
    fn check(&self, arrangement: Arrangement) -> Result<(), ForceFault> {
        let two = |b: &Bearings| (b.input_end_mm, b.output_end_mm);
        let mut supports = match (&self.bearings, arrangement) {
            (
                ShaftBearings::InLine {
                    input,
                    layshaft,
                    main,
                },
                Arrangement::InLine,
            ) => vec![two(input), two(layshaft), (main.spigot_mm, main.bearing_mm)],
            (ShaftBearings::Offset { input, output }, Arrangement::Offset) => {
                vec![two(input), two(output)]
            }
            _ => return Err(ForceFault::OtherArrangement),
        };
        supports.extend(self.idler.map(|idler| match idler.pin {
            // It has but one place, in no order to any other.
            Pin::Stub { wall_mm } => (wall_mm, wall_mm + 1.0),
            Pin::Through {
                input_end_mm,
                output_end_mm,
            } => (input_end_mm, output_end_mm),
        }));
        let sound = |&(first, second): &(f64, f64)| {
            first.is_finite() && second.is_finite() && second - first > crate::base::PLACE_SLACK_MM
        };
        if supports.iter().all(sound) {
            Ok(())
        } else {
            Err(ForceFault::Supports)
        }
    }
}

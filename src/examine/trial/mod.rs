//! The box by hand: the backlash to expect, what turns and how often, and what
//! a fault that is felt or heard comes from.
//!
//! Angles are small: arcs are taken for chords. Backlash of a chain of meshes at
//! its end is the sum of each, turned through the gears after it (geometry).

mod beats;
mod symptoms;

pub use beats::Beat;
pub use symptoms::Symptom;

use super::{Examined, Mesh, called};
use crate::design::motion::{Motion, State, StateMotion};
use crate::design::planes::free_shaft;
use crate::problem::Problem;
use crate::train::Role;
use serde::Serialize;

/// An arm on the output shaft that its play is told at, mm.
pub const ARM_MM: f64 = 100.0;

/// Backlash at the rim of one mesh.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rim {
    /// The mesh, by its role and teeth.
    pub mesh: String,
    /// Radius of the driven gear's working circle, mm.
    pub radius_mm: f64,
    /// Least and most there, mm.
    pub play_mm: [f64; 2],
}

/// Backlash to expect in one state.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Play {
    /// The speed, or reverse.
    pub state: String,
    /// Each mesh that the power passes, in order.
    pub rims: Vec<Rim>,
    /// At the output with the input held, least and most, degrees.
    pub output_deg: [f64; 2],
    /// The same on an arm of [`ARM_MM`], mm.
    pub arm_mm: [f64; 2],
}

/// One state turned through by hand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Turned {
    /// The state.
    pub state: String,
    /// What the power passes through.
    pub path: String,
    /// Turns of the output for one of the input; below 0 against it.
    pub output: f64,
    /// So many turns of the input, and the whole turns that the output makes of
    /// them: then both shafts stand as they began.
    pub meet: [i64; 2],
}

/// All of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Trial {
    /// Backlash, speed by speed; none of a direct one, which has no gears.
    pub plays: Vec<Play>,
    /// Turning, state by state.
    pub turned: Vec<Turned>,
    /// What comes round how often.
    pub beats: Vec<Beat>,
    /// From what is felt or heard to what it may be.
    pub symptoms: Vec<Symptom>,
}

impl Trial {
    /// Of a box looked over.
    pub fn of(examined: &Examined<'_>) -> Self {
        let motion = examined.plan.motion.as_ref().ok();
        let plays = plays(examined, motion);
        let beats = motion.map_or_else(Vec::new, |motion| beats::beats(examined, motion));
        Self {
            turned: motion.map_or_else(Vec::new, |motion| turned(examined.problem, motion)),
            symptoms: symptoms::symptoms(examined, motion, &plays),
            plays,
            beats,
        }
    }
}

/// A state as people call it.
pub(super) fn state_called(problem: &Problem, state: State) -> String {
    match state {
        State::Neutral => "neutral".to_owned(),
        State::Speed(place) => called(problem, Role::Speed(place)),
        State::Reverse => called(problem, Role::Reverse),
    }
}

fn turned(problem: &Problem, motion: &Motion) -> Vec<Turned> {
    let last = free_shaft(problem.arrangement());
    let of = |at: &StateMotion| {
        let turns = at.shaft(last)?.turns;
        Some(Turned {
            state: state_called(problem, at.state),
            path: at.words.clone(),
            output: turns.to_f64(),
            meet: [turns.denominator(), turns.numerator().abs()],
        })
    };
    motion.states.iter().filter_map(of).collect()
}

/// The states that go through gears.
fn plays(examined: &Examined<'_>, motion: Option<&Motion>) -> Vec<Play> {
    let states = motion.into_iter().flat_map(|motion| &motion.states);
    states
        .filter_map(|at| {
            let role = match at.state {
                State::Neutral => return None,
                State::Speed(place) => Role::Speed(place),
                State::Reverse => Role::Reverse,
            };
            play(examined, role)
        })
        .collect()
}

fn play(examined: &Examined<'_>, role: Role) -> Option<Play> {
    let of = |wanted: Role| {
        examined
            .meshes
            .iter()
            .filter(move |mesh| mesh.role == wanted)
    };
    of(role).next()?;
    let chain: Vec<&Mesh> = of(Role::Head).chain(of(role)).collect();
    let mut rims = Vec::new();
    let mut turned_rad = [0.0; 2];
    for mesh in chain {
        let figures = mesh.figures.as_ref()?;
        let [driver, driven] = mesh.gears.map(|gear| f64::from(gear.teeth));
        let radius_mm = figures.second.working_diameter_mm / 2.0;
        let play_mm =
            [figures.least_backlash, figures.most_backlash].map(|backlash| backlash.transverse_mm);
        for (turned, play) in turned_rad.iter_mut().zip(play_mm) {
            // What came so far is turned down by this mesh, and its own added.
            *turned = *turned * driver / driven + play / radius_mm;
        }
        rims.push(Rim {
            mesh: format!(
                "{} {}/{}",
                called(examined.problem, mesh.role),
                mesh.gears[0].teeth,
                mesh.gears[1].teeth
            ),
            radius_mm,
            play_mm,
        });
    }
    Some(Play {
        state: called(examined.problem, role),
        rims,
        output_deg: turned_rad.map(f64::to_degrees),
        arm_mm: turned_rad.map(|turned| turned * ARM_MM),
    })
}

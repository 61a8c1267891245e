//! How every shaft and gear of a set turns, in every state of the box.
//!
//! In: problem, set, the form that reverse takes. Out: [`Motion`]. Assumed:
//! rigid gears that keep in mesh; the gears of the speeds are free on the main
//! shaft (in-line) or the output shaft (offset) until a dog locks them, all
//! others are fixed to their shafts (common practice, no source). Turns are
//! exact fractions ([`Turns`]). Every external mesh turns the sense about.

mod gearing;
mod path;
mod shift;
mod state;
mod turns;

pub use gearing::{MotionFault, State};
pub use path::Step;
pub use shift::{Shift, Way};
pub use state::{GearMotion, Hold, ShaftMotion, StateMotion};
pub use turns::{Rate, Turns};

pub(super) use gearing::Gearing;

use crate::problem::{Problem, ReverseForm};
use crate::train::Set;

/// How a set turns.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    /// Neutral, the speeds in file order, reverse when there is one.
    pub states: Vec<StateMotion>,
    /// From every forward speed to the next higher and the next lower one.
    pub shifts: Vec<Shift>,
}

/// How `set`, a set of `problem`, turns in every state and what its dogs must
/// take up. `input_rpm` (turns per minute of the input, positive) only adds
/// the figures in turns per minute; `form` is of no matter without reverse.
///
/// # Errors
/// A set of another problem; a reverse driver that is to be the first speed's
/// layshaft gear and is another gear.
pub fn motion(
    problem: &Problem,
    set: &Set,
    form: ReverseForm,
    input_rpm: Option<f64>,
) -> Result<Motion, MotionFault> {
    let gearing = Gearing::new(problem, set, form)?;
    let states = gearing.states();
    Ok(Motion {
        states: states
            .into_iter()
            .map(|state| gearing.motion_in(state, input_rpm))
            .collect(),
        shifts: gearing.shifts(input_rpm),
    })
}

//! All of a set's box together: shafts, planes, idler, boring, motion.

use super::Housed;
use super::boring::{Boring, boring};
use super::forces::{Flow, ForceFault, StateForces};
use super::idler::{Study, study_own};
use super::loaded::{gear_forces, state_forces};
use super::motion::{Motion, MotionFault, motion};
use super::planes::{Fault, Gearbox, Layout, lay_out};
use crate::problem::{Problem, ReverseForm, Side};
use crate::train::Set;

/// Everything about a set that is not its teeth.
#[derive(Clone, Debug)]
pub struct Plan<'a> {
    /// Shafts and wheels.
    pub housed: Housed<'a>,
    /// Side of the idler: that of its best clear place, else the right, unless
    /// another was asked for.
    pub side: Side,
    /// Places of the set's own idler; none without reverse.
    pub idler: Option<Study>,
    /// The box as the layout takes it.
    pub gearbox: Gearbox,
    /// Where everything stands, or all that forbids it.
    pub layout: Result<Layout, Vec<Fault>>,
    /// Loads while the input drives; none without a layout.
    pub driving: Option<Result<Vec<StateForces>, ForceFault>>,
    /// Loads while the input is overrun.
    pub overrun: Option<Result<Vec<StateForces>, ForceFault>>,
    /// Where to bore.
    pub boring: Boring,
    /// How everything turns.
    pub motion: Result<Motion, MotionFault>,
}

impl<'a> Plan<'a> {
    /// Of a set of `problem`.
    pub fn new(problem: &'a Problem, set: &'a Set) -> Self {
        Self::on(problem, set, None)
    }

    /// The same with the idler on `side`, clear or not.
    pub fn on(problem: &'a Problem, set: &'a Set, side: Option<Side>) -> Self {
        let housed = Housed::new(problem, set);
        let idler = study_own(problem, set);
        let best = idler.as_ref().and_then(|study| study.places.first());
        let best = best.map_or(Side::Right, |place| place.side);
        let side = side.unwrap_or(best);
        let gearbox = housed.boxed(&gear_forces(&housed, side, Flow::Drives), side);
        let layout = lay_out(&gearbox);
        let loaded = |flow| {
            let layout = layout.as_ref().ok()?;
            Some(state_forces(&housed, layout, side, flow))
        };
        // Of no matter without reverse.
        let form = problem.reverse_form().unwrap_or(ReverseForm::ConstantMesh);
        Self {
            side,
            idler,
            driving: loaded(Flow::Drives),
            overrun: loaded(Flow::Overruns),
            layout,
            gearbox,
            boring: boring(problem, set, side),
            motion: motion(problem, set, form, problem.input_rpm()),
            housed,
        }
    }
}

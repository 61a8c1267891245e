//! The piece of bar that a gear is made from: its size before it is turned.

use super::{Role, Seat};
use crate::base::Length;
use crate::problem::{Problem, ReverseForm};

const STEPS_PER_UM: u64 = 1_000_000;

/// Diameter of the piece for a blank of `od_um` (outside diameter, µm), µm.
pub fn rough_um(problem: &Problem, od_um: u64) -> u64 {
    let turning = problem.workshop().allowances().turning();
    od_um
        + u64::try_from(turning.steps().max(0))
            .unwrap_or(0)
            .div_ceil(STEPS_PER_UM)
}

/// Length of the piece for the gear in a seat of a role: the face, the dog ring
/// where it has one, and what is faced off each end.
pub fn rough_length(problem: &Problem, role: Role, seat: Seat, face: Length) -> Length {
    let faced = problem.workshop().allowances().facing().steps();
    Length::from_steps(finished_length(problem, role, seat, face).steps() + 2 * faced)
}

/// Length of the finished gear, over face and dog ring.
pub fn finished_length(problem: &Problem, role: Role, seat: Seat, face: Length) -> Length {
    let ring = problem.workshop().rings_on_gears() && has_ring(problem, role, seat);
    let ring = if ring {
        problem.layout().dog_ring().steps()
    } else {
        0
    };
    Length::from_steps(face.steps() + ring)
}

/// Whether a gear has a dog ring: it is free on its shaft until a sleeve locks
/// it, or it drives the output directly.
pub fn has_ring(problem: &Problem, role: Role, seat: Seat) -> bool {
    let direct = || {
        problem
            .speeds()
            .iter()
            .any(|speed| speed.geared().is_none())
    };
    match (role, seat) {
        (Role::Head, Seat::Driver) => direct(),
        (Role::Speed(_), Seat::Driven) => true,
        (Role::Reverse, Seat::Driven) => problem.reverse_form() != Some(ReverseForm::SlidingIdler),
        _ => false,
    }
}

/// The diameters of bars that can be bought, ascending, each once, µm.
pub fn bar_sizes_um(problem: &Problem) -> Vec<u64> {
    let bars = problem.workshop().bars().iter();
    let mut sizes: Vec<u64> = bars.map(|bar| um(bar.diameter())).collect();
    sizes.sort_unstable();
    sizes.dedup();
    sizes
}

/// Whole µm, rounded down: a bar is not thicker than it is.
fn um(length: Length) -> u64 {
    u64::try_from(length.steps().max(0)).unwrap_or(0) / STEPS_PER_UM
}

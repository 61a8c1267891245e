//! The gears of a set as they are made, and which of them mesh.

use super::{Form, Set, gears_of, pairs_of, reverse_lengths};
use crate::involute::{Meshing, ShiftedGear};
use crate::making::gear_of;
use crate::problem::Problem;

/// Every gear of `set` made as `forms` says, full teeth, in the order of
/// [`gears_of`]; none for one that cannot be.
pub fn made_of(problem: &Problem, set: &Set, forms: &[Form]) -> Vec<Option<ShiftedGear>> {
    let gears = gears_of(problem, set);
    let made = gears.iter().zip(forms).map(|(gear, form)| {
        let module = gear.module.of(problem);
        gear_of(problem.gears(), module, gear.teeth, form).ok()
    });
    made.collect()
}

/// Places in [`gears_of`] of the gears that mesh, driver first, and their
/// centre distance, mm: head, speeds, then the two meshes of reverse.
pub fn meshes_of(problem: &Problem, set: &Set) -> Vec<([usize; 2], f64)> {
    let pairs = pairs_of(problem, set).len();
    let centres_mm = set.centre_distance.mm();
    let mut all: Vec<_> = (0..pairs)
        .map(|i| ([2 * i, 2 * i + 1], centres_mm))
        .collect();
    if let Some(reverse) = set.reverse {
        let first = 2 * pairs;
        let ([to_driver, to_driven], _) = reverse_lengths(problem, reverse);
        all.push(([first, first + 1], to_driver));
        all.push(([first + 1, first + 2], to_driven));
    }
    all
}

/// The mesh of two of the gears made; none where one cannot be, or where their
/// base circles overlap.
pub fn mesh_of(
    made: &[Option<ShiftedGear>],
    [one, other]: [usize; 2],
    centres_mm: f64,
) -> Option<Meshing> {
    let (one, other) = ((*made.get(one)?)?, (*made.get(other)?)?);
    Meshing::new(one, other, centres_mm).ok()
}

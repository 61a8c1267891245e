//! What the gears of a set need that several of them may share: bars, blanks,
//! set-ups.

use super::{
    Gear, ModuleId, Set, bar_sizes_um, cutter_of, finished_length, forms_of, gears_of, rough_um,
};
use crate::making::{Form, blank_um};
use crate::problem::Problem;
use std::collections::BTreeSet;

/// How many different things of a kind a set needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Needs {
    /// Diameters of bar: for each gear the smallest that is sold and holds its
    /// blank and what is turned off; gears too large for any count as one more.
    pub bars: u32,
    /// Blanks: outside diameter and length of the finished gear.
    pub blanks: u32,
    /// Set-ups: a cutter, and a tooth count to divide.
    pub setups: u32,
}

impl Needs {
    /// Of the gears that are cut, each with its form and the diameter of its blank.
    pub(super) fn of(problem: &Problem, gears: &[(Gear, Form, u64)]) -> Self {
        let sizes = bar_sizes_um(problem);
        let mut bars = BTreeSet::new();
        let mut blanks = BTreeSet::new();
        let mut setups = BTreeSet::new();
        for &(gear, form, od_um) in gears {
            let rough = rough_um(problem, od_um);
            bars.insert(sizes.partition_point(|&size| size < rough));
            blanks.insert((
                od_um,
                finished_length(problem, gear.role, gear.seat, gear.face),
            ));
            let cutter = cutter_of(problem.gears(), gear.module, gear.teeth, &form);
            setups.insert((cutter, gear.teeth));
        }
        let count = |length: usize| u32::try_from(length).unwrap_or(u32::MAX);
        Self {
            bars: count(bars.len()),
            blanks: count(blanks.len()),
            setups: count(setups.len()),
        }
    }
}

/// The gears that are cut, each with its form and the diameter of its blank in
/// µm; one that serves twice stands here once.
pub fn own_gears(problem: &Problem, set: &Set) -> Vec<(Gear, Form, u64)> {
    let made = (gears_of(problem, set), forms_of(problem, set));
    made_gears(problem, set, (&made.0, &made.1))
}

/// The same of all gears of a set, made as their forms say.
pub(super) fn made_gears(
    problem: &Problem,
    set: &Set,
    (gears, forms): (&[Gear], &[Form]),
) -> Vec<(Gear, Form, u64)> {
    let shared = set.shared_place(problem);
    let made = gears.iter().copied().zip(forms).enumerate();
    let own = made.filter(|(place, _)| Some(*place) != shared);
    own.map(|(_, (gear, form))| {
        let module = ModuleId::of(gear.module, problem);
        let od_um = blank_um(problem.gears(), module, gear.teeth, form);
        (gear, *form, od_um)
    })
    .collect()
}

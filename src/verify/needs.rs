//! Cutters, bars, blanks and set-ups of a set, counted again.

use super::figures::{blank_um, form_cutter};
use super::reverse::shared_with;
use crate::base::Teeth;
use crate::problem::{Cutting, Problem, ReverseForm};
use crate::train::{Figures, Form, Gear, ModuleId, Set};

const STEPS_PER_UM: i64 = 1_000_000;

/// Each count that results claim, by its name, as said and as found for all gears of
/// a set.
pub(super) fn needs(
    problem: &Problem,
    (set, all): (&Set, &[Gear]),
    figures: &Figures,
) -> [(&'static str, u32, usize); 4] {
    let gears: Vec<(ModuleId, Teeth)> = set.gears().collect();
    let made: Vec<_> = gears.iter().copied().zip(&figures.forms).collect();
    let cutter = |&((module, teeth), form): &((ModuleId, Teeth), &Form)| {
        (module.index(), cutter_of(problem, teeth, *form))
    };
    let od = |&((module, teeth), form): &((ModuleId, Teeth), &Form)| {
        blank_um(problem, (module, teeth), *form)
    };
    let lengths = lengths(problem, (set, all));
    let again = shared_with(problem)
        .and(set.reverse)
        .map(|_| gears.len() - 3);
    let own = || (0..made.len()).filter(|place| Some(*place) != again);
    let found = [
        distinct(made.iter().map(cutter).collect()),
        distinct(own().map(|i| thinnest_bar(problem, od(&made[i]))).collect()),
        distinct(own().map(|i| (od(&made[i]), lengths[i])).collect()),
        distinct(own().map(|i| (cutter(&made[i]), made[i].0.1)).collect()),
    ];
    let said = &figures.needs;
    [
        ("distinct cutters", figures.distinct_cutters, found[0]),
        ("sizes of bar", said.bars, found[1]),
        ("different blanks", said.blanks, found[2]),
        ("set-ups", said.setups, found[3]),
    ]
}

fn distinct<T: Ord>(mut all: Vec<T>) -> usize {
    all.sort_unstable();
    all.dedup();
    all.len()
}

/// What cuts a gear, and with which shift in thousandths of a module where that
/// tells cutters apart.
fn cutter_of(problem: &Problem, teeth: Teeth, form: Form) -> (u32, u64) {
    let helix_rad = problem.gears().helix_angle_deg().to_radians();
    // Half up; no two of them have equal bits.
    let thousandths = (form.shift * 1000.0 + 0.5).floor() + 0.0;
    match problem.gears().cutting() {
        Cutting::Generated => (0, 0),
        Cutting::OwnForm => (teeth.get(), thousandths.to_bits()),
        Cutting::Form => (form_cutter(teeth, helix_rad), 0),
    }
}

/// Diameter of the thinnest bar for sale that a blank can be turned from, in
/// whole µm; all that is too large for any is alike.
fn thinnest_bar(problem: &Problem, od_um: u64) -> i64 {
    let workshop = problem.workshop();
    let turning = workshop.allowances().turning().steps();
    // The allowance counts in whole µm, rounded up.
    let turning_um = (turning + STEPS_PER_UM - 1) / STEPS_PER_UM;
    let rough = i64::try_from(od_um).unwrap_or(i64::MAX / 2) + turning_um;
    let bars = workshop.bars().iter();
    let sizes = bars.map(|bar| bar.diameter().steps().div_euclid(STEPS_PER_UM));
    sizes
        .filter(|size| *size >= rough)
        .min()
        .unwrap_or(i64::MAX)
}

/// Finished length of every gear, as steps: face, and ring where it is of one
/// piece with a gear that a sleeve locks.
fn lengths(problem: &Problem, (set, gears): (&Set, &[Gear])) -> Vec<i64> {
    let faces: Vec<i64> = gears.iter().map(|gear| gear.face.steps()).collect();
    let ring = problem.layout().dog_ring().steps();
    let longer = if problem.workshop().rings_on_gears() {
        ring
    } else {
        0
    };
    let has_direct = problem.geared().count() < problem.speeds().len();
    let mut more = Vec::new();
    if set.head.is_some() {
        more.extend([if has_direct { longer } else { 0 }, 0]);
    }
    for _ in &set.pairs {
        more.extend([0, longer]);
    }
    if set.reverse.is_some() {
        let slides = problem.reverse_form() == Some(ReverseForm::SlidingIdler);
        more.extend([0, 0, if slides { 0 } else { longer }]);
    }
    faces
        .iter()
        .zip(more)
        .map(|(face, more)| face + more)
        .collect()
}

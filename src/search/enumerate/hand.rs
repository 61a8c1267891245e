//! Whether the workshop can make gears, by looking at each circle and cutter.

use super::options::helix_rad;
use crate::base::{Module, Teeth};
use crate::making::{FormCutter, form_cutter};
use crate::problem::{CutterPrice, CutterState, Cutting, DividingHead, Problem, WhichCutter};
use crate::train::{Pair, ReverseGears};

/// Whether the gears of a pair may be taken; those already made may, always.
pub(super) fn makes_pair(problem: &Problem, pair: Pair, made: [bool; 2]) -> bool {
    let module = pair.module.of(problem);
    (made[0] || makes(problem, module, pair.driver))
        && (made[1] || makes(problem, module, pair.driven))
}

/// The same of driver, idler and driven gear of reverse.
pub(super) fn makes_reverse(problem: &Problem, gears: ReverseGears, made: [bool; 3]) -> bool {
    let module = gears.module.of(problem);
    (made[0] || makes(problem, module, gears.driver))
        && (made[1] || makes(problem, module, gears.idler))
        && (made[2] || makes(problem, module, gears.driven))
}

fn makes(problem: &Problem, module: Module, teeth: Teeth) -> bool {
    let workshop = problem.workshop();
    if workshop.only_dividable() && !divides(workshop.dividing_head(), teeth.get()) {
        return false;
    }
    !workshop.only_owned_cutters() || owned(problem, module, teeth)
}

/// Whether some number of holes, the same for each tooth, comes round to where
/// it began: after all teeth the crank has made `worm` whole turns, or the work
/// itself one.
fn divides(head: &DividingHead, teeth: u32) -> bool {
    let comes_round = |all: u32| {
        let mut steps = (1..).map(|each| each * teeth);
        steps.find(|step| *step >= all) == Some(all)
    };
    let circles = head.plates().iter().flatten();
    // Whole turns alone need no circle.
    let turns = circles.chain(&[1]).map(|holes| holes * head.worm());
    turns.chain(head.direct().iter().copied()).any(comes_round)
}

/// Whether a cutter of the drawer cuts the gear.
fn owned(problem: &Problem, module: Module, teeth: Teeth) -> bool {
    let bought = form_cutter(teeth, helix_rad(problem)).map(FormCutter::number);
    let owned = problem.workshop().cutters().iter();
    let owned = owned.filter(|c| c.module() == module && c.state() == CutterState::AtHand);
    let mut which = owned.map(CutterPrice::which);
    match problem.cutters_as() {
        Cutting::Generated => which.any(|which| which == WhichCutter::Tool),
        Cutting::OwnForm => which.any(|which| which == WhichCutter::Own(teeth)),
        Cutting::Form => which.any(|which| match (which, bought) {
            (WhichCutter::Form(number), Some(needed)) => number == needed,
            (WhichCutter::FormSet, Some(_)) => true,
            // Too few teeth for the set of eight.
            (WhichCutter::Own(own), None) => own == teeth,
            _ => false,
        }),
    }
}

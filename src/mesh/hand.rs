//! Gears that the workshop can make, where the problem takes no others.

use crate::base::{Module, Teeth};
use crate::making::form_cutter;
use crate::problem::{Cutting, Problem, Reverse, WhichCutter};
use crate::train::ModuleId;

/// Which tooth counts of each module can be made, worked out once: whether a
/// count can be divided does not depend on the module, and whether a cutter is
/// owned does not depend on the shift.
#[derive(Debug)]
pub(super) struct AtHand {
    /// By module, then by tooth count.
    makes: Vec<Vec<bool>>,
}

impl AtHand {
    /// None where the problem takes any gear.
    pub(super) fn of(problem: &Problem) -> Option<Self> {
        problem.workshop_limits().then(|| {
            let most = problem.gears().max_teeth();
            let idler = problem.reverse().map(Reverse::idler_max);
            let counts = 0..=most.max(idler.unwrap_or(most)).get();
            let of_module = |&module: &Module| {
                let counts = counts.clone();
                counts.map(|count| makes(problem, module, count)).collect()
            };
            Self {
                makes: problem.gears().modules().iter().map(of_module).collect(),
            }
        })
    }

    /// Whether a gear can be made.
    pub(super) fn admits(&self, module: ModuleId, count: u32) -> bool {
        let found = self.makes.get(module.index());
        let found = found.and_then(|counts| counts.get(count as usize));
        found.copied().unwrap_or(false)
    }
}

fn makes(problem: &Problem, module: Module, count: u32) -> bool {
    let workshop = problem.workshop();
    let divides = || count > 0 && workshop.dividing_head().divides_simply(count);
    let cuts = || workshop.has_cutter(module, cutter(problem, Teeth::of(count)));
    (!workshop.only_dividable() || divides()) && (!workshop.only_owned_cutters() || cuts())
}

/// The cutter of a gear. Shift does not matter: an own form cutter is matched
/// by module and teeth alone.
fn cutter(problem: &Problem, teeth: Teeth) -> WhichCutter {
    let helix_rad = problem.gears().helix_angle_deg().to_radians();
    match problem.cutters_as() {
        Cutting::Generated => WhichCutter::Tool,
        Cutting::OwnForm => WhichCutter::Own(teeth),
        Cutting::Form => form_cutter(teeth, helix_rad).map_or(WhichCutter::Own(teeth), |bought| {
            WhichCutter::Form(bought.number())
        }),
    }
}

//! Which cutter or tool cuts a gear.

use super::{ModuleId, Set};
use crate::base::Module;
use crate::base::Teeth;
use crate::making::{Form, form_cutter};
use crate::problem::{Cutting, Gears, Problem, WhichCutter};
use std::collections::BTreeSet;

/// One cutter or tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cutter {
    /// Number `1` to `8` of the eight form cutters of a module.
    Form(ModuleId, u8),
    /// A form cutter of its own for this tooth count, and for this shift in
    /// thousandths of a module.
    Own(ModuleId, Teeth, i32),
    /// The hob or rack tool of a module.
    Tool(ModuleId),
}

/// The cutter that a gear needs; gears with equal cutters share one.
pub fn cutter_of(gears: &Gears, module: ModuleId, teeth: Teeth, form: &Form) -> Cutter {
    let beta = gears.helix_angle_deg().to_radians();
    let own = || Cutter::Own(module, teeth, form.shift_thousandths());
    match gears.cutting() {
        Cutting::Generated => Cutter::Tool(module),
        Cutting::OwnForm => own(),
        Cutting::Form => form_cutter(teeth, beta)
            .map_or_else(own, |bought| Cutter::Form(module, bought.number())),
    }
}

/// The cutters that the gears of a set need, made as `forms` say (in the order
/// of [`Set::gears`]), each once.
pub fn cutters_of(problem: &Problem, set: &Set, forms: &[Form]) -> BTreeSet<Cutter> {
    let made = set.gears().zip(forms);
    made.map(|((module, teeth), form)| cutter_of(problem.gears(), module, teeth, form))
        .collect()
}

impl Cutter {
    /// What the workshop calls it: its module, and which of that module.
    pub fn in_workshop(self, problem: &Problem) -> (Module, WhichCutter) {
        match self {
            Self::Form(module, number) => (module.of(problem), WhichCutter::Form(number)),
            Self::Own(module, teeth, _) => (module.of(problem), WhichCutter::Own(teeth)),
            Self::Tool(module) => (module.of(problem), WhichCutter::Tool),
        }
    }
}

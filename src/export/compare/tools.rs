//! The cutters of a set: which are at hand, and what the others cost.

use crate::base::{Decimal, Module};
use crate::export::{CutterRecord, SetRecord};
use crate::problem::{Problem, WhichCutter};
use crate::train::{Cutter, Set, cutter_of, cutters_of, forms_of};
use serde::Serialize;
use std::collections::BTreeMap;

/// A cutter or tool of a set.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ToolRecord {
    /// Its module.
    pub module_mm: f64,
    /// What it is.
    #[serde(flatten)]
    pub cutter: CutterRecord,
    /// Teeth of the gears that it cuts, ascending, each once.
    pub cuts_teeth: Vec<u32>,
    /// Whether it is in the drawer.
    pub at_hand: bool,
    /// What it costs alone; 0 where it is at hand.
    pub price: f64,
}

/// What a set makes one spend.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spending {
    /// For cutters that are not at hand.
    pub cutters: Decimal,
    /// Modules whose eight form cutters are cheaper together than the ones that
    /// are needed, and so are bought together.
    pub form_sets: Vec<Module>,
}

/// Every cutter of a set, by module and number; `record` is the set's own.
pub(super) fn tools(problem: &Problem, set: &Set, record: &SetRecord) -> Vec<ToolRecord> {
    let forms = forms_of(problem, set);
    let shared = set.shared_place(problem);
    let cut = set.gears().zip(&forms).enumerate();
    let cut = cut.filter(|(place, _)| Some(*place) != shared);
    let mut tools: BTreeMap<Cutter, ToolRecord> = BTreeMap::new();
    for ((_, ((module, teeth), form)), gear) in cut.zip(&record.gears) {
        let cutter = cutter_of(problem.gears(), module, teeth, form);
        let (of_module, which) = cutter.in_workshop(problem);
        let workshop = problem.workshop();
        let tool = tools.entry(cutter).or_insert_with(|| ToolRecord {
            module_mm: of_module.mm(),
            cutter: gear.cutter,
            cuts_teeth: Vec::new(),
            at_hand: workshop.has_cutter(of_module, which),
            price: workshop.cutter_price(of_module, which).to_f64(),
        });
        tool.cuts_teeth.push(gear.teeth);
    }
    let mut tools: Vec<ToolRecord> = tools.into_values().collect();
    for tool in &mut tools {
        tool.cuts_teeth.sort_unstable();
        tool.cuts_teeth.dedup();
    }
    tools
}

/// What a set makes one spend: so far on cutters alone.
pub fn spending(problem: &Problem, set: &Set) -> Spending {
    let forms = forms_of(problem, set);
    // By module: form cutters, which may come as a set, and all else.
    let mut sums: BTreeMap<Module, [i64; 2]> = BTreeMap::new();
    for cutter in cutters_of(problem, set, &forms) {
        let (module, which) = cutter.in_workshop(problem);
        let place = usize::from(!matches!(which, WhichCutter::Form(_)));
        let price = problem.workshop().cutter_price(module, which).millionths();
        if let Some(sum) = sums.entry(module).or_default().get_mut(place) {
            *sum = sum.saturating_add(price);
        }
    }
    let mut form_sets = Vec::new();
    let mut total: i64 = 0;
    for (module, [single, other]) in sums {
        let together = problem.workshop().form_set_price(module);
        let together = together.filter(|price| price.millionths() < single);
        if together.is_some() {
            form_sets.push(module);
        }
        let form = together.map_or(single, Decimal::millionths);
        total = total.saturating_add(form).saturating_add(other);
    }
    Spending {
        cutters: Decimal::from_millionths(total),
        form_sets,
    }
}

//! The cutters of a set: which are at hand, and what the others cost.

use crate::export::{CutterRecord, GearRecord, SetRecord};
use crate::stock::{CutterNeed, Cutters};
use serde::Serialize;

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

/// Every cutter of a set, by module and number; `record` is the set's own.
pub(super) fn tools(cutters: &Cutters, record: &SetRecord) -> Vec<ToolRecord> {
    let tool = |need: &CutterNeed| {
        let teeth: Vec<u32> = need.teeth.iter().map(|teeth| teeth.get()).collect();
        let cut = |gear: &&GearRecord| {
            need.module.mm().to_bits() == gear.module_mm.to_bits() && teeth.contains(&gear.teeth)
        };
        Some(ToolRecord {
            module_mm: need.module.mm(),
            cutter: record.gears.iter().find(cut)?.cutter,
            cuts_teeth: teeth.clone(),
            at_hand: need.at_hand,
            price: need.price.to_f64(),
        })
    };
    cutters.needs.iter().filter_map(tool).collect()
}

//! One set of a comparison, with what stands beside its own figures.

use super::tools::{ToolRecord, tools};
use crate::base::Teeth;
use crate::design::Plan;
use crate::export::record::money_of;
use crate::export::{Answer, SetRecord, SpeedRecord};
use crate::problem::{ReverseForm, Side};
use crate::stock::{bar_money, cutters};
use crate::train::{Figures, Set, hunting_pairs, not_simply_divided};
use serde::Serialize;
use std::collections::BTreeSet;

/// A set that is compared.
#[derive(Clone, Debug, Serialize)]
pub struct Contender {
    /// What it is called.
    pub mark: String,
    /// The set as `solve` tells it.
    pub set: SetRecord,
    /// Ratio of each forward speed to the next.
    pub steps: Vec<f64>,
    /// Pairs whose counts share no factor, of head and speeds.
    pub hunting_pairs: usize,
    /// Different blanks of its gears: diameter and length.
    pub distinct_blanks: u32,
    /// Its cutters, by module and number.
    pub cutters: Vec<ToolRecord>,
    /// What the cutters that are not at hand cost together.
    pub to_spend_on_cutters: f64,
    /// What the bars for its gears cost that are not on the rack; none where no
    /// bar holds some gear.
    pub to_spend_on_bars: Option<f64>,
    /// Both together.
    pub to_spend: Option<f64>,
    /// Modules whose eight form cutters are cheaper as a set.
    pub form_sets_module_mm: Vec<f64>,
    /// Tooth counts that neither turns and holes of one circle nor the spindle's
    /// own holes divide.
    pub not_divided_simply: Vec<u32>,
    /// How reverse is engaged; none without reverse.
    pub reverse_form: Option<&'static str>,
    /// Sides on which its idler has a clear place; none without reverse.
    pub idler_clear_sides: Option<Vec<&'static str>>,
    /// Between the inner faces of the walls; none where the box cannot be laid
    /// out.
    pub inside_length_mm: Option<f64>,
}

impl Contender {
    pub(super) fn of(answer: &Answer<'_>, set: &Set) -> Self {
        let problem = answer.problem;
        let record = answer.record(set);
        let cutters = cutters(problem, set);
        let on_cutters = cutters.money.to_f64();
        let on_bars = bar_money(problem, set).map(money_of);
        let plan = Plan::new(problem, set);
        let sides = plan.idler.as_ref().map(|study| {
            let sides: BTreeSet<Side> = study.places.iter().map(|place| place.side).collect();
            sides.into_iter().map(Side::word).collect()
        });
        let layout = plan.layout.as_ref().ok();
        Self {
            mark: record.mark.clone(),
            steps: steps(&record),
            hunting_pairs: hunting_pairs(set),
            distinct_blanks: Figures::of(problem, set).needs.blanks,
            cutters: tools(&cutters, &record),
            to_spend_on_cutters: on_cutters,
            to_spend_on_bars: on_bars,
            to_spend: on_bars.map(|bars| bars + on_cutters),
            form_sets_module_mm: cutters.sets.iter().map(|set| set.module.mm()).collect(),
            not_divided_simply: not_simply_divided(problem, set)
                .into_iter()
                .map(Teeth::get)
                .collect(),
            reverse_form: set
                .reverse
                .and(problem.reverse_form())
                .map(ReverseForm::word),
            idler_clear_sides: sides,
            inside_length_mm: layout.map(|layout| layout.length_mm),
            set: record,
        }
    }
}

fn steps(record: &SetRecord) -> Vec<f64> {
    let ratios = record.speeds.iter().map(SpeedRecord::ratio);
    let next = record.speeds.iter().skip(1).map(SpeedRecord::ratio);
    ratios.zip(next).map(|(this, next)| this / next).collect()
}

//! One set of a comparison, with what stands beside its own figures.

use super::tools::{ToolRecord, spending, tools};
use crate::base::Teeth;
use crate::design::Plan;
use crate::export::{Answer, SetRecord, SpeedRecord};
use crate::making::blank_um;
use crate::problem::{Problem, ReverseForm, Side};
use crate::train::{Set, forms_of, gears_of, hunting_pairs, rough_length, rough_um};
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
    /// Different pieces of bar that its gears are made from: diameter and length.
    pub distinct_blanks: usize,
    /// Its cutters, by module and number.
    pub cutters: Vec<ToolRecord>,
    /// What the cutters that are not at hand cost together.
    pub to_spend_on_cutters: f64,
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
        let spent = spending(problem, set);
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
            distinct_blanks: distinct_blanks(problem, set),
            cutters: tools(problem, set, &record),
            to_spend_on_cutters: spent.cutters.to_f64(),
            form_sets_module_mm: spent.form_sets.iter().map(|module| module.mm()).collect(),
            not_divided_simply: not_divided_simply(problem, set),
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

/// A gear that serves twice is one blank.
fn distinct_blanks(problem: &Problem, set: &Set) -> usize {
    let forms = forms_of(problem, set);
    let shared = set.shared_place(problem);
    let gears = gears_of(problem, set);
    let cut = gears.iter().zip(&forms).enumerate();
    let cut = cut.filter(|(place, _)| Some(*place) != shared);
    let pieces = cut.map(|(_, (gear, form))| {
        let module = gear.module.of(problem);
        let od_um = blank_um(problem.gears(), module, gear.teeth, form);
        (
            rough_um(problem, od_um),
            rough_length(problem, gear.role, gear.seat),
        )
    });
    pieces.collect::<BTreeSet<_>>().len()
}

fn not_divided_simply(problem: &Problem, set: &Set) -> Vec<u32> {
    let head = problem.workshop().dividing_head();
    let counts: BTreeSet<u32> = set
        .gears()
        .map(|(_, teeth): (_, Teeth)| teeth.get())
        .collect();
    let hard = counts.into_iter();
    hard.filter(|count| !head.divides_simply(*count)).collect()
}

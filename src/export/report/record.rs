//! All that the page knows.

use super::columns::columns;
use super::field::FieldRecord;
use super::say::sayings;
use crate::design::Plan;
use crate::examine::{Examined, Trial};
use crate::export::bench::tidy;
use crate::export::cautions::{TURNING_CAUTIONS, strength_cautions};
use crate::export::{
    Answer, IdlerAnswer, LayoutAnswer, StockAnswer, StrengthRecord, Work, drawing_json,
    gear_sheets, trial_parts, why_words,
};
use crate::problem::Problem;
use crate::search::{Control, Field};
use crate::sheet::{Views, boring_plans};
use crate::shop::job::Job;
use crate::train::Set;
use rayon::prelude::*;
use serde_json::{Value, json};

/// So many sets at most are shown.
pub const MOST_SETS: usize = 200;

/// Where a report comes from.
#[derive(Debug)]
pub struct ReportSource<'a> {
    /// The name of the problem file, without folders.
    pub file: &'a str,
    /// Its text.
    pub text: &'a str,
    /// The command that makes the page again.
    pub command: &'a str,
    /// A sweep of centre distances as JSON, where one was made.
    pub sweep: Option<Value>,
}

/// The sets of a page: `first`, the unbeaten ones from the best by rank on, the
/// best of other trains; `most` at most, none twice.
pub fn shown_sets<'a>(answer: &Answer<'a>, first: &'a Set, most: usize) -> Vec<&'a Set> {
    let outcome = answer.outcome;
    let front = outcome
        .front_order
        .iter()
        .filter_map(|place| outcome.front.get(*place));
    let mut sets: Vec<&Set> = Vec::new();
    for set in front.chain(&outcome.trains).chain(&outcome.sets) {
        if sets.len() < most && !sets.contains(&set) {
            sets.push(set);
        }
    }
    if !sets.contains(&first) {
        sets.truncate(most.saturating_sub(1));
        sets.push(first);
    }
    sets
}

/// Everything for the page, as the program's own JSON; `shown` is the set that
/// it opens with. The sets stand in columns, in the order of `row_marks`.
pub fn report_record(
    answer: &Answer<'_>,
    (shown, sets): (&Set, &[&Set]),
    field: Option<&Field>,
    source: &ReportSource<'_>,
    control: &Control,
) -> Value {
    let problem = answer.problem;
    let mark = |set: &Set| answer.register().shown(set);
    let records: Vec<Value> = sets
        .par_iter()
        .map(|set| set_value(answer, set, control))
        .collect();
    let unit = problem.gears().face().unit();
    let mut cautions = strength_cautions(problem);
    cautions.extend(TURNING_CAUTIONS);
    let field = field.and_then(|field| FieldRecord::new(field, unit));
    object([
        (
            "problem",
            json!({ "file": source.file, "text": source.text }),
        ),
        ("version", json!(env!("CARGO_PKG_VERSION"))),
        ("made_with", json!(source.command)),
        ("shown", json!(mark(shown))),
        ("solve", json!(answer)),
        ("row_marks", sets.iter().map(|set| mark(set)).collect()),
        ("sets", columns(records)),
        ("field", json!(field)),
        ("sweep", source.sweep.clone().unwrap_or_default()),
        ("cautions", json!(cautions)),
    ])
}

/// An object of values as they are; `json!` would copy them.
fn object<const N: usize>(fields: [(&str, Value); N]) -> Value {
    let fields = fields.into_iter();
    Value::Object(fields.map(|(key, value)| (key.to_owned(), value)).collect())
}

/// One set, all of it.
fn set_value(answer: &Answer<'_>, set: &Set, control: &Control) -> Value {
    let problem = answer.problem;
    let mark = &answer.register().shown(set);
    let examined = Examined::new(problem, set, &[]);
    let plan = &examined.plan;
    // Forces are half of all that there is to say, and the page shows none of
    // them: `layout --forces` tells.
    let mut layout = LayoutAnswer {
        problem,
        set,
        mark,
        plan,
    }
    .record_less_forces();
    let strength = StrengthRecord::new(problem, set, plan);
    layout["strength"] = strength.record();
    let idler = plan.idler.as_ref().map(|study| {
        IdlerAnswer {
            problem,
            set,
            mark,
            study,
        }
        .record()
    });
    let views = Views::new(problem, set, plan);
    // The page has the places in tables of its own.
    let [input, output] = boring_plans(problem, set, plan, false);
    let section = views.section.as_ref().map(drawing_json);
    object([
        ("set", json!(answer.record(set))),
        ("unbeaten", json!(answer.outcome.front.contains(set))),
        ("layout", layout),
        ("idler", idler.unwrap_or_default()),
        ("stock", stock(problem, set, mark, plan, control)),
        ("sheets", sheets(problem, set, mark)),
        ("say", sayings(problem, plan)),
        ("end", drawing_json(&views.end)),
        ("section", section.unwrap_or_default()),
        (
            "boring",
            object([
                ("input", drawing_json(&input)),
                ("output", drawing_json(&output)),
            ]),
        ),
        ("trial", trial(&examined, strength.holds())),
    ])
}

/// The steps at the bench, and what a fault comes from.
fn trial(examined: &Examined<'_>, holds: Option<bool>) -> Value {
    let sheets = gear_sheets(examined.problem, examined.set);
    let mut parts = json!(trial_parts(examined, &Trial::of(examined), &sheets, holds));
    tidy(&mut parts);
    parts
}

/// The pages of gears. Holes of plates are even on their circle, and written by
/// `sheets --plates`: their places would fill the page.
fn sheets(problem: &Problem, set: &Set, mark: &str) -> Value {
    let mut sheets = Work::of(problem, set, mark).record();
    for plate in sheets["plates"].as_array_mut().into_iter().flatten() {
        if let Some(drawing) = plate["drawing"].as_object_mut() {
            drawing.shift_remove("holes");
        }
    }
    sheets
}

/// Bars and money; where a gear cannot be had, why.
fn stock(problem: &Problem, set: &Set, mark: &str, plan: &Plan<'_>, control: &Control) -> Value {
    match Job::new(problem, set, plan, control) {
        Ok(job) => StockAnswer {
            problem,
            set,
            mark,
            job: &job,
        }
        .record(),
        Err(undoable) => {
            let stock = crate::stock::Stock::of(problem);
            let why = why_words(&undoable.blank, undoable.why, |of| {
                stock.name(of).to_owned()
            });
            json!({ "impossible": format!("{} can't be cut: {why}.", undoable.blank.name) })
        }
    }
}

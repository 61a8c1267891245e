//! All that the page knows.

use super::columns::column;
use super::field::FieldRecord;
use super::pack::Packed;
use super::say::sayings;
use super::written::Written;
use crate::design::Plan;
use crate::examine::{Examined, Trial};
use crate::export::cautions::{TURNING_CAUTIONS, strength_cautions};
use crate::export::{
    Answer, DrawingRecord, IdlerAnswer, LayoutAnswer, StockAnswer, StrengthRecord, Work,
    gear_sheets, trial_parts, why_words,
};
use crate::problem::Problem;
use crate::search::{Control, Field};
use crate::sheet::{Views, boring_plans};
use crate::shop::dividing::Known;
use crate::shop::job::Job;
use crate::train::{Set, gears_of};
use rayon::prelude::*;
use serde::Serialize;
use serde_json::{Error, Value, json};
use std::io;

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

/// Everything for the page, as the program's own JSON, packed; `shown` is the
/// set that it opens with. The sets stand in columns, in the order of
/// `row_marks`; `field` draws the field. None where somebody asks `control` to
/// stop meanwhile: who asked before, asked the search.
///
/// # Errors
/// What cannot be written as JSON.
pub fn report_record(
    answer: &Answer<'_>,
    (shown, sets): (&Set, &[&Set]),
    field: impl FnOnce() -> Option<Field> + Send,
    source: &ReportSource<'_>,
    control: &Control,
) -> io::Result<Option<Packed>> {
    let asked = control.interrupted();
    let goes_on = || asked || !control.interrupted();
    let known = &dividings(answer.problem, sets);
    let of = |set: &&Set| goes_on().then(|| set_parts(answer, set, known, control));
    let (records, around) = rayon::join(
        || sets.par_iter().map(of).collect::<Option<Vec<_>>>(),
        || Around::new(answer, (shown, sets), field, source),
    );
    let Some(records) = records else {
        return Ok(None);
    };
    let around = around?;
    let records = records.into_iter().collect::<Result<Vec<_>, Error>>()?;
    let mut pieces = vec![around.before];
    pieces.extend(columns(&records));
    pieces.push(around.behind);
    let packed = Packed::of(&pieces)?;
    Ok(goes_on().then_some(packed))
}

/// What stands around the sets.
struct Around {
    before: Vec<u8>,
    behind: Vec<u8>,
}

impl Around {
    fn new(
        answer: &Answer<'_>,
        (shown, sets): (&Set, &[&Set]),
        field: impl FnOnce() -> Option<Field>,
        source: &ReportSource<'_>,
    ) -> Result<Self, Error> {
        let mark = |set: &Set| answer.register().shown(set);
        let marks: Vec<String> = sets.iter().map(|set| mark(set)).collect();
        let problem = json!({ "file": source.file, "text": source.text });
        let mut before = Vec::new();
        put(&mut before, "{", "problem", &problem)?;
        put(&mut before, ",", "version", env!("CARGO_PKG_VERSION"))?;
        put(&mut before, ",", "made_with", source.command)?;
        put(&mut before, ",", "shown", &mark(shown))?;
        put(&mut before, ",", "solve", answer)?;
        put(&mut before, ",", "row_marks", &marks)?;
        before.extend_from_slice(b",\"sets\":{\"keys\":");
        let unit = answer.problem.gears().face().unit();
        let field = field().and_then(|field| FieldRecord::new(&field, unit));
        let mut cautions = strength_cautions(answer.problem);
        cautions.extend(TURNING_CAUTIONS);
        let mut behind = b"}".to_vec();
        put(&mut behind, ",", "field", &field)?;
        put(&mut behind, ",", "sweep", &source.sweep)?;
        put(&mut behind, ",", "cautions", &cautions)?;
        behind.push(b'}');
        Ok(Self { before, behind })
    }
}

/// Adds a key and its value.
fn put<T: Serialize + ?Sized>(
    json: &mut Vec<u8>,
    before: &str,
    key: &str,
    value: &T,
) -> Result<(), Error> {
    json.extend_from_slice(before.as_bytes());
    serde_json::to_writer(&mut *json, key)?;
    json.push(b':');
    serde_json::to_writer(&mut *json, value)
}

/// The parts of the record of a set, in their order.
const PARTS: [&str; 12] = [
    "set", "unbeaten", "layout", "strength", "idler", "stock", "sheets", "say", "end", "section",
    "boring", "trial",
];

/// The records of all sets, part by part, as the fields of an object.
fn columns(records: &[[Written; 12]]) -> Vec<Vec<u8>> {
    let columns = PARTS.par_iter().enumerate().map(|(place, key)| {
        let parts = records.iter().filter_map(|parts| parts.get(place));
        let open = if place == 0 { '{' } else { ',' };
        let mut json = format!("{open}\"{key}\":").into_bytes();
        column(&parts.map(Written::whole).collect::<Vec<_>>(), &mut json);
        if place + 1 == PARTS.len() {
            json.push(b'}');
        }
        json
    });
    columns.collect()
}

/// How to divide the teeth of all sets.
fn dividings<'a>(problem: &'a Problem, sets: &[&Set]) -> Known<'a> {
    let gears = sets.iter().flat_map(|set| gears_of(problem, set));
    let counts = gears.map(|gear| gear.teeth.get()).collect();
    Known::of(problem.workshop().dividing_head(), &counts)
}

/// One set, all of it, as [`PARTS`] has it.
fn set_parts(
    answer: &Answer<'_>,
    set: &Set,
    known: &Known<'_>,
    control: &Control,
) -> Result<[Written; 12], Error> {
    let problem = answer.problem;
    let mark = &answer.register().shown(set);
    let examined = Examined::new(problem, set, &[]);
    let plan = &examined.plan;
    let strength = StrengthRecord::new(problem, set, plan);
    let sheets = gear_sheets(problem, set);
    let trial = trial_parts(&examined, &Trial::of(&examined), &sheets, strength.holds());
    // Holes of plates are even on their circle, and written by `sheets --plates`:
    // their places would fill the page.
    let work = Work::knowing(problem, set, mark, &sheets, known).without_holes();
    let views = Views::new(problem, set, plan);
    // The page has the places in tables of its own.
    let [input, output] = boring_plans(problem, set, plan, false);
    let boring = BoringPlans {
        input: DrawingRecord(&input),
        output: DrawingRecord(&output),
    };
    Ok([
        Written::of(&answer.record(set))?,
        Written::of(&answer.outcome.front.contains(set))?,
        Written::of(&layout(problem, set, mark, plan))?,
        Written::tidy(&strength.without_factors())?,
        Written::of(&idler(problem, set, mark, plan))?,
        Written::of(&stock(problem, set, mark, plan, control))?,
        Written::tidy(&work)?,
        Written::of(&sayings(problem, plan))?,
        Written::of(&DrawingRecord(&views.end))?,
        Written::of(&views.section.as_ref().map(DrawingRecord))?,
        Written::of(&boring)?,
        Written::tidy(&trial)?,
    ])
}

/// The walls from outside.
#[derive(Serialize)]
struct BoringPlans<'a> {
    input: DrawingRecord<'a>,
    output: DrawingRecord<'a>,
}

/// The box. Forces are half of all that there is to say, and the page shows none
/// of them: `layout --forces` tells.
fn layout(problem: &Problem, set: &Set, mark: &str, plan: &Plan<'_>) -> Value {
    let answer = LayoutAnswer {
        problem,
        set,
        mark,
        plan,
    };
    answer.record_less_forces()
}

/// The places of the idler.
fn idler(problem: &Problem, set: &Set, mark: &str, plan: &Plan<'_>) -> Value {
    let study = plan.idler.as_ref().map(|study| IdlerAnswer {
        problem,
        set,
        mark,
        study,
    });
    study.map(|study| study.record()).unwrap_or_default()
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

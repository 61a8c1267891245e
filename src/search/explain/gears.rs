//! The least changes of the gears: teeth, idler, tips, backlash, modules.

use super::teeth;
use super::trial::{Edits, Trials, hundredths, in_hundredths, lists_tell_all, number};
use super::way::{Axis, Step};
use crate::base::{Decimal, Length, Module};
use crate::problem::{Closing, modules_near};
use serde_json::{Value, json};

/// Fewest teeth ever proposed.
const FEWEST_TEETH: u32 = 5;
/// Modules proposed at most, the nearest first.
const MOST_MODULES: usize = 3;
/// Hundredths by which backlash grows at most.
const MOST_BACKLASH: i64 = 50;
/// Hundredths of a module that thinning takes at most.
const MOST_THINNING: f64 = 15.0;

/// Changes of one limit, the smallest first; each opens all that the one before
/// opens.
pub(super) struct Rising {
    pub(super) steps: Vec<Step>,
}

/// What each limit of the gears may become.
pub(super) fn rising(trials: &Trials<'_>) -> Vec<Rising> {
    let gears = trials.problem.gears();
    let (min, max) = (gears.min_teeth().get(), gears.max_teeth().get());
    let most = trials.problem.most_useful_teeth().get();
    let mut all = closing(trials);
    let mut counts = |axis, key: &str, now: u32, to: Vec<u32>| {
        let step = |to| Step::teeth(axis, key, now, to);
        all.push(to.into_iter().map(step).collect());
    };
    if let Some(reverse) = trials.problem.reverse().filter(|r| r.cut().is_none()) {
        let (least, largest) = (reverse.idler_min().get(), reverse.idler_max().get());
        let fewer = (FEWEST_TEETH..least).rev().collect();
        counts(Axis::IdlerMin, "reverse.idler_teeth.min", least, fewer);
        let more = (largest + 1..=most.max(2 * largest).min(1000)).collect();
        counts(Axis::IdlerMax, "reverse.idler_teeth.max", largest, more);
    }
    let fewer = (FEWEST_TEETH..min).rev().collect();
    counts(Axis::MinTeeth, "gears.min_teeth", min, fewer);
    counts(
        Axis::MaxTeeth,
        "gears.max_teeth",
        max,
        (max + 1..=most).collect(),
    );
    all.push(tips(trials));
    all.extend(teeth::rising(trials));
    all.extend(teeth::room(trials));
    all.extend(teeth::workshop(trials));
    let free = |step: &Step| step.edits.iter().all(|(key, _)| trials.may_change(key));
    all.into_iter()
        .filter(|steps| steps.first().is_some_and(free))
        .map(|steps| Rising { steps })
        .collect()
}

/// Narrower gaps between the tips, none that lets them touch.
fn tips(trials: &Trials<'_>) -> Vec<Step> {
    let reverse = trials.problem.reverse().filter(|r| r.cut().is_none());
    reverse.map_or_else(Vec::new, |reverse| {
        let now = reverse.clearance();
        let below = in_hundredths(Length::from_steps(now.steps() - 1));
        (1..=below)
            .rev()
            .map(|gap| {
                let key = "reverse.clearance_mm";
                Step::of(Axis::TipGap, key, millimetres(now), hundredths(gap))
            })
            .collect()
    })
}

/// What the rule of closing may become.
fn closing(trials: &Trials<'_>) -> Vec<Vec<Step>> {
    let finest = trials.problem.gears().modules().first();
    let finest = finest.map_or(1.0, |module| module.mm());
    match trials.problem.gears().closing() {
        Closing::Shift { .. } => Vec::new(),
        Closing::Tolerance(_) => vec![in_place_of_tolerance(trials)],
        Closing::Backlash { min, max } => {
            let max_thinning = trials.problem.gears().max_thinning();
            let key = |end| format!("gears.backlash_mm.{end}");
            let step = |axis, key: &str, now, to| Step::of(axis, key, now, hundredths(to));
            let looser = above(max).take(50);
            let tighter = (0..in_hundredths(Length::from_steps(min.steps() + 9_999_999))).rev();
            let deeper = above(max_thinning)
                .take_while(|&to| hundredths(to).to_f64() * 100.0 <= MOST_THINNING * finest);
            vec![
                looser
                    .map(|to| step(Axis::BacklashMax, &key("max"), millimetres(max), to))
                    .map(|step| whole_backlash(trials, step, min))
                    .collect(),
                tighter
                    .map(|to| step(Axis::BacklashMin, &key("min"), millimetres(min), to))
                    .map(|step| whole_backlash(trials, step, max))
                    .collect(),
                deeper
                    .map(|to| {
                        let key = "gears.max_thinning_mm";
                        step(Axis::Thinning, key, millimetres(max_thinning), to)
                    })
                    .collect(),
            ]
        }
    }
}

/// Hundredths above a length.
fn above(length: Length) -> impl Iterator<Item = i64> {
    in_hundredths(length) + 1..
}

/// A file that gives the backlash in inches has it set as a whole.
fn whole_backlash(trials: &Trials<'_>, mut step: Step, other: Length) -> Step {
    let in_inches = crate::problem::get(trials.text, "gears.backlash_in").is_some();
    if let (true, Some(other)) = (in_inches, millimetres(other)) {
        let (own, its) = match step.axis {
            Axis::BacklashMax => ("max", "min"),
            _ => ("min", "max"),
        };
        let value = json!({ own: number(step.to), its: number(other) });
        step.edits = vec![("gears.backlash_mm".to_owned(), value)];
    }
    step
}

/// A range of backlash from none on, in place of a tolerance.
fn in_place_of_tolerance(trials: &Trials<'_>) -> Vec<Step> {
    let given = ["gears.centre_tolerance_mm", "gears.centre_tolerance_in"];
    let given = given
        .into_iter()
        .filter(|key| crate::problem::get(trials.text, key).is_some());
    let gone: Edits = given.map(|key| (key.to_owned(), Value::Null)).collect();
    let step = |most| {
        let mut edits = gone.clone();
        let range = json!({ "min": 0, "max": number(hundredths(most)) });
        edits.push(("gears.backlash_mm".to_owned(), range));
        Step {
            axis: Axis::BacklashInstead,
            edits,
            now: None,
            to: hundredths(most),
        }
    };
    (1..=MOST_BACKLASH).map(step).collect()
}

/// A length as a decimal; none when it is finer than millionths.
pub(super) fn millimetres(length: Length) -> Option<Decimal> {
    let per_millionth = 1000;
    let steps = length.steps();
    (steps % per_millionth == 0).then(|| Decimal::from_millionths(steps / per_millionth))
}

/// The least step of each limit that opens the problem.
pub(super) fn singles(trials: &Trials<'_>) -> Vec<Step> {
    let lists = rising(trials).into_iter().map(|rising| rising.steps);
    rising_singles(trials, lists.collect())
}

/// Of each list, each step of which opens all that the one before opens, the
/// first that opens the problem. Where strength is asked for, or the idler's pin
/// passes gears, and a step may make gears weaker or larger, every one is tried.
pub(super) fn rising_singles(trials: &Trials<'_>, lists: Vec<Vec<Step>>) -> Vec<Step> {
    let all = !lists_tell_all(trials.problem);
    let first = |steps: Vec<Step>| {
        let places: Vec<usize> = (0..steps.len()).collect();
        let first = if all && steps.first()?.axis.may_weaken() {
            let opens = |i: usize| trials.opens(&steps[i].edits);
            trials.first_of(&places, 1, opens).pop()?
        } else {
            trials.first_of_rising(&places, |i| steps[i].edits.clone())?
        };
        Some(steps[first].clone())
    };
    lists.into_iter().filter_map(first).collect()
}

/// Modules more, the nearest to one that is there first.
pub(super) fn modules(trials: &Trials<'_>) -> Vec<Step> {
    let given = trials.problem.gears().modules();
    let off = |module: &Module| {
        let apart = given.iter().map(|own| (module.mm() / own.mm()).ln().abs());
        apart.fold(f64::INFINITY, f64::min)
    };
    let mut near = modules_near(given);
    near.sort_by(|x, y| off(x).total_cmp(&off(y)));
    near.into_iter()
        .filter_map(|module| module_step(trials, module))
        .collect()
}

fn module_step(trials: &Trials<'_>, module: Module) -> Option<Step> {
    let (axis, key, to) = match module.pitch() {
        Some(pitch) => (Axis::Pitch, "gears.diametral_pitches", pitch),
        None => (
            Axis::Module,
            "gears.modules_mm",
            Decimal::nearest(module.mm())?,
        ),
    };
    // Pitches are fixed by the name of modules.
    if !trials.may_change("gears.modules_mm") {
        return None;
    }
    let mut list = match crate::problem::get(trials.text, key) {
        Some(Value::Array(list)) => list,
        _ => Vec::new(),
    };
    list.push(number(to));
    list.sort_by(|x, y| {
        x.as_f64()
            .unwrap_or(0.0)
            .total_cmp(&y.as_f64().unwrap_or(0.0))
    });
    Some(Step {
        axis,
        edits: vec![(key.to_owned(), Value::Array(list))],
        now: None,
        to,
    })
}

/// The nearest modules that open the problem.
pub(super) fn opening_modules(trials: &Trials<'_>) -> Vec<Step> {
    let steps = modules(trials);
    let places: Vec<usize> = (0..steps.len()).collect();
    let opens = |i: usize| trials.opens(&steps[i].edits);
    let found = trials.first_of(&places, MOST_MODULES, opens);
    found.into_iter().map(|i| steps[i].clone()).collect()
}

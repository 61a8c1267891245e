//! What all gears share.

use super::optional;
use crate::base::{Decimal, Length, Module, Teeth};
use crate::involute::{GeometryFault, Rack};
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{Closing, Cutting, FaceWidth, Gears, Problem};
use crate::problem::table::MOST_ENTRIES;

/// How much teeth may be thinned where the file does not say.
const USUAL_THINNING: Length = Length::from_mm(Decimal::from_millionths(50_000));

/// Steps of face widths where the file does not say.
const USUAL_STEP: Length = Length::from_mm(Decimal::from_millionths(500_000));
/// So many steps the most width may be.
const MOST_STEPS: i64 = 400;

/// The limits that other parts refer to; each known on its own, so that a
/// fault in one hides nothing about the rest.
pub(super) struct Limits {
    pub(super) min_teeth: Option<Teeth>,
    pub(super) max_teeth: Option<Teeth>,
    /// Ascending, no two equal.
    pub(super) modules: Option<Vec<Module>>,
}

impl Limits {
    pub(super) fn of(root: &Item, log: &mut Log) -> Self {
        let gears = root.get("gears");
        let teeth = |name| gears.and_then(|gears| gears.get(name)?.teeth());
        Self {
            min_teeth: teeth("min_teeth"),
            max_teeth: teeth("max_teeth"),
            modules: gears.and_then(|gears| modules(gears, log)),
        }
    }
}

pub(super) fn gears(root: &Item, limits: &Limits, log: &mut Log) -> Option<Gears> {
    let item = root.get("gears")?;
    let rack = rack(item, log);
    let accuracy = item.get("accuracy_grade")?;
    idle_thinning(root, item, log);
    let face = face(item, limits, log);
    Some(Gears {
        modules: limits.modules.clone()?,
        rack: rack?,
        helix_angle_deg: item.get("helix_angle_deg")?.number()?.to_f64(),
        min_teeth: limits.min_teeth?,
        max_teeth: limits.max_teeth?,
        closing: closing(item)?,
        max_thinning: max_thinning(item)?,
        face: face?,
        cutting: cutting(item)?,
        accuracy_grade: u8::try_from(accuracy.whole()?).ok()?,
        accuracy_given: accuracy.given,
    })
}

/// The basic rack; what makes it impossible is told at the key that does.
fn rack(gears: &Item, log: &mut Log) -> Option<Rack> {
    let number = |name| Some(gears.get(name)?.number()?.to_f64());
    let fillet = optional(gears.get("fillet"), Item::number)?.map(Decimal::to_f64);
    let (addendum, dedendum) = (number("addendum")?, number("dedendum")?);
    match Rack::new(number("pressure_angle_deg")?, addendum, dedendum, fillet) {
        Ok(rack) => Some(rack),
        Err(fault) => {
            let name = match fault {
                GeometryFault::FilletInFlank { .. } | GeometryFault::FilletPastLand { .. } => {
                    "fillet"
                }
                _ => "dedendum",
            };
            let at = gears.get(name).unwrap_or(gears);
            let text = fault.to_string();
            let (what, next) = text.split_once("; ").unwrap_or((&text, "correct the rack"));
            log.add_of_box(&at.span, &at.path, what.to_owned(), next.to_owned());
            None
        }
    }
}

/// Thinning serves a range of backlash, and limits that keep teeth from
/// binding; without either it would do nothing.
fn idle_thinning(root: &Item, gears: &Item, log: &mut Log) {
    let used = ["backlash", "profile_shift"]
        .iter()
        .any(|name| gears.get(name).is_some());
    if let Some(item) = gears.get("max_thinning")
        && !used
        && root.get("limits").is_none()
    {
        let what =
            "means nothing without gears.backlash_mm, gears.profile_shift or limits".to_owned();
        let next = "add one of them, or remove this key".to_owned();
        log.add(&item.span, &item.path, what, next);
    }
}

/// How wide gears are; what is said of widths that are not asked for is a fault.
fn face(gears: &Item, limits: &Limits, log: &mut Log) -> Option<FaceWidth> {
    let width = gears.get("face_width")?;
    let range = gears.get("face_width_range");
    if width.word() != Some("auto") {
        if let Some(range) = range {
            let what = format!("means nothing where {} is not \"auto\"", width.path);
            let next = "write \"auto\" there, or remove this key".to_owned();
            log.add(&range.span, &range.path, what, next);
        }
        return width.length().map(FaceWidth::Given);
    }
    let end = |name| optional(range.and_then(|range| range.get(name)), Item::length);
    let (step, least, most) = (end("step")?.unwrap_or(USUAL_STEP), end("min")?, end("max")?);
    let largest = limits.modules.as_ref().and_then(|all| all.last());
    let usual = largest.and_then(|module| {
        Decimal::nearest(FaceWidth::USUAL_MODULES[1] * module.mm()).map(Length::from_mm)
    });
    let finest = most.or(usual).unwrap_or(step).steps() / MOST_STEPS;
    if let Some(range) = range
        && step.steps() < finest
    {
        let what = format!("steps of {step} mm are too fine for widths up to that");
        let next = format!("make the step at least 1/{MOST_STEPS} of the most");
        log.add(&range.span, &range.path, what, next);
        return None;
    }
    Some(FaceWidth::Auto { step, least, most })
}

/// Whether there is what widths are to follow from.
pub(super) fn sized(root: &Item, problem: &Problem, log: &mut Log) {
    let Some(width) = root.get("gears").and_then(|gears| gears.get("face_width")) else {
        return;
    };
    if !problem.sizes_faces() {
        return;
    }
    let mut wrong = |what: &str, next: &str| {
        log.add(&width.span, &width.path, what.to_owned(), next.to_owned());
    };
    if problem
        .duty()
        .is_none_or(|duty| duty.min_flank_safety().is_none())
    {
        wrong(
            "\"auto\" needs a torque and a least safety",
            "add \"duty\": { \"input_torque_n_m\": …, \"min_safety\": … }, or give a width",
        );
    }
    if problem.shared_speed().is_some() {
        wrong(
            "\"auto\" can't size a gear that drives a speed and reverse",
            "give a width, or reverse a driving gear of its own",
        );
    }
}

fn max_thinning(gears: &Item) -> Option<Length> {
    let given = optional(gears.get("max_thinning"), Item::length)?;
    Some(given.unwrap_or(USUAL_THINNING))
}

fn closing(gears: &Item) -> Option<Closing> {
    let end = |of: &Item, name| of.get(name)?.length();
    if let Some(shift) = gears.get("profile_shift") {
        let (min, max) = (shift.get("min")?.number()?, shift.get("max")?.number()?);
        return Some(Closing::Shift { min, max });
    }
    let Some(backlash) = gears.get("backlash") else {
        return Some(Closing::Tolerance(end(gears, "centre_tolerance")?));
    };
    Some(Closing::Backlash {
        min: end(backlash, "min")?,
        max: end(backlash, "max")?,
    })
}

/// Bought form cutters give no shift, so a file that asks for shift and says
/// nothing else has its teeth generated.
fn cutting(gears: &Item) -> Option<Cutting> {
    let Some(item) = gears.get("cutting") else {
        let shifts = gears.get("profile_shift").is_some();
        return Some(if shifts {
            Cutting::Generated
        } else {
            Cutting::Form
        });
    };
    match item.word()? {
        "generated" => Some(Cutting::Generated),
        "own-form" => Some(Cutting::OwnForm),
        _ => Some(Cutting::Form),
    }
}

/// The modules of both lists, ascending; none when one is faulty or two are
/// equal.
fn modules(gears: &Item, log: &mut Log) -> Option<Vec<Module>> {
    let metric = list(gears.get("modules_mm"), Module::metric);
    let pitches = list(gears.get("diametral_pitches"), Module::from_diametral_pitch);
    let mut all: Vec<Placed<'_>> = metric.iter().chain(&pitches).filter_map(|p| *p).collect();
    let complete = all.len() == metric.len() + pitches.len();
    let last = all.last()?.1;
    if all.len() > MOST_ENTRIES {
        let what = format!("{} modules in the two lists together", all.len());
        let next = format!("at most {MOST_ENTRIES} are tried");
        log.add(&last.span, "gears", what, next);
    }
    all.sort_by_key(|(module, item)| (*module, item.span.start));
    let distinct = distinct(&all, log);
    let modules = all.into_iter().map(|(module, _)| module);
    (complete && distinct).then(|| modules.collect())
}

/// Tells of equal modules; whether there are none.
fn distinct(ascending: &[Placed<'_>], log: &mut Log) -> bool {
    let mut distinct = true;
    for two in ascending.windows(2) {
        let (a, b) = (&two[0], &two[1]);
        if a.0 == b.0 {
            distinct = false;
            let what = format!("{} and {} are the same module", named(a), named(b));
            log.add(&b.1.span, &b.1.path, what, "keep one of the two".to_owned());
        }
    }
    distinct
}

type Placed<'a> = (Module, &'a Item);

/// Each number of a list as a module; nothing when the list is not given.
fn list(item: Option<&Item>, module: fn(Decimal) -> Module) -> Vec<Option<Placed<'_>>> {
    match item.map(Item::list) {
        None => Vec::new(),
        Some(None) => vec![None],
        Some(Some(entries)) => entries
            .iter()
            .map(|entry| Some((module(entry.number()?), entry)))
            .collect(),
    }
}

fn named((module, item): &Placed<'_>) -> String {
    let written = match module.pitch() {
        None => item.number().map(|mm| format!("module {mm}")),
        Some(pitch) => Some(format!("diametral pitch {pitch}")),
    };
    format!("{} ({})", written.unwrap_or_default(), item.path)
}

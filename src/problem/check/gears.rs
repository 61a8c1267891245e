//! What all gears share.

use crate::base::{Decimal, Module, Teeth};
use crate::involute::Rack;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{Closing, Cutting, Gears};
use crate::problem::table::MOST_ENTRIES;

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

pub(super) fn gears(root: &Item, limits: &Limits) -> Option<Gears> {
    let item = root.get("gears")?;
    let degrees = |name| Some(item.get(name)?.number()?.to_f64());
    Some(Gears {
        modules: limits.modules.clone()?,
        rack: Rack::standard(degrees("pressure_angle_deg")?),
        helix_angle_deg: degrees("helix_angle_deg")?,
        min_teeth: limits.min_teeth?,
        max_teeth: limits.max_teeth?,
        closing: closing(item)?,
        face_width: item.get("face_width")?.length()?,
        cutting: cutting(item)?,
    })
}

fn closing(gears: &Item) -> Option<Closing> {
    let length = |item: &Item, name| item.get(name)?.length();
    let Some(backlash) = gears.get("backlash") else {
        return Some(Closing::Tolerance(length(gears, "centre_tolerance")?));
    };
    Some(Closing::Backlash {
        min: length(backlash, "min")?,
        max: length(backlash, "max")?,
        max_thinning: length(gears, "max_thinning")?,
    })
}

fn cutting(gears: &Item) -> Option<Cutting> {
    match gears.get("cutting")?.word()? {
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

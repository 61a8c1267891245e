//! Gears already cut: the head pair, and the `teeth` of any role.

use super::gears::Limits;
use super::{optional, teeth};
use crate::base::{Module, Teeth};
use crate::problem::arrangement::Arrangement;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{CutPair, Head};

pub(super) fn head(
    root: &Item,
    arrangement: Arrangement,
    limits: &Limits,
    log: &mut Log,
) -> Option<Head> {
    let Some(item) = root.get("head") else {
        return Some(Head {
            min: None,
            max: None,
            least: [None; 2],
            cut: None,
        });
    };
    if arrangement == Arrangement::Offset {
        let what = "offset shafts have no head pair".to_owned();
        let next = "remove this key, or set arrangement to \"in-line\"".to_owned();
        log.add(&item.span, &item.path, what, next);
    }
    let ratio = item.get("ratio");
    let end = |name| optional(ratio.and_then(|ratio| ratio.get(name)), Item::number);
    let cut = pair(item, limits, log);
    Some(Head {
        min: end("min")?,
        max: end("max")?,
        least: teeth::least(item, limits.min_teeth, log)?,
        cut: cut?,
    })
}

/// The pair of a role (driver, driven), when it says that it is cut.
pub(super) fn pair(role: &Item, limits: &Limits, log: &mut Log) -> Option<Option<CutPair>> {
    let module = module(role, limits, log);
    let Some(teeth) = role.get("teeth") else {
        return Some(None);
    };
    let [driver, driven] = teeth.list()? else {
        return None;
    };
    let driver = within_gears(driver, limits, log);
    let driven = within_gears(driven, limits, log);
    Some(Some(CutPair {
        driver: driver?,
        driven: driven?,
        module: module?,
    }))
}

/// Teeth of a gear, which must lie in the limits of all gears.
pub(super) fn within_gears(item: &Item, limits: &Limits, log: &mut Log) -> Option<Teeth> {
    let low = limits.min_teeth.map(|least| (least, "gears.min_teeth"));
    let high = limits.max_teeth.map(|most| (most, "gears.max_teeth"));
    within(item, low, high, log)
}

/// Teeth within two limits, each with the key that sets it.
pub(super) fn within(
    item: &Item,
    low: Option<(Teeth, &str)>,
    high: Option<(Teeth, &str)>,
    log: &mut Log,
) -> Option<Teeth> {
    let teeth = item.teeth()?;
    if let Some((least, key)) = low
        && teeth < least
    {
        let what = format!("{teeth} teeth is below {key}, {least}");
        let next = format!("lower {key} to {teeth}, or correct the count");
        log.add(&item.span, &item.path, what, next);
        return None;
    }
    if let Some((most, key)) = high
        && teeth > most
    {
        let what = format!("{teeth} teeth is above {key}, {most}");
        let next = format!("raise {key} to {teeth}, or correct the count");
        log.add(&item.span, &item.path, what, next);
        return None;
    }
    Some(teeth)
}

/// The module of a role, when given; it must be one of the list.
pub(super) fn module(role: &Item, limits: &Limits, log: &mut Log) -> Option<Option<Module>> {
    let metric = role.get("module_mm");
    let pitch = role.get("diametral_pitch");
    let (item, module, list) = match (metric, pitch) {
        (Some(item), _) => (item, Module::metric(item.number()?), "gears.modules_mm"),
        (None, Some(item)) => (
            item,
            Module::from_diametral_pitch(item.number()?),
            "gears.diametral_pitches",
        ),
        (None, None) => return Some(None),
    };
    let known = limits.modules.as_ref()?;
    // The list's own spelling, so that results name the module one way.
    if let Some(same) = known.iter().find(|known| **known == module) {
        return Some(Some(*same));
    }
    let number = item.number()?;
    let what = format!("{number} is not in {list}");
    let next = format!("add {number} to {list}, or correct it");
    log.add(&item.span, &item.path, what, next);
    None
}

//! The forward speeds.

use super::gears::Limits;
use super::target::{Basis, given};
use super::{cut, own, spacing, teeth};
use crate::base::Decimal;
use crate::problem::arrangement::Arrangement;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{Geared, Speed};
use std::collections::BTreeMap;

pub(super) fn speeds(
    root: &Item,
    arrangement: Arrangement,
    limits: &Limits,
    basis: &Basis,
    log: &mut Log,
) -> Option<Vec<Speed>> {
    let default = root.get("default_tolerance_percent").and_then(Item::number);
    if let Some(item) = root.get("spacing") {
        return spacing::speeds(item, arrangement, default, log);
    }
    let Some(item) = root.get("speeds") else {
        return Some(Vec::new());
    };
    let items = item.list()?;
    names(items, log);
    direct(items, arrangement, log);
    something_to_do(root, item, items, log);
    // Every speed is checked before the first fault ends the promotion.
    let all: Vec<Option<Speed>> = items
        .iter()
        .enumerate()
        .map(|(i, item)| speed(i, item, default, (limits, basis), log))
        .collect();
    all.into_iter().collect()
}

fn speed(
    index: usize,
    item: &Item,
    default: Option<Decimal>,
    known: (&Limits, &Basis),
    log: &mut Log,
) -> Option<Speed> {
    let geared = if is_direct(item) {
        direct_rules(item, known.1, log);
        None
    } else {
        Some(geared(item, default, known, log)?)
    };
    Some(Speed {
        name: name(index, item)?,
        geared,
    })
}

fn geared(
    item: &Item,
    default: Option<Decimal>,
    (limits, basis): (&Limits, &Basis),
    log: &mut Log,
) -> Option<Geared> {
    let cut = cut::pair(item, limits, log);
    item.get("direct")?.flag()?;
    if given(item).is_none() && item.get("teeth").is_none() {
        let key = format!("{}.ratio", item.path);
        let next = "add the ratio wanted, an output_rpm or a road speed, or \"direct\": true";
        log.add(&item.span, &key, "missing".to_owned(), next.to_owned());
        return None;
    }
    let (target, asked) = match (given(item), cut) {
        (None, Some(Some(pair))) => own::target(basis, item, [pair.driver, pair.driven], log)?,
        _ => basis.resolve(item, log)?,
    };
    let tolerance = item
        .get("tolerance_percent")
        .map_or(default, Item::number)?;
    Some(Geared {
        target,
        asked,
        tolerance_percent: own::tolerance(asked, tolerance),
        least: teeth::least(item, limits.min_teeth, log)?,
        cut: cut?,
    })
}

pub(super) fn is_direct(item: &Item) -> bool {
    item.get("direct").and_then(Item::flag) == Some(true)
}

/// A direct speed is a coupling: a ratio of exactly 1 and nothing else.
fn direct_rules(item: &Item, basis: &Basis, log: &mut Log) {
    if let Some((ratio, _)) = basis.resolve(item, log)
        && let Some(asked) = given(item)
        && ratio != Decimal::whole(1)
    {
        let what = "a direct speed has a ratio of exactly 1".to_owned();
        let word = asked.path.rsplit('.').next().unwrap_or("ratio");
        let next = format!("remove the {word}, or \"direct\": true");
        log.add(&asked.span, &asked.path, what, next);
    }
    for (key, why) in [
        ("tolerance_percent", "a direct speed is exact"),
        ("teeth", "a direct speed has no gears of its own"),
        ("min_driver_teeth", "a direct speed has no gears of its own"),
        ("min_driven_teeth", "a direct speed has no gears of its own"),
        ("module_mm", "a direct speed has no gears of its own"),
        ("diametral_pitch", "a direct speed has no gears of its own"),
        ("material", "a direct speed has no gears of its own"),
        ("driver_material", "a direct speed has no gears of its own"),
        ("driven_material", "a direct speed has no gears of its own"),
    ] {
        if let Some(item) = item.get(key) {
            let next = "remove this key, or \"direct\": true".to_owned();
            log.add(&item.span, &item.path, why.to_owned(), next);
        }
    }
}

/// At most one speed is direct, and none on offset shafts.
fn direct(items: &[Item], arrangement: Arrangement, log: &mut Log) {
    let mut directs = items.iter().filter(|item| is_direct(item));
    let allowed = usize::from(arrangement == Arrangement::InLine);
    let first = directs.clone().next().map(|item| item.path.clone());
    for item in directs.by_ref().skip(allowed) {
        let at = item.get("direct").unwrap_or(item);
        let (what, next) = match (&first, arrangement) {
            (Some(first), Arrangement::InLine) => (
                format!("{first} is direct already; both would be the same speed"),
                "keep one, and give the other a ratio",
            ),
            _ => (
                "offset shafts can't be locked together".to_owned(),
                "give the speed a ratio, or set arrangement to \"in-line\"",
            ),
        };
        log.add(&at.span, &at.path, what, next.to_owned());
    }
}

fn name(index: usize, item: &Item) -> Option<String> {
    match item.get("name") {
        Some(name) => name.text().map(str::to_owned),
        None => Some((index + 1).to_string()),
    }
}

/// No two speeds share a name; one without a name is called by its position.
fn names(items: &[Item], log: &mut Log) {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for (index, item) in items.iter().enumerate() {
        let Some(name) = name(index, item) else {
            continue;
        };
        let at = item.get("name").unwrap_or(item);
        if let Some(earlier) = seen.get(&name) {
            let what = format!("{earlier} is called \"{name}\" too");
            let next = "give each speed a name of its own".to_owned();
            log.add(&at.span, &at.path, what, next);
        } else {
            seen.insert(name, &item.path);
        }
    }
}

/// A direct speed alone has no gears to settle.
fn something_to_do(root: &Item, speeds: &Item, items: &[Item], log: &mut Log) {
    if root.get("reverse").is_none() && items.iter().all(is_direct) {
        let what = "no geared speed and no reverse: there is nothing to settle".to_owned();
        let next = "add a speed with a ratio, or a reverse".to_owned();
        log.add(&speeds.span, &speeds.path, what, next);
    }
}

//! The reverse speed.

use super::gears::Limits;
use super::target::{Basis, given};
use super::{cut, layout, optional, own, teeth};
use crate::base::Teeth;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{CutTriple, Reverse};

pub(super) fn reverse(
    root: &Item,
    limits: &Limits,
    basis: &Basis,
    log: &mut Log,
) -> Option<Option<Reverse>> {
    let default = root.get("default_tolerance_percent").and_then(Item::number);
    optional(root.get("reverse"), |item| {
        let idler = idler(item, limits, log);
        let cut = triple(item, limits, idler, log);
        let resolved = match (given(item), cut) {
            (None, Some(Some(gears))) => {
                own::target(basis, item, [gears.driver, gears.driven], log)
            }
            _ => basis.resolve(item, log),
        };
        let form = layout::reverse_form(item, root, log);
        let ((idler_min, _), (idler_max, _)) = idler?;
        let (target, asked) = resolved?;
        let tolerance = item
            .get("tolerance_percent")
            .map_or(default, Item::number)?;
        Some(Reverse {
            target,
            asked,
            tolerance_percent: own::tolerance(asked, tolerance),
            idler_min,
            idler_max,
            clearance: item.get("clearance")?.length()?,
            least: teeth::least(item, limits.min_teeth, log)?,
            cut: cut?,
            form: form?,
        })
    })
}

/// A limit of teeth, with the key that sets it.
type Limit = (Teeth, &'static str);

/// The idler's limits: its own, or those of all gears.
fn idler(reverse: &Item, limits: &Limits, log: &mut Log) -> Option<(Limit, Limit)> {
    let own = reverse.get("idler_teeth");
    let end = |name, key, gears: Option<Teeth>, gears_key| match own.and_then(|own| own.get(name)) {
        Some(item) => Some((item.teeth()?, key)),
        None => Some((gears?, gears_key)),
    };
    let low = end(
        "min",
        "reverse.idler_teeth.min",
        limits.min_teeth,
        "gears.min_teeth",
    )?;
    let high = end(
        "max",
        "reverse.idler_teeth.max",
        limits.max_teeth,
        "gears.max_teeth",
    )?;
    // With both ends its own, or neither, the order is checked already.
    let mixed = low.1.starts_with("gears") != high.1.starts_with("gears");
    if low.0 > high.0 && mixed {
        let what = format!("{} ({}) exceeds {} ({})", low.1, low.0, high.1, high.0);
        let next = "give idler_teeth both a min and a max".to_owned();
        let at = own.unwrap_or(reverse);
        log.add(&at.span, &at.path, what, next);
    }
    Some((low, high))
}

fn triple(
    item: &Item,
    limits: &Limits,
    idler: Option<(Limit, Limit)>,
    log: &mut Log,
) -> Option<Option<CutTriple>> {
    let module = cut::module(item, limits, log);
    let Some(teeth) = item.get("teeth") else {
        return Some(None);
    };
    let [driver, middle, driven] = teeth.list()? else {
        return None;
    };
    let driver = cut::within_gears(driver, limits, log);
    let (low, high) = idler.unzip();
    let middle = cut::within(middle, low, high, log);
    let driven = cut::within_gears(driven, limits, log);
    Some(Some(CutTriple {
        driver: driver?,
        idler: middle?,
        driven: driven?,
        module: module?,
    }))
}

//! The set settled on. Whether it still fits the problem is for later stages
//! to find: a changed file must stay readable, or no one could pick again.

use super::gears::Limits;
use super::optional;
use crate::base::{Decimal, Module, Teeth};
use crate::problem::item::Item;
use crate::problem::model::{Picked, PickedPair};

pub(super) fn picked(root: &Item, limits: &Limits) -> Option<Option<Picked>> {
    optional(root.get("picked"), |item| {
        let pairs = item.get("speeds")?.list()?.iter();
        Some(Picked {
            mark: item.get("mark")?.text()?.to_owned(),
            centre_distance: item.get("centre_distance")?.length()?,
            head: optional(item.get("head"), |head| pair(head, limits))?,
            pairs: pairs
                .map(|item| pair(item, limits))
                .collect::<Option<_>>()?,
            reverse: optional(item.get("reverse"), |reverse| triple(reverse, limits))?,
        })
    })
}

fn pair(item: &Item, limits: &Limits) -> Option<PickedPair> {
    let [mm, driver, driven] = item.list()? else {
        return None;
    };
    Some(PickedPair {
        module: module(mm.number()?, limits),
        driver: driver.teeth()?,
        driven: driven.teeth()?,
    })
}

fn triple(item: &Item, limits: &Limits) -> Option<(PickedPair, Teeth)> {
    let [mm, driver, idler, driven] = item.list()? else {
        return None;
    };
    let pair = PickedPair {
        module: module(mm.number()?, limits),
        driver: driver.teeth()?,
        driven: driven.teeth()?,
    };
    Some((pair, idler.teeth()?))
}

/// The module of the list that rounds to `mm`: those of a diametral pitch are
/// stored rounded to 6 decimals.
fn module(mm: Decimal, limits: &Limits) -> Module {
    let written = Module::metric(mm);
    let known = limits.modules.iter().flatten();
    let near = |module: &&Module| (module.mm() - mm.to_f64()).abs() <= 5e-7;
    known.copied().find(|m| *m == written).unwrap_or_else(|| {
        let mut known = limits.modules.iter().flatten();
        known.find(near).copied().unwrap_or(written)
    })
}

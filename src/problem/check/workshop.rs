//! What the workshop has and can buy.

use super::{cutters, optional};
use crate::base::{Decimal, Length};
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::stockist;
use crate::problem::workshop::{Allowances, Bar, DividingHead, FurtherPart, Workshop};
use std::collections::BTreeSet;

/// The workshop of an object; the usual one where there is none.
pub(in crate::problem) fn workshop(item: Option<&Item>, log: &mut Log) -> Option<Workshop> {
    let Some(item) = item else {
        return Some(stockist::usual());
    };
    let bars = bars(item, log);
    let rack = rack(item);
    let head = dividing_head(item, log);
    let cutters = cutters::cutters(item.get("cutters"), log);
    let price = |name, usual| {
        let own = optional(item.get(name), Item::number)?;
        Some(own.unwrap_or(usual))
    };
    let prices = ["form_cutter_price", "own_cutter_price", "tool_price"];
    Some(Workshop {
        given: true,
        currency: text(item.get("currency"))?.unwrap_or_default(),
        bars: bars?,
        bars_taken: item.get("bars").is_none(),
        rack: rack?,
        gear_material: text(item.get("gear_material"))?,
        allowances: allowances(item)?,
        rings_on_gears: item.get("dog_rings")?.word()? == "with-gear",
        cutters: cutters?,
        form_cutter_price: price(prices[0], stockist::FORM_CUTTER_PRICE)?,
        own_cutter_price: price(prices[1], stockist::OWN_CUTTER_PRICE)?,
        tool_price: price(prices[2], stockist::TOOL_PRICE)?,
        cutter_prices_taken: prices.iter().any(|name| item.get(name).is_none()),
        dividing_head: head?,
        largest_turned: optional(item.get("largest_turned"), Item::length)?,
        only_dividable: item.get("only_dividable")?.flag()?,
        only_owned_cutters: item.get("only_owned_cutters")?.flag()?,
        cutters_as: None,
    })
}

/// The pins that the workshop has to measure with.
pub(super) fn pins(root: &Item) -> Option<Vec<Decimal>> {
    let pins = root.get("workshop").and_then(|item| item.get("pins_mm"));
    pins.map_or(Some(Vec::new()), |list| {
        list.list()?.iter().map(Item::number).collect()
    })
}

/// Further parts to be cut from the same bars.
pub(super) fn parts(root: &Item, log: &mut Log) -> Option<Vec<FurtherPart>> {
    let Some(list) = root.get("parts") else {
        return Some(Vec::new());
    };
    let parts: Vec<Option<FurtherPart>> = list.list()?.iter().map(part).collect();
    let named = list.list()?.iter().zip(&parts);
    let named = named.filter_map(|(item, part)| Some((part.as_ref()?.name.clone(), item)));
    let what = |name: &String| format!("there is a part \"{name}\" already");
    twice(
        named,
        what,
        "give it another name, or raise count of the first",
        log,
    );
    parts.into_iter().collect()
}

fn part(item: &Item) -> Option<FurtherPart> {
    Some(FurtherPart {
        name: item.get("name")?.text()?.to_owned(),
        diameter: item.get("diameter")?.length()?,
        length: item.get("length")?.length()?,
        material: text(item.get("material"))?,
        count: item.get("count")?.whole()?,
    })
}

fn text(item: Option<&Item>) -> Option<Option<String>> {
    optional(item, |item| item.text().map(str::to_owned))
}

fn allowances(item: &Item) -> Option<Allowances> {
    let length = |name| item.get(name)?.length();
    Some(Allowances {
        kerf: length("kerf")?,
        grip: length("grip")?,
        facing: length("facing")?,
        turning: length("turning")?,
    })
}

/// What can be bought, by diameter, then length, then as in the file.
fn bars(item: &Item, log: &mut Log) -> Option<Vec<Bar>> {
    let price_per_kg = item.get("price_per_kg")?.number();
    let Some(list) = item.get("bars") else {
        return Some(stockist::usual_bars(price_per_kg?));
    };
    let entries = list.list()?;
    let price_per_kg = price_per_kg.unwrap_or(stockist::PRICE_PER_KG);
    let bars: Vec<Option<Bar>> = entries
        .iter()
        .map(|entry| bar(entry, price_per_kg))
        .collect();
    let named = entries.iter().zip(&bars).filter_map(|(entry, bar)| {
        let bar = bar.as_ref()?;
        Some(((bar.diameter, bar.length, bar.material.clone()), entry))
    });
    let what = |(diameter, length, material): &(Length, Length, String)| {
        format!("{material} Ø{diameter} mm, {length} mm long, is in the list already")
    };
    let next = "keep one: as many as wanted can be bought of each";
    twice(named, what, next, log);
    let mut bars: Vec<Bar> = bars.into_iter().collect::<Option<_>>()?;
    // Stable, so that those level stay as in the file.
    bars.sort_by_key(|bar| (bar.diameter, bar.length));
    Some(bars)
}

fn bar(entry: &Item, price_per_kg: Decimal) -> Option<Bar> {
    let price = optional(entry.get("price"), Item::number)?;
    let mut bar = piece(entry)?;
    bar.price_taken = price.is_none();
    bar.price = price.unwrap_or_else(|| {
        stockist::price_by_weight(bar.diameter, bar.length, bar.density_kg_m3, price_per_kg)
    });
    Some(bar)
}

/// What lies on the rack, in the order of the file.
fn rack(item: &Item) -> Option<Vec<Bar>> {
    let Some(list) = item.get("rack") else {
        return Some(Vec::new());
    };
    list.list()?.iter().map(piece).collect()
}

/// A bar that costs nothing.
fn piece(entry: &Item) -> Option<Bar> {
    let material = entry.get("material")?.text()?;
    let density = optional(entry.get("density_kg_m3"), Item::number)?;
    Some(Bar {
        diameter: entry.get("diameter")?.length()?,
        length: entry.get("length")?.length()?,
        material: material.to_owned(),
        density_kg_m3: density.unwrap_or_else(|| stockist::density_kg_m3(material)),
        price: Decimal::whole(0),
        price_taken: false,
        count: entry.get("count").map_or(Some(1), Item::whole)?,
    })
}

fn dividing_head(item: &Item, log: &mut Log) -> Option<DividingHead> {
    let Some(head) = item.get("dividing_head") else {
        return Some(stockist::usual_head());
    };
    let mut sound = true;
    let mut plates = Vec::new();
    for plate in head.get("plates")?.list()? {
        let circles = circles(plate, log);
        sound &= circles.is_some();
        plates.extend(circles);
    }
    let gears = head.get("change_gears")?.list()?.iter();
    let gears = gears.map(|gear| Some(gear.teeth()?.get()));
    let head = DividingHead {
        worm: count(head.get("worm")?)?,
        plates,
        direct: head
            .get("direct")?
            .list()?
            .iter()
            .map(count)
            .collect::<Option<_>>()?,
        change_gears: gears.collect::<Option<_>>()?,
    };
    sound.then_some(head)
}

/// The circles of a plate, ascending.
fn circles(plate: &Item, log: &mut Log) -> Option<Vec<u32>> {
    let entries = plate.list()?;
    let holes: Vec<Option<u32>> = entries.iter().map(count).collect();
    let named = entries.iter().zip(&holes);
    let named = named.filter_map(|(entry, holes)| Some(((*holes)?, entry)));
    let what = |holes: &u32| format!("this plate has a circle of {holes} holes already");
    twice(named, what, "keep one of the two", log);
    let mut holes: Vec<u32> = holes.into_iter().collect::<Option<_>>()?;
    holes.sort_unstable();
    Some(holes)
}

fn count(item: &Item) -> Option<u32> {
    u32::try_from(item.whole()?).ok()
}

/// Tells of each thing that is named a second time.
pub(super) fn twice<'a, K: Ord>(
    named: impl Iterator<Item = (K, &'a Item)>,
    what: impl Fn(&K) -> String,
    next: &str,
    log: &mut Log,
) {
    let mut seen = BTreeSet::new();
    for (name, item) in named {
        let text = what(&name);
        if !seen.insert(name) {
            log.add(&item.span, &item.path, text, next.to_owned());
        }
    }
}

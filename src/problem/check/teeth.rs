//! What is asked of teeth, and the holes of the gears.

use super::{optional, workshop};
use crate::base::{Decimal, Teeth};
use crate::problem::arrangement::Arrangement;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::teeth::{Bore, Bores, Inspection, Limits, Shaft};

/// The limits; the usual ones where the file has no block of them, for teeth
/// with a hard case or without.
pub(super) fn limits(root: &Item, hard: bool) -> Option<Limits> {
    let usual = Limits::usual(hard);
    let Some(item) = root.get("limits") else {
        return Some(usual);
    };
    let tips = optional(item.get("min_tip_thickness"), Item::number)?;
    let flag = |name| item.get(name)?.flag();
    let number = |name| item.get(name)?.number();
    Some(Limits {
        allow_undercut: flag("allow_undercut")?,
        allow_interference: flag("allow_interference")?,
        allow_binding: flag("allow_binding")?,
        extra_tip_shortening: flag("extra_tip_shortening")?,
        min_tip_thickness: tips.unwrap_or(usual.min_tip_thickness),
        min_contact_ratio: number("min_contact_ratio")?,
        min_tip_clearance: optional(item.get("min_tip_clearance"), Item::number)?,
        min_wall: item.get("min_wall")?.length()?,
    })
}

/// The holes, of shafts that the arrangement has.
pub(super) fn bores(root: &Item, arrangement: Arrangement, log: &mut Log) -> Option<Bores> {
    let Some(item) = root.get("bores") else {
        return Some(Bores::default());
    };
    let mut bores = Bores::default();
    let mut sound = true;
    for shaft in Shaft::ALL {
        let Some(own) = item.get(shaft.word()) else {
            continue;
        };
        if !has(root, arrangement, shaft) {
            let what = format!("this box has no {} to put gears on", named(shaft));
            let next = "remove this key, or name another shaft".to_owned();
            log.add(&own.span, &own.path, what, next);
        }
        let bore = bore(own);
        sound &= bore.is_some();
        bores.by_shaft[shaft as usize] = bore;
    }
    sound.then_some(bores)
}

fn bore(item: &Item) -> Option<Bore> {
    let length = |name| item.get(name)?.length();
    Some(Bore {
        diameter: length("bore")?,
        bush: length("bush")?,
        keyway: length("keyway")?,
    })
}

fn has(root: &Item, arrangement: Arrangement, shaft: Shaft) -> bool {
    match shaft {
        Shaft::Input => true,
        Shaft::Layshaft | Shaft::Main => arrangement == Arrangement::InLine,
        Shaft::Output => arrangement == Arrangement::Offset,
        Shaft::Idler => root.get("reverse").is_some(),
    }
}

const fn named(shaft: Shaft) -> &'static str {
    match shaft {
        Shaft::Input => "input shaft",
        Shaft::Layshaft => "layshaft",
        Shaft::Main => "main shaft",
        Shaft::Output => "output shaft",
        Shaft::Idler => "idler",
    }
}

/// What there is to measure with; the workshop's pins where the file names
/// none for the purpose.
pub(super) fn inspection(root: &Item) -> Option<Inspection> {
    let of_workshop = workshop::pins(root);
    let item = root.get("inspection");
    let own = item.and_then(|item| item.get("pins_mm"));
    let pins = match own {
        Some(list) => list.list()?.iter().map(Item::number).collect(),
        None => of_workshop,
    };
    let range = |range: &Item| Some((range.get("min")?.length()?, range.get("max")?.length()?));
    let normal = item.and_then(|item| item.get("normal_backlash"));
    Some(Inspection {
        pins_mm: pins?.into_iter().map(Decimal::to_f64).collect(),
        normal_backlash: optional(normal, range)?,
    })
}

/// A role's own least teeth: of its driving and of its driven gear. They add to
/// what all gears must have, and cannot take from it.
pub(super) fn least(
    role: &Item,
    shared: Option<Teeth>,
    log: &mut Log,
) -> Option<[Option<Teeth>; 2]> {
    let mut of = |name| {
        let item = role.get(name);
        let own = optional(item, Item::teeth)?;
        if let (Some(item), Some(own), Some(shared)) = (item, own, shared)
            && own < shared
        {
            let what = format!("{own} teeth is below gears.min_teeth, {shared}");
            let next = format!("give {shared} or more, or lower gears.min_teeth to {own}");
            log.add(&item.span, &item.path, what, next);
        }
        Some(own)
    };
    Some([of("min_driver_teeth")?, of("min_driven_teeth")?])
}

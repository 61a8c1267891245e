//! The centre distances to try.

use crate::base::Length;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::CentreDistances;
use crate::problem::table::MOST_CENTRES;

pub(super) fn centre_distances(root: &Item, log: &mut Log) -> Option<CentreDistances> {
    let item = root.get("centre_distance")?;
    match item.length() {
        Some(from) => Some(CentreDistances {
            from,
            step: Length::ZERO,
            count: 1,
            doubt: Length::ZERO,
        }),
        None if item.get("over_pins").is_some() => measured(item, log),
        None => steps(item, log),
    }
}

/// a = over pins − half of both pins together: each pin's centre lies in its
/// bore's, and half of it stands outside on either side.
fn measured(item: &Item, log: &mut Log) -> Option<CentreDistances> {
    let over = item.get("over_pins")?;
    let pins = item.get("pins")?.list()?;
    let pins: Vec<Length> = pins.iter().map(Item::length).collect::<Option<_>>()?;
    let pins = Length::from_steps(pins.iter().map(|pin| pin.steps()).sum());
    let doubt = item.get("measured_to")?;
    let over_pins = over.length()?;
    if over_pins < pins {
        let what = format!("two such pins side by side measure {pins} mm");
        let next = "measure outside, over both pins".to_owned();
        log.add(&over.span, &over.path, what, next);
        return None;
    }
    // Whole: every length of a file is a multiple of 2 steps.
    let from = Length::from_steps(over_pins.steps() - pins.steps() / 2);
    if doubt.length()? >= from {
        let what = format!("the distance itself is {from} mm");
        let next = "say by how much the measurement may be wrong".to_owned();
        log.add(&doubt.span, &doubt.path, what, next);
        return None;
    }
    Some(CentreDistances {
        from,
        step: Length::ZERO,
        count: 1,
        doubt: doubt.length()?,
    })
}

fn steps(item: &Item, log: &mut Log) -> Option<CentreDistances> {
    let length = |name| item.get(name).and_then(Item::length);
    let (from, to, step) = (length("from")?, length("to")?, length("step")?);
    if from > to || step <= Length::ZERO {
        return None;
    }
    let count = (to.steps() - from.steps()) / step.steps() + 1;
    if count > MOST_CENTRES {
        let what = format!("this asks for {count} centre distances");
        let next = format!("a larger step or a narrower range; at most {MOST_CENTRES} are tried");
        log.add(&item.span, &item.path, what, next);
        return None;
    }
    Some(CentreDistances {
        from,
        step,
        count: usize::try_from(count).ok()?,
        doubt: Length::ZERO,
    })
}

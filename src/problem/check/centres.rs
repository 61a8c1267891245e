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
        }),
        None => steps(item, log),
    }
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
    })
}

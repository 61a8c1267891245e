//! Whether a problem is one that can be held in memory.

use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{Cutting, Gears, Reverse};

/// Bytes that the reverse gearings of one centre distance may take at most, as
/// estimated before any is made: a few times what is then really taken.
const MOST_BYTES: u64 = 4 << 30;

/// Refuses a problem whose reverse gearings are too many: modules × driving ×
/// driven teeth, each with its runs of idlers that share a cutter.
pub(super) fn size(root: &Item, gears: &Gears, reverse: &Reverse, log: &mut Log) {
    let counts = span(gears.min_teeth().get(), gears.max_teeth().get());
    let idlers = span(reverse.idler_min().get(), reverse.idler_max().get());
    let modules = gears.modules().len() as u64;
    let below_twelve = 12_u64.saturating_sub(u64::from(gears.min_teeth().get()));
    let (cutters, runs) = match gears.cutting() {
        Cutting::Generated => (1, 1),
        Cutting::Form => (8 + below_twelve, (8 + below_twelve).min(idlers)),
        Cutting::OwnForm => (counts.max(idlers), idlers),
    };
    let bytes_each = 48 + 8 * (modules * cutters).div_ceil(64);
    let bytes = modules * counts * counts * runs * bytes_each;
    if reverse.cut().is_some() || bytes <= MOST_BYTES {
        return;
    }
    let at = root.get("gears").and_then(|gears| gears.get("max_teeth"));
    let at = at.unwrap_or(root);
    let what = format!(
        "{modules} modules by {counts} tooth counts make more reverse gearings than can be held"
    );
    let next = "narrow gears.min_teeth to gears.max_teeth, the idler's teeth or the modules";
    log.add(&at.span, &at.path, what, next.to_owned());
}

fn span(low: u32, high: u32) -> u64 {
    u64::from(high.saturating_sub(low)) + 1
}

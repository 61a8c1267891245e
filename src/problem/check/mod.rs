//! The rules that span several keys, and the promotion to a [`Problem`].
//!
//! Each part is checked whether or not the others are sound, so that all
//! faults of a file are told at once.
#![allow(
    clippy::option_option,
    reason = "missing is sound and faulty is not; the two levels never leave this module"
)]

mod centres;
mod choice;
mod cut;
mod gears;
mod picked;
mod reverse;
mod size;
mod spacing;
mod speeds;
mod target;
mod teeth;

use super::fault::Log;
use super::item::Item;
use super::model::{Arrangement, Problem};
use gears::Limits;
use target::Basis;

/// The problem; none when a part is missing or faulty, which the log tells.
pub(super) fn problem(root: &Item, inches: bool, log: &mut Log) -> Option<Problem> {
    let arrangement = arrangement(root);
    let limits = Limits::of(root, log);
    let centre_distances = centres::centre_distances(root, log);
    let gears = gears::gears(root, &limits, log);
    let asked = teeth::limits(root);
    let bores = teeth::bores(root, arrangement, log);
    let inspection = teeth::inspection(root);
    let head = cut::head(root, arrangement, &limits, log);
    let basis = Basis::of(root, log);
    let speeds = speeds::speeds(root, arrangement, &limits, &basis, log);
    let reverse = reverse::reverse(root, &limits, &basis, log);
    let measures = choice::measures(root, log);
    let fixed = choice::fixed(root, log);
    let picked = picked::picked(root, &limits);
    if let (Some(gears), Some(Some(reverse))) = (&gears, &reverse) {
        size::size(root, gears, reverse, log);
    }
    Some(Problem {
        title: title(root),
        arrangement,
        centre_distances: centre_distances?,
        gears: gears?,
        limits: asked?,
        limits_given: root.get("limits").is_some(),
        bores: bores?,
        inspection: inspection?,
        head: head?,
        speeds: speeds?,
        reverse: reverse?,
        ranking: choice::ranking(root)?,
        measures: measures?,
        fixed: fixed?,
        picked: picked?,
        inches,
    })
}

fn title(root: &Item) -> String {
    let title = root.get("title").and_then(Item::text);
    title.unwrap_or_default().to_owned()
}

fn arrangement(root: &Item) -> Arrangement {
    match root.get("arrangement").and_then(Item::word) {
        Some("offset") => Arrangement::Offset,
        _ => Arrangement::InLine,
    }
}

/// What `promote` makes of a key that may be missing: none when it is there
/// and faulty.
fn optional<T>(item: Option<&Item>, promote: impl FnOnce(&Item) -> Option<T>) -> Option<Option<T>> {
    match item {
        Some(item) => promote(item).map(Some),
        None => Some(None),
    }
}

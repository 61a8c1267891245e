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
mod cutters;
mod duty;
mod gears;
mod layout;
mod materials;
mod mounting;
mod own;
mod picked;
mod reverse;
mod size;
mod spacing;
mod speeds;
mod target;
mod teeth;
mod workshop;

use super::arrangement::Arrangement;
use super::duty::Duty;
use super::fault::Log;
use super::item::Item;
use super::model::{Head, Problem, Reverse, Speed};
use super::mounting::{IdlerPin, Shafting};
use super::teeth::Bores;
use gears::Limits;
use mounting::Steps;
use std::sync::Arc;
use target::Basis;
pub(super) use workshop::workshop;

/// The problem; none when a part is missing or faulty, which the log tells.
pub(super) fn problem(root: &Item, inches: bool, log: &mut Log) -> Option<Problem> {
    let arrangement = arrangement(root);
    let limits = Limits::of(root, log);
    let centre_distances = centres::centre_distances(root, log);
    let gears = gears::gears(root, &limits, log);
    let bores = teeth::bores(root, arrangement, log);
    let duty = duty::duty(root, log);
    let pin = mounting::idler_pin(root, log);
    let inspection = teeth::inspection(root);
    let workshop = workshop(root.get("workshop"), log);
    let further_parts = workshop::parts(root, log);
    let head = cut::head(root, arrangement, &limits, log);
    let basis = Basis::of(root, arrangement, log);
    let speeds = speeds::speeds(root, arrangement, &limits, &basis, log);
    let reverse = reverse::reverse(root, &limits, &basis, log);
    let form = reverse.as_ref().map(|reverse| reverse.map(|r| r.form));
    layout::shared_with(root, speeds.as_deref(), form.flatten(), log);
    let layout = layout::layout(root, speeds.as_deref(), form.flatten(), log);
    let mounted = mounted(
        root,
        arrangement,
        (bores, duty, pin),
        (head, &speeds, &reverse),
        log,
    );
    let shares = duty::shares(root, speeds.as_ref().map_or(0, Vec::len), log);
    let own = reverse.as_ref().and_then(Option::as_ref);
    let materials = materials::materials(root, speeds.as_deref(), own, log);
    let hard = materials.as_ref().is_some_and(|materials| {
        materials.any_case_hardened(arrangement == Arrangement::InLine, own.is_some())
    });
    let asked = teeth::limits(root, hard);
    let measures = choice::measures(root, log);
    let fixed = choice::fixed(root, log);
    let picked = picked::picked(root, &limits);
    if let (Some(gears), Some(Some(reverse))) = (&gears, &reverse) {
        size::size(root, gears, reverse, log);
    }
    let (bores, shafting) = mounted?;
    let problem = Problem {
        title: title(root),
        arrangement,
        centre_distances: centre_distances?,
        gears: gears?,
        limits: asked?,
        limits_given: root.get("limits").is_some(),
        bores,
        shafting,
        duty: duty?,
        shares: shares?,
        materials: Arc::new(materials?),
        input_turns: mounting::input_turns(root)?,
        input_rpm: mounting::input_rpm(root)?,
        road_way_mm: mounting::road_way_mm(root)?,
        idler_pin: pin?,
        layout: layout?,
        inspection: inspection?,
        workshop: Arc::new(workshop?),
        further_parts: further_parts?,
        head: head?,
        speeds: speeds?,
        reverse: reverse?,
        ranking: choice::ranking(root)?,
        measures: measures?,
        fixed: fixed?,
        picked: picked?,
        inches,
        found: false,
    };
    gears::sized(root, &problem, log);
    if let Some((what, next)) = problem.uncountable() {
        let at = root.get("measures").or_else(|| root.get("ranking"));
        let at = at.unwrap_or(root);
        log.add(&at.span, &at.path, what, next.to_owned());
    }
    Some(problem)
}

/// The holes and the shafts, each of which may follow from the other.
fn mounted(
    root: &Item,
    arrangement: Arrangement,
    (bores, duty, pin): (
        Option<Bores>,
        Option<Option<Duty>>,
        Option<Option<IdlerPin>>,
    ),
    (head, speeds, reverse): (Option<Head>, &Option<Vec<Speed>>, &Option<Option<Reverse>>),
    log: &mut Log,
) -> Option<(Bores, Shafting)> {
    mounting::foreign(root, arrangement, log);
    let (mut bores, duty, pin) = (bores?, duty?, pin?);
    let steps = match (&head, speeds, reverse) {
        (Some(head), Some(speeds), Some(reverse)) => {
            Some(Steps::of(arrangement, head, speeds, reverse.as_ref()))
        }
        _ => None,
    };
    let from = (&bores, duty.as_ref(), pin.as_ref());
    let shafting = mounting::shafting(root, arrangement, from, steps)?;
    mounting::auto_bores(root, arrangement, &shafting, pin.as_ref(), &mut bores, log);
    Some((bores, shafting))
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

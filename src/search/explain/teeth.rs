//! The least changes of how teeth are made and of what is asked of them: shift,
//! cutting, walls, the limits.

use super::trial::{Edits, Trials, hundredths, number};
use super::way::{Axis, Step};
use crate::base::{Decimal, Length};
use crate::problem::{Closing, Cutting, HeldIn};
use serde_json::{Value, json};

/// Hundredths of a module by which a range of shift grows, and its far ends.
const SHIFT_STEP: i64 = 5;
const MOST_SHIFT: i64 = 100;
const LEAST_SHIFT: i64 = -100;
/// Ranges of shift proposed where there is none: each a step of 0.1 above and
/// of 0.05 below the one before.
const RANGES: i64 = 10;
/// Contact ratios below this let a pair of teeth go before the next one meets.
const LEAST_CONTACT: i64 = 100;
/// Thinner tips than this chip, hundredths of a module.
const LEAST_TIP: i64 = 5;
/// Tenths of a millimetre: no pin is thinner.
const LEAST_PIN: i64 = 20;

/// What each limit of the teeth may become, the smallest change first; each
/// opens all that the one before opens.
pub(super) fn rising(trials: &Trials<'_>) -> Vec<Vec<Step>> {
    let mut all = vec![range_instead(trials)];
    if !trials.problem.judges() {
        return all;
    }
    all.extend([
        shift(trials, Axis::ShiftMax),
        shift(trials, Axis::ShiftMin),
        cutting(trials),
        wall(trials),
        falling(trials, Axis::ContactRatio),
        falling(trials, Axis::TipThickness),
        flag(
            Axis::Undercut,
            "limits.allow_undercut",
            trials.problem.limits().allow_undercut(),
            true,
        ),
        flag(
            Axis::TipsTurnedDown,
            "limits.extra_tip_shortening",
            trials.problem.limits().extra_tip_shortening(),
            true,
        ),
    ]);
    all.extend(least_teeth(trials));
    all
}

/// Generated teeth with a range of shift, in place of a tolerance or of a range
/// of backlash.
fn range_instead(trials: &Trials<'_>) -> Vec<Step> {
    let gears = trials.problem.gears();
    if gears.closing().shifts() || !trials.may_change("gears.cutting") {
        return Vec::new();
    }
    let given = |key: &&str| crate::problem::get(trials.text, key).is_some();
    let gone = [
        "gears.centre_tolerance_mm",
        "gears.centre_tolerance_in",
        "gears.backlash_mm",
        "gears.backlash_in",
    ];
    let gone: Vec<&str> = gone.into_iter().filter(given).collect();
    // What is made already is not proposed for change.
    if !gone.iter().all(|key| trials.may_change(key)) {
        return Vec::new();
    }
    let step = |i: i64| {
        let mut edits: Edits = gone
            .iter()
            .map(|key| ((*key).to_owned(), Value::Null))
            .collect();
        let (min, max) = (hundredths(-5 * i), hundredths(10 * i));
        let range = json!({ "min": number(min), "max": number(max) });
        edits.push(("gears.profile_shift".to_owned(), range));
        if crate::problem::get(trials.text, "gears.cutting") == Some(json!("form")) {
            edits.push(("gears.cutting".to_owned(), json!("generated")));
        }
        Step {
            axis: Axis::ShiftInstead,
            edits,
            now: None,
            to: max,
        }
    };
    (1..=RANGES).map(step).collect()
}

/// One end of the range of shift, further out.
fn shift(trials: &Trials<'_>, axis: Axis) -> Vec<Step> {
    let Closing::Shift { min, max } = trials.problem.gears().closing() else {
        return Vec::new();
    };
    let (key, now, far, by) = match axis {
        Axis::ShiftMax => ("gears.profile_shift.max", max, MOST_SHIFT, SHIFT_STEP),
        _ => ("gears.profile_shift.min", min, LEAST_SHIFT, -SHIFT_STEP),
    };
    let mut places: Vec<i64> = (LEAST_SHIFT / SHIFT_STEP..=MOST_SHIFT / SHIFT_STEP)
        .map(|i| i * SHIFT_STEP)
        .filter(|&to| (hundredths(to) > now) == (by > 0) && hundredths(to) != now)
        .collect();
    if by < 0 {
        places.reverse();
    }
    debug_assert!(places.last().is_none_or(|&last| last == far));
    places
        .into_iter()
        .map(|to| Step::of(axis, key, Some(now), hundredths(to)))
        .collect()
}

/// A hob or rack tool in place of form cutters.
fn cutting(trials: &Trials<'_>) -> Vec<Step> {
    if trials.problem.gears().cutting() != Cutting::Form {
        return Vec::new();
    }
    vec![Step {
        axis: Axis::Cutting,
        edits: vec![("gears.cutting".to_owned(), json!("generated"))],
        now: None,
        to: Decimal::whole(1),
    }]
}

/// Thinner walls, by tenths of a millimetre.
fn wall(trials: &Trials<'_>) -> Vec<Step> {
    if !trials.problem.bores().any() {
        return Vec::new();
    }
    let now = trials.problem.limits().min_wall();
    tenths_below(Axis::Wall, "limits.min_wall_mm", now, 0)
}

/// A pin held next to the reverse gears, where it passes others.
pub(super) fn held_nearer(trials: &Trials<'_>) -> Option<Step> {
    let to = json!(HeldIn::OutputWall.word());
    let passed = trials.problem.passed_by_pin();
    passed
        .filter(|_| trials.may_change("idler.held_in"))
        .map(|_| Step {
            axis: Axis::HeldIn,
            edits: vec![("idler.held_in".to_owned(), to)],
            now: None,
            to: Decimal::whole(1),
        })
}

/// More room for the idler: less metal at its pin's hole, a thinner pin, less
/// of a gap.
pub(super) fn room(trials: &Trials<'_>) -> Vec<Vec<Step>> {
    let demanded = trials.problem.wants_clear_place();
    let Some(pin) = trials.problem.idler_pin().filter(|_| demanded) else {
        return Vec::new();
    };
    vec![
        tenths_below(Axis::PinWall, "idler.min_wall_mm", pin.min_wall(), 0),
        tenths_below(Axis::Pin, "idler.pin_mm", pin.pin(), LEAST_PIN),
        tenths_below(Axis::IdlerGap, "idler.gap_mm", pin.gap(), 0),
    ]
}

/// Gears that the workshop cannot make as it stands.
pub(super) fn workshop(trials: &Trials<'_>) -> Vec<Vec<Step>> {
    let workshop = trials.problem.workshop();
    vec![
        flag(
            Axis::AnyDividing,
            "workshop.only_dividable",
            workshop.only_dividable(),
            false,
        ),
        flag(
            Axis::AnyCutter,
            "workshop.only_owned_cutters",
            workshop.only_owned_cutters(),
            false,
        ),
    ]
}

/// Every tenth of a millimetre below a length, down to `least` tenths.
fn tenths_below(axis: Axis, key: &str, now: Length, least: i64) -> Vec<Step> {
    let tenths = now.steps().div_euclid(crate::problem::HUNDREDTH * 10);
    let exact = tenths * 10 * crate::problem::HUNDREDTH == now.steps();
    let most = if exact { tenths - 1 } else { tenths };
    let own = super::gears::millimetres(now);
    (least..=most)
        .rev()
        .map(|to| Step::of(axis, key, own, hundredths(10 * to)))
        .collect()
}

/// A limit that falls by hundredths.
fn falling(trials: &Trials<'_>, axis: Axis) -> Vec<Step> {
    let limits = trials.problem.limits();
    let (key, now, least) = match axis {
        Axis::ContactRatio => (
            "limits.min_contact_ratio",
            limits.min_contact_ratio(),
            LEAST_CONTACT,
        ),
        _ => (
            "limits.min_tip_thickness",
            limits.min_tip_thickness(),
            LEAST_TIP,
        ),
    };
    let below = (now.millionths() - 1).div_euclid(10_000);
    (least..=below)
        .rev()
        .map(|to| Step::of(axis, key, Some(now), hundredths(to)))
        .collect()
}

/// A switch, where it does not stand so already.
fn flag(axis: Axis, key: &str, now: bool, to: bool) -> Vec<Step> {
    if now == to {
        return Vec::new();
    }
    vec![Step {
        axis,
        edits: vec![(key.to_owned(), json!(to))],
        now: None,
        to: Decimal::whole(i64::from(to)),
    }]
}

/// Fewer teeth on a gear whose role asks for more than all gears do.
fn least_teeth(trials: &Trials<'_>) -> Vec<Vec<Step>> {
    let shared = trials.problem.gears().min_teeth().get();
    let places = trials.problem.speeds().iter().enumerate();
    let speeds = places.filter(|(_, speed)| speed.geared().is_some());
    let mut roles = Vec::new();
    if trials.problem.head().is_some() {
        roles.push(("head".to_owned(), trials.problem.head_seating()));
    }
    let names = speeds.map(|(i, _)| format!("speeds[{i}]"));
    roles.extend(names.zip(trials.problem.speed_seatings()));
    if trials.problem.reverse().is_some() {
        roles.push(("reverse".to_owned(), trials.problem.reverse_seating()));
    }
    let mut all = Vec::new();
    for (role, seating) in roles {
        let [driver, driven] = seating.least.map(crate::base::Teeth::get);
        for (name, now) in [("min_driver_teeth", driver), ("min_driven_teeth", driven)] {
            let key = format!("{role}.{name}");
            let fewer = (shared..now).rev();
            all.push(
                fewer
                    .map(|to| Step::teeth(Axis::RoleTeeth, &key, now, to))
                    .collect(),
            );
        }
    }
    all
}

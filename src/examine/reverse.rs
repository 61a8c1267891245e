//! The reverse gears: whether their tips pass each other, whether the idler has
//! a place.

use super::Examined;
use super::finding::{Amount, Finding};
use crate::base::{LENGTH_SLACK_MM, plain};
use crate::design::idler::{Refused, Why};
use crate::problem::{ReverseForm, Side};
use crate::train::{ReverseGears, reverse_lengths};

pub(super) fn findings(examined: &Examined<'_>) -> Vec<Finding> {
    let Some(gears) = examined.set.reverse else {
        return Vec::new();
    };
    let mut found: Vec<Finding> = tips(examined, gears).into_iter().collect();
    match no_place(examined, gears) {
        Some(none) => found.push(none),
        None => found.extend(no_clear_place(examined)),
    }
    found
}

/// Whether tips that must pass each other do not.
pub(super) fn tips_foul(examined: &Examined<'_>) -> bool {
    examined
        .set
        .reverse
        .is_some_and(|gears| tips(examined, gears).is_some())
}

/// Tips that do not pass each other.
fn tips(examined: &Examined<'_>, gears: ReverseGears) -> Option<Finding> {
    let gap_mm = examined.figures.reverse.as_ref()?.tip_gap_mm;
    let least = examined.problem.reverse()?.clearance();
    if gap_mm >= least.mm() - LENGTH_SLACK_MM {
        return None;
    }
    let shares = examined.problem.reverse_form() == Some(ReverseForm::SharedDriver);
    let who = if shares {
        "the tips of the idler and those of the gear beside it".to_owned()
    } else {
        format!(
            "the tips of driver and driven gear ({} and {} teeth)",
            gears.driver, gears.driven
        )
    };
    let how = if gap_mm < -LENGTH_SLACK_MM {
        format!("overlap by {} mm", plain(-gap_mm, 2))
    } else if gap_mm <= LENGTH_SLACK_MM {
        "touch: gap 0.00 mm".to_owned()
    } else {
        format!("pass with {} mm", plain(gap_mm, 2))
    };
    let a = plain(examined.set.centre_distance.mm(), 3);
    let what = format!("{who} {how} on shafts {a} mm apart, and {least} mm is the least");
    let next = "take teeth off one of the two, or stand them in planes of their own \
                (reverse.form \"shared-driver\"); before that do not turn the box";
    let by = Amount::mm(least.mm() - gap_mm);
    Some(Finding::fault("tip_gap", "reverse".to_owned(), what, next.to_owned()).by(by))
}

/// An idler that does not close off the line of centres.
fn no_place(examined: &Examined<'_>, gears: ReverseGears) -> Option<Finding> {
    let a = examined.set.centre_distance.mm();
    let ([driver, driven], _) = reverse_lengths(examined.problem, gears);
    let (short, flat) = (a - driver - driven, (driver - driven).abs() - a);
    if short < -LENGTH_SLACK_MM && flat < -LENGTH_SLACK_MM {
        return None;
    }
    let why = if short >= flat {
        Why::Short(short)
    } else {
        Why::Flat(flat)
    };
    let what = format!(
        "the idler of {} teeth has no place: {}; it meshes {} mm from the driver and {} mm from \
         the driven gear, and the shafts are {} mm apart",
        gears.idler,
        why.words(&examined.plan.gearbox),
        plain(driver, 3),
        plain(driven, 3),
        plain(a, 3),
    );
    let next = match why {
        Why::Short(_) => "count its teeth again; a larger idler reaches",
        _ => "count the teeth again; driver and driven gear must be nearer to each other in size",
    };
    let found = Finding::fault("idler_place", "reverse".to_owned(), what, next.to_owned());
    Some(found.by(Amount::mm(short.max(flat))))
}

/// An idler that something is in the way of on either side.
fn no_clear_place(examined: &Examined<'_>) -> Option<Finding> {
    let study = examined.plan.idler.as_ref()?;
    if !study.places.is_empty() {
        return None;
    }
    let on_side = |refused: &Refused| {
        // What keeps the whole box from going together is told with it.
        let own = refused.why.iter().filter(|why| !matches!(why, Why::Box(_)));
        let own: Vec<String> = own.map(|why| why.words(&examined.plan.gearbox)).collect();
        let side = refused.side.map_or("either side", Side::word);
        (!own.is_empty()).then(|| format!("{side}: {}", own.join(", ")))
    };
    let sides: Vec<String> = study.refused.iter().filter_map(on_side).collect();
    // Clear of everything of its own on one side is enough.
    if sides.len() < study.refused.len() || sides.is_empty() {
        return None;
    }
    let what = format!("the idler has no clear place; {}", sides.join("; "));
    let next = "measure pin, bearings and case where it sits; layshaft idler tells other counts";
    let place = "reverse".to_owned();
    Some(Finding::fault("idler_room", place, what, next.to_owned()))
}

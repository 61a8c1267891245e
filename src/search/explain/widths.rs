//! Wider gears: a wider gear carries more, so that no set is lost by it.

use super::gears::millimetres;
use super::trial::{Trials, hundredths, number};
use super::way::{Axis, Step};
use crate::base::Length;
use crate::problem::{FaceWidth, get};
use crate::rating::Rater;
use serde_json::json;

/// Widths given are tried in steps of so many hundredths of a millimetre.
const WIDTH_STEP: i64 = 50;
/// Widths grow to no more than so many times what they are.
const WIDEST: i64 = 3;

/// Wider gears; where widths follow from the load, more than may be given.
pub(super) fn widths(trials: &Trials<'_>) -> Vec<Step> {
    match trials.problem.gears().face() {
        FaceWidth::Given(now) => {
            let key = "gears.face_width_mm";
            let at = |to| Step::of(Axis::FaceWidth, key, millimetres(now), hundredths(to));
            let grid = WIDTH_STEP * crate::problem::HUNDREDTH;
            let (first, last) = (now.steps() / grid + 1, WIDEST * now.steps() / grid);
            let free = trials.may_change(key);
            let all = (first..=last).filter(|_| free);
            all.map(|i| at(WIDTH_STEP * i)).collect()
        }
        FaceWidth::Auto { step, least, most } => {
            let range = (step, least);
            let now = most.or_else(|| usual_most(trials));
            now.map_or_else(Vec::new, |now| wider_ranges(trials, range, now))
        }
    }
}

/// The most that widths may be where the file does not say: that of the coarsest
/// module, so that no gear gets less.
fn usual_most(trials: &Trials<'_>) -> Option<Length> {
    let rater = Rater::of(trials.problem)?;
    let module = trials.problem.gears().modules().last()?;
    let widths = rater.widths(*module).ok()?;
    Some(widths.wide(widths.most))
}

/// Ranges of width that reach further, in steps of their own.
fn wider_ranges(
    trials: &Trials<'_>,
    (step, least): (Length, Option<Length>),
    now: Length,
) -> Vec<Step> {
    let key = "gears.face_width_range_mm";
    if !trials.may_change(key) || !trials.may_change(&format!("{key}.max")) {
        return Vec::new();
    }
    // A range in inches is set as a whole.
    let in_inches = get(trials.text, "gears.face_width_range_in").is_some();
    let at = |i: i64| {
        let to = millimetres(Length::from_steps(step.steps().saturating_mul(i)))?;
        let mut wider = Step::of(Axis::MostWidth, &format!("{key}.max"), millimetres(now), to);
        if in_inches {
            let mut range = json!({ "step": number(millimetres(step)?), "max": number(to) });
            if let Some(least) = least {
                range["min"] = number(millimetres(least)?);
            }
            wider.edits = vec![(key.to_owned(), range)];
        }
        Some(wider)
    };
    let unit = step.steps().max(1);
    let (first, last) = (now.steps() / unit + 1, WIDEST * now.steps() / unit);
    (first..=last).filter_map(at).collect()
}

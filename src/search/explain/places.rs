//! The least changes of where the shafts lie, and of the helix that closes them.

use super::gears::millimetres;
use super::trial::{Trials, has_a_set, holds_at};
use super::view::{Ratios, Wanted, admits};
use super::way::{Axis, Step};
use crate::base::{Decimal, Length};
use crate::problem::{CentreDistances, GearLimit, HUNDREDTH};

/// Distances tried at most, the nearest first.
const MOST_DISTANCES: usize = 20_000;
/// An eccentric bush moves a shaft by no more, mm.
const MOST_BUSH: f64 = 1.0;
/// Steepest helix proposed, degrees.
const STEEPEST_DEG: f64 = 30.0;
/// Distances whose helix angles are tried, and angles tried, at most.
const MOST_HELIX_DISTANCES: usize = 100;
const MOST_ANGLES: usize = 3000;

/// The nearest distance on the grid of hundredths that opens the problem: as
/// other centres, or in a case that is bored by a bush.
pub(super) fn centres(trials: &Trials<'_>) -> Option<Step> {
    let given = trials.problem.centre_distances();
    let near = near(trials);
    let (wanted, ratios) = (Wanted::of(trials.problem), Ratios::of(trials.problem));
    let opens = |a| admits(trials.problem, &wanted, &ratios, a);
    let holds = |a| holds_at(trials.problem, a, trials.control);
    let to = trials.nearest_of(&near, opens, holds)?;
    let nearest = nearest(given, to);
    let key = "centre_distance_mm";
    let axis = if trials.may_change(key) {
        Axis::Centres
    } else if nearest.mm() - to.mm() <= MOST_BUSH && to.mm() - nearest.mm() <= MOST_BUSH {
        Axis::Bush
    } else {
        return None;
    };
    let now = if given.len() == 1 {
        millimetres(given.at(0))
    } else {
        None
    };
    Some(Step::of(axis, key, now, millimetres(to)?))
}

/// Hundredths around the distances given, without these; the nearest first, of
/// two as near the shorter.
fn near(trials: &Trials<'_>) -> Vec<Length> {
    let given = trials.problem.centre_distances();
    let wide = trials.problem.clone().without(GearLimit::Centres);
    let off = |a: &Length| (nearest(given, *a).steps() - a.steps()).abs();
    let mut all: Vec<Length> = wide.centre_distances().iter().collect();
    all.retain(|a| off(a) > 0);
    all.sort_by_key(|a| (off(a), *a));
    all.truncate(MOST_DISTANCES);
    all
}

/// The given distance nearest to `a`.
fn nearest(given: &CentreDistances, a: Length) -> Length {
    let first = given.at(0);
    let step = given.step().steps().max(1);
    let last = i64::try_from(given.len() - 1).unwrap_or(i64::MAX);
    let place = (a.steps() - first.steps() + step / 2).div_euclid(step);
    given.at(usize::try_from(place.clamp(0, last)).unwrap_or(0))
}

/// The smallest change of the helix angle with which some tooth sum spans a
/// distance exactly and the problem has a set; in thousandths of a degree.
pub(super) fn helix(trials: &Trials<'_>) -> Option<Step> {
    let key = "gears.helix_angle_deg";
    if !trials.may_change(key) {
        return None;
    }
    let now = trials.problem.gears().helix_angle_deg();
    let mut angles: Vec<i64> = angles(trials);
    #[allow(
        clippy::cast_possible_truncation,
        reason = "an angle below 45 degrees in thousandths"
    )]
    let own = (now * 1000.0).round() as i64;
    angles.retain(|&angle| angle != own);
    angles.sort_by_key(|angle| ((angle - own).abs(), *angle));
    angles.dedup();
    angles.truncate(MOST_ANGLES);
    let step = |angle: i64| {
        let to = Decimal::from_millionths(angle * 1000);
        Step::of(Axis::Helix, key, Decimal::nearest(now), to)
    };
    let admits = |angle| {
        let turned = trials.with(&step(angle).edits);
        turned.is_some_and(|turned| has_a_set(&turned.unrated(), trials.control))
    };
    let holds = |angle| trials.opens(&step(angle).edits);
    trials.nearest_of(&angles, admits, holds).map(step)
}

/// Angles at which a tooth sum spans a distance exactly, to a thousandth of a
/// degree: cos β = m (z₁ + z₂) / (2 a).
fn angles(trials: &Trials<'_>) -> Vec<i64> {
    let gears = trials.problem.gears();
    let (min, max) = (2 * gears.min_teeth().get(), 2 * gears.max_teeth().get());
    let mut all = Vec::new();
    let steepest = STEEPEST_DEG.to_radians().cos();
    for a in trials
        .problem
        .centre_distances()
        .iter()
        .take(MOST_HELIX_DISTANCES)
    {
        for module in gears.modules() {
            let per_tooth = module.mm() / (2.0 * a.mm());
            for sum in min..=max {
                let cos = per_tooth * f64::from(sum);
                if cos > 1.0 + 1e-12 {
                    break;
                }
                if cos >= steepest {
                    #[allow(
                        clippy::cast_possible_truncation,
                        reason = "an angle below 45 degrees in thousandths"
                    )]
                    all.push((cos.min(1.0).acos().to_degrees() * 1000.0).round() as i64);
                }
            }
        }
    }
    all
}

/// One tooth more or less in the sum, for a problem that has sets.
pub(super) fn next_centres(trials: &Trials<'_>) -> Vec<Step> {
    let given = trials.problem.centre_distances();
    let key = "centre_distance_mm";
    let module = trials.problem.gears().modules().first();
    let (Some(module), true) = (module, given.len() == 1 && trials.may_change(key)) else {
        return Vec::new();
    };
    #[allow(
        clippy::cast_possible_truncation,
        reason = "half a module in hundredths of a millimetre"
    )]
    let half = (module.mm() * 50.0).round() as i64 * HUNDREDTH;
    let at = given.at(0).steps();
    [at - half, at + half]
        .into_iter()
        .filter(|&to| half > 0 && to > 0)
        .filter_map(|to| {
            let to = millimetres(Length::from_steps(to))?;
            let now = millimetres(given.at(0));
            Some(Step::of(Axis::Centres, key, now, to))
        })
        .collect()
}

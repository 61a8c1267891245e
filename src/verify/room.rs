//! The clear place of the reverse idler, from its coordinates.

use super::breach::Breach;
use crate::base::LENGTH_SLACK_MM;
use crate::problem::{Arrangement, HeldIn, Problem, Shaft, Side};

/// Places agree to this, mm.
const SLACK_MM: f64 = 2.0 * LENGTH_SLACK_MM;

/// That the idler is clear on some side that the problem allows; `to_idler` are
/// its distances from driver and driven gear, mm.
pub(super) fn check(
    problem: &Problem,
    centres_mm: f64,
    to_idler: [f64; 2],
    tip_mm: f64,
    breaches: &mut Vec<Breach>,
) {
    let Some(pin) = problem.idler_pin().filter(|pin| pin.clear_place()) else {
        return;
    };
    let in_line = problem.arrangement() == Arrangement::InLine;
    let [driver, driven] = to_idler;
    let (upper, lower) = if in_line {
        (driven, driver)
    } else {
        (driver, driven)
    };
    // Law of cosines at the upper shaft.
    let turn =
        (upper * upper + centres_mm * centres_mm - lower * lower) / (2.0 * upper * centres_mm);
    let (x, y) = (upper * turn.acos().sin(), -upper * turn);
    let tight = |side: Side| tightest(problem, centres_mm, (x, y), tip_mm, side);
    let mut sides = Side::BOTH.into_iter().filter(|side| pin.may_sit(*side));
    if !sides.any(|side| tight(side) >= -SLACK_MM) {
        breaches.push(Breach::IdlerRoom {
            short_mm: -Side::BOTH
                .map(tight)
                .into_iter()
                .fold(f64::NEG_INFINITY, f64::max),
        });
    }
}

/// By how much the narrowest gap on that side exceeds what is asked, mm.
fn tightest(
    problem: &Problem,
    centres_mm: f64,
    (x, y): (f64, f64),
    tip_mm: f64,
    side: Side,
) -> f64 {
    let Some(pin) = problem.idler_pin() else {
        return f64::INFINITY;
    };
    let in_line = problem.arrangement() == Arrangement::InLine;
    let axis = |shaft| match shaft {
        Shaft::Layshaft | Shaft::Output => -centres_mm,
        _ => 0.0,
    };
    let from = |shaft| f64::hypot(x, y - axis(shaft));
    let mut least = pin.case(side).map_or(f64::INFINITY, |inside| {
        inside.mm() - x - tip_mm - pin.gap().mm()
    });
    let beside = if in_line {
        [Shaft::Main, Shaft::Layshaft]
    } else {
        [Shaft::Input, Shaft::Output]
    };
    for shaft in beside {
        if let Some(size) = problem.shafting().of(shaft) {
            let gap = from(shaft) - tip_mm - size.diameter().mm() / 2.0;
            least = least.min(gap - pin.gap().mm());
        }
    }
    for shaft in [Shaft::Input, Shaft::Layshaft, Shaft::Main, Shaft::Output] {
        let walls = match (shaft, in_line) {
            (Shaft::Input, true) => [true, false],
            (Shaft::Main, _) => [false, true],
            _ => [true, true],
        };
        let shares = match pin.held_in() {
            HeldIn::InputWall => walls[0],
            HeldIn::OutputWall => walls[1],
            HeldIn::BothWalls => true,
        };
        let bearing = problem.shafting().of(shaft).and_then(|size| size.bearing());
        if let Some(bearing) = bearing.filter(|_| shares) {
            let wall = from(shaft) - f64::midpoint(pin.pin().mm(), bearing.outside().mm());
            least = least.min(wall - pin.min_wall().mm());
        }
    }
    least
}

//! Whether an idler has a clear place, by looking at each thing near it.

use crate::base::LENGTH_SLACK_MM;
use crate::problem::{Arrangement, HeldIn, Problem, Shaft, Side};

/// Whether the idler at these distances from driver and driven gear (mm), its
/// tips so far out, is clear on a side that the problem allows.
pub(super) fn is_clear(
    problem: &Problem,
    centres_mm: f64,
    [driver, driven]: [f64; 2],
    tip_mm: f64,
) -> bool {
    let Some(pin) = problem.idler_pin() else {
        return true;
    };
    let (radius, gap, wall) = (pin.pin().mm() / 2.0, pin.gap().mm(), pin.min_wall().mm());
    let size = |shaft| problem.shafting().of(shaft);
    let thick = |shaft| size(shaft).map(|s| s.diameter().mm() / 2.0);
    let hole = |shaft| Some(size(shaft)?.bearing()?.outside().mm() / 2.0);
    let (input, output) = (
        pin.held_in() != HeldIn::OutputWall,
        pin.held_in() != HeldIn::InputWall,
    );
    // Every shaft or hole near the idler: how far its axis is from the idler's,
    // its radius, and what it must keep clear of.
    let near: Vec<(f64, Option<f64>, f64)> = match problem.arrangement() {
        Arrangement::InLine => vec![
            (driven, thick(Shaft::Main), tip_mm + gap),
            (driver, thick(Shaft::Layshaft), tip_mm + gap),
            (driven, hole(Shaft::Main).filter(|_| output), radius + wall),
            (driven, hole(Shaft::Input).filter(|_| input), radius + wall),
            (driver, hole(Shaft::Layshaft), radius + wall),
        ],
        Arrangement::Offset => vec![
            (driver, thick(Shaft::Input), tip_mm + gap),
            (driven, thick(Shaft::Output), tip_mm + gap),
            (driver, hole(Shaft::Input), radius + wall),
            (driven, hole(Shaft::Output), radius + wall),
        ],
    };
    let clear = near.iter().all(|(apart, round, least)| {
        round.is_none_or(|round| apart - round >= least - LENGTH_SLACK_MM)
    });
    // Twice the area of the triangle of the three axes, over its base.
    let half = (centres_mm + driver + driven) / 2.0;
    let area = (half * (half - centres_mm) * (half - driver) * (half - driven)).sqrt();
    let out = 2.0 * area / centres_mm + tip_mm + gap;
    let inside = |side| {
        pin.case(side)
            .is_none_or(|case| out <= case.mm() + LENGTH_SLACK_MM)
    };
    clear
        && Side::BOTH
            .into_iter()
            .any(|side| pin.may_sit(side) && inside(side))
}

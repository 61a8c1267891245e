//! How every gear of a set is made.

use super::{Pair, ReverseGears, Set};
use crate::involute::GearSize;
use crate::making::{Form, ReverseForms, Rules};
use crate::problem::{Problem, Seating};

/// A form for each gear of `set`, in the order of [`Set::gears`]. All are plain
/// where the problem judges nothing, and where a limit refuses the gears: then
/// they are in no list, and [`verify`](crate::verify) says why.
pub fn forms_of(problem: &Problem, set: &Set) -> Vec<Form> {
    let Some(rules) = Rules::of(problem) else {
        return vec![Form::PLAIN; set.gears().count()];
    };
    let of = |pair: &Pair, seating: &Seating| {
        let (module, teeth) = (pair.module.of(problem), [pair.driver, pair.driven]);
        let made = rules.pair(module, teeth, seating.holes, set.centre_distance);
        made.unwrap_or_default()
    };
    let head = set.head.map(|pair| of(&pair, &problem.head_seating()));
    let seatings = problem.speed_seatings();
    let speeds = set
        .pairs
        .iter()
        .zip(seatings)
        .map(|(p, seating)| of(p, &seating));
    let reverse = set.reverse.map(|gears| reverse_of(&rules, problem, gears));
    let pairs = head.into_iter().chain(speeds).flatten();
    let reverse = reverse.into_iter();
    pairs
        .chain(reverse.flat_map(|made| made.map_or([Form::PLAIN; 3], |made| made.forms)))
        .collect()
}

/// How the reverse gears are made; none where a limit refuses them.
pub(super) fn reverse_of(
    rules: &Rules,
    problem: &Problem,
    gears: ReverseGears,
) -> Option<ReverseForms> {
    let teeth = [gears.driver, gears.idler, gears.driven];
    rules.reverse(problem, gears.module.of(problem), teeth).ok()
}

/// The idler's distances from driver and driven gear, and the tip radii of
/// these, mm.
pub fn reverse_lengths(problem: &Problem, gears: ReverseGears) -> ([f64; 2], [f64; 2]) {
    let made = Rules::of(problem).and_then(|rules| reverse_of(&rules, problem, gears));
    if let Some(made) = made {
        return (made.centres_mm, made.tips_mm);
    }
    let shared = problem.gears();
    let beta = shared.helix_angle_deg().to_radians();
    let module = gears.module.of(problem);
    let size = |teeth| GearSize::new(shared.rack(), module, teeth, beta);
    let (driver, idler, driven) = (size(gears.driver), size(gears.idler), size(gears.driven));
    let centres = [
        f64::midpoint(driver.pitch_mm, idler.pitch_mm),
        f64::midpoint(idler.pitch_mm, driven.pitch_mm),
    ];
    (centres, [driver.tip_mm / 2.0, driven.tip_mm / 2.0])
}

//! The make-up of a set and its pairs.

use super::breach::{Breach, Gear, Role};
use super::exact::Fraction;
use super::ruler::Ruler;
use crate::base::{LENGTH_SLACK_MM, Length, Module, Teeth};
use crate::problem::{Closing, CutPair, Geared, Problem};
use crate::train::{Pair, Set};
use std::cmp::Ordering;

/// Whether the set has the parts that the problem asks for, of known modules.
pub(super) fn structure(problem: &Problem, set: &Set) -> Vec<Breach> {
    let mut breaches = Vec::new();
    let centres = set.centre_distance;
    if !is_listed(problem, centres) {
        breaches.push(Breach::CentreDistance { centres });
    }
    match (problem.head(), set.head) {
        (Some(_), None) => breaches.push(Breach::HeadMissing),
        (None, Some(_)) => breaches.push(Breach::HeadUnwanted),
        _ => {}
    }
    let (found, wanted) = (set.pairs.len(), problem.geared().count());
    if found != wanted {
        breaches.push(Breach::PairCount { found, wanted });
    }
    match (problem.reverse(), set.reverse) {
        (Some(_), None) => breaches.push(Breach::ReverseMissing),
        (None, Some(_)) => breaches.push(Breach::ReverseUnwanted),
        _ => {}
    }
    unknown_modules(problem, set, &mut breaches);
    breaches
}

fn is_listed(problem: &Problem, centres: Length) -> bool {
    problem
        .centre_distances()
        .iter()
        .any(|listed| listed == centres)
}

fn unknown_modules(problem: &Problem, set: &Set, breaches: &mut Vec<Breach>) {
    let listed = problem.gears().modules().len();
    let head = set.head.map(|pair| (Role::Head, pair.module));
    let names = geared(problem).map(|(role, _)| role);
    let speeds = names
        .zip(&set.pairs)
        .map(|(role, pair)| (role, pair.module));
    let reverse = set.reverse.map(|gears| (Role::Reverse, gears.module));
    for (role, module) in head.into_iter().chain(speeds).chain(reverse) {
        let place = module.index();
        if place >= listed {
            breaches.push(Breach::Module {
                role,
                place,
                listed,
            });
        }
    }
}

/// The geared speeds, by name.
pub(super) fn geared(problem: &Problem) -> impl Iterator<Item = (Role, &Geared)> {
    let speeds = problem.speeds().iter();
    speeds.filter_map(|speed| Some((Role::Speed(speed.name().to_owned()), speed.geared()?)))
}

/// Head and speeds: limits, centres, ratios, gears already cut.
pub(super) fn pairs(problem: &Problem, set: &Set, breaches: &mut Vec<Breach>) {
    let centres = set.centre_distance;
    if let (Some(wanted), Some(pair)) = (problem.head(), set.head) {
        let least = problem.head_seating().least;
        check_pair(problem, Role::Head, pair, (centres, least), breaches);
        check_cut(problem, Role::Head, pair, wanted.cut(), breaches);
        let ratio = Fraction::of_pair(pair);
        let (min, max) = (wanted.min(), wanted.max());
        let against = |end| ratio.compare(Fraction::of_decimal(end));
        if min.is_some_and(|min| against(min) == Ordering::Less)
            || max.is_some_and(|max| against(max) == Ordering::Greater)
        {
            breaches.push(Breach::HeadRatio {
                ratio: ratio.to_f64(),
                min,
                max,
            });
        }
    }
    let head = set.head.map_or(Fraction::ONE, Fraction::of_pair);
    let roles = geared(problem).zip(problem.speed_seatings());
    for (((role, wanted), seating), &pair) in roles.zip(&set.pairs) {
        let bounds = (centres, seating.least);
        check_pair(problem, role.clone(), pair, bounds, breaches);
        check_cut(problem, role.clone(), pair, wanted.cut(), breaches);
        let ratio = head.times(Fraction::of_pair(pair));
        let (target, tolerance_percent) = (wanted.target(), wanted.tolerance_percent());
        if !ratio.is_within(target, tolerance_percent) {
            let ratio = ratio.to_f64();
            breaches.push(Breach::Ratio {
                role,
                ratio,
                target,
                tolerance_percent,
            });
        }
    }
}

fn check_pair(
    problem: &Problem,
    role: Role,
    pair: Pair,
    (centres, least): (Length, [Teeth; 2]),
    breaches: &mut Vec<Breach>,
) {
    let gears = problem.gears();
    let seats = [(Gear::Driver, pair.driver), (Gear::Driven, pair.driven)];
    for ((gear, teeth), least) in seats.into_iter().zip(least) {
        check_teeth(&role, gear, teeth, (least, gears.max_teeth()), breaches);
    }
    let ruler = Ruler::new(gears, pair.module.of(problem));
    match gears.closing() {
        Closing::Tolerance(tolerance) => {
            let sum = pair.driver.get() + pair.driven.get();
            let off = ruler.half_beyond_mm(sum, 0, centres).abs();
            if off > tolerance.mm() + LENGTH_SLACK_MM {
                let standard_mm = ruler.half_mm(sum, 0);
                breaches.push(Breach::Centres {
                    role,
                    standard_mm,
                    centres,
                    tolerance,
                });
            }
        }
        // How they close is for the figures, which carry the shifts.
        Closing::Shift { .. } => {}
        Closing::Backlash { min, max } => {
            let thinning = gears.max_thinning();
            let backlash_mm = ruler.backlash_mm(pair.driver, pair.driven, centres);
            let closes = backlash_mm.is_some_and(|backlash| {
                backlash <= max.mm() + LENGTH_SLACK_MM
                    && backlash + 2.0 * thinning.mm() >= min.mm() - LENGTH_SLACK_MM
            });
            if !closes {
                breaches.push(Breach::Backlash {
                    role,
                    backlash_mm,
                    min,
                    max,
                    thinning,
                });
            }
        }
    }
}

/// Whether a tooth count lies in its limits, both allowed.
pub(super) fn check_teeth(
    role: &Role,
    gear: Gear,
    teeth: Teeth,
    (min, max): (Teeth, Teeth),
    breaches: &mut Vec<Breach>,
) {
    if teeth < min || teeth > max {
        breaches.push(Breach::Teeth {
            role: role.clone(),
            gear,
            teeth,
            min,
            max,
        });
    }
}

fn check_cut(
    problem: &Problem,
    role: Role,
    pair: Pair,
    cut: Option<CutPair>,
    breaches: &mut Vec<Breach>,
) {
    let Some(cut) = cut else { return };
    let module = pair.module.of(problem);
    let same_module = cut.module.is_none_or(|cut| cut == module);
    if (pair.driver, pair.driven) != (cut.driver, cut.driven) || !same_module {
        let found = named(&[pair.driver, pair.driven], Some(module));
        let cut = named(&[cut.driver, cut.driven], cut.module);
        breaches.push(Breach::AsCut { role, found, cut });
    }
}

/// Teeth and module as text: "14/26 of module 1".
pub(super) fn named(teeth: &[Teeth], module: Option<Module>) -> String {
    let counts: Vec<String> = teeth.iter().map(ToString::to_string).collect();
    let counts = counts.join("/");
    module.map_or(counts.clone(), |module| {
        format!("{counts} of module {}", module.mm())
    })
}

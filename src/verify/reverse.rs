//! The reverse gears.

use super::breach::{Breach, Gear, Role};
use super::claims::{check_teeth, named};
use super::exact::Fraction;
use super::room;
use super::ruler::Ruler;
use crate::base::{LENGTH_SLACK_MM, Length};
use crate::problem::{Problem, Reverse, ReverseForm};
use crate::train::{Pair, ReverseGears, Set};

/// Limits, ratio, gears already cut, the gap between the tips, the idler.
pub(super) fn check(problem: &Problem, set: &Set, breaches: &mut Vec<Breach>) {
    let (Some(wanted), Some(gears)) = (problem.reverse(), set.reverse) else {
        return;
    };
    check_limits(problem, wanted, gears, breaches);
    let (target, tolerance_percent) = (wanted.target(), wanted.tolerance_percent());
    let ratio = size_of_ratio(set, gears);
    if !ratio.is_within(target, tolerance_percent) {
        let (role, ratio) = (Role::Reverse, ratio.to_f64());
        breaches.push(Breach::Ratio {
            role,
            ratio,
            target,
            tolerance_percent,
        });
    }
    check_cut(problem, wanted, gears, breaches);
    check_shared(problem, set, gears, breaches);
    // Of gears under limits the figures carry what places them.
    if !problem.judges() {
        check_places(problem, wanted, set, gears, breaches);
    }
}

/// |reverse ratio|: head · driven / driver. The idler cancels out.
pub(super) fn size_of_ratio(set: &Set, gears: ReverseGears) -> Fraction {
    let head = set.head.map_or(Fraction::ONE, Fraction::of_pair);
    let ReverseGears {
        module,
        driver,
        driven,
        ..
    } = gears;
    head.times(Fraction::of_pair(Pair {
        module,
        driver,
        driven,
    }))
}

fn check_limits(
    problem: &Problem,
    wanted: &Reverse,
    gears: ReverseGears,
    breaches: &mut Vec<Breach>,
) {
    let [driver, driven] = problem.reverse_seating().least;
    let most = problem.gears().max_teeth();
    let idler = (wanted.idler_min(), wanted.idler_max());
    check_teeth(
        &Role::Reverse,
        Gear::Driver,
        gears.driver,
        (driver, most),
        breaches,
    );
    check_teeth(&Role::Reverse, Gear::Idler, gears.idler, idler, breaches);
    check_teeth(
        &Role::Reverse,
        Gear::Driven,
        gears.driven,
        (driven, most),
        breaches,
    );
}

fn check_cut(problem: &Problem, wanted: &Reverse, gears: ReverseGears, breaches: &mut Vec<Breach>) {
    let Some(cut) = wanted.cut() else { return };
    let module = gears.module.of(problem);
    let found = [gears.driver, gears.idler, gears.driven];
    let teeth = [cut.driver, cut.idler, cut.driven];
    if found != teeth || cut.module.is_some_and(|cut| cut != module) {
        let (found, cut) = (named(&found, Some(module)), named(&teeth, cut.module));
        breaches.push(Breach::AsCut {
            role: Role::Reverse,
            found,
            cut,
        });
    }
}

/// The geared speed whose driving gear is the driver of reverse: its place among
/// the geared ones, and its name. The targets sorted, the largest first.
pub(super) fn shared_with(problem: &Problem) -> Option<(usize, &str)> {
    if problem.reverse_form() != Some(ReverseForm::SharedDriver) {
        return None;
    }
    let named = problem.speeds().iter();
    let geared = named.filter_map(|speed| Some((speed.name(), speed.geared()?.target())));
    let mut geared: Vec<_> = geared.enumerate().collect();
    // Sorting keeps equal targets in file order.
    geared.sort_by(|(_, (_, one)), (_, (_, other))| other.cmp(one));
    geared.first().map(|&(place, (name, _))| (place, name))
}

/// One gear drives both, so that both have its module and its teeth.
fn check_shared(problem: &Problem, set: &Set, gears: ReverseGears, breaches: &mut Vec<Breach>) {
    let Some((place, speed)) = shared_with(problem) else {
        return;
    };
    let Some(pair) = set.pairs.get(place) else {
        return;
    };
    if (pair.module, pair.driver) != (gears.module, gears.driver) {
        breaches.push(Breach::SharedDriver {
            speed: speed.to_owned(),
            teeth: gears.driver,
            module_mm: gears.module.of(problem).mm(),
            shared_teeth: pair.driver,
            shared_module_mm: pair.module.of(problem).mm(),
        });
    }
}

/// Between the tips of driver and driven gear: half of both counts and of two
/// addenda on each. Where the driver is the gear of a speed: from the idler's
/// tips to those of a full gear that closes the centres with it, an addendum on
/// each.
pub(super) fn tip_gap_mm(
    problem: &Problem,
    ruler: &Ruler,
    (driver, driven): (u32, u32),
    centres: Length,
) -> f64 {
    if shared_with(problem).is_none() {
        return -ruler.half_beyond_mm(driver + driven, 4, centres);
    }
    ruler.half_beyond_mm(driver + driven, 0, centres) - ruler.half_mm(0, 4)
}

/// The tips of driver and driven gear clear each other; circles of the two
/// mesh distances around the shafts cross, so that the idler has two places.
fn check_places(
    problem: &Problem,
    wanted: &Reverse,
    set: &Set,
    gears: ReverseGears,
    breaches: &mut Vec<Breach>,
) {
    let ruler = Ruler::new(problem.gears(), gears.module.of(problem));
    let centres = set.centre_distance;
    let (l, i, m) = (gears.driver.get(), gears.idler.get(), gears.driven.get());
    let gap_mm = tip_gap_mm(problem, &ruler, (l, m), centres);
    let clearance = wanted.clearance();
    if gap_mm < clearance.mm() - LENGTH_SLACK_MM {
        breaches.push(Breach::TipGap { gap_mm, clearance });
    }
    // Beside the driver's plane nothing else keeps the driven gear off its axis.
    let beyond_mm = ruler.half_beyond_mm(m, 2, centres) + clearance.mm();
    if shared_with(problem).is_some() && beyond_mm > LENGTH_SLACK_MM {
        let gap_mm = clearance.mm() - beyond_mm;
        breaches.push(Breach::TipGap { gap_mm, clearance });
    }
    let reaches = ruler.half_beyond_mm(l + 2 * i + m, 0, centres) > LENGTH_SLACK_MM;
    let crosses = ruler.half_beyond_mm(l.abs_diff(m), 0, centres) < -LENGTH_SLACK_MM;
    if !(reaches && crosses) {
        let (to_driver_mm, to_driven_mm) = (ruler.half_mm(l + i, 0), ruler.half_mm(i + m, 0));
        breaches.push(Breach::IdlerPlace {
            to_driver_mm,
            to_driven_mm,
            centres,
        });
        return;
    }
    let to_idler = [ruler.half_mm(l + i, 0), ruler.half_mm(i + m, 0)];
    room::check(
        problem,
        centres.mm(),
        to_idler,
        ruler.half_mm(i, 2),
        breaches,
    );
}

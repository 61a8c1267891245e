//! What may be chosen, straight from the definitions.

use super::room;
use crate::base::{LENGTH_SLACK_MM, Length, Module, Ratio, Teeth};
use crate::involute::{Closing as Mesh, GearSize, Pairing, Toothing};
use crate::making::Rules;
use crate::problem::{Closing, CutPair, Problem, Reverse, ReverseForm, Seating};
use crate::train::{ModuleId, Pair, ReverseGears};

/// The head pairs in range; on offset shafts a single "no head".
pub(super) fn heads(problem: &Problem, pairs: &[Pair]) -> Vec<Option<Pair>> {
    let Some(wanted) = problem.head() else {
        return vec![None];
    };
    let fits = |pair: &&Pair| {
        wanted.window().contains(ratio_of(**pair)) && as_cut(problem, **pair, wanted.cut())
    };
    pairs.iter().filter(fits).copied().map(Some).collect()
}

pub(super) fn ratio_of(pair: Pair) -> Ratio {
    Ratio::of(pair.driven.get(), pair.driver.get())
}

/// Whether a pair is the one that is cut already, if one is.
pub(super) fn as_cut(problem: &Problem, pair: Pair, cut: Option<CutPair>) -> bool {
    cut.is_none_or(|cut| {
        pair.driver == cut.driver
            && pair.driven == cut.driven
            && cut
                .module
                .is_none_or(|module| module == pair.module.of(problem))
    })
}

fn modules(problem: &Problem) -> impl Iterator<Item = (ModuleId, Module)> {
    let modules = problem.gears().modules().iter().enumerate();
    modules.map(|(index, &module)| (ModuleId::new(index), module))
}

/// Every tooth count from `least` to `most`.
fn teeth(least: Teeth, most: Teeth) -> impl Iterator<Item = Teeth> + Clone {
    (least.get()..=most.get())
        .filter_map(|count| u16::try_from(count).ok())
        .map(Teeth::new)
}

pub(super) fn helix_rad(problem: &Problem) -> f64 {
    problem.gears().helix_angle_deg().to_radians()
}

/// Every pair that closes the centre distance for a role so seated, in set
/// order.
pub(super) fn closing_pairs(problem: &Problem, seating: &Seating, centres: Length) -> Vec<Pair> {
    let gears = problem.gears();
    let rules = Rules::of(problem);
    let legal = |least| teeth(least, gears.max_teeth());
    let mut pairs = Vec::new();
    for (id, module) in modules(problem) {
        let sums = 2 * gears.min_teeth().get()..=2 * gears.max_teeth().get();
        let sums: Vec<u32> = sums
            .filter(|&sum| closes(problem, module, sum, centres))
            .collect();
        for driver in legal(seating.least[0]) {
            for driven in legal(seating.least[1]) {
                let sound = || {
                    let holes = seating.holes;
                    let rules = rules.as_ref();
                    rules.is_none_or(|r| r.pair(module, [driver, driven], holes, centres).is_ok())
                };
                if sums.contains(&(driver.get() + driven.get())) && sound() {
                    pairs.push(Pair {
                        module: id,
                        driver,
                        driven,
                    });
                }
            }
        }
    }
    pairs
}

fn closes(problem: &Problem, module: Module, tooth_sum: u32, centres: Length) -> bool {
    let gears = problem.gears();
    let pairing = Pairing::new(gears.rack(), module.mm(), tooth_sum, helix_rad(problem));
    let a = centres.mm();
    match gears.closing() {
        Closing::Tolerance(tolerance) => {
            (pairing.standard_centres_mm - a).abs() <= tolerance.mm() + LENGTH_SLACK_MM
        }
        Closing::Backlash { min, max } => pairing.backlash_mm(a).is_some_and(|j0| {
            j0 <= max.mm() + LENGTH_SLACK_MM
                && j0 + 2.0 * gears.max_thinning().mm() >= min.mm() - LENGTH_SLACK_MM
        }),
        Closing::Shift { min, max } => {
            let toothing = Toothing::new(*gears.rack(), module.mm(), helix_rad(problem));
            let half = tooth_sum / 2;
            let teeth = [Teeth::of(half), Teeth::of(tooth_sum - half)];
            let mesh = toothing.and_then(|toothing| Mesh::at_centres(toothing, teeth, a));
            mesh.is_ok_and(|mesh| {
                let (least, most) = (2.0 * min.to_f64(), 2.0 * max.to_f64());
                mesh.shift_sum() >= least - LENGTH_SLACK_MM
                    && mesh.shift_sum() <= most + LENGTH_SLACK_MM
            })
        }
    }
}

/// Every reverse gearing whose idler has a place, whatever its ratio, in set
/// order.
pub(super) fn gearings(problem: &Problem, wanted: &Reverse, centres: Length) -> Vec<ReverseGears> {
    let gears = problem.gears();
    let least = problem.reverse_seating().least;
    let legal = |least| teeth(least, gears.max_teeth());
    let a = centres.mm();
    let mut all = Vec::new();
    for (id, module) in modules(problem) {
        for (driver, driven) in legal(least[0]).flat_map(|l| legal(least[1]).map(move |m| (l, m))) {
            for idler in teeth(wanted.idler_min(), wanted.idler_max()) {
                let gearing = ReverseGears {
                    module: id,
                    driver,
                    idler,
                    driven,
                };
                let lengths = lengths(problem, module, [driver, idler, driven]);
                let placed = lengths.is_some_and(|([d1, d2], tips, idler_tip)| {
                    outer_apart(problem, wanted, gearing, tips, a)
                        && d1 + d2 > a + LENGTH_SLACK_MM
                        && (d1 - d2).abs() < a - LENGTH_SLACK_MM
                        && (!problem.wants_clear_place()
                            || room::is_clear(problem, a, [d1, d2], idler_tip))
                });
                if placed && triple_as_cut(problem, wanted, gearing) {
                    all.push(gearing);
                }
            }
        }
    }
    all.sort_unstable();
    all
}

/// Whether driver and driven gear are apart: in one plane their tips (the sum
/// of their radii); where the driver is the gear of a speed, beside whose mate
/// the idler runs, that mate from the idler, and the driven gear from the
/// driver's axis.
fn outer_apart(
    problem: &Problem,
    wanted: &Reverse,
    gearing: ReverseGears,
    tips: f64,
    a: f64,
) -> bool {
    let clearance = wanted.clearance().mm();
    if problem.reverse_form() != Some(ReverseForm::SharedDriver) {
        return tips + clearance <= a + LENGTH_SLACK_MM;
    }
    let rack = problem.gears().rack();
    let module = gearing.module.of(problem);
    let [driver, driven] = [gearing.driver, gearing.driven]
        .map(|z| GearSize::new(rack, module, z, helix_rad(problem)));
    let height = rack.addendum * module.mm();
    let mate_reaches = a - driver.pitch_mm / 2.0 + height;
    let idler_reaches = driven.pitch_mm / 2.0 - height;
    idler_reaches - mate_reaches >= clearance - LENGTH_SLACK_MM
        && driven.tip_mm / 2.0 + clearance <= a + LENGTH_SLACK_MM
}

/// The idler's two distances, the sum of the outer gears' tip radii and the
/// idler's tip radius, mm; none where a limit refuses the gears.
pub(super) fn lengths(
    problem: &Problem,
    module: Module,
    teeth: [Teeth; 3],
) -> Option<([f64; 2], f64, f64)> {
    if problem.judges() {
        return super::judged::reverse(problem, module, teeth);
    }
    let rack = problem.gears().rack();
    let [driver, idler, driven] = teeth.map(|z| GearSize::new(rack, module, z, helix_rad(problem)));
    let d1 = f64::midpoint(driver.pitch_mm, idler.pitch_mm);
    let d2 = f64::midpoint(idler.pitch_mm, driven.pitch_mm);
    let tips = f64::midpoint(driver.tip_mm, driven.tip_mm);
    Some(([d1, d2], tips, idler.tip_mm / 2.0))
}

fn triple_as_cut(problem: &Problem, wanted: &Reverse, gearing: ReverseGears) -> bool {
    wanted.cut().is_none_or(|cut| {
        (gearing.driver, gearing.idler, gearing.driven) == (cut.driver, cut.idler, cut.driven)
            && cut
                .module
                .is_none_or(|module| module == gearing.module.of(problem))
    })
}

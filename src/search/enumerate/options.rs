//! What may be chosen, straight from the definitions.

use crate::base::{LENGTH_SLACK_MM, Length, Module, Ratio, Teeth};
use crate::involute::{GearSize, Pairing};
use crate::problem::{Closing, CutPair, Problem, Reverse};
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

/// Every pair that closes the centre distance, in set order.
pub(super) fn closing_pairs(problem: &Problem, centres: Length) -> Vec<Pair> {
    let gears = problem.gears();
    let legal = teeth(gears.min_teeth(), gears.max_teeth());
    let mut pairs = Vec::new();
    for (id, module) in modules(problem) {
        let sums = 2 * gears.min_teeth().get()..=2 * gears.max_teeth().get();
        let sums: Vec<u32> = sums
            .filter(|&sum| closes(problem, module, sum, centres))
            .collect();
        for driver in legal.clone() {
            for driven in legal.clone() {
                if sums.contains(&(driver.get() + driven.get())) {
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
        Closing::Backlash {
            min,
            max,
            max_thinning,
        } => pairing.backlash_mm(a).is_some_and(|j0| {
            j0 <= max.mm() + LENGTH_SLACK_MM
                && j0 + 2.0 * max_thinning.mm() >= min.mm() - LENGTH_SLACK_MM
        }),
    }
}

/// Every reverse gearing whose idler has a place, whatever its ratio, in set
/// order.
pub(super) fn gearings(problem: &Problem, wanted: &Reverse, centres: Length) -> Vec<ReverseGears> {
    let gears = problem.gears();
    let legal = teeth(gears.min_teeth(), gears.max_teeth());
    let a = centres.mm();
    let mut all = Vec::new();
    for (id, module) in modules(problem) {
        let size = |z: Teeth| GearSize::new(gears.rack(), module, z, helix_rad(problem));
        for (driver, driven) in legal
            .clone()
            .flat_map(|l| legal.clone().map(move |m| (l, m)))
        {
            let tips = (size(driver).tip_mm + size(driven).tip_mm) / 2.0;
            if tips + wanted.clearance().mm() > a + LENGTH_SLACK_MM {
                continue;
            }
            for idler in teeth(wanted.idler_min(), wanted.idler_max()) {
                let d1 = (size(driver).pitch_mm + size(idler).pitch_mm) / 2.0;
                let d2 = (size(idler).pitch_mm + size(driven).pitch_mm) / 2.0;
                let gearing = ReverseGears {
                    module: id,
                    driver,
                    idler,
                    driven,
                };
                if d1 + d2 > a + LENGTH_SLACK_MM
                    && (d1 - d2).abs() < a - LENGTH_SLACK_MM
                    && triple_as_cut(problem, wanted, gearing)
                {
                    all.push(gearing);
                }
            }
        }
    }
    all.sort_unstable();
    all
}

fn triple_as_cut(problem: &Problem, wanted: &Reverse, gearing: ReverseGears) -> bool {
    wanted.cut().is_none_or(|cut| {
        (gearing.driver, gearing.idler, gearing.driven) == (cut.driver, cut.idler, cut.driven)
            && cut
                .module
                .is_none_or(|module| module == gearing.module.of(problem))
    })
}

//! Pairs of gears that close a centre distance.

use crate::base::{LENGTH_SLACK_MM, Length, Teeth};
use crate::involute::Pairing;
use crate::problem::{Closing, Gears, Problem};
use crate::train::{ModuleId, Pair};

/// How gears with a given tooth sum sit at a centre distance, by the
/// problem's own rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// The centres are further apart than the rule allows.
    Loose,
    /// They close.
    Closes,
    /// The centres are closer than the rule allows.
    Binds,
}

/// How gears of `module` with `tooth_sum` teeth together sit at `centres`.
/// More teeth never make a loose pair looser.
pub fn fit(gears: &Gears, module: ModuleId, tooth_sum: u32, centres: Length) -> Fit {
    let beta = gears.helix_angle_deg().to_radians();
    let m = gears.modules()[module.index()].mm();
    let pairing = Pairing::new(gears.rack(), m, tooth_sum, beta);
    let a = centres.mm();
    // Each rule as how far its measure lies above its upper and below its lower limit.
    let (over, under) = match gears.closing() {
        Closing::Tolerance(tolerance) => {
            let gap = a - pairing.standard_centres_mm;
            (gap - tolerance.mm(), -tolerance.mm() - gap)
        }
        Closing::Backlash {
            min,
            max,
            max_thinning,
        } => match pairing.backlash_mm(a) {
            Some(j0) => (j0 - max.mm(), min.mm() - (j0 + 2.0 * max_thinning.mm())),
            None => (f64::NEG_INFINITY, f64::INFINITY),
        },
    };
    if over > LENGTH_SLACK_MM {
        Fit::Loose
    } else if under > LENGTH_SLACK_MM {
        Fit::Binds
    } else {
        Fit::Closes
    }
}

/// The tooth sums of a module that close, ascending.
fn closing_sums(gears: &Gears, module: ModuleId, centres: Length) -> Vec<u32> {
    let (mut low, mut high) = (2 * gears.min_teeth().get(), 2 * gears.max_teeth().get() + 1);
    let end = high;
    while low < high {
        let middle = low.midpoint(high);
        if fit(gears, module, middle, centres) == Fit::Loose {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    (low..end)
        .take_while(|&sum| fit(gears, module, sum, centres) == Fit::Closes)
        .collect()
}

/// Every pair that closes the centre distance, in set order.
pub fn pairs_at(problem: &Problem, centres: Length) -> Vec<Pair> {
    let gears = problem.gears();
    let (min, max) = (gears.min_teeth().get(), gears.max_teeth().get());
    let mut pairs = Vec::new();
    for index in 0..gears.modules().len() {
        let module = ModuleId::new(index);
        let sums = closing_sums(gears, module, centres);
        for driver in min..=max {
            let fitting = sums.iter().filter_map(|sum| sum.checked_sub(driver));
            pairs.extend(
                fitting
                    .filter(|driven| (min..=max).contains(driven))
                    .map(|driven| Pair {
                        module,
                        driver: Teeth::of(driver),
                        driven: Teeth::of(driven),
                    }),
            );
        }
    }
    pairs
}

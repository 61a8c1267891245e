//! Reverse gearings whose idler has a place.

use crate::base::{LENGTH_SLACK_MM, Length, Teeth};
use crate::involute::GearSize;
use crate::problem::{Problem, Reverse};
use crate::train::ModuleId;

/// A driving and a driven gear with every idler that fits between them: the
/// fitting tooth counts of an idler are always a run without gaps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ReverseSpan {
    /// The module of all three gears.
    pub module: ModuleId,
    /// Teeth of the driving gear.
    pub driver: Teeth,
    /// Teeth of the driven gear.
    pub driven: Teeth,
    /// Fewest teeth on the idler.
    pub idler_min: Teeth,
    /// Most teeth on the idler.
    pub idler_max: Teeth,
}

/// Every reverse gearing at a centre distance whose ratio `keep(driver,
/// driven)` admits, by module, driver, driven.
///
/// The idler's centre must exist off the line of centres: with the centre
/// distances d₁ (driver to idler) and d₂ (idler to driven), d₁ + d₂ > a, which
/// bounds the idler from below, and |d₁ − d₂| < a, which does not depend on it.
/// The tips of driver and driven gear must clear each other.
pub fn reverses_at(
    problem: &Problem,
    reverse: &Reverse,
    centres: Length,
    keep: impl Fn(u32, u32) -> bool,
) -> Vec<ReverseSpan> {
    let gears = problem.gears();
    let beta = gears.helix_angle_deg().to_radians();
    let a = centres.mm();
    let (min, max) = (gears.min_teeth().get(), gears.max_teeth().get());
    let mut spans = Vec::new();
    for (index, &m) in gears.modules().iter().enumerate() {
        let tip: Vec<f64> = (min..=max)
            .map(|z| GearSize::new(gears.rack(), m, Teeth::of(z), beta).tip_mm / 2.0)
            .collect();
        let half = m.mm() / (2.0 * beta.cos());
        for driver in min..=max {
            for driven in min..=max {
                let tips = tip[(driver - min) as usize] + tip[(driven - min) as usize];
                if tips + reverse.clearance().mm() > a + LENGTH_SLACK_MM {
                    break;
                }
                if f64::from(driver.abs_diff(driven)) * half >= a - LENGTH_SLACK_MM
                    || !keep(driver, driven)
                {
                    continue;
                }
                let least = least_idler(half, driver, driven, a).max(reverse.idler_min().get());
                if least <= reverse.idler_max().get() {
                    spans.push(ReverseSpan {
                        module: ModuleId::new(index),
                        driver: Teeth::of(driver),
                        driven: Teeth::of(driven),
                        idler_min: Teeth::of(least),
                        idler_max: reverse.idler_max(),
                    });
                }
            }
        }
    }
    spans
}

/// Fewest idler teeth with d₁ + d₂ > a, where d₁ + d₂ = half · (zL + 2 zI + zM).
fn least_idler(half: f64, driver: u32, driven: u32, a: f64) -> u32 {
    let reaches = |idler: u32| {
        let d1 = half * f64::from(driver + idler);
        let d2 = half * f64::from(idler + driven);
        d1 + d2 > a + LENGTH_SLACK_MM
    };
    let guess = ((a / half - f64::from(driver + driven)) / 2.0).max(0.0);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "not negative, and below 2 · 10^4 / 0.05"
    )]
    let mut idler = (guess as u32).saturating_sub(1);
    while !reaches(idler) {
        idler += 1;
    }
    idler
}

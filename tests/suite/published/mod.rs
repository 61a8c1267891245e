//! Values found in print or recomputed from first principles, each with its
//! row in the project's table of check values and its source.
//!
//! Short names: *MH* Machinery's Handbook; *TOM* Khurmi & Gupta, Theory of
//! Machines; *Shigley* Budynas & Nisbett, Mechanical Engineering Design;
//! *Norton* Design of Machinery.

mod boxes;
mod closest;
mod cutters;
mod dividing;
mod inspection;
mod meshes;
mod ratios;
mod reverted;

use layshaft::base::{Decimal, Ratio};

/// A pair of gears in mesh: (driver, driven).
type Stage = (u32, u32);

fn decimal(text: &str) -> Decimal {
    Decimal::parse(text).expect("a decimal")
}

fn fraction(numerator: u64, denominator: u64) -> Ratio {
    Ratio {
        numerator,
        denominator,
    }
}

fn train(stages: &[Stage]) -> Ratio {
    stages.iter().fold(Ratio::ONE, |ratio, &(driver, driven)| {
        ratio.then(Ratio::of(driven, driver))
    })
}

/// Splits of a tooth sum into a driver and a driven gear of at least `least`.
fn splits(sum: u32, least: u32) -> impl Iterator<Item = Stage> {
    (least..=sum.saturating_sub(least)).map(move |driver| (driver, sum - driver))
}

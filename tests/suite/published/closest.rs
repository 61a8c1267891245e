//! The trains that come closest to a ratio, by trying every pair of gears.

use super::{decimal, fraction, train};
use layshaft::base::{Decimal, Ratio, Window};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// Both drivers, then both driven gears.
type TwoStages = ((u32, u32), (u32, u32));

/// Every unordered pair of tooth counts.
fn pairs(teeth: RangeInclusive<u32>) -> Vec<(u32, u32)> {
    teeth
        .clone()
        .flat_map(|a| (a..=*teeth.end()).map(move |b| (a, b)))
        .collect()
}

/// How a two-stage train is spelt here: both drivers, then both driven gears.
fn spell(drivers: (u32, u32), driven: (u32, u32)) -> String {
    format!("{},{}/{},{}", drivers.0, drivers.1, driven.0, driven.1)
}

/// Two-stage trains of gears from `teeth` in a `window` of ratios around
/// `target`, by how far the speed they give misses the speed asked for:
/// |1/target − 1/ratio|·target = |N − target·D| / N, exact.
fn by_missed_speed(
    teeth: RangeInclusive<u32>,
    target: Decimal,
    window: &Window,
) -> BTreeMap<Ratio, Vec<TwoStages>> {
    let scale = Decimal::SCALE.unsigned_abs();
    let asked = target.millionths().unsigned_abs();
    let pairs = pairs(teeth);
    let mut found = BTreeMap::<_, Vec<_>>::new();
    for &drivers in &pairs {
        for &driven in &pairs {
            let ratio = train(&[(drivers.0, driven.0), (drivers.1, driven.1)]);
            if window.contains(ratio) {
                let missed = (scale * ratio.numerator).abs_diff(asked * ratio.denominator);
                let key = fraction(missed, scale * ratio.numerator);
                found.entry(key).or_default().push((drivers, driven));
            }
        }
    }
    found
}

// Row 1.01: Sandgren 1990, J. Mech. Des. 112(2):223-229; Kannan & Kramer 1994,
// J. Mech. Des. 116:405-411 (the optimum from memory, recomputed).
// Rows 1.02 and 1.03: the next values of the same problem, recomputed.
#[test]
fn gear_train_benchmark_and_its_next_ten_values() {
    let target = decimal("6.931");
    // Wide enough: its edge misses by f = 5e-9, five times the last row.
    let window = Window::around(target, decimal("0.05"));
    let found = by_missed_speed(12..=60, target, &window);
    let published: [(f64, &[&str]); 10] = [
        (2.700_857e-12, &["16,19/43,49"]),
        (
            2.307_816e-11,
            &["13,20/34,53", "13,30/51,53", "15,26/51,53"],
        ),
        (9.939_876e-11, &["13,31/49,57"]),
        (1.166_116e-10, &["17,22/48,54"]),
        (1.545_045e-10, &["13,21/43,44"]),
        (3.067_556e-10, &["15,21/37,59"]),
        (6.602_090e-10, &["13,23/37,56"]),
        (8.887_614e-10, &["12,37/54,57"]),
        (9.745_653e-10, &["16,25/47,59", "20,20/47,59"]),
        (
            9.921_580e-10,
            &["12,13/23,47", "12,26/46,47", "13,24/46,47"],
        ),
    ];
    assert!(found.len() > published.len());
    for (trains, (f, gears)) in found.values().zip(published) {
        let spelt: Vec<_> = trains.iter().map(|&(a, b)| spell(a, b)).collect();
        assert_eq!(spelt, gears);
        for &(drivers, driven) in trains {
            let ratio = train(&[(drivers.0, driven.0), (drivers.1, driven.1)]);
            // 1/target − 1/ratio = deviation / ratio.
            let got = (ratio.deviation(target) / ratio.to_f64()).powi(2);
            assert!((got / f - 1.0).abs() < 1e-6, "{gears:?}: {got:e}");
        }
    }
}

// Rows 1.01 and 1.03, as above: figures beside the optimum.
#[test]
fn gear_train_benchmark_in_figures() {
    let best = train(&[(16, 43), (19, 49)]);
    assert_eq!(best, fraction(2107, 304));
    assert!((best.to_f64() - 6.930_921_053).abs() < 1e-9);
    let error = best.deviation(decimal("6.931"));
    assert!((error + 1.139_05e-5).abs() < 1e-10, "{error:e}");

    let mut products: Vec<_> = pairs(12..=60).into_iter().map(|(a, b)| a * b).collect();
    products.sort_unstable();
    products.dedup();
    assert_eq!(products.len(), 893);
}

// Row 1.23, its note (recomputed): the best of two pairs of 20 to 65 teeth.
// The row's 32·61/(29·53) has a twin, 61·64/(53·58), the same ratio.
#[test]
fn best_two_pair_substitutes_for_127() {
    let target = decimal("1.27");
    let window = Window::around(target, decimal("0.01"));
    let found = by_missed_speed(20..=65, target, &window);
    let published: [(f64, &[&str]); 2] = [
        (4.279e-6, &["41,57/53,56"]),
        (6.506e-6, &["29,53/32,61", "53,58/61,64"]),
    ];
    assert!(found.len() > published.len());
    for (trains, (absolute, gears)) in found.values().zip(published) {
        let spelt: Vec<_> = trains.iter().map(|&(a, b)| spell(a, b)).collect();
        assert_eq!(spelt, gears);
        let (drivers, driven) = trains[0];
        let ratio = train(&[(drivers.0, driven.0), (drivers.1, driven.1)]);
        let got = ratio.deviation(target) * target.to_f64();
        assert!((got - absolute).abs() < 5e-10, "{gears:?}: {got:e}");
    }
}

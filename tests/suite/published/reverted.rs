//! Two stages between the same two axles: the smallest that do.

use super::{Stage, decimal, fraction, splits, train};
use layshaft::base::{Module, Ratio, Teeth, Window};
use layshaft::involute::{Pairing, Rack, largest_gear_teeth};
use std::ops::RangeInclusive;

fn inverse(ratio: Ratio) -> Ratio {
    fraction(ratio.denominator, ratio.numerator)
}

/// Reductions of `sum` teeth that unshifted, full-depth gears of 20° run
/// without interference.
fn sound_stages(sum: u32) -> Vec<Stage> {
    let rack = Rack::standard(20.0);
    let sound = |&(driver, driven): &Stage| {
        u16::try_from(driver)
            .ok()
            .and_then(|driver| largest_gear_teeth(&rack, Teeth::new(driver)))
            .is_none_or(|largest| f64::from(driven) <= largest)
    };
    (6..=sum / 2)
        .map(|driver| (driver, sum - driver))
        .filter(sound)
        .collect()
}

/// Two-stage reverted trains (one tooth sum, one pitch) whose ratio `accept`
/// takes, by tooth sum, ascending.
fn reverted(sums: RangeInclusive<u32>, accept: impl Fn(Ratio) -> bool) -> Vec<[Stage; 2]> {
    sums.flat_map(|sum| {
        let stages = sound_stages(sum);
        let seconds = stages.clone();
        stages.into_iter().enumerate().flat_map(move |(i, first)| {
            seconds[i..]
                .iter()
                .map(|&second| [first, second])
                .collect::<Vec<_>>()
        })
    })
    .filter(|stages| accept(train(stages)))
    .collect()
}

// Row 1.06: Shigley ch. 13, reverted-train example (from memory, recomputed).
// The book's 18/108 and 21/105, sum 126, is not the smallest.
#[test]
fn reverted_train_of_exactly_30() {
    let exact = reverted(12..=126, |ratio| ratio == fraction(30, 1));
    assert_eq!(exact, [[(16, 100), (20, 96)], [(18, 108), (21, 105)]]);
}

// Row 1.08: Norton, Design of Machinery ch. 9 reverted example (from memory,
// recomputed). Below the book's 16/96 and 28/84, sum 112, there are exact
// trains of 102 and 110.
#[test]
fn reverted_train_of_exactly_18() {
    let exact = reverted(12..=112, |ratio| ratio == fraction(18, 1));
    assert_eq!(
        exact,
        [
            [(18, 84), (21, 81)],
            [(20, 90), (22, 88)],
            [(16, 96), (28, 84)]
        ]
    );
}

// Row 1.10: Shigley ch. 13 exercise: 2500 rpm in, 280-300 rpm out (answer
// recomputed).
#[test]
fn smallest_reverted_boxes_for_2500_rpm() {
    // Output over input speed, so that both limits are exact decimals.
    let window = Window::between(Some(decimal("0.112")), Some(decimal("0.12")));
    let boxes = reverted(12..=66, |ratio| window.contains(inverse(ratio)));
    let published = [
        ([(15, 44), (15, 44)], 290.55),
        ([(16, 47), (16, 47)], 289.72),
        ([(16, 49), (17, 48)], 289.12),
        ([(16, 50), (18, 48)], 300.00),
    ];
    assert_eq!(boxes, published.map(|(stages, _)| stages));
    for (stages, rpm) in published {
        let got = 2500.0 / train(&stages).to_f64();
        assert!((got - rpm).abs() < 5e-3, "{stages:?}: {got}");
    }
}

/// Whether tooth sums `first` of module `a` and `second` of module `b` have
/// the same centre distance, exactly.
fn same_centres(a: Module, first: u32, b: Module, second: u32) -> bool {
    let twice_centres = |module: Module, sum: u32| {
        let (numerator, denominator) = module.fraction();
        fraction(
            numerator.unsigned_abs() * u64::from(sum),
            denominator.unsigned_abs(),
        )
    };
    twice_centres(a, first) == twice_centres(b, second)
}

// Row 1.11: TOM ch. 13 exercise (answer from memory, recomputed): modules 2
// and 4.5 on one centre distance, equal stages, ratio at least 12.
#[test]
fn two_modules_on_one_centre_distance() {
    let (fine, coarse) = (Module::metric(decimal("2")), Module::metric(decimal("4.5")));
    let at_least_12 = Window::between(Some(decimal("12")), None);
    let boxes = |fine_sum: u32| -> Vec<[Stage; 2]> {
        (32..=fine_sum)
            .filter(|&coarse_sum| same_centres(fine, fine_sum, coarse, coarse_sum))
            .flat_map(|coarse_sum| {
                splits(fine_sum, 16).flat_map(move |first| {
                    splits(coarse_sum, 16).map(move |second| [first, second])
                })
            })
            .filter(|[first, second]| train(&[*first]) == train(&[*second]))
            .filter(|stages| at_least_12.contains(train(stages)))
            .collect()
    };
    let smallest = (32..=200).map(boxes).find(|found| !found.is_empty());
    assert_eq!(smallest, Some(vec![[(36, 126), (16, 56)]]));
    assert_eq!(train(&[(36, 126), (16, 56)]), fraction(1225, 100));
    for (module, sum) in [(fine, 162), (coarse, 72)] {
        let pair = Pairing::new(&Rack::standard(20.0), module.mm(), sum, 0.0);
        assert!((pair.standard_centres_mm - 162.0).abs() < 1e-9);
    }
    // A circulating answer, 45/153 and 20/68, falls short: 11.56.
    let circulating = train(&[(45, 153), (20, 68)]);
    assert_eq!(circulating, fraction(1156, 100));
    assert!(at_least_12.is_above(circulating));
}

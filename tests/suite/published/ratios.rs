//! Exact ratios of given trains.

use super::{decimal, fraction, train};
use layshaft::base::{Length, Ratio, Window};

// Row 1.04: Shigley ch. 13, two-stage example; row 1.05: exact-ratio example;
// row 1.09: Norton ch. 9 compound example (all from memory, recomputed).
#[test]
fn plain_compound_trains_of_the_textbooks() {
    let near_30 = Window::around(decimal("30"), decimal("1"));
    assert_eq!(train(&[(16, 88), (16, 88)]), fraction(3025, 100));
    assert!(near_30.contains(train(&[(16, 88), (16, 88)])));
    let smaller = train(&[(16, 87), (16, 87)]);
    assert!((smaller.to_f64() - 29.566).abs() < 5e-4);
    assert!(near_30.is_above(smaller));

    assert_eq!(train(&[(16, 96), (16, 80)]), fraction(30, 1));
    assert_eq!(train(&[(14, 84), (14, 84), (14, 70)]), fraction(180, 1));
}

// Row 1.13: TOM Example 13.1.
#[test]
fn train_from_975_to_52_rpm() {
    assert_eq!(train(&[(20, 50), (25, 75), (26, 65)]), fraction(975, 52));
}

/// The ratio of two lengths, exact.
fn lengths(a: Length, b: Length) -> Ratio {
    fraction(a.steps().unsigned_abs(), b.steps().unsigned_abs())
}

// Row 1.22: F. D. Jones, Turning and Boring: metric thread on an inch
// leadscrew: lathe constant 6, lead 3 mm.
#[test]
fn change_gears_for_a_metric_thread() {
    let inch = Length::from_inches(decimal("1"));
    let lead = Length::from_mm(decimal("3"));
    let gears = lengths(lead, inch).then(fraction(6, 1));
    assert_eq!(gears, fraction(90, 127));
    // 8 threads per inch through 120/127.
    let leadscrew = Length::from_inches(decimal("0.125"));
    assert_eq!(
        lengths(leadscrew, lead).then(fraction(120, 127)),
        Ratio::ONE
    );
}

// Row 1.23: workshop table: gears in place of 127/100.
#[test]
fn substitutes_for_the_127_tooth_gear() {
    let target = decimal("1.27");
    for (stages, percent) in [
        (&[(63, 80)][..], -0.012_498),
        (&[(37, 47)][..], 0.021_281),
        (&[(31, 22), (19, 34)][..], -0.004_011),
        (&[(23, 30), (38, 37)][..], 0.001_802),
    ] {
        let got = 100.0 * train(stages).deviation(target);
        assert!((got - percent).abs() < 1e-6, "{stages:?}: {got}");
    }
    assert_eq!(
        train(&[(63, 80)]).error(target).to_bits(),
        8001_f64.recip().to_bits()
    );
}

// Row 1.24: Hayes, American Scientist 88(4) 2000: Brocot's problem 191/23, the
// tree of mediants (its errors recomputed).
#[test]
fn brocot_tree_to_191_over_23() {
    let target = fraction(191, 23);
    let (mut low, mut high) = (fraction(8, 1), fraction(9, 1));
    let mut walked = vec![low, high];
    while walked.len() < 8 {
        let between = fraction(
            low.numerator + high.numerator,
            low.denominator + high.denominator,
        );
        if between < target {
            low = between;
        } else {
            high = between;
        }
        walked.push(between);
    }
    let published = [
        (8, 1, -7),
        (9, 1, 16),
        (17, 2, 9),
        (25, 3, 2),
        (33, 4, -5),
        (58, 7, -3),
        (83, 10, -1),
        (108, 13, 1),
    ];
    for (ratio, (numerator, denominator, error)) in walked.iter().zip(published) {
        assert_eq!(
            (ratio.numerator, ratio.denominator),
            (numerator, denominator)
        );
        let side = ratio.cmp(&target) as i64;
        let size = (23 * numerator).abs_diff(191 * denominator);
        assert_eq!(side * size.cast_signed(), error);
    }
}

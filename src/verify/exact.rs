//! Fractions of whole numbers.

use crate::base::Decimal;
use crate::train::Pair;
use std::cmp::Ordering;

/// A fraction with a positive denominator, not reduced. The products of teeth,
/// targets and tolerances met here stay below 10³⁰, far inside an `i128`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fraction {
    pub(super) over: i128,
    pub(super) under: i128,
}

impl Fraction {
    pub(super) const ONE: Self = Self { over: 1, under: 1 };

    pub(super) fn of_pair(pair: Pair) -> Self {
        Self {
            over: pair.driven.get().into(),
            under: pair.driver.get().into(),
        }
    }

    pub(super) fn of_decimal(decimal: Decimal) -> Self {
        Self {
            over: decimal.millionths().into(),
            under: Decimal::SCALE.into(),
        }
    }

    pub(super) const fn times(self, other: Self) -> Self {
        Self {
            over: self.over * other.over,
            under: self.under * other.under,
        }
    }

    pub(super) fn compare(self, other: Self) -> Ordering {
        (self.over * other.under).cmp(&(other.over * self.under))
    }

    /// Whether this lies within `percent` of `target`, limits included:
    /// 100 |r − t| ≤ percent · t.
    pub(super) fn is_within(self, target: Decimal, percent: Decimal) -> bool {
        let t = Self::of_decimal(target);
        let off = (self.over * t.under - t.over * self.under).abs();
        let off = Self {
            over: 100 * off,
            under: self.under * t.under,
        };
        off.compare(Self::of_decimal(percent).times(t)) != Ordering::Greater
    }

    /// The double nearest to `self / target − 1`.
    pub(super) fn deviation(self, target: Decimal) -> f64 {
        let t = Self::of_decimal(target);
        let asked = t.over * self.under;
        Self {
            over: self.over * t.under - asked,
            under: asked,
        }
        .reduced()
        .to_f64()
    }

    fn reduced(self) -> Self {
        let (mut a, mut b) = (self.over.abs(), self.under);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        Self {
            over: self.over / a,
            under: self.under / a,
        }
    }

    /// The double nearest to the fraction.
    #[allow(
        clippy::cast_precision_loss,
        reason = "reduced, both parts stay below 2^53"
    )]
    pub(super) fn to_f64(self) -> f64 {
        self.over as f64 / self.under as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        Decimal::parse(text).unwrap()
    }

    #[test]
    fn tolerances_include_their_limits_and_nothing_more() {
        let (target, percent) = (decimal("2"), decimal("5"));
        for (over, under, within) in [
            (19, 10, true),
            (21, 10, true),
            (18_999_999, 10_000_000, false),
            (21_000_001, 10_000_000, false),
        ] {
            let got = Fraction { over, under }.is_within(target, percent);
            assert_eq!(got, within, "{over}/{under}");
        }
    }

    #[test]
    fn deviations_have_a_sign() {
        // 47/37 against 1.27: row 1.23, +0.021281 %; 80/63: -0.012498 %.
        let over = Fraction {
            over: 47,
            under: 37,
        }
        .deviation(decimal("1.27"));
        assert!((100.0 * over - 0.021_281).abs() < 1e-6, "{over}");
        let below = Fraction {
            over: 80,
            under: 63,
        }
        .deviation(decimal("1.27"));
        assert!((100.0 * below + 0.012_498).abs() < 1e-6, "{below}");
    }
}

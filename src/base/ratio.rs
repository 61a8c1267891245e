//! Ratios of tooth counts, compared exactly.

use super::Decimal;
use super::units::gcd;
use std::cmp::Ordering;

/// A positive ratio of products of tooth counts. Not reduced; compared by
/// cross-multiplication, so `40/20` equals `80/40`.
#[derive(Clone, Copy, Debug)]
pub struct Ratio {
    /// Product of the driven teeth, at most 10⁹.
    pub numerator: u64,
    /// Product of the driving teeth, 1 to 10⁹.
    pub denominator: u64,
}

impl Ratio {
    /// 1:1.
    pub const ONE: Self = Self {
        numerator: 1,
        denominator: 1,
    };

    /// `driven` ÷ `driver`.
    pub fn of(driven: u32, driver: u32) -> Self {
        Self {
            numerator: u64::from(driven),
            denominator: u64::from(driver),
        }
    }

    /// This ratio followed by another.
    #[must_use]
    pub const fn then(self, next: Self) -> Self {
        Self {
            numerator: self.numerator * next.numerator,
            denominator: self.denominator * next.denominator,
        }
    }

    /// The double nearest to the ratio.
    #[allow(clippy::cast_precision_loss, reason = "both parts stay below 2^53")]
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }

    /// The double nearest to `|self − target| / target`, exact before the one
    /// rounding: with the ratio N/D and the target p/q it is |Nq − pD| / (pD).
    pub fn error(self, target: impl Into<Target>) -> f64 {
        self.deviation(target).abs()
    }

    /// [`Ratio::error`] with its sign: positive when the ratio is above target.
    #[allow(
        clippy::cast_precision_loss,
        reason = "ratios to 1000 and teeth to 1000 keep both parts below 2^53"
    )]
    pub fn deviation(self, target: impl Into<Target>) -> f64 {
        let target = target.into();
        let got = self.numerator * target.q;
        let asked = self.denominator * target.p;
        let difference = got.abs_diff(asked) as f64 / asked as f64;
        if got < asked { -difference } else { difference }
    }
}

/// A wanted ratio p/q in lowest terms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Target {
    p: u64,
    q: u64,
}

impl From<Decimal> for Target {
    /// The target must be positive.
    fn from(target: Decimal) -> Self {
        let p = target.millionths().unsigned_abs();
        let q = Decimal::SCALE.unsigned_abs();
        let g = gcd(p, q).max(1);
        Self { p: p / g, q: q / g }
    }
}

impl PartialEq for Ratio {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Ratio {}

impl PartialOrd for Ratio {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ratio {
    fn cmp(&self, other: &Self) -> Ordering {
        let left = u128::from(self.numerator) * u128::from(other.denominator);
        left.cmp(&(u128::from(other.numerator) * u128::from(self.denominator)))
    }
}

/// A closed interval of ratios, either end possibly open to infinity.
///
/// Ends are fractions too large for [`Ratio`]: a target of millionths times a
/// tolerance of hundred-millionths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    low: Option<(u128, u128)>,
    high: Option<(u128, u128)>,
}

impl Window {
    /// Every ratio.
    pub const ANY: Self = Self {
        low: None,
        high: None,
    };

    /// `target` × (1 ± `tolerance_percent` / 100), both ends included.
    pub fn around(target: Decimal, tolerance_percent: Decimal) -> Self {
        let p = u128::from(target.millionths().unsigned_abs());
        let q = u128::from(Decimal::SCALE.unsigned_abs());
        let t = u128::from(tolerance_percent.millionths().unsigned_abs());
        let whole = 100 * q;
        Self {
            low: Some((p * whole.saturating_sub(t), q * whole)),
            high: Some((p * (whole + t), q * whole)),
        }
    }

    /// From `low` to `high`, both included; either may be missing.
    pub fn between(low: Option<Decimal>, high: Option<Decimal>) -> Self {
        let end = |d: Decimal| {
            (
                u128::from(d.millionths().unsigned_abs()),
                u128::from(Decimal::SCALE.unsigned_abs()),
            )
        };
        Self {
            low: low.map(end),
            high: high.map(end),
        }
    }

    /// Its upper end; none where it has none.
    #[allow(
        clippy::cast_precision_loss,
        reason = "the one rounding to a double is meant"
    )]
    pub fn high(&self) -> Option<f64> {
        self.high.map(|(n, d)| n as f64 / d as f64)
    }

    /// Whether `ratio` lies below the window.
    pub fn is_above(&self, ratio: Ratio) -> bool {
        self.low.is_some_and(|(n, d)| {
            u128::from(ratio.numerator) * d < n * u128::from(ratio.denominator)
        })
    }

    /// Whether `ratio` lies above the window.
    pub fn is_below(&self, ratio: Ratio) -> bool {
        self.high.is_some_and(|(n, d)| {
            u128::from(ratio.numerator) * d > n * u128::from(ratio.denominator)
        })
    }

    /// Whether `ratio` lies in the window.
    pub fn contains(&self, ratio: Ratio) -> bool {
        !self.is_above(ratio) && !self.is_below(ratio)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        Decimal::parse(text).unwrap()
    }

    #[test]
    fn limits_are_inclusive_and_exact() {
        // 2 ± 5 %: 1.9 to 2.1.
        let window = Window::around(decimal("2"), decimal("5"));
        assert!(window.contains(Ratio::of(19, 10)));
        assert!(window.contains(Ratio::of(21, 10)));
        assert!(window.is_above(Ratio {
            numerator: 18_999_999,
            denominator: 10_000_000
        }));
        assert!(window.is_below(Ratio {
            numerator: 21_000_001,
            denominator: 10_000_000
        }));
    }

    #[test]
    fn error_is_the_nearest_double_of_the_fraction() {
        // 47/37 against 1.27: row 1.23, +0.021281 %.
        let got = 100.0 * Ratio::of(47, 37).deviation(decimal("1.27"));
        assert!((got - 0.021_281).abs() < 1e-6, "{got}");
        let below = 100.0 * Ratio::of(80, 63).deviation(decimal("1.27"));
        assert!((below + 0.012_498).abs() < 1e-6, "{below}");
        assert_eq!(Ratio::of(127, 100).error(decimal("1.27")).to_bits(), 0);
    }

    #[test]
    fn equal_ratios_are_equal_unreduced() {
        assert_eq!(Ratio::of(40, 20), Ratio::of(80, 40));
        assert!(Ratio::of(41, 20) > Ratio::of(80, 40));
    }
}

//! Positive fractions of any size, for figures that are worked out before
//! they are rounded once.

use super::{Decimal, Length};
use num_bigint::BigUint;

/// A positive fraction, exact. Not reduced: nothing here is kept for long.
#[derive(Clone, Debug)]
pub struct Quotient {
    numerator: BigUint,
    denominator: BigUint,
}

impl Quotient {
    /// π to 38 decimals. A figure of millionths rounds otherwise than with π
    /// itself only where all digits between are those of a half: with numbers
    /// of 15 digits that is not met in practice, and the outcome would still
    /// be the same on every machine.
    pub fn pi() -> Self {
        Self {
            numerator: BigUint::from(314_159_265_358_979_323_846_264_338_327_950_288_420_u128),
            denominator: BigUint::from(10_u32).pow(38),
        }
    }

    /// This times another.
    #[must_use]
    pub fn times(self, other: impl Into<Self>) -> Self {
        let other = other.into();
        Self {
            numerator: self.numerator * other.numerator,
            denominator: self.denominator * other.denominator,
        }
    }

    /// This divided by another, which must not be 0.
    #[must_use]
    pub fn over(self, other: impl Into<Self>) -> Self {
        let Self {
            numerator,
            denominator,
        } = other.into();
        self.times(Self {
            numerator: denominator,
            denominator: numerator,
        })
    }

    /// This to a whole power.
    #[must_use]
    pub fn power(self, exponent: u32) -> Self {
        Self {
            numerator: self.numerator.pow(exponent),
            denominator: self.denominator.pow(exponent),
        }
    }

    /// The root of that degree (1 is the value itself), rounded half up to 6
    /// decimals; none beyond what a [`Decimal`] holds.
    ///
    /// No rounding on the way: with y the root in millionths, r is the largest
    /// whole number with r − 1/2 ≤ y, so 2r − 1 ≤ ⌊2y⌋, and ⌊2y⌋ is the whole
    /// root of the whole part of (2·10⁶)^degree times the value.
    pub fn root(&self, degree: u32) -> Option<Decimal> {
        let halves = BigUint::from(2 * Decimal::SCALE.unsigned_abs());
        let scaled = halves.pow(degree) * &self.numerator / &self.denominator;
        let millionths = (scaled.nth_root(degree) + 1_u32) / 2_u32;
        i64::try_from(millionths).ok().map(Decimal::from_millionths)
    }
}

impl From<Decimal> for Quotient {
    /// The number must not be negative.
    fn from(number: Decimal) -> Self {
        let (n, d) = (
            number.millionths().unsigned_abs(),
            Decimal::SCALE.unsigned_abs(),
        );
        let g = super::units::gcd(n, d).max(1);
        Self {
            numerator: BigUint::from(n / g),
            denominator: BigUint::from(d / g),
        }
    }
}

impl From<Length> for Quotient {
    /// In millimetres; must not be negative.
    fn from(length: Length) -> Self {
        Self {
            numerator: BigUint::from(length.steps().unsigned_abs()),
            denominator: BigUint::from(Length::PER_MM.unsigned_abs()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> Quotient {
        Quotient::from(Decimal::parse(text).unwrap())
    }

    fn rounded(value: &Quotient, degree: u32) -> String {
        value.root(degree).unwrap().to_string()
    }

    #[test]
    fn halves_round_up_and_nothing_less_does() {
        assert_eq!(rounded(&of("1").over(of("3")), 1), "0.333333");
        assert_eq!(rounded(&of("2").over(of("3")), 1), "0.666667");
        // 0.0000005 exactly, and one part in 2·10¹² less.
        let half = of("0.000001").over(of("2"));
        assert_eq!(rounded(&half, 1), "0.000001");
        let less = half.times(of("999999.999999")).over(of("1000000"));
        assert_eq!(rounded(&less, 1), "0");
    }

    #[test]
    fn roots_round_the_same_way() {
        assert_eq!(rounded(&of("2"), 2), "1.414214");
        assert_eq!(rounded(&of("10"), 40), "1.059254");
        assert_eq!(rounded(&of("2").power(40), 40), "2");
        // The square of 1.4142135 is where 1.414213 and 1.414214 part.
        let edge = of("14142135").over(of("10000000")).power(2);
        assert_eq!(rounded(&edge, 2), "1.414214");
        let below = edge.times(of("999999.999999")).over(of("1000000"));
        assert_eq!(rounded(&below, 2), "1.414213");
    }

    #[test]
    fn what_no_decimal_holds_is_refused() {
        assert!(of("1000000").power(4).root(1).is_none());
        assert_eq!(rounded(&Quotient::pi(), 1), "3.141593");
    }
}

//! Turns per turn of the input, exact and signed.

use crate::base::{Teeth, gcd};
use std::cmp::Ordering;

/// Turns per turn of the input shaft as a fraction in lowest terms; positive
/// with the input, negative against it. Both parts stay below 4·10¹²: tooth
/// counts end at 1000, and a difference of two gears multiplies four of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turns {
    numerator: i64,
    denominator: i64,
}

impl Turns {
    /// No turn at all.
    pub const STANDING: Self = Self {
        numerator: 0,
        denominator: 1,
    };
    /// One turn a turn: the input itself.
    pub const ONE: Self = Self {
        numerator: 1,
        denominator: 1,
    };

    /// `numerator` / `denominator`, which must be positive.
    fn reduced(numerator: i64, denominator: i64) -> Self {
        let by = gcd(numerator.unsigned_abs(), denominator.unsigned_abs());
        let by = by.max(1).cast_signed();
        Self {
            numerator: numerator / by,
            denominator: denominator / by,
        }
    }

    /// Top of the fraction; carries the sign.
    pub const fn numerator(self) -> i64 {
        self.numerator
    }

    /// Bottom of the fraction, at least 1.
    pub const fn denominator(self) -> i64 {
        self.denominator
    }

    /// The driven gear's turns when its mate, which turns so, has `driver` teeth
    /// and it has `driven`: an external mesh turns the sense about.
    #[must_use]
    pub fn meshed(self, driver: Teeth, driven: Teeth) -> Self {
        let (driver, driven) = (i64::from(driver.get()), i64::from(driven.get().max(1)));
        Self::reduced(-self.numerator * driver, self.denominator * driven)
    }

    /// These turns seen from something that turns by `other`.
    #[must_use]
    pub fn less(self, other: Self) -> Self {
        let top = self.numerator * other.denominator - other.numerator * self.denominator;
        Self::reduced(top, self.denominator * other.denominator)
    }

    /// How often `other` goes into these turns; none where it stands.
    pub fn over(self, other: Self) -> Option<Self> {
        let sign = other.numerator.signum();
        (sign != 0).then(|| {
            let top = self.numerator * other.denominator * sign;
            Self::reduced(top, self.denominator * other.numerator.abs())
        })
    }

    /// Whether there is no turn at all.
    pub const fn is_standing(self) -> bool {
        self.numerator == 0
    }

    /// Compares speeds, whichever way they turn.
    pub(super) fn cmp_speed(self, other: Self) -> Ordering {
        let cross = |a: Self, b: Self| {
            u128::from(a.numerator.unsigned_abs()) * u128::from(b.denominator.unsigned_abs())
        };
        cross(self, other).cmp(&cross(other, self))
    }

    /// The nearest double.
    #[allow(clippy::cast_precision_loss, reason = "both parts stay below 2^53")]
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

/// How fast something turns, or slips on what carries it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    /// Per turn of the input, exact.
    pub turns: Turns,
    /// Per turn of the input, the nearest double.
    pub per_input_turn: f64,
    /// Turns per minute, where the input's are given; signed alike.
    pub rpm: Option<f64>,
}

impl Rate {
    /// Of `turns` when the input turns `input_rpm` times a minute.
    pub fn of(turns: Turns, input_rpm: Option<f64>) -> Self {
        let per_input_turn = turns.to_f64();
        Self {
            turns,
            per_input_turn,
            rpm: input_rpm.map(|input_rpm| per_input_turn * input_rpm),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn teeth(count: u16) -> Teeth {
        Teeth::new(count)
    }

    // Row 1.13: TOM Example 13.1: 20→50, 25→75, 26→65 turn 975 rpm into 52;
    // three meshes, so against the first shaft.
    #[test]
    fn turns_through_a_published_train() {
        let mut turns = Turns::ONE;
        for (driver, driven) in [(20, 50), (25, 75), (26, 65)] {
            turns = turns.meshed(teeth(driver), teeth(driven));
        }
        assert_eq!((turns.numerator(), turns.denominator()), (-4, 75));
        let rpm = Rate::of(turns, Some(975.0)).rpm.unwrap();
        assert!((rpm + 52.0).abs() < 1e-12, "{rpm}");
    }

    // Row 10.07: the gear-train rule: an idler turns the sense about and leaves
    // the size of the ratio, 38/18.
    #[test]
    fn an_idler_only_turns_the_sense_about() {
        for idler in [3, 20, 41] {
            let through = Turns::ONE.meshed(teeth(18), teeth(idler));
            let turns = through.meshed(teeth(idler), teeth(38));
            assert_eq!((turns.numerator(), turns.denominator()), (9, 19));
        }
    }

    #[test]
    fn differences_and_quotients_are_exact() {
        let one = Turns::ONE.meshed(teeth(999), teeth(1000));
        let other = Turns::ONE.meshed(teeth(998), teeth(999));
        let slip = one.less(other);
        assert_eq!((slip.numerator(), slip.denominator()), (-1, 999_000));
        assert_eq!(one.less(one), Turns::STANDING);
        assert_eq!(one.over(one), Some(Turns::ONE));
        let parts = one.over(other).map(|t| (t.numerator(), t.denominator()));
        assert_eq!(parts, Some((998_001, 998_000)));
        assert_eq!(one.over(Turns::STANDING), None);
        assert_eq!(one.cmp_speed(other), Ordering::Greater);
    }
}

//! Parts of a turn of the crank, exact.

use serde::{Serialize, Serializer};
use std::cmp::Ordering;
use std::fmt;

/// Turns as a fraction in lowest terms, negative against the sense of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turns {
    numerator: i128,
    denominator: i128,
}

const fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

impl Turns {
    /// No turn.
    pub const NONE: Self = Self {
        numerator: 0,
        denominator: 1,
    };

    /// `numerator` ÷ `denominator`; a denominator of 0 counts as 1.
    pub const fn of(numerator: i64, denominator: u32) -> Self {
        Self::lowest(numerator as i128, denominator as i128)
    }

    const fn lowest(numerator: i128, denominator: i128) -> Self {
        let common = gcd(numerator.unsigned_abs(), denominator.unsigned_abs()).cast_signed();
        if denominator == 0 || common == 0 {
            return Self {
                numerator,
                denominator: 1,
            };
        }
        Self {
            numerator: numerator / common,
            denominator: denominator / common,
        }
    }

    /// Both one after the other.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self::lowest(
            self.numerator * other.denominator + other.numerator * self.denominator,
            self.denominator * other.denominator,
        )
    }

    /// The same, the other way.
    #[must_use]
    pub const fn back(self) -> Self {
        Self {
            numerator: -self.numerator,
            denominator: self.denominator,
        }
    }

    /// So many times.
    #[must_use]
    pub const fn times(self, count: u32) -> Self {
        Self::lowest(self.numerator * count as i128, self.denominator)
    }

    /// Divided into so many parts, 1 or more.
    #[must_use]
    pub const fn over(self, parts: u32) -> Self {
        Self::lowest(self.numerator, self.denominator * parts as i128)
    }

    /// Without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self {
            numerator: self.numerator.abs(),
            denominator: self.denominator,
        }
    }

    /// Whether these are whole turns.
    pub const fn are_whole(self) -> bool {
        self.denominator == 1
    }

    /// Whole turns, rounded towards none, and the holes on a circle of `holes`
    /// that are left over; none where they end between two holes.
    pub fn on_circle(self, holes: u32) -> Option<(u32, u32)> {
        let moved = self.times(holes);
        if !moved.are_whole() || moved.numerator < 0 || holes == 0 {
            return None;
        }
        let holes = i128::from(holes);
        let whole = u32::try_from(moved.numerator / holes).ok()?;
        Some((whole, u32::try_from(moved.numerator % holes).ok()?))
    }

    /// The numerator in lowest terms.
    pub const fn numerator(self) -> i128 {
        self.numerator
    }

    /// The denominator in lowest terms, 1 or more.
    pub const fn denominator(self) -> i128 {
        self.denominator
    }

    /// The double nearest to it, but for the two roundings of its parts.
    #[allow(
        clippy::cast_precision_loss,
        reason = "figures for people; comparisons are exact"
    )]
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

impl Ord for Turns {
    fn cmp(&self, other: &Self) -> Ordering {
        let [here, there] = [
            self.numerator * other.denominator,
            other.numerator * self.denominator,
        ];
        here.cmp(&there)
    }
}

impl PartialOrd for Turns {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl fmt::Display for Turns {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.are_whole() {
            write!(f, "{}", self.numerator)
        } else {
            write!(f, "{}/{}", self.numerator, self.denominator)
        }
    }
}

impl Serialize for Turns {
    /// As a fraction in words, so that nothing is lost.
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_in_lowest_terms() {
        let sum = Turns::of(10, 15).and(Turns::of(2, 17));
        assert_eq!(sum.to_string(), "40/51");
        assert_eq!(sum.times(51), Turns::of(40, 1));
        assert!(sum.times(51).are_whole() && !sum.times(50).are_whole());
        assert_eq!(sum.and(sum.back()), Turns::NONE);
        assert_eq!(Turns::of(40, 6).over(40), Turns::of(1, 6));
        assert!(Turns::of(-1, 3) < Turns::of(-1, 4));
    }

    #[test]
    fn a_circle_serves_where_the_move_ends_in_a_hole() {
        assert_eq!(Turns::of(40, 6).on_circle(18), Some((6, 12)));
        assert_eq!(Turns::of(40, 6).on_circle(19), None);
        assert_eq!(Turns::of(-1, 2).on_circle(18), None);
    }
}

//! Lengths, modules and tooth counts as exact values.

use super::Decimal;
use std::cmp::Ordering;
use std::fmt;

/// A length, exact in nanometre steps of 10⁻⁹ mm, so that both decimals of a
/// millimetre and decimals of an inch (25.4 mm) are exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    pub(super) const PER_MM: i64 = 1_000_000_000;
    const PER_UM: u64 = 1_000_000;

    /// A length written in millimetres. Valid to ±9 000 000 mm.
    pub const fn from_mm(mm: Decimal) -> Self {
        Self(mm.millionths() * (Self::PER_MM / Decimal::SCALE))
    }

    /// A length of whole micrometres.
    pub fn from_um(um: u64) -> Self {
        let steps = um.saturating_mul(Self::PER_UM);
        Self(i64::try_from(steps).unwrap_or(i64::MAX))
    }

    /// A length written in inches of exactly 25.4 mm. Valid to ±350 000 in.
    pub const fn from_inches(inches: Decimal) -> Self {
        Self(inches.millionths() * (Self::PER_MM / Decimal::SCALE / 10) * 254)
    }

    /// The double nearest to the length in millimetres.
    #[allow(clippy::cast_precision_loss, reason = "lengths stay below 2^53 steps")]
    pub fn mm(self) -> f64 {
        self.0 as f64 / Self::PER_MM as f64
    }

    /// The length in inches.
    pub fn inches(self) -> f64 {
        self.mm() / 25.4
    }

    /// The length in steps of 10⁻⁹ mm.
    pub const fn steps(self) -> i64 {
        self.0
    }

    /// The length of `steps` × 10⁻⁹ mm.
    pub const fn from_steps(steps: i64) -> Self {
        Self(steps)
    }
}

impl fmt::Display for Length {
    /// Millimetres, shortest exact spelling, without the unit.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.0.unsigned_abs();
        let scale = Self::PER_MM.unsigned_abs();
        if self.0 < 0 {
            f.write_str("-")?;
        }
        write!(f, "{}", size / scale)?;
        let fraction = format!("{:09}", size % scale);
        let fraction = fraction.trim_end_matches('0');
        if fraction.is_empty() {
            Ok(())
        } else {
            write!(f, ".{fraction}")
        }
    }
}

/// A normal module (pitch diameter per tooth, mm), exact also when it came
/// from a diametral pitch. Equality and order are those of the exact value.
#[derive(Clone, Copy, Debug)]
pub struct Module {
    numerator: i64,
    denominator: i64,
    /// The diametral pitch that it was written as, if it was.
    pitch: Option<Decimal>,
}

impl Module {
    /// A module in millimetres; must be positive and at most 100.
    pub fn metric(mm: Decimal) -> Self {
        Self::reduced(mm.millionths(), Decimal::SCALE, None)
    }

    /// The module 25.4 / `pitch`; the pitch must be positive and at most 10 000.
    pub fn from_diametral_pitch(pitch: Decimal) -> Self {
        Self::reduced(254 * (Decimal::SCALE / 10), pitch.millionths(), Some(pitch))
    }

    fn reduced(numerator: i64, denominator: i64, pitch: Option<Decimal>) -> Self {
        let g = gcd(numerator.unsigned_abs(), denominator.unsigned_abs())
            .max(1)
            .cast_signed();
        Self {
            numerator: numerator / g,
            denominator: denominator / g,
            pitch,
        }
    }

    /// The double nearest to the module in millimetres.
    #[allow(clippy::cast_precision_loss, reason = "both parts stay below 2^53")]
    pub fn mm(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }

    /// The exact value in millimetres as (numerator, denominator), reduced.
    pub const fn fraction(self) -> (i64, i64) {
        (self.numerator, self.denominator)
    }

    /// The diametral pitch that it was written as, if it was.
    pub const fn pitch(self) -> Option<Decimal> {
        self.pitch
    }
}

impl PartialEq for Module {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Module {}

impl PartialOrd for Module {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Module {
    fn cmp(&self, other: &Self) -> Ordering {
        let left = i128::from(self.numerator) * i128::from(other.denominator);
        left.cmp(&(i128::from(other.numerator) * i128::from(self.denominator)))
    }
}

/// A number of teeth, 1 to 1000.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Teeth(u16);

impl Teeth {
    /// `count` teeth.
    pub const fn new(count: u16) -> Self {
        Self(count)
    }

    /// `count` teeth, at most 65 535.
    #[allow(
        clippy::cast_possible_truncation,
        reason = "no gear has more than 1000 teeth"
    )]
    pub const fn of(count: u32) -> Self {
        Self(count as u16)
    }

    /// The count.
    pub const fn get(self) -> u32 {
        self.0 as u32
    }
}

impl From<Teeth> for f64 {
    fn from(teeth: Teeth) -> Self {
        Self::from(teeth.0)
    }
}

impl fmt::Display for Teeth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// Greatest common divisor; 0 when both are 0.
pub(crate) const fn gcd(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        Decimal::parse(text).unwrap()
    }

    #[test]
    fn a_diametral_pitch_equals_the_module_it_stands_for() {
        let pitch = Module::from_diametral_pitch(decimal("20"));
        assert_eq!(pitch, Module::metric(decimal("1.27")));
        assert!(Module::from_diametral_pitch(decimal("12")) > Module::metric(decimal("2")));
    }

    // Row 2.19: DP to module, by definition.
    #[test]
    fn published_modules_of_diametral_pitches() {
        for (pitch, module) in [
            ("8", 3.175),
            ("10", 2.54),
            ("12", 2.11667),
            ("16", 1.5875),
            ("20", 1.27),
            ("24", 1.05833),
            ("32", 0.79375),
        ] {
            let got = Module::from_diametral_pitch(decimal(pitch)).mm();
            assert!((got - module).abs() < 1e-5, "{pitch}: {got}");
        }
    }

    #[test]
    fn inches_are_exact() {
        assert_eq!(
            Length::from_inches(decimal("1")),
            Length::from_mm(decimal("25.4"))
        );
        assert_eq!(
            Length::from_inches(decimal("0.000001")).to_string(),
            "0.0000254"
        );
        assert_eq!(Length::from_mm(decimal("41.37")).to_string(), "41.37");
    }
}

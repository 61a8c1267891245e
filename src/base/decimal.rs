//! A number as a person wrote it: an exact decimal.

use std::fmt;

/// Most decimals a number may be written with.
const MAX_DECIMALS: i64 = 6;
/// Most significant digits a number may be written with.
const MAX_DIGITS: usize = 15;

/// An exact decimal in millionths: at most 15 significant digits and at most
/// 6 decimals, as problem files may write them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Decimal(i64);

/// Why a text is not a [`Decimal`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecimalError {
    /// Not a number in JSON's spelling.
    NotANumber,
    /// More than 6 decimals.
    TooFine,
    /// More than 15 significant digits, or larger than any length, ratio or
    /// count that this program can mean.
    TooLong,
}

impl fmt::Display for DecimalError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotANumber => "not a number",
            Self::TooFine => "more than 6 decimals",
            Self::TooLong => "more than 15 significant digits",
        })
    }
}

impl std::error::Error for DecimalError {}

impl Decimal {
    /// One, as millionths.
    pub const SCALE: i64 = 1_000_000;

    /// The decimal that is `millionths` / 1 000 000.
    pub const fn from_millionths(millionths: i64) -> Self {
        Self(millionths)
    }

    /// The whole number `n`; `n` must be below 9 223 372 036 854.
    pub const fn whole(n: i64) -> Self {
        Self(n * Self::SCALE)
    }

    /// The value in millionths.
    pub const fn millionths(self) -> i64 {
        self.0
    }

    /// The double nearest to the value.
    #[allow(
        clippy::cast_precision_loss,
        reason = "15 digits and the scale are exact doubles, so one division rounds once"
    )]
    pub fn to_f64(self) -> f64 {
        self.0 as f64 / Self::SCALE as f64
    }

    /// The decimal nearest to `value`; none if it is not finite or out of range.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "the range is checked first"
    )]
    pub fn nearest(value: f64) -> Option<Self> {
        let scaled = (value * Self::SCALE as f64).round();
        (scaled.abs() < 1e15).then_some(Self(scaled as i64))
    }

    /// Reads JSON's spelling of a number (sign, digits, decimals, exponent).
    ///
    /// # Errors
    /// See [`DecimalError`]: the value must be exact in 6 decimals and written
    /// with no more than 15 significant digits.
    pub fn parse(text: &str) -> Result<Self, DecimalError> {
        let (negative, body) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let (mantissa, exponent) = match body.split_once(['e', 'E']) {
            Some((mantissa, exponent)) => (mantissa, parse_exponent(exponent)?),
            None => (body, 0),
        };
        let (whole, fraction) = mantissa.split_once('.').unwrap_or((mantissa, ""));
        if whole.is_empty()
            || !format!("{whole}{fraction}")
                .bytes()
                .all(|b| b.is_ascii_digit())
        {
            return Err(DecimalError::NotANumber);
        }
        let digits = format!("{whole}{fraction}");
        let significant = digits.trim_start_matches('0').trim_end_matches('0');
        if significant.is_empty() {
            return Ok(Self(0));
        }
        if significant.len() > MAX_DIGITS {
            return Err(DecimalError::TooLong);
        }
        let trailing = digits.len() - digits.trim_end_matches('0').len();
        // value = significant × 10^place
        let place = exponent
            .saturating_add(as_i64(trailing))
            .saturating_sub(as_i64(fraction.len()));
        let shift = place.saturating_add(MAX_DECIMALS);
        if shift < 0 {
            return Err(DecimalError::TooFine);
        }
        if shift.saturating_add(as_i64(significant.len())) > 18 {
            return Err(DecimalError::TooLong);
        }
        let size = significant
            .bytes()
            .chain(std::iter::repeat_n(
                b'0',
                usize::try_from(shift).unwrap_or(0),
            ))
            .fold(0_i64, |value, digit| value * 10 + i64::from(digit - b'0'));
        Ok(Self(if negative { -size } else { size }))
    }
}

fn as_i64(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

fn parse_exponent(text: &str) -> Result<i64, DecimalError> {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return Err(DecimalError::NotANumber);
    }
    let size = digits.parse::<i64>().unwrap_or(1_000_000).min(1_000_000);
    Ok(if text.starts_with('-') { -size } else { size })
}

impl fmt::Display for Decimal {
    /// The shortest spelling: `3`, `0.8`, `41.37`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.0.unsigned_abs();
        let scale = Self::SCALE.unsigned_abs();
        if self.0 < 0 {
            f.write_str("-")?;
        }
        write!(f, "{}", size / scale)?;
        let fraction = format!("{:06}", size % scale);
        let fraction = fraction.trim_end_matches('0');
        if fraction.is_empty() {
            Ok(())
        } else {
            write!(f, ".{fraction}")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_decimals_exactly() {
        for (text, millionths) in [
            ("0", 0),
            ("-0.0", 0),
            ("3", 3_000_000),
            ("0.8", 800_000),
            ("41.37", 41_370_000),
            ("-2.5", -2_500_000),
            ("1e3", 1_000_000_000),
            ("25E-1", 2_500_000),
            ("0.000001", 1),
            ("1.000000000", 1_000_000),
            ("999999999.999999", 999_999_999_999_999),
        ] {
            assert_eq!(
                Decimal::parse(text),
                Ok(Decimal::from_millionths(millionths)),
                "{text}"
            );
        }
    }

    #[test]
    fn refuses_what_it_cannot_hold_exactly() {
        for (text, error) in [
            ("0.0000001", DecimalError::TooFine),
            ("1e-7", DecimalError::TooFine),
            ("1e-99999999999", DecimalError::TooFine),
            ("9999999999.999999", DecimalError::TooLong),
            ("1e400", DecimalError::TooLong),
            ("1e99999999999999", DecimalError::TooLong),
            ("", DecimalError::NotANumber),
            ("-", DecimalError::NotANumber),
            (".5", DecimalError::NotANumber),
            ("1e", DecimalError::NotANumber),
            ("NaN", DecimalError::NotANumber),
            ("0x10", DecimalError::NotANumber),
        ] {
            assert_eq!(Decimal::parse(text), Err(error), "{text}");
        }
    }

    #[test]
    fn prints_the_shortest_spelling() {
        for text in ["3", "0.8", "41.37", "-2.5", "0.000001"] {
            assert_eq!(
                Decimal::parse(text).map(|d| d.to_string()),
                Ok(text.to_owned())
            );
        }
    }
}

//! The words in which a ratio was asked for.

use super::series::Series;
use crate::base::Decimal;

/// How a person gave a target. The target itself is the ratio, rounded to 6
/// decimals; this is kept so that results can say what was meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// As the ratio.
    Ratio,
    /// As the speed of the output shaft.
    OutputRpm {
        /// Speed of the output shaft, rpm.
        output: Decimal,
        /// Speed of the input shaft, rpm.
        input: Decimal,
    },
    /// As the speed of the vehicle.
    RoadSpeed {
        /// The speed, in `unit`.
        speed: Decimal,
        /// Its unit.
        unit: RoadUnit,
        /// Speed of the input shaft, rpm.
        input: Decimal,
    },
    /// As one of a list that a law spaces.
    Spacing(Law),
    /// Not at all: the gears are cut, and their own ratio stands in for it.
    OwnTeeth,
}

/// A unit of road speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoadUnit {
    /// Kilometres an hour.
    Kmh,
    /// Miles an hour, of exactly 1.609344 km/h.
    Mph,
}

/// A law that spaces ratios from a first to a last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Law {
    /// Every step the same.
    Geometric,
    /// Each step smaller than the one before by the same factor.
    Progressive,
    /// Ratios equally far apart.
    Arithmetic,
    /// Speeds equally far apart.
    Harmonic,
    /// Members of a series of preferred numbers.
    Preferred(Series),
}

impl Law {
    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Geometric => "geometric",
            Self::Progressive => "progressive",
            Self::Arithmetic => "arithmetic",
            Self::Harmonic => "harmonic",
            Self::Preferred(_) => "preferred",
        }
    }
}

//! A figure that a rating rests on.

use crate::problem::Taken;
use std::fmt;

/// Where a figure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The problem file has it.
    Given,
    /// It follows from other figures.
    Derived,
    /// The file does not have it, and the usual one was taken.
    Defaulted,
}

impl Origin {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Given => "given",
            Self::Derived => "derived",
            Self::Defaulted => "defaulted",
        }
    }

    /// Given or defaulted.
    pub const fn of(taken: &Taken) -> Self {
        Self::given_if(taken.given())
    }

    pub(super) const fn given_if(given: bool) -> Self {
        if given { Self::Given } else { Self::Defaulted }
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// One figure with its name, its value and where that comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factor {
    /// Its letter in the norms.
    pub symbol: &'static str,
    /// Whose it is: 0 the driving gear, 1 the driven; none for the mesh.
    pub gear: Option<usize>,
    /// The value.
    pub value: f64,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// Where the value comes from.
    pub origin: Origin,
    /// What it is, in plain words.
    pub what: &'static str,
    /// The norm or habit behind it.
    pub source: &'static str,
}

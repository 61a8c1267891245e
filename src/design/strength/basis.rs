//! Where figures come from.

/// How a figure was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The file says it.
    Given,
    /// It follows from other figures.
    Derived,
    /// Nothing says it: it is taken as usual.
    Defaulted,
}

impl Standing {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Given => "given",
            Self::Derived => "derived",
            Self::Defaulted => "defaulted",
        }
    }
}

/// Where a figure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Basis {
    /// How it was come by.
    pub standing: Standing,
    /// From what, in words; names its source.
    pub words: &'static str,
}

impl Basis {
    /// Given by the file.
    pub const fn given(words: &'static str) -> Self {
        Self::of(Standing::Given, words)
    }

    /// Follows from other figures.
    pub const fn derived(words: &'static str) -> Self {
        Self::of(Standing::Derived, words)
    }

    /// Taken as usual.
    pub const fn defaulted(words: &'static str) -> Self {
        Self::of(Standing::Defaulted, words)
    }

    const fn of(standing: Standing, words: &'static str) -> Self {
        Self { standing, words }
    }
}

/// A figure that ratings rest on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factor {
    /// What it is.
    pub name: &'static str,
    /// How much.
    pub value: f64,
    /// In what; empty for plain numbers.
    pub unit: &'static str,
    /// Where it comes from.
    pub basis: Basis,
}

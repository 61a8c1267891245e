//! The words in which the problem file's keys are described. The description
//! itself is `table.rs`, with `targets.rs` and `distances.rs`; the reader, the
//! schema and `--with` all follow it.

use crate::base::{Decimal, Length};
use std::fmt;

/// One key of an object.
#[derive(Debug)]
pub(super) struct Key {
    /// Its name; without the unit when it may be given in mm or in inches.
    pub(super) name: &'static str,
    /// Whether it is spelled `name_mm` or `name_in`.
    pub(super) twin: bool,
    /// What it means, in a sentence.
    pub(super) doc: &'static str,
    /// What it may hold.
    pub(super) kind: Kind,
    /// What happens when it is missing.
    pub(super) need: Need,
}

/// What happens when a key is missing.
#[derive(Debug, Clone, Copy)]
pub(super) enum Need {
    /// A fault.
    Required,
    /// This JSON text is taken.
    Default(&'static str),
    /// Something else decides; said in words.
    Otherwise(&'static str),
    /// Nothing.
    Optional,
}

/// What a value may be.
#[derive(Debug)]
pub(super) enum Kind {
    /// A line of text.
    Text { longest: usize },
    /// One of a few words.
    Word(&'static [&'static str]),
    /// `true` or `false`.
    Flag,
    /// A plain number.
    Number(Range),
    /// A length, in the unit that the nearest twin key names; limits in mm.
    Length(Range),
    /// Such a length, or one of a few words.
    LengthOr(Range, &'static [&'static str]),
    /// A whole number of teeth.
    Teeth { least: u16, most: u16 },
    /// A whole number of anything else.
    Whole { least: usize, most: usize },
    /// An object.
    Fields(&'static Shape),
    /// Any number of one kind.
    List {
        of: &'static Kind,
        least: usize,
        most: usize,
    },
    /// A fixed row of values, each with its own meaning.
    Row(&'static [(&'static str, Kind)]),
    /// A single value, or an object in its place: of these the one that more
    /// of the keys given belong to.
    Either(&'static Kind, &'static [&'static Shape]),
}

/// An object's keys and the rules between them.
#[derive(Debug, Default)]
pub(super) struct Shape {
    /// The keys it takes.
    pub(super) keys: &'static [Key],
    /// At least one of these is needed.
    pub(super) any_of: &'static [&'static str],
    /// Pairs that exclude each other.
    pub(super) apart: &'static [(&'static str, &'static str)],
    /// The first is meaningless without the second.
    pub(super) with: &'static [(&'static str, &'static str)],
    /// The first may not exceed the second.
    pub(super) ordered: &'static [(&'static str, &'static str)],
}

/// Legal values of a number.
#[derive(Debug, Clone, Copy)]
pub(super) struct Range {
    pub(super) low: Decimal,
    /// Whether `low` itself is out.
    pub(super) above: bool,
    pub(super) high: Decimal,
    /// Whether `high` itself is out.
    pub(super) below: bool,
}

impl Range {
    /// Both ends legal.
    pub(super) const fn closed(low: Decimal, high: Decimal) -> Self {
        Self {
            low,
            above: false,
            high,
            below: false,
        }
    }

    pub(super) fn contains(&self, value: Decimal) -> bool {
        let low = if self.above {
            value > self.low
        } else {
            value >= self.low
        };
        let high = if self.below {
            value < self.high
        } else {
            value <= self.high
        };
        low && high
    }

    /// [`Range::contains`] for limits in mm.
    pub(super) fn contains_length(&self, value: Length) -> bool {
        let (low, high) = (Length::from_mm(self.low), Length::from_mm(self.high));
        let low = if self.above {
            value > low
        } else {
            value >= low
        };
        low && if self.below {
            value < high
        } else {
            value <= high
        }
    }
}

impl fmt::Display for Range {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.above, self.below) {
            (false, false) => write!(f, "from {} to {}", self.low, self.high),
            (true, false) => write!(f, "above {} and up to {}", self.low, self.high),
            (false, true) => write!(f, "from {} to below {}", self.low, self.high),
            (true, true) => write!(f, "above {} and below {}", self.low, self.high),
        }
    }
}

/// The unit in which lengths are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Mm,
    Inch,
}

impl Unit {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::Inch => "in",
        }
    }
}

impl Key {
    /// The spellings that a file may use, each with the unit it brings.
    pub(super) fn spellings(&self) -> Vec<(String, Option<Unit>)> {
        if self.twin {
            [Unit::Mm, Unit::Inch]
                .map(|unit| (format!("{}_{}", self.name, unit.word()), Some(unit)))
                .to_vec()
        } else {
            vec![(self.name.to_owned(), None)]
        }
    }

    /// The spelling to name in messages when the file gives none.
    pub(super) fn usual(&self) -> String {
        if self.twin {
            format!("{}_mm", self.name)
        } else {
            self.name.to_owned()
        }
    }
}

impl Shape {
    /// The key spelled so, and the unit the spelling brings.
    pub(super) fn find(&self, spelling: &str) -> Option<(&'static Key, Option<Unit>)> {
        let keys: &'static [Key] = self.keys;
        keys.iter().find_map(|key| {
            let unit = match spelling.strip_prefix(key.name)? {
                "" if !key.twin => None,
                "_mm" if key.twin => Some(Unit::Mm),
                "_in" if key.twin => Some(Unit::Inch),
                _ => return None,
            };
            Some((key, unit))
        })
    }

    /// The key of that name without its unit.
    pub(super) fn named(&self, name: &str) -> Option<&'static Key> {
        let keys: &'static [Key] = self.keys;
        keys.iter().find(|key| key.name == name)
    }

    /// The first key that it needs, or the first it takes.
    pub(super) fn first(&self) -> &Key {
        let needed = |key: &&Key| matches!(key.need, Need::Required);
        self.keys.iter().find(needed).unwrap_or(&self.keys[0])
    }

    /// All spellings, in the order of the description.
    pub(super) fn spellings(&self) -> impl Iterator<Item = String> {
        let keys: &'static [Key] = self.keys;
        keys.iter()
            .flat_map(Key::spellings)
            .map(|(spelling, _)| spelling)
    }
}

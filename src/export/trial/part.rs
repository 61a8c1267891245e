//! What a page for the bench is made of: headings, words, lists and tables as
//! data, for whoever spells them.

use crate::base::plain;
use serde::Serialize;

/// A heading and what stands under it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TrialPart {
    /// Empty above the first.
    pub heading: String,
    /// In order.
    pub blocks: Vec<TrialBlock>,
}

/// One thing under a heading.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TrialBlock {
    /// A paragraph.
    Words(String),
    /// A paragraph that must not be overlooked.
    Warning(String),
    /// A list without order.
    Points(Vec<String>),
    /// A list in order.
    Steps(Vec<String>),
    /// Things to measure, each with a box to write in.
    Readings(Vec<String>),
    /// A table.
    Table(TrialTable),
}

/// Rows under heads; every row has a cell a head.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TrialTable {
    /// The columns.
    pub heads: Vec<TrialHead>,
    /// The rows.
    pub rows: Vec<Vec<TrialCell>>,
}

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct TrialHead {
    /// What stands in it.
    pub name: &'static str,
    /// In what unit; empty where it is none.
    pub unit: &'static str,
    /// Whether figures stand in it.
    pub figures: bool,
}

impl TrialHead {
    pub(super) const fn words(name: &'static str) -> Self {
        Self::new(name, "", false)
    }

    pub(super) const fn figures(name: &'static str, unit: &'static str) -> Self {
        Self::new(name, unit, true)
    }

    /// A column to write in.
    pub(super) const fn read() -> Self {
        Self::new("read", "mm", false)
    }

    const fn new(name: &'static str, unit: &'static str, figures: bool) -> Self {
        Self {
            name,
            unit,
            figures,
        }
    }

    /// Name and unit in one.
    pub fn text(&self) -> String {
        format!("{} {}", self.name, self.unit).trim_end().to_owned()
    }
}

/// One cell. Figures stay figures: each page has its own way to write them.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TrialCell {
    /// Words.
    Words(String),
    /// A figure and its decimals.
    Figure(f64, usize),
    /// Least, most, and their decimals.
    Range(f64, f64, usize),
    /// A box to write in.
    Read,
    /// Nothing.
    Nothing,
}

impl TrialCell {
    pub(super) fn words(text: impl Into<String>) -> Self {
        Self::Words(text.into())
    }

    pub(super) fn range([least, most]: [f64; 2], decimals: usize) -> Self {
        Self::Range(least, most, decimals)
    }

    /// As plain text; none of a box to write in.
    pub fn text(&self) -> Option<String> {
        match self {
            Self::Words(text) => Some(text.clone()),
            Self::Figure(value, decimals) => Some(plain(*value, *decimals)),
            Self::Range(least, most, decimals) => {
                let ends = [least, most].map(|end| plain(*end, *decimals));
                Some(ends.join("-"))
            }
            Self::Read => None,
            Self::Nothing => Some(String::new()),
        }
    }
}

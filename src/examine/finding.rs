//! One thing found about a gearbox.

use crate::problem::Fault;
use serde::Serialize;

/// How much it matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Weight {
    /// The box does not run, hold together or do as asked.
    Fault,
    /// Worth knowing; the box runs.
    Remark,
}

/// By how much, as a figure.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Amount {
    /// The figure.
    pub value: f64,
    /// What it is counted in: `mm`, `modules`, `percent`, `teeth`, or nothing.
    pub unit: &'static str,
}

impl Amount {
    /// Millimetres.
    pub const fn mm(value: f64) -> Self {
        Self { value, unit: "mm" }
    }
}

/// One thing found: where, what, how much, what to do next.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// Fault or remark.
    pub weight: Weight,
    /// One word for it.
    pub kind: &'static str,
    /// The mesh, gear, shaft or sleeve it is about.
    #[serde(rename = "where")]
    pub place: String,
    /// What is so, with its figures.
    pub what: String,
    /// The figure that it is about, where there is one.
    pub by: Option<Amount>,
    /// What to do next.
    pub next: String,
}

impl Finding {
    /// A fault without a figure.
    pub(super) fn fault(kind: &'static str, place: String, what: String, next: String) -> Self {
        Self {
            weight: Weight::Fault,
            kind,
            place,
            what,
            by: None,
            next,
        }
    }

    /// The same with its figure.
    pub(super) const fn by(mut self, amount: Amount) -> Self {
        self.by = Some(amount);
        self
    }

    /// The same as a remark, where that is `so`.
    pub(super) const fn remark_if(mut self, so: bool) -> Self {
        if so {
            self.weight = Weight::Remark;
        }
        self
    }
}

/// A fault that kept the file from being taken as written.
pub(super) fn of_file(fault: &Fault) -> Finding {
    let (kind, place, rest) = if fault.key.starts_with("gears") {
        let rest = "all else here is worked out with the usual rack";
        ("rack", "rack", rest)
    } else if fault.key.starts_with("reverse") {
        let rest = "all else here takes reverse as always in mesh";
        ("engagement", "reverse", rest)
    } else if fault.key.starts_with("layout.forks") {
        let rest = "all else here takes neighbouring speeds to share a sleeve";
        ("engagement", "sleeves", rest)
    } else {
        (
            "engagement",
            "dogs",
            "all else here takes the usual in its place",
        )
    };
    let what = format!("{} ({}); {rest}", fault.what, fault.key);
    Finding::fault(kind, place.to_owned(), what, fault.next.clone())
}

//! How the gears of a mesh are made: profile shift, tips, blanks; and which
//! limit refuses them.
//!
//! In: a checked [`Problem`](crate::problem::Problem), tooth counts, holes, a
//! centre distance. Out: a [`Form`] for each gear, or the [`Refusal`] by name.
//! Assumed: external gears on parallel shafts. Sources: ISO 21771 for the
//! geometry (`involute`); the order in which limits are asked is the project's.
//!
//! Where the problem judges nothing, every gear has the plain form.

mod blank;
mod cutter;
mod pair;
mod refusal;
mod reverse;
mod rules;

pub use blank::{blank_um, gear_of, gear_with, toothing_of};
pub use cutter::{FineCutter, FormCutter, fine_cutter, form_cutter, virtual_teeth};
pub use refusal::Refusal;
pub use reverse::{Bench, ReverseForms};
pub use rules::Rules;

/// What a gear is cut as, beyond module and teeth; in modules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Form {
    /// Profile shift x.
    pub shift: f64,
    /// Tip shortening k, 0 or negative.
    pub tip_shortening: f64,
}

impl Form {
    /// No shift, a full tip.
    pub const PLAIN: Self = Self {
        shift: 0.0,
        tip_shortening: 0.0,
    };

    /// Whether there is neither shift nor shortening.
    pub fn is_plain(&self) -> bool {
        // Exactly: nothing is rounded on the way to a plain form.
        self.shift.abs() < f64::MIN_POSITIVE && self.tip_shortening.abs() < f64::MIN_POSITIVE
    }

    /// The shift in thousandths of a module, half up: how finely a cutter made
    /// for one gear is told from another's.
    #[allow(
        clippy::cast_possible_truncation,
        reason = "shifts are between -2 and 3 modules"
    )]
    pub fn shift_thousandths(&self) -> i32 {
        (self.shift * 1000.0 + 0.5).floor() as i32
    }
}

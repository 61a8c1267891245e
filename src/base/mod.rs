//! Exact numbers: decimals as written, lengths, tooth counts, ratios; every
//! tolerance of the project by name.
//!
//! In: plain integers and decimal text. Out: values whose comparisons are
//! exact. Assumed: magnitudes inside the limits the problem checker holds
//! (ratios up to 1000, teeth up to 1000, lengths up to 10 m), which keep every
//! product below inside its integer type.

mod decimal;
mod halving;
mod quotient;
mod ratio;
mod text;
mod tolerance;
mod units;

pub use decimal::{Decimal, DecimalError};
pub use halving::{first_near, first_that};
pub use quotient::Quotient;
pub use ratio::{Ratio, Target, Window};
pub use text::{capital, plain, signed, thousands, trimmed};
pub use tolerance::{FIGURE_SLACK, LENGTH_SLACK_MM, PLACE_SLACK_MM, SCORE_STEPS};
pub(crate) use units::gcd;
pub use units::{Length, Module, Teeth};

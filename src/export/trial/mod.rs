//! The page for the bench: proving a box by hand, and finding its faults.
//!
//! In: a box looked over, and what to measure of its gears. Out: headings,
//! words, lists and tables as data, so that `check --trial` and the report spell
//! the same. Assumed: the sheets are this set's. The practice is the trade's
//! (common practice, no source); the figures are the box's own.

mod centres;
mod gears;
mod part;
mod run;
mod standing;
mod trouble;

pub use centres::over_pins;
pub use part::{TrialBlock, TrialCell, TrialHead, TrialPart, TrialTable};
pub use standing::found_words;

use super::GearSheet;
use crate::examine::{Examined, Trial};

/// Every step, in the order of work.
pub fn trial_parts(examined: &Examined<'_>, trial: &Trial, sheets: &[GearSheet]) -> Vec<TrialPart> {
    vec![
        standing::standing(examined),
        centres::centres(&examined.plan.boring),
        gears::printed(examined, sheets),
        gears::blueing(examined),
        run::backlash(trial),
        run::turning(examined.problem.input_turns(), trial),
        run::run_in(),
        trouble::symptoms(trial),
        trouble::beats(trial),
    ]
}

//! Centres, before anything is bored or pressed in.

use super::part::{TrialBlock, TrialPart};
use crate::base::plain;
use crate::design::boring::{Boring, PinCheck};
use crate::sheet::bored_for;
use std::fmt::Write;

/// A check over pins, in words: which pins, and what to read.
pub fn over_pins(check: &PinCheck) -> String {
    let [one, other] = check.shafts.map(bored_for);
    let [first, second] = check.pins_mm.map(|mm| plain(mm, 2));
    let mut text = format!(
        "{one} {first}, {other} {second} mm pins: {} mm outside",
        plain(check.outside_mm, 3)
    );
    if check.inside_mm > 0.0 {
        // Writing to a String cannot fail.
        let _ = write!(text, ", {} inside", plain(check.inside_mm, 3));
    }
    text
}

pub(super) fn centres(boring: &Boring) -> TrialPart {
    let how = "Drill both plates of scrap 3 mm thick as the walls are to be bored, set pins in the \
               holes and measure over them. Only when all of these read right, bore the walls; \
               measure again in the bores with the bearings' own pins.";
    let mut blocks = vec![
        TrialBlock::Words(how.to_owned()),
        TrialBlock::Readings(boring.checks.iter().map(over_pins).collect()),
    ];
    if let Some(true_to) = boring.shafts.filter(|trueness| trueness.reached) {
        blocks.push(TrialBlock::Words(format!(
            "The shafts may be {} mm closer or {} mm wider before a mesh leaves its backlash.",
            plain(true_to.closer_mm, 3),
            plain(true_to.wider_mm, 3)
        )));
    }
    TrialPart {
        heading: "1. Prove the centres".to_owned(),
        blocks,
    }
}

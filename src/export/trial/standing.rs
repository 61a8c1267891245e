//! Whether a box looked over may be turned at all, in words.

use super::part::{TrialBlock, TrialPart};
use crate::examine::{Examined, Finding};

/// What was found, in one sentence.
pub fn found_words(examined: &Examined<'_>) -> String {
    let faults: Vec<&Finding> = examined.faults().collect();
    if faults.is_empty() {
        return "Nothing found wrong.".to_owned();
    }
    let mut said: Vec<String> = Vec::new();
    for fault in &faults {
        let short = format!("{} {}", fault.place, short(fault.kind));
        if !said.contains(&short) {
            said.push(short);
        }
    }
    let count = faults.len();
    let faults = if count == 1 { "fault" } else { "faults" };
    format!("{count} {faults}: {}.", said.join("; "))
}

/// A kind of fault as it follows a place.
fn short(kind: &str) -> &str {
    match kind {
        "binds" => "binds",
        "loose" => "is loose",
        "undercut" => "is undercut",
        "interference" => "fouls its mate",
        "thin_tip" => "has thin tips",
        "contact_ratio" => "has too few teeth in contact",
        "tip_clearance" => "runs tip on root",
        "thin_wall" => "is too small for its hole",
        "shift" => "needs more shift than is allowed",
        "tip_gap" => "has tips that foul",
        "idler_place" => "has no place for its idler",
        "idler_room" => "has no clear place for its idler",
        "gear" => "cannot be",
        "rack" => "fouls itself",
        "ratio" => "has another ratio than asked",
        "engagement" => "cannot be engaged",
        "shared_driver" => "shares no driver",
        "gap" => "fouls its neighbour",
        "planes" => "does not go together",
        _ => "has a figure that cannot be",
    }
}

/// The head of the page: what was found, and what must be mended first.
pub(super) fn standing(examined: &Examined<'_>) -> TrialPart {
    let mut blocks = vec![TrialBlock::Words(found_words(examined))];
    let told = |fault: &Finding| format!("{}: {}. Do: {}.", fault.place, fault.what, fault.next);
    let faults: Vec<String> = examined.faults().map(told).collect();
    if !faults.is_empty() {
        let warning = "Do not turn the box before these are mended or measured again:";
        blocks.push(TrialBlock::Warning(warning.to_owned()));
        blocks.push(TrialBlock::Points(faults));
    }
    TrialPart {
        heading: String::new(),
        blocks,
    }
}

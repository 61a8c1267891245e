//! The answer in a sentence or two.

use super::words::place;
use crate::base::plain;
use crate::cli::words::few;
use crate::export::{AskedSafety, PartRecord, StrengthRecord, WeakestRecord};

const NO_DUTY: &str = "Nothing is rated: the file has no duty. Say what the input shaft carries, as \
     --with duty.input_torque_n_m=N, and how fast it turns, as --with input_rpm=N.";

/// Whether it holds, and where it is weakest.
pub(in crate::cli) fn answer(record: &StrengthRecord) -> String {
    if !record.rated {
        return NO_DUTY.to_owned();
    }
    let Some(weakest) = &record.weakest else {
        return "Nothing is rated: no mesh of this set can be cut as it stands.".to_owned();
    };
    let parts = record.parts.iter();
    let over: Vec<&PartRecord> = parts.filter(|part| part.share_percent > 100.0).collect();
    let asked = asked(record.asked_safety);
    let rest = rest(&record.parts, &over);
    let text = match (&record.shortest, over.is_empty()) {
        (Some(short), _) => format!("Too weak: {}; {asked}. {rest}", safety(short)),
        (None, false) => format!(
            "Too weak, though the teeth hold. {rest} The teeth's least safety is {}; {asked}.",
            safety(weakest)
        ),
        (None, true) if record.parts_missing.is_some() => format!(
            "The teeth hold, the other parts are not rated: least safety {}; {asked}.",
            safety(weakest)
        ),
        (None, true) => format!("Holds: least safety {}; {asked}. {rest}", safety(weakest)),
    };
    text.trim_end().to_owned()
}

/// `1.31, at the root of the main gear of 1`.
fn safety(at: &WeakestRecord) -> String {
    format!("{}, at {}", plain(at.safety, 2), place(at))
}

/// What the file asks for.
fn asked(asked: AskedSafety) -> String {
    least_asked(asked).map_or_else(
        || "the file asks for none, so 1.00 is the least".to_owned(),
        |least| {
            let verb = if least.contains(" and ") { "are" } else { "is" };
            format!("{least} {verb} asked for")
        },
    )
}

/// `1.20`, or `1.40 at the roots and 1.00 on the flanks`.
pub(in crate::cli) fn least_asked(asked: AskedSafety) -> Option<String> {
    Some(match (asked.root, asked.flank) {
        (None, None) => return None,
        (Some(root), Some(flank)) if plain(root, 2) == plain(flank, 2) => plain(root, 2),
        (Some(root), Some(flank)) => {
            let (root, flank) = (plain(root, 2), plain(flank, 2));
            format!("{root} at the roots and {flank} on the flanks")
        }
        (Some(root), None) => format!("{} at the roots", plain(root, 2)),
        (None, Some(flank)) => format!("{} on the flanks", plain(flank, 2)),
    })
}

/// The part that bears most of what it may, and how many bear too much.
fn rest(parts: &[PartRecord], over: &[&PartRecord]) -> String {
    let Some(worst) = parts.first() else {
        return String::new();
    };
    let mut names: Vec<&str> = over.iter().map(|part| part.part.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let more = match names.len() {
        0 | 1 => String::new(),
        n => {
            let more = few(n - 1, "part more bears", "parts more bear");
            format!("; {more} too much")
        }
    };
    format!(
        "Of the other parts the worst is {}: {} % of what it may bear ({}){more}.",
        worst.part,
        plain(worst.share_percent, 0),
        worst.what
    )
}

//! Where nothing but strength shuts every set out.

use crate::base::plain;
use crate::cli::screen::paragraph;
use crate::cli::strength::{least_asked, place};
use crate::cli::words::counted;
use crate::export::{Answer, AskedSafety, least_safety};
use num_bigint::BigUint;

/// Whether there would be sets if nothing were asked of the teeth.
pub(super) fn by_strength_alone(answer: &Answer<'_>) -> bool {
    let without = answer.outcome.without_strength.as_ref();
    !answer.has_sets() && without.is_some_and(|count| *count > BigUint::ZERO)
}

/// The answer then.
pub(super) fn sentence(answer: &Answer<'_>) -> String {
    let nothing = BigUint::ZERO;
    let count = answer.outcome.without_strength.as_ref().unwrap_or(&nothing);
    let asked = least_asked(AskedSafety::of(answer.problem)).unwrap_or_default();
    format!(
        "No set fits. {} the ratios, but the teeth of none hold a safety of {asked}.",
        counted(count, "set would give", "sets would give")
    )
}

/// The most that was found, and the limits that decide.
pub(super) fn block(answer: &Answer<'_>, width: usize) -> String {
    let mut text = "Strength alone shuts them out, not the ratios. ".to_owned();
    if let Some(best) = &answer.strongest
        && let Some(weakest) = least_safety(&best.problem, &best.set)
    {
        let widest = if answer.problem.sizes_faces() {
            ", at the most face width allowed"
        } else {
            ""
        };
        text += &format!(
            "The strongest of the {} looked at has {}{widest}, at {}; another may have more. ",
            best.looked_at,
            plain(weakest.safety, 2),
            place(&weakest)
        );
    }
    text += "What makes teeth stronger: a better steel (gears.material), wider gears \
             (gears.face_width_mm, or its most where it is \"auto\"), a larger module, finer \
             cutting (gears.accuracy_grade), less torque, shock or hours.";
    paragraph(&text, 0, width)
}

/// Changes to try.
pub(super) fn ways(answer: &Answer<'_>, file: &str) -> Vec<(String, &'static str)> {
    let solve = format!("layshaft solve {file} --with");
    let mut lines = vec![(
        format!("{solve} gears.material='\"42CrMo4 tempered\"'"),
        "a better steel",
    )];
    if let Some(best) = &answer.strongest {
        // Rounded down, so that the set that has it fits.
        let least = plain((best.safety * 100.0).floor() / 100.0, 2);
        if least != "0.00" {
            lines.push((format!("{solve} duty.min_safety={least}"), "ask for less"));
        }
    }
    lines
}

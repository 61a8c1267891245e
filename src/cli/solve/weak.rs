//! Where nothing but strength shuts every set out.

use crate::base::plain;
use crate::cli::changes::flags;
use crate::cli::screen::paragraph;
use crate::cli::shell::quoted;
use crate::cli::strength::{least_asked, place};
use crate::cli::words::counted;
use crate::export::{Answer, AskedSafety, least_safety};
use crate::problem::Change;
use num_bigint::BigUint;
use std::fmt::Write;

/// A name of the program's own table.
const BETTER_STEEL: &str = "\"42CrMo4 tempered\"";
/// The least safety that a file may ask for.
const LEAST_ASKED: f64 = 0.1;

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
        let _ = write!(
            text,
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

/// Changes to try, each in the place of an earlier one of the same key.
pub(super) fn ways(answer: &Answer<'_>, file: &str) -> Vec<(String, &'static str)> {
    let with = |changes: &[(&str, &str)]| {
        let known = |change: &&Change| !changes.iter().any(|(key, _)| *key == change.key);
        let kept: Vec<Change> = answer.changes.iter().filter(known).cloned().collect();
        let mut command = format!("layshaft solve {file}{}", flags(&kept));
        for (key, value) in changes {
            let _ = write!(command, " --with {}", quoted(&format!("{key}={value}")));
        }
        command
    };
    let steel = [("gears.material", BETTER_STEEL)];
    let mut lines = vec![(with(&steel), "a better steel")];
    if let Some(best) = &answer.strongest {
        // Rounded down, so that the set that has it fits.
        let least = plain((best.safety * 100.0).floor() / 100.0, 2);
        let mut less = vec![("duty.min_safety", least.as_str())];
        let asked = AskedSafety::of(answer.problem);
        if asked.flank != asked.root {
            less.push(("duty.min_flank_safety", &least));
        }
        // The file takes no less.
        if best.safety >= LEAST_ASKED {
            lines.push((with(&less), "ask for less"));
        }
    }
    lines
}

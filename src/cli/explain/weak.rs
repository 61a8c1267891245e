//! That the sets there are do not hold what the duty asks for.

use super::page::View;
use crate::base::{plain, thousands};
use crate::cli::screen::paragraph;
use crate::cli::strength::least_asked;
use crate::cli::words::module;
use crate::export::{AskedSafety, ShortfallRecord, StrongestRecord, strength_cautions};

/// How many sets give the ratios, and that strength is what shuts them out.
pub(super) fn sentence(record: &ShortfallRecord) -> String {
    let asked = AskedSafety {
        root: record.min_root_safety,
        flank: record.min_flank_safety,
    };
    let asked = least_asked(asked).unwrap_or_default();
    match record.sets_without_strength.as_str() {
        "1" => format!(
            "No set fits: 1 set gives the ratios, but it does not hold {asked}. Strength is what \
             shuts it out."
        ),
        sets => format!(
            "No set fits: {} sets give the ratios, but none holds {asked}. Strength is what shuts \
             them out.",
            thousands(sets)
        ),
    }
}

/// The strongest set and where it is weakest.
pub(super) fn strongest(view: &View<'_>) -> String {
    let Some(shortfall) = &view.record.strength else {
        return String::new();
    };
    let text = match &shortfall.strongest {
        None => "No set holds a safety of 0.10: the load is far beyond these gears.".to_owned(),
        Some(strongest) => told(strongest),
    };
    format!("\n{}", paragraph(&text, 2, view.width))
}

fn told(strongest: &StrongestRecord) -> String {
    let weakest = &strongest.weakest;
    let place = match weakest.place {
        "flank" => "its flanks pit first at",
        _ => "the first root to break is that of",
    };
    format!(
        "The strongest holds {}: {place} {} ({} teeth, module {} mm, {} mm wide, {}).",
        plain(strongest.safety, 2),
        weakest.gear,
        weakest.teeth,
        module(weakest.module_mm),
        plain(weakest.face_width_mm, 1),
        weakest.material
    )
}

/// What a person must know of such figures; nothing where no strength is asked
/// for.
pub(super) fn cautions(view: &View<'_>) -> String {
    if !view.problem.asks_strength() {
        return String::new();
    }
    format!(
        "\n{}",
        paragraph(&strength_cautions(view.problem).join(" "), 2, view.width)
    )
}

//! A page as steps in the order of work, however it is spelled.

use super::dividing::ways;
use crate::base::plain;
use crate::cli::words::module;
use crate::export::{CutterRecord, CutterUse, Page, SetUpRecord};
use crate::inspect::{Measures, Size};
use crate::shop::{Hole, Piece};
use std::fmt::Write;

/// One step.
#[derive(Clone, Debug)]
pub(super) struct Step {
    /// What it is.
    pub(super) name: &'static str,
    /// What to do, a line each.
    pub(super) lines: Vec<String>,
}

/// A size to read, with a box for what was read.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    /// What is measured.
    pub(super) what: String,
    /// No less than this, mm.
    pub(super) least: String,
    /// No more than this, mm.
    pub(super) most: String,
}

/// The box for what was read.
pub(super) const BOX: &str = "[        ]";

/// The gear in a line.
pub(super) fn title(page: &Page) -> String {
    let mut text = format!(
        "{}: {} teeth, module {} mm",
        page.gears.join("; "),
        page.teeth,
        module(page.module_mm)
    );
    if page.helix_angle_deg > 0.0 {
        let _ = write!(text, ", helix {}°", plain(page.helix_angle_deg, 3));
    }
    if page.gears.len() > 1 {
        let _ = write!(text, " ({} off)", page.gears.len());
    }
    text
}

/// From the bar to the last tooth.
pub(super) fn steps(page: &Page) -> Vec<Step> {
    let step = |name, lines| Step { name, lines };
    let mut steps = Vec::new();
    // Of no matter where nothing is rated and nothing said.
    if page.metal.given || page.least_safety.is_some() {
        steps.push(step("Metal", metal(page)));
    }
    steps.extend([
        step("Blank", blank(page)),
        step("Turn", turned(&page.blank)),
        step("Bore", vec![bored(page.blank.hole.as_ref())]),
        step("Cutter", cutter(page)),
        step("Depth", depth(page)),
        step("Divide", ways(page)),
    ]);
    steps
}

/// What it is made of, what to mind with that, and how safe its teeth are.
fn metal(page: &Page) -> Vec<String> {
    let metal = &page.metal;
    let taken = if metal.given {
        ""
    } else {
        " (taken: the file names none)"
    };
    let note = metal.note.trim_end_matches('.');
    let mut lines = vec![format!("{}{taken}", metal.material)];
    lines.extend((!note.is_empty()).then(|| note.to_owned()));
    if let Some(least) = &page.least_safety {
        lines.push(format!(
            "least safety {} at the {}, by estimate, {} mm wide",
            plain(least.safety, 2),
            least.place,
            plain(least.face_width_mm, 2)
        ));
    }
    lines
}

fn blank(page: &Page) -> Vec<String> {
    let piece = &page.blank;
    let any = if page.metal.given || page.least_safety.is_some() {
        page.metal.material.as_str()
    } else {
        "any material"
    };
    let material = piece.material.as_deref().unwrap_or(any);
    let bar = piece.bar_mm.map_or_else(
        || "no bar that is sold is thick enough".to_owned(),
        |bar| format!("bar of {} mm", plain(bar, 1)),
    );
    let mut lines = vec![format!(
        "Ø{} by {} mm at the least, {material}: {bar}",
        plain(piece.rough_diameter_mm, 2),
        plain(piece.rough_length_mm, 2)
    )];
    if let (Some(false), Some(largest)) = (piece.turns, piece.largest_turned_mm) {
        lines.push(format!(
            "does not go into the lathe, which turns {} mm",
            plain(largest, 1)
        ));
    }
    lines
}

fn turned(piece: &Piece) -> Vec<String> {
    let mut lines = vec![format!(
        "Ø{} mm outside, {} mm long",
        plain(piece.outside_mm, 2),
        plain(piece.length_mm, 2)
    )];
    if piece.dog_ring_mm > 0.0 {
        lines.push(format!(
            "face {} mm, then the dog ring {} mm, of one piece",
            plain(piece.face_width_mm, 2),
            plain(piece.dog_ring_mm, 2)
        ));
    }
    lines
}

fn bored(hole: Option<&Hole>) -> String {
    let Some(hole) = hole else {
        return "to suit the shaft: the file gives no bores".to_owned();
    };
    let mut text = format!("Ø{} mm", plain(hole.bore_mm, 2));
    if hole.bush_wall_mm > 0.0 {
        let _ = write!(
            text,
            ", for a bush of {} mm wall on a shaft of {} mm",
            plain(hole.bush_wall_mm, 2),
            plain(hole.shaft_mm, 2)
        );
    }
    if hole.keyway_mm > 0.0 {
        let _ = write!(text, ", keyway {} mm beyond it", plain(hole.keyway_mm, 2));
    }
    text
}

/// A cutter by number and range.
pub(super) fn cutter_words(used: &CutterUse, module_mm: f64) -> String {
    let module = module(module_mm);
    match used.cutter {
        CutterRecord::Form {
            number,
            from_teeth,
            to_teeth,
        } => {
            let to = to_teeth.map_or("a rack".to_owned(), |to| to.to_string());
            format!("form cutter no. {number} ({from_teeth} to {to} teeth), module {module} mm")
        }
        CutterRecord::OwnForm => format!("a form cutter of its own, module {module} mm"),
        CutterRecord::Generated => format!("hob or rack tool, module {module} mm"),
    }
}

fn cutter(page: &Page) -> Vec<String> {
    let mut lines = vec![format!(
        "{}: {}",
        cutter_words(&page.cutter, page.module_mm),
        page.cutter.state
    )];
    if let Some(cutting) = &page.cutting
        && let Some(helix) = cutting.helix
    {
        lines.push(format!(
            "table {}°, lead {} mm; the cutter sees {} teeth",
            plain(helix.table_angle_deg, 3),
            plain(helix.lead_mm, 2),
            cutting.virtual_teeth
        ));
    }
    lines
}

fn depth(page: &Page) -> Vec<String> {
    let Some(cutting) = &page.cutting else {
        return vec!["this gear cannot be made as it stands".to_owned()];
    };
    vec![
        format!(
            "{} to {} mm from the outside, for the least to the most backlash",
            plain(cutting.depth.least_mm, 3),
            plain(cutting.depth.most_mm, 3)
        ),
        format!(
            "full teeth, no backlash: {} mm",
            plain(cutting.depth.full_mm, 3)
        ),
    ]
}

/// What to measure.
pub(super) fn readings(page: &Page) -> Vec<Reading> {
    let piece = &page.blank;
    let mut all = vec![Reading {
        what: "outside Ø, to".to_owned(),
        least: String::new(),
        most: plain(piece.outside_mm, 2),
    }];
    if let Some(measures) = &page.inspection {
        all.extend(teeth(measures));
    }
    all
}

fn teeth(measures: &Measures) -> Vec<Reading> {
    let reading = |what: String, size: Size| Reading {
        what,
        least: plain(size.smallest_mm, 3),
        most: plain(size.largest_mm, 3),
    };
    let span = measures.span.map(|span| {
        let what = format!("over {} teeth", span.teeth);
        reading(what, span.size)
    });
    let pins = measures.over_pins.map(|pins| {
        let bodies = if pins.balls { "balls" } else { "pins" };
        let what = format!("over two {bodies} of {} mm", plain(pins.pin_mm, 2));
        reading(what, pins.size)
    });
    let chord = measures.chord.map(|chord| {
        let what = format!("a tooth, {} mm below its tip", plain(chord.height_mm, 3));
        reading(what, chord.thickness)
    });
    [span, pins, chord].into_iter().flatten().collect()
}

/// A cutter and what it cuts.
pub(super) fn set_up(set_up: &SetUpRecord) -> [String; 2] {
    let cuts: Vec<String> = set_up
        .cuts
        .iter()
        .map(|cut| match cut.gears {
            1 => cut.teeth.to_string(),
            several => format!("{} ({several} off)", cut.teeth),
        })
        .collect();
    let cutter = format!(
        "{}: {}",
        cutter_words(&set_up.cutter, set_up.module_mm),
        set_up.cutter.state
    );
    [cutter, format!("{} teeth", cuts.join(", "))]
}

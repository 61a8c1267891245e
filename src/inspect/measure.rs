//! Span, pins, chords: what to read on the instrument.

use super::{Aim, Tools};
use crate::involute::{Chord, ShiftedGear, Span};
use serde::Serialize;

/// A size at full teeth, and the limits of size to aim at.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Size {
    /// At full teeth, without backlash from the cut.
    pub full_mm: f64,
    /// At the least backlash: no larger.
    pub largest_mm: f64,
    /// At the most backlash: no smaller.
    pub smallest_mm: f64,
}

impl Size {
    fn of(gears: &[ShiftedGear; 3], size: impl Fn(&ShiftedGear) -> Option<f64>) -> Option<Self> {
        let [full, least, most] = gears;
        Some(Self {
            full_mm: size(full)?,
            largest_mm: size(least)?,
            smallest_mm: size(most)?,
        })
    }
}

/// Size over several teeth, with a plate micrometer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SpanSizes {
    /// Teeth between the anvils.
    pub teeth: u32,
    /// What to read.
    pub size: Size,
    /// Diameter on which the anvils touch at full teeth, mm.
    pub contact_diameter_mm: f64,
    /// Whether they touch the flank that works.
    pub on_active_flank: bool,
    /// The face must be wider than this, mm; 0 for spur gears.
    pub face_over_mm: f64,
}

/// Size over two pins or balls in opposite spaces.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PinSizes {
    /// Their diameter, mm.
    pub pin_mm: f64,
    /// What to read.
    pub size: Size,
    /// Diameter on which they touch at full teeth, mm.
    pub contact_diameter_mm: f64,
    /// The diameter that would touch on the circle d + 2 x m, mm.
    pub best_pin_mm: Option<f64>,
    /// Helical gears of an odd count are measured over balls.
    pub balls: bool,
}

/// Chord of one tooth, with a gear-tooth caliper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ChordSizes {
    /// Across the tooth.
    pub thickness: Size,
    /// From the tip down to the chord, mm; less by half of what the blank lacks.
    pub height_mm: f64,
}

/// Every way of measuring one gear that its teeth allow.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Measures {
    /// Over teeth; none where no span touches a flank.
    pub span: Option<SpanSizes>,
    /// Over pins; none where no pin at hand touches both flanks.
    pub over_pins: Option<PinSizes>,
    /// At the reference circle; none where no flank stands there.
    pub chord: Option<ChordSizes>,
    /// Where a rack's space touches: the same for every tooth count.
    pub constant_chord: Option<ChordSizes>,
}

impl Measures {
    /// Of `gear`, whose flank works between two diameters `active_mm`.
    pub fn of(gear: &ShiftedGear, active_mm: (f64, f64), aim: &Aim, tools: &Tools) -> Self {
        let gears = aim.gears(gear);
        Self {
            span: span(&gears, active_mm, tools),
            over_pins: pins(&gears, active_mm, tools),
            chord: chord(&gears, ShiftedGear::chord),
            constant_chord: chord(&gears, |gear| Some(gear.constant_chord())),
        }
    }
}

fn span(gears: &[ShiftedGear; 3], active_mm: (f64, f64), tools: &Tools) -> Option<SpanSizes> {
    let full = &gears[0];
    let wide = |span: &Span| {
        tools
            .face_width_mm
            .is_none_or(|face| face > span.face_over_mm)
    };
    let chosen = match tools.span_teeth {
        Some(teeth) => Some(full.span(teeth)).filter(|span| span.touches(full.flank_mm())),
        None => full
            .best_span(active_mm)
            .or_else(|| full.best_span(full.flank_mm())),
    };
    let span = chosen.filter(wide)?;
    Some(SpanSizes {
        teeth: span.teeth,
        size: Size::of(gears, |gear| Some(gear.span(span.teeth).size_mm))?,
        contact_diameter_mm: span.contact_mm,
        on_active_flank: span.touches(active_mm),
        face_over_mm: span.face_over_mm,
    })
}

fn pins(gears: &[ShiftedGear; 3], active_mm: (f64, f64), tools: &Tools) -> Option<PinSizes> {
    let full = &gears[0];
    let best = full.best_pin_mm();
    let candidates = if tools.pins_mm.is_empty() {
        stock_near(best?)
    } else {
        tools.pins_mm.clone()
    };
    let over = full
        .over_best_of(&candidates, active_mm)
        .or_else(|| full.over_best_of(&candidates, full.flank_mm()))?;
    // Thinner teeth let the pin in deeper, by less than it could leave the
    // flank for.
    let size = |gear: &ShiftedGear| {
        let whole = (gear.base_mm(), f64::INFINITY);
        Some(gear.over_pins(over.pin_mm, whole).ok()?.size_mm)
    };
    let helical = full.toothing().helix_rad() > 0.0;
    Some(PinSizes {
        pin_mm: over.pin_mm,
        size: Size::of(gears, size)?,
        contact_diameter_mm: over.contact_mm,
        best_pin_mm: best,
        balls: helical && !full.teeth().get().is_multiple_of(2),
    })
}

/// Pins that are sold, near a diameter: in steps of 0.05 mm, below 1 mm of 0.01.
fn stock_near(best_mm: f64) -> Vec<f64> {
    let per_mm = if best_mm < 1.0 { 100.0 } else { 20.0 };
    // A gear of negative shift needs a thicker one to stand out beyond its tips.
    let most = 1.8 * best_mm;
    let first = (best_mm * per_mm).round() - 4.0;
    (0..10_000)
        .map(|step| (first + f64::from(step)) / per_mm)
        .take_while(|pin| *pin <= most)
        .filter(|pin| *pin > 0.0)
        .collect()
}

fn chord(
    gears: &[ShiftedGear; 3],
    of: impl Fn(&ShiftedGear) -> Option<Chord>,
) -> Option<ChordSizes> {
    Some(ChordSizes {
        thickness: Size::of(gears, |gear| Some(of(gear)?.thickness_mm))?,
        height_mm: of(&gears[0])?.height_mm,
    })
}

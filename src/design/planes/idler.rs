//! The idler and its pin as bodies of the units that they belong to.

use super::across::Axis;
use super::given::{End, Idler, Pin, ReverseForm};
use super::grid::{FAR_NM, Nm, nm};
use super::part::PartId;
use super::unit::{Body, Frame, Stretch, Unit};
use crate::train::{Role, Seat};

/// Where the idler's gears are: the row of the driven gear, and that of the
/// driver.
pub(super) fn idler_rows(frame: &Frame) -> Option<(usize, usize)> {
    let row = |role| frame.rows.iter().position(|row| row.role == role);
    let own = row(Role::Reverse)?;
    match frame.gearbox.reverse.as_ref()?.form {
        ReverseForm::Shared { with } => Some((own, row(with)?)),
        _ => Some((own, own)),
    }
}

/// Adds what the idler and its pin sweep to the units of one variant.
pub(super) fn add_idler(units: &mut [Unit], frame: &Frame) {
    let Some(reverse) = &frame.gearbox.reverse else {
        return;
    };
    let Some((own, with)) = idler_rows(frame) else {
        return;
    };
    let place = |units: &[Unit], row: usize| {
        let mut all = units.iter().enumerate();
        all.find_map(|(i, unit)| {
            let plane = unit.planes.iter().find(|plane| plane.of == row);
            plane.map(|plane| (i, *plane))
        })
    };
    let (Some(one), Some(other)) = (place(units, own), place(units, with)) else {
        return;
    };
    let (low, high) = if (one.0, one.1.from) <= (other.0, other.1.from) {
        (one, other)
    } else {
        (other, one)
    };
    let slide = slide(reverse.form, low.1);
    let spans = Spans {
        idler: reverse.idler,
        rows: [Some(own), Some(with)],
        low: low.1.from - slide.0,
        high: high.1.to + slide.1,
    };
    if low.0 == high.0 {
        if let Some(unit) = units.get_mut(low.0) {
            spans.put(unit, Some(spans.low), Some(spans.high));
        }
        return;
    }
    if let Some(unit) = units.get_mut(low.0) {
        spans.put(unit, Some(spans.low), None);
    }
    if let Some(unit) = units.get_mut(high.0) {
        spans.put(unit, None, Some(spans.high));
    }
}

/// How far the idler slides towards the input and towards the output.
fn slide(form: ReverseForm, plane: Stretch) -> (Nm, Nm) {
    match form {
        ReverseForm::SlidingIdler { towards, gap_mm } => {
            let travel = plane.to - plane.from + nm(gap_mm);
            match towards {
                End::Input => (travel, 0),
                End::Output => (0, travel),
            }
        }
        _ => (0, 0),
    }
}

struct Spans {
    idler: Idler,
    rows: [Option<usize>; 2],
    low: Nm,
    high: Nm,
}

impl Spans {
    /// The idler from `low` to `high`; it goes on beyond the unit where there
    /// is no end.
    fn put(&self, unit: &mut Unit, low: Option<Nm>, high: Option<Nm>) {
        let pin = |from: Nm, to: Nm| Body {
            id: PartId::Pin,
            axis: Axis::Idler,
            radius_mm: self.idler.pin_radius_mm,
            from,
            to,
            rows: [None, None],
        };
        unit.bodies.push(Body {
            id: PartId::Gear(Role::Reverse, Seat::Idler),
            radius_mm: self.idler.wheel.tip_radius_mm,
            rows: self.rows,
            ..pin(low.unwrap_or(0), high.unwrap_or(unit.length))
        });
        if let (Some(low), true) = (low, self.idler.pin.reaches(End::Input)) {
            unit.bodies.push(pin(-FAR_NM, low));
        }
        if let (Some(high), true) = (high, self.idler.pin.reaches(End::Output)) {
            unit.bodies.push(pin(high, FAR_NM));
        }
    }
}

impl Pin {
    /// Whether it is held in the wall at that end.
    pub fn reaches(self, end: End) -> bool {
        match self {
            Self::Stub(wall) => wall == end,
            Self::Through => true,
        }
    }
}

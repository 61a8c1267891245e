//! The field of all sets as cells of a plane.

use crate::base::Length;
use crate::search::{Field, FieldPoint};
use crate::train::volume_mm3;
use serde::Serialize;
use serde_json::Value;
use serde_json::json;

/// Cells along the errors and along the metal.
const CELLS: (usize, usize) = (72, 48);

/// How many sets lie where, error against metal.
#[derive(Clone, Debug, Serialize)]
pub struct FieldRecord {
    /// How many sets there are.
    pub of: String,
    /// How many of them were drawn: all, or an even sample.
    pub drawn: String,
    /// What runs to the right.
    pub x: &'static str,
    /// What runs up.
    pub y: &'static str,
    /// From, to along x, from, to along y, how many drawn sets; empty cells are
    /// left out.
    pub cells: Vec<Value>,
}

impl FieldRecord {
    /// Of a field; `unit` is the unit that widths count in.
    pub fn new(field: &Field, unit: Length) -> Option<Self> {
        let of =
            |point: &FieldPoint| [100.0 * point.worst_error, volume_mm3(point.blank_um2, unit)];
        let points: Vec<[f64; 2]> = field.points.iter().map(of).collect();
        let x = Axis::over(points.iter().map(|p| p[0]), CELLS.0)?;
        let y = Axis::over(points.iter().map(|p| p[1]), CELLS.1)?;
        let mut counts = vec![0_u32; CELLS.0 * CELLS.1];
        for point in &points {
            let cell = x.cell(point[0]) * CELLS.1 + y.cell(point[1]);
            if let Some(count) = counts.get_mut(cell) {
                *count += 1;
            }
        }
        let cells = counts.iter().enumerate().filter(|(_, count)| **count > 0);
        let cells = cells.map(|(cell, count)| {
            let ([x0, x1], [y0, y1]) = (x.ends(cell / CELLS.1), y.ends(cell % CELLS.1));
            json!([x0, x1, y0, y1, count])
        });
        Some(Self {
            of: field.counts.sets.to_string(),
            drawn: field.points.len().to_string(),
            x: "worst_error_percent",
            y: "blank_volume_mm3",
            cells: cells.collect(),
        })
    }
}

/// A range in equal steps.
struct Axis {
    from: f64,
    step: f64,
    count: usize,
}

impl Axis {
    fn over(values: impl Iterator<Item = f64>, count: usize) -> Option<Self> {
        let ends = |ends: Option<(f64, f64)>, value: f64| {
            let (least, most) = ends.unwrap_or((value, value));
            Some((least.min(value), most.max(value)))
        };
        let (least, most) = values.fold(None, ends)?;
        let steps = u32::try_from(count).map_or(1.0, f64::from);
        // All in one place still make a cell to see.
        let step = ((most - least) / steps).max(1e-6 * most.abs().max(1.0));
        Some(Self {
            from: least,
            step,
            count,
        })
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "values lie inside the range"
    )]
    fn cell(&self, value: f64) -> usize {
        (((value - self.from) / self.step) as usize).min(self.count - 1)
    }

    /// Ends of a cell, to six digits after the point.
    fn ends(&self, cell: usize) -> [f64; 2] {
        let at = |place: usize| {
            let place = u32::try_from(place).map_or(0.0, f64::from);
            ((self.from + self.step * place) * 1e6).round() / 1e6
        };
        [at(cell), at(cell + 1)]
    }
}

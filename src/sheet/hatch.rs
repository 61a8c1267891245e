//! Hatching as single lines, for files that know no patterns.

use super::drawing::{Drawing, Item, Layer, Shape, at};
use crate::train::Point;

/// From line to line, square to them, mm.
pub const HATCH_MM: f64 = 1.5;

impl Drawing {
    /// Every hatched rectangle as an outline and lines at 45°, upwards to the
    /// right.
    #[must_use]
    pub fn with_hatch_lines(mut self) -> Self {
        for group in &mut self.groups {
            let items = std::mem::take(&mut group.items);
            group.items = items.into_iter().flat_map(lined).collect();
        }
        self
    }
}

fn lined(item: Item) -> Vec<Item> {
    match item.shape {
        Shape::Rect(low, high) if item.layer == Layer::Hatch => {
            let mut items = vec![Layer::Outline.rect(low, high)];
            items.extend(lines(low, high).map(|[from, to]| Layer::Hatch.line(from, to)));
            items
        }
        _ => vec![item],
    }
}

/// Lines `y = x + c` inside a rectangle, at the same places whatever it is, so
/// that they run on from one part into the next.
fn lines(low: Point, high: Point) -> impl Iterator<Item = [Point; 2]> {
    let step = HATCH_MM * std::f64::consts::SQRT_2;
    let least = ((low.y_mm - high.x_mm) / step).floor() + 1.0;
    let places = std::iter::successors(Some(least * step), move |c| Some(c + step));
    places
        .take_while(move |c| *c < high.y_mm - low.x_mm)
        .map(move |c| {
            let from = low.x_mm.max(low.y_mm - c);
            let to = high.x_mm.min(high.y_mm - c);
            [at(from, from + c), at(to, to + c)]
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_run_from_edge_to_edge_at_one_distance() {
        let (low, high) = (at(-3.0, 2.0), at(7.0, 6.0));
        let all: Vec<_> = lines(low, high).collect();
        // Multiples of 2.1213 mm between -5 and 9: from -2 to 4.
        assert_eq!(all.len(), 7);
        for [from, to] in &all {
            for end in [from, to] {
                let beside = (end.x_mm - low.x_mm).min(high.x_mm - end.x_mm);
                let above = (end.y_mm - low.y_mm).min(high.y_mm - end.y_mm);
                assert!(beside.min(above).abs() < 1e-12 && beside.max(above) > -1e-12);
            }
            assert!(((to.x_mm - from.x_mm) - (to.y_mm - from.y_mm)).abs() < 1e-12);
            assert!(to.x_mm > from.x_mm);
        }
    }
}

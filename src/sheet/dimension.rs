//! Dimensions: lines with arrows and the figure beside them.

use super::drawing::{Anchor, Item, Layer, at};
use crate::base::plain;
use crate::train::Point;

/// The height between two places, to a thousandth, on an upright line at
/// `x_mm`; the lower place first. The figure stands to the left of the line.
pub(super) fn upright(x_mm: f64, [lower, upper]: [Point; 2], letter_mm: f64) -> Vec<Item> {
    let mut items = Vec::new();
    for place in [upper, lower] {
        let from = at(place.x_mm - 0.5 * letter_mm, place.y_mm);
        let to = at(x_mm - 0.6 * letter_mm, place.y_mm);
        items.push(Layer::Dimension.line(from, to));
    }
    items.extend(arrow(at(x_mm, lower.y_mm), at(x_mm, upper.y_mm), letter_mm));
    let foot = at(
        x_mm - 0.4 * letter_mm,
        f64::midpoint(lower.y_mm, upper.y_mm),
    );
    let words = plain(upper.y_mm - lower.y_mm, 3);
    items.push(Layer::Text.words(words, foot, letter_mm, Anchor::End));
    items
}

/// A line with an open arrow at either end.
fn arrow(from: Point, to: Point, letter_mm: f64) -> Vec<Item> {
    let (dx, dy) = (to.x_mm - from.x_mm, to.y_mm - from.y_mm);
    let long = dx.hypot(dy).max(f64::MIN_POSITIVE);
    let (ux, uy) = (dx / long * letter_mm * 0.9, dy / long * letter_mm * 0.9);
    let tip = |end: Point, sign: f64| {
        let side = |s: f64| {
            at(
                end.x_mm + sign * ux - s * 0.25 * uy,
                end.y_mm + sign * uy + s * 0.25 * ux,
            )
        };
        [
            Layer::Dimension.line(end, side(1.0)),
            Layer::Dimension.line(end, side(-1.0)),
        ]
    };
    let mut items = vec![Layer::Dimension.line(from, to)];
    items.extend(tip(from, 1.0));
    items.extend(tip(to, -1.0));
    items
}

//! What paper needs around a drawing: margins, the title, a bar to measure.

use super::drawing::{Anchor, Box2, Drawing, Group, Kind, Layer, at};
use super::shape::wide_mm;
use crate::train::Point;

/// Length of the bar, mm.
const BAR_MM: f64 = 50.0;
/// White around everything, mm.
const MARGIN_MM: f64 = 5.0;
/// Size of the title and of the words at the bar, mm.
const LETTER_MM: f64 = 3.5;
/// From the drawing to the bar, mm.
const ABOVE_BAR_MM: f64 = 5.0;
/// From the bar to the foot of its words, mm.
const BELOW_BAR_MM: f64 = 6.0;

/// What to measure the bar of a plate before.
pub const BEFORE_DRILLING: &str = "before drilling";
/// What to measure the bar of other drawings before.
pub const BEFORE_TRUSTING: &str = "before trusting the scale";

impl Drawing {
    /// With margins, its title, and a bar of 50 mm to measure; `warning` says
    /// before what.
    #[must_use]
    pub fn on_paper(mut self, warning: &str) -> Self {
        let words = format!("50 mm: measure it {warning}");
        let widest = [
            wide_mm(&self.title, LETTER_MM),
            wide_mm(&words, LETTER_MM),
            BAR_MM,
        ];
        let widest = widest.into_iter().fold(0.0, f64::max);
        let mut frame = self.frame;
        let missing = (widest - frame.width_mm()).max(0.0) / 2.0;
        frame.low.x_mm -= missing;
        frame.high.x_mm += missing;
        let middle = f64::midpoint(frame.low.x_mm, frame.high.x_mm);
        let head = at(middle, frame.high.y_mm + LETTER_MM);
        frame.high.y_mm = head.y_mm + LETTER_MM;
        let bar = at(middle, frame.low.y_mm - ABOVE_BAR_MM);
        frame.low.y_mm = bar.y_mm - BELOW_BAR_MM - 0.3 * LETTER_MM;
        let title = Layer::Text.words(&self.title, head, LETTER_MM, Anchor::Middle);
        self.groups
            .push(Group::new(Kind::Label, "title", vec![title]));
        self.groups.push(scale_bar(bar, words));
        self.frame = Box2::new(frame.low, frame.high).grown(MARGIN_MM);
        self
    }
}

fn scale_bar(middle: Point, words: String) -> Group {
    let end = |sign: f64| at(middle.x_mm + sign * BAR_MM / 2.0, middle.y_mm);
    let tick = |sign: f64| {
        let end = end(sign);
        Layer::Dimension.line(at(end.x_mm, end.y_mm - 1.5), at(end.x_mm, end.y_mm + 1.5))
    };
    let foot = at(middle.x_mm, middle.y_mm - BELOW_BAR_MM);
    let items = vec![
        Layer::Dimension.line(end(-1.0), end(1.0)),
        tick(-1.0),
        tick(1.0),
        Layer::Text.words(words, foot, LETTER_MM, Anchor::Middle),
    ];
    Group::new(Kind::Dimension, "scale bar", items)
}

//! A dividing plate as a drawing at full size.

use crate::base::plain;
use crate::shop::dividing::{PlateDrawing, PlateHole};
use std::fmt::Write;

/// White around the plate, mm.
const MARGIN_MM: f64 = 5.0;
/// Room below the plate for the scale bar and its words, mm.
const FOOT_MM: f64 = 16.0;
/// Length of the scale bar, mm.
const BAR_MM: f64 = 50.0;
/// Half a centre mark, mm.
const MARK_MM: f64 = 1.0;
/// Every so many holes have their number beside them.
const NUMBERED: usize = 10;
/// From the circle of holes to the middle of the numbers, inwards, mm.
const NUMBER_IN_MM: f64 = 5.0;

/// The plate as SVG, 1:1: a millimetre of the drawing is a millimetre of paper.
pub fn plate_svg(plate: &PlateDrawing) -> String {
    let half = plate.rim_radius_mm + MARGIN_MM;
    let (width, height) = (2.0 * half, 2.0 * half + FOOT_MM);
    let mut out = String::new();
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
         viewBox=\"{x} {x} {w} {h}\" fill=\"none\" stroke=\"black\" stroke-width=\"0.2\" \
         font-family=\"sans-serif\" font-size=\"3.5\" text-anchor=\"middle\">",
        w = mm(width),
        h = mm(height),
        x = mm(-half),
    );
    let _ = writeln!(
        out,
        "<title>Dividing plate, {}</title>",
        plate.text.join("; ")
    );
    let _ = writeln!(
        out,
        "<rect x=\"{x}\" y=\"{x}\" width=\"{}\" height=\"{}\" fill=\"white\" stroke=\"none\"/>",
        mm(width),
        mm(height),
        x = mm(-half),
    );
    circle(&mut out, (0.0, 0.0), plate.rim_radius_mm);
    circle(&mut out, (0.0, 0.0), plate.centre_hole_mm / 2.0);
    mark(&mut out, (0.0, 0.0));
    for (place, hole) in plate.holes.iter().enumerate() {
        drill(&mut out, plate, place, hole);
    }
    words(&mut out, plate);
    bar(&mut out, half);
    out.push_str("</svg>\n");
    out
}

fn mm(value: f64) -> String {
    plain(value, 4)
}

fn circle(out: &mut String, (x, y): (f64, f64), radius_mm: f64) {
    let _ = writeln!(
        out,
        "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
        mm(x),
        mm(y),
        mm(radius_mm)
    );
}

/// A cross to centre-punch by.
fn mark(out: &mut String, (x, y): (f64, f64)) {
    let _ = writeln!(
        out,
        "<path d=\"M{} {y}H{}M{x} {}V{}\" stroke-width=\"0.1\"/>",
        mm(x - MARK_MM),
        mm(x + MARK_MM),
        mm(y - MARK_MM),
        mm(y + MARK_MM),
        x = mm(x),
        y = mm(y),
    );
}

/// A hole with its mark; paper counts downwards.
fn drill(out: &mut String, plate: &PlateDrawing, place: usize, hole: &PlateHole) {
    let at = (hole.x_mm, -hole.y_mm);
    circle(out, at, plate.pin_hole_mm / 2.0);
    mark(out, at);
    if place.is_multiple_of(NUMBERED) {
        let inwards = 1.0 - NUMBER_IN_MM / plate.radius_mm;
        line(
            out,
            (inwards * at.0, inwards * at.1 + 0.9),
            2.5,
            &place.to_string(),
        );
    }
}

fn line(out: &mut String, (x, y): (f64, f64), size_mm: f64, text: &str) {
    let _ = writeln!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"black\" stroke=\"none\">{text}</text>",
        mm(x),
        mm(y),
        mm(size_mm),
    );
}

/// The text of the plate, between its middle and the numbers.
fn words(out: &mut String, plate: &PlateDrawing) {
    // Lines fit the narrowest plate: they are set smaller, not cut.
    let longest = plate.text.iter().map(|text| text.chars().count()).max();
    let longest = u32::try_from(longest.unwrap_or(1)).map_or(1.0, f64::from);
    let room_mm = 1.6 * (plate.radius_mm - 2.0 * NUMBER_IN_MM);
    // A letter is about half as wide as it is high.
    let size_mm = (room_mm / (0.55 * longest)).min(3.5);
    let mut y = plate.centre_hole_mm / 2.0 + 1.6 * size_mm;
    for text in &plate.text {
        line(out, (0.0, y), size_mm, text);
        y += 1.3 * size_mm;
    }
}

fn bar(out: &mut String, half: f64) {
    let (from, y) = (-BAR_MM / 2.0, half + 3.0);
    let _ = writeln!(
        out,
        "<path id=\"scale-bar\" d=\"M{f} {a}V{b}M{f} {y}H{t}M{t} {a}V{b}\"/>",
        f = mm(from),
        t = mm(-from),
        a = mm(y - 1.5),
        b = mm(y + 1.5),
        y = mm(y),
    );
    line(
        out,
        (0.0, y + 6.0),
        3.5,
        "50 mm: measure it before drilling",
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::DividingHead;
    use crate::shop::dividing::printed;

    #[test]
    fn a_millimetre_is_a_millimetre() {
        let head = DividingHead::new(40, Vec::new(), Vec::new(), Vec::new());
        let plate = printed(&head, 127).unwrap().drawing(&head, 127);
        let svg = plate_svg(&plate);
        // 127 holes of 4.5 mm: 91 mm of radius, 97 to the rim, 5 around.
        let top = "width=\"204.0000mm\" height=\"220.0000mm\" viewBox=\"-102.0000 -102.0000 \
                   204.0000 220.0000\"";
        assert!(svg.contains(top), "{svg:.200}");
        assert_eq!(svg.matches("r=\"1.5000\"").count(), 127);
        assert!(svg.contains("cx=\"91.0000\" cy=\"0.0000\""));
        assert!(svg.contains("H25.0000"));
        assert!(svg.contains("50 mm: measure it before drilling"));
        assert!(svg.contains("move 40 of 127 holes"));
    }
}

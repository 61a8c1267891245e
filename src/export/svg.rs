//! A drawing as SVG at full size: a millimetre of the drawing is a millimetre
//! of paper.

use super::drawing::anchor_word;
use crate::base::trimmed;
use crate::sheet::{Drawing, HATCH_MM, Item, Layer, Shape, Vertex};
use crate::train::Point;
use std::fmt::Write;

/// Weights and kinds of lines, mm. Colour says nothing that the kind of line
/// does not.
const STYLE: &str = "\
    .paper{fill:#fff}\
    path,line,circle{fill:none;stroke:#1d2733;stroke-width:.18;stroke-linejoin:round}\
    .outline,.bore{stroke-width:.35}\
    .gear>.outline{fill:#fff;fill-opacity:.8}\
    .hidden{stroke-width:.25;stroke-dasharray:2 1}\
    .centre{stroke-dasharray:6 1 1 1}\
    .pitch{stroke-width:.13;stroke-dasharray:4 1 .7 1}\
    .tip,.root{stroke-width:.13}\
    .hatch{fill:url(#hatch);stroke-width:.25}\
    .fill{fill:#c3cad3}\
    .power{stroke:#d9630a;stroke-width:.8;stroke-linecap:round}\
    .sense{stroke:#d9630a;stroke-width:.35}\
    text{fill:#1d2733;font-family:sans-serif}";

/// A still drawing: states and sides are not looked at.
pub fn svg(drawing: &Drawing) -> String {
    let frame = &drawing.frame;
    let (width, height) = (mm(frame.width_mm()), mm(frame.height_mm()));
    let (left, top) = (mm(frame.low.x_mm), down(frame.high.y_mm));
    let mut out = String::new();
    // Writing to a String cannot fail, here and below.
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"{left} {top} {width} {height}\">"
    );
    let _ = writeln!(out, "<title>{}</title>", plain_text(&drawing.title));
    let _ = writeln!(out, "<desc>{}</desc>", plain_text(&drawing.about));
    let _ = writeln!(out, "<style>{STYLE}</style>");
    let _ = writeln!(
        out,
        "<pattern id=\"hatch\" patternUnits=\"userSpaceOnUse\" width=\"{HATCH_MM}\" \
         height=\"{HATCH_MM}\" patternTransform=\"rotate(45)\"><line y2=\"{HATCH_MM}\"/></pattern>"
    );
    let _ = writeln!(
        out,
        "<rect class=\"paper\" x=\"{left}\" y=\"{top}\" width=\"{width}\" height=\"{height}\"/>"
    );
    for group in &drawing.groups {
        let (kind, of) = (group.kind.word(), plain_text(&group.of));
        let _ = writeln!(out, "<g class=\"{kind}\" data-of=\"{of}\">");
        for item in &group.items {
            out += &spelled(item);
        }
        out += "</g>\n";
    }
    out += "</svg>\n";
    out
}

/// A length, to a tenth of a micrometre.
fn mm(value: f64) -> String {
    trimmed(value, 4)
}

/// Paper counts downwards: the one place where y is turned over.
fn down(y_mm: f64) -> String {
    mm(-y_mm)
}

fn place(point: Point) -> String {
    format!("{} {}", mm(point.x_mm), down(point.y_mm))
}

fn spelled(item: &Item) -> String {
    let layer = item.layer.word();
    match &item.shape {
        Shape::Line(from, to) => format!(
            "<line class=\"{layer}\" x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"/>\n",
            mm(from.x_mm),
            down(from.y_mm),
            mm(to.x_mm),
            down(to.y_mm)
        ),
        Shape::Circle { centre, radius_mm } => format!(
            "<circle class=\"{layer}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n",
            mm(centre.x_mm),
            down(centre.y_mm),
            mm(*radius_mm)
        ),
        Shape::Arc { radius_mm, .. } => {
            let Some([from, to]) = item.shape.ends() else {
                return String::new();
            };
            let step = arc(*radius_mm, item.shape.is_large(), true, to);
            path(item.layer, &format!("M{}{step}", place(from)))
        }
        Shape::Path { corners, closed } => path(item.layer, &steps(corners, *closed)),
        Shape::Teeth { .. } | Shape::Rect(..) => {
            let corners = item.shape.outline().unwrap_or_default();
            path(item.layer, &steps(&corners, true))
        }
        Shape::Text {
            words,
            at,
            size_mm,
            anchor,
        } => format!(
            "<text class=\"{layer}\" x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\">{}</text>\n",
            mm(at.x_mm),
            down(at.y_mm),
            mm(*size_mm),
            anchor_word(*anchor),
            plain_text(words)
        ),
    }
}

fn path(layer: Layer, steps: &str) -> String {
    format!("<path class=\"{}\" d=\"{steps}\"/>\n", layer.word())
}

fn arc(radius_mm: f64, large: bool, counter_clockwise: bool, to: Point) -> String {
    let radius = mm(radius_mm);
    // Turned over, what goes counter-clockwise counts angles downwards.
    let (large, sweep) = (u8::from(large), u8::from(!counter_clockwise));
    format!("A{radius} {radius} 0 {large} {sweep} {}", place(to))
}

fn steps(corners: &[Vertex], closed: bool) -> String {
    let Some(first) = corners.first() else {
        return String::new();
    };
    let mut out = format!("M{}", place(first.at));
    for vertex in &corners[1..] {
        out += &step(vertex);
    }
    if closed {
        out += &first.arc.map_or_else(String::new, |_| step(first));
        out.push('Z');
    }
    out
}

fn step(vertex: &Vertex) -> String {
    match vertex.arc {
        None => format!("L{}", place(vertex.at)),
        Some(bend) => arc(
            bend.radius_mm,
            bend.is_large(),
            bend.is_counter_clockwise(),
            vertex.at,
        ),
    }
}

/// Words as text between tags or quotes.
pub(super) fn plain_text(words: &str) -> String {
    words
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('"', "&quot;")
}

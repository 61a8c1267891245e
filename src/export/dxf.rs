//! A drawing as DXF of release 12, the oldest that everything reads: mm, 1:1, a
//! layer a meaning, true arcs and circles.

use crate::base::trimmed;
use crate::sheet::{Anchor, Drawing, Item, Layer, Shape, Vertex, capital_mm};
use crate::train::Point;
use std::fmt::{Display, Write};

/// Line types: name, what it looks like, lengths of dashes and (below 0) gaps,
/// mm.
const LINE_TYPES: [(&str, &str, &[f64]); 3] = [
    ("CONTINUOUS", "Solid line", &[]),
    ("DASHED", "__ __ __ __", &[2.0, -1.0]),
    ("CENTER", "____ _ ____ _", &[6.0, -1.0, 1.0, -1.0]),
];

/// A still drawing: states and sides are not looked at. Hatched rectangles are
/// rectangles.
pub fn dxf(drawing: &Drawing) -> String {
    let mut out = Dxf(String::new());
    out.pair(999, &drawing.title);
    out.header(drawing);
    out.tables();
    out.section("ENTITIES", |out| {
        let items = drawing.groups.iter().flat_map(|group| &group.items);
        items.for_each(|item| out.item(item));
    });
    out.pair(0, "EOF");
    out.0
}

/// Number of a colour that every program has; 7 is black on white.
const fn colour(layer: Layer) -> u8 {
    match layer {
        Layer::Centre | Layer::Pitch => 5,
        Layer::Hidden | Layer::Tip | Layer::Root | Layer::Hatch => 8,
        Layer::Power | Layer::Sense => 30,
        Layer::Dimension => 3,
        _ => 7,
    }
}

const fn line_type(layer: Layer) -> &'static str {
    match layer {
        Layer::Hidden => LINE_TYPES[1].0,
        Layer::Centre | Layer::Pitch => LINE_TYPES[2].0,
        _ => LINE_TYPES[0].0,
    }
}

fn name(layer: Layer) -> String {
    layer.word().to_uppercase()
}

/// Letters that release 12 writes otherwise.
fn plain_text(words: &str) -> String {
    let mut out = String::new();
    for letter in words.chars() {
        match letter {
            'Ø' => out += "%%c",
            '°' => out += "%%d",
            '±' => out += "%%p",
            '%' => out += "%%%",
            ' '..='~' => out.push(letter),
            // Writing to a String cannot fail.
            _ => drop(write!(out, "\\U+{:04X}", u32::from(letter))),
        }
    }
    out
}

/// Text under way.
struct Dxf(String);

impl Dxf {
    /// A code and its value, a line each.
    fn pair(&mut self, code: u16, value: impl Display) {
        let _ = writeln!(self.0, "{code}\n{value}");
    }

    /// A length or an angle.
    fn figure(&mut self, code: u16, value: f64) {
        self.pair(code, trimmed(value, 6));
    }

    /// A place: x under `code`, y ten above it.
    fn place(&mut self, code: u16, at: Point) {
        self.figure(code, at.x_mm);
        self.figure(code + 10, at.y_mm);
    }

    fn section(&mut self, name: &str, body: impl FnOnce(&mut Self)) {
        self.pair(0, "SECTION");
        self.pair(2, name);
        body(self);
        self.pair(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, rows: usize, body: impl FnOnce(&mut Self)) {
        self.pair(0, "TABLE");
        self.pair(2, name);
        self.pair(70, rows);
        body(self);
        self.pair(0, "ENDTAB");
    }

    fn header(&mut self, drawing: &Drawing) {
        self.section("HEADER", |out| {
            out.pair(9, "$ACADVER");
            out.pair(1, "AC1009");
            // Millimetres; and metric line types.
            out.pair(9, "$INSUNITS");
            out.pair(70, 4);
            out.pair(9, "$MEASUREMENT");
            out.pair(70, 1);
            out.pair(9, "$EXTMIN");
            out.place(10, drawing.frame.low);
            out.pair(9, "$EXTMAX");
            out.place(10, drawing.frame.high);
        });
    }

    fn tables(&mut self) {
        self.section("TABLES", |out| {
            out.table("LTYPE", LINE_TYPES.len(), |out| {
                for row in &LINE_TYPES {
                    out.line_type(row);
                }
            });
            out.table("LAYER", Layer::ALL.len() + 1, |out| {
                out.layer("0", 7, LINE_TYPES[0].0);
                for layer in Layer::ALL {
                    out.layer(&name(layer), colour(layer), line_type(layer));
                }
            });
            out.table("STYLE", 1, |out| {
                out.pair(0, "STYLE");
                out.pair(2, "STANDARD");
                for (code, value) in [(70, 0), (40, 0), (41, 1), (50, 0), (71, 0), (42, 1)] {
                    out.pair(code, value);
                }
                out.pair(3, "txt");
                out.pair(4, "");
            });
        });
    }

    fn line_type(&mut self, (name, looks, dashes): &(&str, &str, &[f64])) {
        self.pair(0, "LTYPE");
        self.pair(2, name);
        self.pair(70, 0);
        self.pair(3, looks);
        self.pair(72, 65);
        self.pair(73, dashes.len());
        self.figure(40, dashes.iter().map(|dash| dash.abs()).sum());
        for dash in *dashes {
            self.figure(49, *dash);
        }
    }

    fn layer(&mut self, name: &str, colour: u8, line_type: &str) {
        self.pair(0, "LAYER");
        self.pair(2, name);
        self.pair(70, 0);
        self.pair(62, colour);
        self.pair(6, line_type);
    }

    fn begin(&mut self, entity: &str, layer: Layer) {
        self.pair(0, entity);
        self.pair(8, name(layer));
    }

    fn item(&mut self, item: &Item) {
        let layer = item.layer;
        match &item.shape {
            Shape::Line(from, to) => {
                self.begin("LINE", layer);
                self.place(10, *from);
                self.place(11, *to);
            }
            Shape::Circle { centre, radius_mm } => {
                self.begin("CIRCLE", layer);
                self.place(10, *centre);
                self.figure(40, *radius_mm);
            }
            Shape::Arc {
                centre,
                radius_mm,
                from_deg,
                to_deg,
            } => {
                self.begin("ARC", layer);
                self.place(10, *centre);
                self.figure(40, *radius_mm);
                self.figure(50, *from_deg);
                self.figure(51, *to_deg);
            }
            Shape::Path { corners, closed } => self.path(layer, corners, *closed),
            Shape::Teeth { .. } | Shape::Rect(..) => {
                let corners = item.shape.outline().unwrap_or_default();
                self.path(layer, &corners, true);
            }
            Shape::Text {
                words,
                at,
                size_mm,
                anchor,
            } => self.text(layer, words, *at, *size_mm, *anchor),
        }
    }

    fn path(&mut self, layer: Layer, corners: &[Vertex], closed: bool) {
        self.begin("POLYLINE", layer);
        self.pair(66, 1);
        self.pair(70, u8::from(closed));
        let next = corners.iter().cycle().skip(1);
        for (vertex, next) in corners.iter().zip(next) {
            self.begin("VERTEX", layer);
            self.place(10, vertex.at);
            // The arc that leaves a corner is the one that leads to the next.
            if let Some(bend) = next.arc {
                self.pair(42, trimmed(bend.bulge(), 9));
            }
        }
        self.begin("SEQEND", layer);
    }

    fn text(&mut self, layer: Layer, words: &str, at: Point, size_mm: f64, anchor: Anchor) {
        self.begin("TEXT", layer);
        self.place(10, at);
        self.figure(40, capital_mm(size_mm));
        self.pair(1, plain_text(words));
        let justified = match anchor {
            Anchor::Start => return,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        self.pair(72, justified);
        self.place(11, at);
    }
}

//! A drawing as JSON, for the page that paints it.
//!
//! Numbers are short: a drawing is looked at, and the figures stand elsewhere.

use crate::sheet::{Anchor, Drawing, Group, Item, Shape, Vertex};
use crate::train::Point;
use serde::ser::{Serialize, SerializeMap, Serializer};

/// Everything of a drawing, mm, y up, to be written as JSON.
#[derive(Clone, Copy, Debug)]
pub struct DrawingRecord<'a>(pub &'a Drawing);

/// To a micrometre, without needless digits.
struct Short(f64);

/// Some of a drawing that is written as it is come to.
struct Told<'a, T>(&'a T);

impl Serialize for Short {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let rounded = (self.0 * 1000.0).round() / 1000.0;
        // Never "-0".
        to.serialize_f64(if rounded.abs() < 5e-4 { 0.0 } else { rounded })
    }
}

impl Serialize for DrawingRecord<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let drawing = self.0;
        let mut map = to.serialize_map(None)?;
        map.serialize_entry("title", &drawing.title)?;
        map.serialize_entry("about", &drawing.about)?;
        map.serialize_entry("box", &corners(drawing.frame.low, drawing.frame.high))?;
        map.serialize_entry("groups", &told(&drawing.groups))?;
        map.end()
    }
}

impl Serialize for Told<'_, Group> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let group = self.0;
        let mut map = to.serialize_map(None)?;
        map.serialize_entry("kind", group.kind.word())?;
        map.serialize_entry("of", &group.of)?;
        if !group.states.is_empty() {
            map.serialize_entry("states", &group.states)?;
        }
        if let Some(side) = group.side {
            map.serialize_entry("side", side.word())?;
        }
        if let Some(axis) = group.axis {
            map.serialize_entry("axis", &point(axis))?;
        }
        if !group.moves.is_empty() {
            map.serialize_entry("moves", &Told(&group.moves))?;
        }
        map.serialize_entry("items", &told(&group.items))?;
        map.end()
    }
}

impl Serialize for Told<'_, Vec<(String, f64)>> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.0.iter().map(|(state, by)| (state, Short(*by))))
    }
}

impl Serialize for Told<'_, Item> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut map = to.serialize_map(None)?;
        map.serialize_entry("layer", self.0.layer.word())?;
        shape(&self.0.shape, &mut map)?;
        map.end()
    }
}

/// What a shape is, and where.
fn shape<M: SerializeMap>(shape: &Shape, map: &mut M) -> Result<(), M::Error> {
    match shape {
        Shape::Line(from, to) => map.serialize_entry("line", &corners(*from, *to)),
        Shape::Rect(low, high) => map.serialize_entry("rect", &corners(*low, *high)),
        Shape::Circle { centre, radius_mm } => {
            let circle = [centre.x_mm, centre.y_mm, *radius_mm];
            map.serialize_entry("circle", &circle.map(Short))
        }
        Shape::Arc {
            centre,
            radius_mm,
            from_deg,
            to_deg,
        } => {
            let arc = [centre.x_mm, centre.y_mm, *radius_mm, *from_deg, *to_deg];
            map.serialize_entry("arc", &arc.map(Short))
        }
        Shape::Path { corners, closed } => {
            map.serialize_entry("path", &told(corners))?;
            map.serialize_entry("closed", closed)
        }
        Shape::Teeth {
            tooth,
            times,
            at,
            turned_deg,
        } => {
            map.serialize_entry("tooth", &told(tooth))?;
            map.serialize_entry("times", times)?;
            map.serialize_entry("at", &point(*at))?;
            map.serialize_entry("turned_deg", &Short(*turned_deg))
        }
        Shape::Text {
            words,
            at,
            size_mm,
            anchor,
        } => {
            map.serialize_entry("text", words)?;
            map.serialize_entry("at", &point(*at))?;
            map.serialize_entry("size", &Short(*size_mm))?;
            map.serialize_entry("anchor", anchor_word(*anchor))
        }
    }
}

impl Serialize for Told<'_, Vertex> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Point { x_mm, y_mm } = self.0.at;
        let Some(bend) = &self.0.arc else {
            return [x_mm, y_mm].map(Short).serialize(to);
        };
        let flag = |is: bool| f64::from(u8::from(is));
        let (large, counter) = (bend.is_large(), bend.is_counter_clockwise());
        let arc = [x_mm, y_mm, bend.radius_mm, flag(large), flag(counter)];
        arc.map(Short).serialize(to)
    }
}

fn told<T>(all: &[T]) -> Vec<Told<'_, T>> {
    all.iter().map(Told).collect()
}

fn point(point: Point) -> [Short; 2] {
    [point.x_mm, point.y_mm].map(Short)
}

fn corners(one: Point, other: Point) -> [Short; 4] {
    [one.x_mm, one.y_mm, other.x_mm, other.y_mm].map(Short)
}

/// What an anchor is called, in SVG too.
pub(super) const fn anchor_word(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    }
}

//! A drawing as JSON, for the page that paints it.
//!
//! Numbers are short: a drawing is looked at, and the figures stand elsewhere.

use crate::sheet::{Anchor, Drawing, Group, Item, Shape, Vertex};
use crate::train::Point;
use serde_json::{Map, Value, json};

/// Everything of a drawing, mm, y up.
pub fn drawing_json(drawing: &Drawing) -> Value {
    let frame = &drawing.frame;
    let corners = [frame.low, frame.high].map(|corner| [corner.x_mm, corner.y_mm]);
    let mut out = Map::new();
    out.insert("title".to_owned(), json!(drawing.title));
    out.insert("about".to_owned(), json!(drawing.about));
    out.insert("box".to_owned(), numbers(&corners.concat()));
    // As they are: `json!` would copy them.
    let groups = drawing.groups.iter().map(group);
    out.insert("groups".to_owned(), Value::Array(groups.collect()));
    Value::Object(out)
}

/// To a micrometre, without needless digits.
fn short(value: f64) -> Value {
    let rounded = (value * 1000.0).round() / 1000.0;
    // Never "-0".
    let rounded = if rounded.abs() < 5e-4 { 0.0 } else { rounded };
    json!(rounded)
}

fn group(group: &Group) -> Value {
    let mut out = Map::new();
    out.insert("kind".to_owned(), json!(group.kind.word()));
    out.insert("of".to_owned(), json!(group.of));
    if !group.states.is_empty() {
        out.insert("states".to_owned(), json!(group.states));
    }
    if let Some(side) = group.side {
        out.insert("side".to_owned(), json!(side.word()));
    }
    if let Some(axis) = group.axis {
        out.insert("axis".to_owned(), point(axis));
    }
    if !group.moves.is_empty() {
        let moves = group.moves.iter();
        let moves: Map<String, Value> = moves.map(|(s, by)| (s.clone(), short(*by))).collect();
        out.insert("moves".to_owned(), Value::Object(moves));
    }
    let items = group.items.iter().map(item);
    out.insert("items".to_owned(), Value::Array(items.collect()));
    Value::Object(out)
}

fn point(point: Point) -> Value {
    numbers(&[point.x_mm, point.y_mm])
}

fn numbers(values: &[f64]) -> Value {
    Value::Array(values.iter().map(|value| short(*value)).collect())
}

fn item(item: &Item) -> Value {
    let fields: Vec<(&str, Value)> = match &item.shape {
        Shape::Line(from, to) => vec![("line", corners(from, to))],
        Shape::Rect(low, high) => vec![("rect", corners(low, high))],
        Shape::Circle { centre, radius_mm } => {
            vec![("circle", numbers(&[centre.x_mm, centre.y_mm, *radius_mm]))]
        }
        Shape::Arc {
            centre,
            radius_mm,
            from_deg,
            to_deg,
        } => {
            let arc = [centre.x_mm, centre.y_mm, *radius_mm, *from_deg, *to_deg];
            vec![("arc", numbers(&arc))]
        }
        Shape::Path { corners, closed } => {
            vec![("path", vertices(corners)), ("closed", json!(closed))]
        }
        Shape::Teeth {
            tooth,
            times,
            at,
            turned_deg,
        } => vec![
            ("tooth", vertices(tooth)),
            ("times", json!(times)),
            ("at", point(*at)),
            ("turned_deg", short(*turned_deg)),
        ],
        Shape::Text {
            words,
            at,
            size_mm,
            anchor,
        } => vec![
            ("text", json!(words)),
            ("at", point(*at)),
            ("size", short(*size_mm)),
            ("anchor", json!(anchor_word(*anchor))),
        ],
    };
    let mut out = Map::new();
    out.insert("layer".to_owned(), json!(item.layer.word()));
    out.extend(
        fields
            .into_iter()
            .map(|(key, value)| (key.to_owned(), value)),
    );
    Value::Object(out)
}

fn corners(one: &Point, other: &Point) -> Value {
    numbers(&[one.x_mm, one.y_mm, other.x_mm, other.y_mm])
}

fn vertices(corners: &[Vertex]) -> Value {
    let vertex = |vertex: &Vertex| {
        let Point { x_mm, y_mm } = vertex.at;
        let Some(bend) = &vertex.arc else {
            return numbers(&[x_mm, y_mm]);
        };
        let flag = |is: bool| f64::from(u8::from(is));
        let (large, counter) = (bend.is_large(), bend.is_counter_clockwise());
        numbers(&[x_mm, y_mm, bend.radius_mm, flag(large), flag(counter)])
    };
    Value::Array(corners.iter().map(vertex).collect())
}

/// What an anchor is called, in SVG too.
pub(super) const fn anchor_word(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    }
}

//! A drawing as JSON, for the page that paints it.
//!
//! Numbers are short: a drawing is looked at, and the figures stand elsewhere.

use crate::sheet::{Anchor, Bend, Drawing, Group, Item, Shape, Vertex};
use crate::train::Point;
use serde_json::{Map, Value, json};

/// Everything of a drawing, mm, y up.
pub fn drawing_json(drawing: &Drawing) -> Value {
    let frame = &drawing.frame;
    json!({
        "title": drawing.title,
        "about": drawing.about,
        "box": [
            short(frame.low.x_mm),
            short(frame.low.y_mm),
            short(frame.high.x_mm),
            short(frame.high.y_mm),
        ],
        "groups": drawing.groups.iter().map(group).collect::<Vec<_>>(),
    })
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
    let items: Vec<Value> = group.items.iter().map(item).collect();
    out.insert("items".to_owned(), json!(items));
    Value::Object(out)
}

fn point(point: Point) -> Value {
    json!([short(point.x_mm), short(point.y_mm)])
}

fn item(item: &Item) -> Value {
    let mut out = match &item.shape {
        Shape::Line(from, to) => json!({
            "line": [short(from.x_mm), short(from.y_mm), short(to.x_mm), short(to.y_mm)],
        }),
        Shape::Circle { centre, radius_mm } => json!({
            "circle": [short(centre.x_mm), short(centre.y_mm), short(*radius_mm)],
        }),
        Shape::Arc {
            centre,
            radius_mm,
            from_deg,
            to_deg,
        } => json!({
            "arc": [
                short(centre.x_mm),
                short(centre.y_mm),
                short(*radius_mm),
                short(*from_deg),
                short(*to_deg),
            ],
        }),
        Shape::Path { corners, closed } => json!({ "path": vertices(corners), "closed": closed }),
        Shape::Teeth {
            tooth,
            times,
            at,
            turned_deg,
        } => json!({
            "tooth": vertices(tooth),
            "times": times,
            "at": point(*at),
            "turned_deg": short(*turned_deg),
        }),
        Shape::Rect(low, high) => json!({
            "rect": [short(low.x_mm), short(low.y_mm), short(high.x_mm), short(high.y_mm)],
        }),
        Shape::Text {
            words,
            at,
            size_mm,
            anchor,
        } => json!({
            "text": words,
            "at": point(*at),
            "size": short(*size_mm),
            "anchor": anchor_word(*anchor),
        }),
    };
    out["layer"] = json!(item.layer.word());
    out
}

fn vertices(corners: &[Vertex]) -> Vec<Value> {
    let vertex = |vertex: &Vertex| {
        let Point { x_mm, y_mm } = vertex.at;
        match vertex.arc {
            None => json!([short(x_mm), short(y_mm)]),
            Some(bend) => {
                let Bend { radius_mm, .. } = bend;
                json!([
                    short(x_mm),
                    short(y_mm),
                    short(radius_mm),
                    u8::from(bend.is_large()),
                    u8::from(bend.is_counter_clockwise()),
                ])
            }
        }
    };
    corners.iter().map(vertex).collect()
}

/// What an anchor is called, in SVG too.
pub(super) const fn anchor_word(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    }
}

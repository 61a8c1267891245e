//! The JSON Schema (draft 2020-12) of the problem file, made from the same
//! description that the reader follows. Comments and trailing commas, and the
//! rules that compare values, are beyond it.

use super::keys::{Key, Kind, Need, Range, Shape, Unit};
use super::table::PROBLEM;
use crate::base::Decimal;
use serde_json::{Map, Value, json};

/// The schema of the problem file.
pub fn schema() -> Value {
    let mut out = Map::new();
    out.insert(
        "$schema".to_owned(),
        json!("https://json-schema.org/draft/2020-12/schema"),
    );
    out.insert("title".to_owned(), json!("Layshaft problem"));
    out.insert(
        "description".to_owned(),
        json!(
            "A small constant-mesh gearbox whose tooth counts are wanted. Lengths in mm or, where a key ends in _in, inches; angles in degrees; a ratio is input speed divided by output speed."
        ),
    );
    out.extend(object(&PROBLEM, Unit::Mm));
    Value::Object(out)
}

fn object(shape: &Shape, unit: Unit) -> Map<String, Value> {
    let mut out = Map::new();
    out.insert("type".to_owned(), json!("object"));
    out.insert(
        "properties".to_owned(),
        Value::Object(properties(shape, unit)),
    );
    out.insert("additionalProperties".to_owned(), json!(false));
    let required: Vec<&str> = shape
        .keys
        .iter()
        .filter(|key| matches!(key.need, Need::Required) && !key.twin)
        .map(|key| key.name)
        .collect();
    if !required.is_empty() {
        out.insert("required".to_owned(), json!(required));
    }
    let rules = rules(shape);
    if !rules.is_empty() {
        out.insert("allOf".to_owned(), json!(rules));
    }
    out
}

fn properties(shape: &Shape, unit: Unit) -> Map<String, Value> {
    let mut out = Map::new();
    for key in shape.keys {
        for (spelling, own) in key.spellings() {
            out.insert(spelling, property(key, own, unit));
        }
    }
    out
}

fn property(key: &Key, own: Option<Unit>, outer: Unit) -> Value {
    let mut out = kind(&key.kind, own.unwrap_or(outer));
    out.insert("description".to_owned(), json!(description(key, own)));
    if let Need::Default(text) = key.need
        && own != Some(Unit::Inch)
        && let Ok(value) = serde_json::from_str(text)
    {
        out.insert("default".to_owned(), value);
    }
    Value::Object(out)
}

fn description(key: &Key, own: Option<Unit>) -> String {
    let unit = match own {
        Some(Unit::Mm) => " In mm.",
        Some(Unit::Inch) => " In inches.",
        None => "",
    };
    match key.need {
        Need::Otherwise(words) => format!("{}{unit} When missing: {words}.", key.doc),
        _ => format!("{}{unit}", key.doc),
    }
}

fn kind(kind_: &Kind, unit: Unit) -> Map<String, Value> {
    let value = match kind_ {
        Kind::Text { longest } => {
            json!({ "type": "string", "minLength": 1, "maxLength": longest })
        }
        Kind::Word(words) => json!({ "enum": words }),
        Kind::Flag => json!({ "type": "boolean" }),
        Kind::Number(range) => Value::Object(number(range, Unit::Mm)),
        Kind::Length(range) => Value::Object(number(range, unit)),
        Kind::LengthOr(range, words) => json!({
            "anyOf": [number(range, unit), { "enum": words }]
        }),
        Kind::Teeth { least, most } => {
            json!({ "type": "integer", "minimum": least, "maximum": most })
        }
        Kind::Whole { least, most } => {
            json!({ "type": "integer", "minimum": least, "maximum": most })
        }
        Kind::Fields(shape) => Value::Object(object(shape, unit)),
        Kind::List { of, least, most } => json!({
            "type": "array", "items": kind(of, unit), "minItems": least, "maxItems": most
        }),
        Kind::Row(places) => row(places, unit),
        Kind::Either(single, shapes) => {
            let mut all = vec![Value::Object(kind(single, unit))];
            all.extend(shapes.iter().map(|shape| json!(object(shape, unit))));
            json!({ "anyOf": all })
        }
    };
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

fn row(places: &[(&str, Kind)], unit: Unit) -> Value {
    let items: Vec<Value> = places
        .iter()
        .map(|(name, of)| {
            let mut item = kind(of, unit);
            item.insert("title".to_owned(), json!(name));
            Value::Object(item)
        })
        .collect();
    json!({
        "type": "array", "prefixItems": items, "items": false,
        "minItems": places.len(), "maxItems": places.len()
    })
}

fn number(range: &Range, unit: Unit) -> Map<String, Value> {
    let end = |mm: Decimal| match unit {
        Unit::Mm => mm,
        // Rounded: the reader's own limit is exact in mm.
        Unit::Inch => Decimal::nearest(mm.to_f64() / 25.4).unwrap_or(mm),
    };
    let low = if range.above {
        "exclusiveMinimum"
    } else {
        "minimum"
    };
    let high = if range.below {
        "exclusiveMaximum"
    } else {
        "maximum"
    };
    let mut out = Map::new();
    out.insert("type".to_owned(), json!("number"));
    out.insert(low.to_owned(), figure(end(range.low)));
    out.insert(high.to_owned(), figure(end(range.high)));
    out
}

/// A decimal as JSON spells it, whole numbers without a point.
fn figure(value: Decimal) -> Value {
    let text = value.to_string();
    serde_json::from_str(&text).unwrap_or_else(|_| json!(value.to_f64()))
}

/// The rules between the keys of one object.
fn rules(shape: &Shape) -> Vec<Value> {
    let mut out = Vec::new();
    for key in shape.keys.iter().filter(|key| key.twin) {
        out.push(json!({ "not": all(&spellings(shape, key.name)) }));
        if matches!(key.need, Need::Required) {
            out.push(any(&spellings(shape, key.name)));
        }
    }
    if !shape.any_of.is_empty() {
        let names: Vec<String> = shape
            .any_of
            .iter()
            .flat_map(|name| spellings(shape, name))
            .collect();
        out.push(any(&names));
    }
    for (a, b) in shape.apart {
        let both = [any(&spellings(shape, a)), any(&spellings(shape, b))];
        out.push(json!({ "not": { "allOf": both } }));
    }
    for (a, b) in shape.with {
        let needs = any(&spellings(shape, b));
        out.push(json!({ "if": any(&spellings(shape, a)), "then": needs }));
    }
    out
}

fn spellings(shape: &Shape, name: &str) -> Vec<String> {
    let key = shape.keys.iter().find(|key| key.name == name);
    let spellings = key.map(Key::spellings).unwrap_or_default();
    spellings
        .into_iter()
        .map(|(spelling, _)| spelling)
        .collect()
}

fn all(names: &[String]) -> Value {
    json!({ "required": names })
}

fn any(names: &[String]) -> Value {
    let one = |name: &String| json!({ "required": [name] });
    match names {
        [name] => one(name),
        _ => json!({ "anyOf": names.iter().map(one).collect::<Vec<_>>() }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_default_is_legal_json() {
        fn walk(shape: &Shape) {
            for key in shape.keys {
                if let Need::Default(text) = key.need {
                    assert!(serde_json::from_str::<Value>(text).is_ok(), "{}", key.name);
                }
                if let Kind::Fields(inner) = key.kind {
                    walk(inner);
                }
            }
        }
        walk(&PROBLEM);
    }

    #[test]
    fn a_length_has_both_spellings_and_its_limits() {
        let schema = schema();
        let gears = &schema["properties"]["gears"]["properties"];
        assert_eq!(gears["face_width_mm"]["anyOf"][0]["exclusiveMinimum"], 0);
        let inches = &gears["face_width_in"]["anyOf"][0];
        assert_eq!(inches["maximum"], 393.700_787);
        assert_eq!(gears["centre_tolerance_mm"]["default"], 0.001);
    }
}

//! Changes one key in the text of a problem file and leaves the rest, with
//! the person's comments and layout, as it is.

use super::path::{self, Step};
use super::syntax;
use super::targets::WORDS;
use jsonc_parser::CollectOptions;
use jsonc_parser::cst::{CstContainerNode, CstInputValue, CstNode, CstObject, CstRootNode};
use serde_json::Value;
use std::fmt;

/// Why a key can't be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EditError {
    /// What is wrong.
    pub what: String,
    /// What to do next; may be empty.
    pub next: String,
}

impl fmt::Display for EditError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.next.as_str() {
            "" => f.write_str(&self.what),
            next => write!(f, "{}; {next}", self.what),
        }
    }
}

impl std::error::Error for EditError {}

fn error<T>(what: impl Into<String>, next: impl Into<String>) -> Result<T, EditError> {
    Err(EditError {
        what: what.into(),
        next: next.into(),
    })
}

/// Splits `KEY=VALUE`. A value that is not JSON is taken as text, so that
/// words need no quotes.
///
/// # Errors
/// When there is no `=`, or the key is not one of the problem file's.
pub fn assignment(text: &str) -> Result<(String, Value), EditError> {
    let Some((key, value)) = text.split_once('=') else {
        return error(
            format!("`{text}` has no ="),
            "write it like gears.max_teeth=60",
        );
    };
    let (key, value) = (key.trim(), value.trim());
    known(key)?;
    let value = serde_json::from_str(value).unwrap_or_else(|_| Value::String(value.to_owned()));
    Ok((key.to_owned(), value))
}

/// The text with the key of that path set to `value`; `null` removes the key.
/// Objects on the way are made when missing; entries of lists must exist,
/// counted from 0. A length given in the other unit, and a target given in
/// other words, is replaced.
///
/// The outcome may still be a faulty problem: parse it.
///
/// # Errors
/// When the path leads to no key of the problem file, or through a value that
/// has nothing inside, or the text is not JSON.
pub fn set(text: &str, key: &str, value: &Value) -> Result<String, EditError> {
    known(key)?;
    let steps = path::steps(key).unwrap_or_default();
    let (mark, body) = match text.strip_prefix('\u{feff}') {
        Some(body) => ("\u{feff}", body),
        None => ("", text),
    };
    let mut log = super::fault::Log::default();
    if syntax::parse(body, &mut log).is_none() {
        return error("the text is not a problem file", "");
    }
    let Ok(root) = CstRootNode::parse(body, &syntax::dialect()) else {
        return error("the text is not a problem file", "");
    };
    let Some(top) = root.object_value() else {
        return error("the text is not a problem file", "");
    };
    let [Step::Key(first), rest @ ..] = steps.as_slice() else {
        return error(format!("`{key}` is not a key"), "");
    };
    put(&top, first, rest, value, key)?;
    Ok(format!("{mark}{root}"))
}

/// One thing that was set otherwise than in the file.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Change {
    /// The key's path.
    pub key: String,
    /// What was tried.
    pub value: Value,
    /// What the file says; null when it says nothing.
    pub file: Value,
    /// Whether the file was changed to it.
    pub saved: bool,
    /// The file that the value was read from, where it was.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
}

/// What the text says at the key of that path; none when it says nothing.
pub fn get(text: &str, key: &str) -> Option<Value> {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let parsed = jsonc_parser::parse_to_ast(body, &CollectOptions::default(), &syntax::dialect());
    let mut value = Value::from(parsed.ok()?.value?);
    for step in path::steps(key)? {
        value = match step {
            Step::Key(name) => value.get_mut(name)?.take(),
            Step::Entry(index) => value.get_mut(index)?.take(),
        };
    }
    Some(value)
}

/// The one spelling of a key's path: lengths in mm, modules for pitches.
///
/// # Errors
/// When it leads to no key.
pub fn known_key(key: &str) -> Result<String, EditError> {
    path::canonical(key).or_else(|next| error(format!("there is no key `{key}`"), next))
}

fn known(key: &str) -> Result<(), EditError> {
    match path::canonical(key) {
        Ok(_) => Ok(()),
        Err(next) => error(format!("there is no key `{key}`"), next),
    }
}

/// Sets what lies at `rest` from the key `name` of an object.
fn put(
    object: &CstObject,
    name: &str,
    rest: &[Step],
    value: &Value,
    key: &str,
) -> Result<(), EditError> {
    match rest {
        [] => {
            assign(object, name, value);
            Ok(())
        }
        [Step::Key(next), after @ ..] => {
            if let (None, Some(other)) = (object.get(name), other_unit(object, name)) {
                return error(
                    format!("this file gives {other}, so {key} can't be set"),
                    format!("set it in the unit of {other}"),
                );
            }
            let inner = match object.get(name) {
                Some(property) => property.object_value(),
                None if value.is_null() => return Ok(()),
                None => object.object_value_or_create(name),
            };
            match inner {
                Some(inner) => put(&inner, next, after, value, key),
                None => error(
                    format!("{name} is a single value in this file, so {key} can't be set"),
                    format!("set {name} as a whole"),
                ),
            }
        }
        [Step::Entry(_), ..] => {
            let list = object.get(name).and_then(|property| property.value());
            entry(list, rest, value, key)
        }
    }
}

/// Sets what lies at `rest`, whose first step leads into a list.
fn entry(list: Option<CstNode>, rest: &[Step], value: &Value, key: &str) -> Result<(), EditError> {
    let [Step::Entry(index), after @ ..] = rest else {
        return error(format!("{key} can't be set"), "");
    };
    let elements = list
        .and_then(|node| node.as_array())
        .map(|array| array.elements())
        .unwrap_or_default();
    let Some(element) = elements.get(*index).cloned() else {
        let count = elements.len();
        return error(
            format!("{key}: the list has {count} entries"),
            "entries are counted from 0",
        );
    };
    match after {
        [] => {
            replace(element, value);
            Ok(())
        }
        [Step::Entry(_), ..] => entry(Some(element), after, value, key),
        [Step::Key(next), after @ ..] => match element.as_object() {
            Some(inner) => put(&inner, next, after, value, key),
            None => error(format!("{key} can't be set: nothing lies inside"), ""),
        },
    }
}

fn assign(object: &CstObject, name: &str, value: &Value) {
    if value.is_null() {
        if let Some(property) = object.get(name) {
            property.remove();
        }
        return;
    }
    match (object.get(name), other_words(object, name)) {
        (Some(property), _) => property.set_value(input(value)),
        (None, Some(other)) => {
            if let Some(property) = object.get(&other) {
                property.replace_with(name, input(value));
            }
        }
        (None, None) => {
            object.append(name, input(value));
        }
    }
}

/// The same length in the other unit, when the object has it.
fn other_unit(object: &CstObject, name: &str) -> Option<String> {
    let other = match (name.strip_suffix("_mm"), name.strip_suffix("_in")) {
        (Some(base), _) => format!("{base}_in"),
        (None, Some(base)) => format!("{base}_mm"),
        (None, None) => return None,
    };
    object.get(&other).map(|_| other)
}

/// The key that says the same otherwise, when the object has it: the length in
/// the other unit, the target in other words.
fn other_words(object: &CstObject, name: &str) -> Option<String> {
    let others = WORDS.iter().filter(|_| WORDS.contains(&name));
    let target = others.copied().find(|word| object.get(word).is_some());
    other_unit(object, name).or_else(|| target.map(str::to_owned))
}

fn replace(element: CstNode, value: &Value) {
    if value.is_null() {
        element.remove();
        return;
    }
    let value = input(value);
    match element {
        CstNode::Container(CstContainerNode::Object(node)) => {
            node.replace_with(value);
        }
        CstNode::Container(CstContainerNode::Array(node)) => {
            node.replace_with(value);
        }
        CstNode::Leaf(leaf) => replace_leaf(leaf, value),
        CstNode::Container(_) => {}
    }
}

fn replace_leaf(leaf: jsonc_parser::cst::CstLeafNode, value: CstInputValue) {
    use jsonc_parser::cst::CstLeafNode as Leaf;
    match leaf {
        Leaf::BooleanLit(node) => node.replace_with(value),
        Leaf::NullKeyword(node) => node.replace_with(value),
        Leaf::NumberLit(node) => node.replace_with(value),
        Leaf::StringLit(node) => node.replace_with(value),
        _ => None,
    };
}

fn input(value: &Value) -> CstInputValue {
    match value {
        Value::Null => CstInputValue::Null,
        Value::Bool(flag) => CstInputValue::Bool(*flag),
        Value::Number(number) => CstInputValue::Number(number.to_string()),
        Value::String(text) => CstInputValue::String(text.clone()),
        Value::Array(items) => CstInputValue::Array(items.iter().map(input).collect()),
        Value::Object(map) => {
            let fields = map.iter();
            CstInputValue::Object(fields.map(|(k, v)| (k.clone(), input(v))).collect())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    const TEXT: &str = "\
// The shed's box.
{
  \"centre_distance_in\": 1.625, // as measured
  \"gears\": {
    \"max_teeth\": 70 /* the plate has no more */
  },
  \"speeds\": [ { \"ratio\": 3.6 }, { \"direct\": true } ]
}
";

    #[test]
    fn a_value_changes_and_the_rest_stays() {
        let got = set(TEXT, "gears.max_teeth", &json!(60)).unwrap();
        assert_eq!(got, TEXT.replace("70 /*", "60 /*"));
        let got = set(TEXT, "speeds[0].ratio", &json!(3.5)).unwrap();
        assert_eq!(got, TEXT.replace("3.6", "3.5"));
    }

    #[test]
    fn missing_keys_are_made_and_the_other_unit_gives_way() {
        let got = set(TEXT, "gears.backlash_mm.max", &json!(0.13)).unwrap();
        assert!(
            got.contains("\"backlash_mm\": {\n      \"max\": 0.13\n    }"),
            "{got}"
        );
        let got = set(TEXT, "centre_distance_mm", &json!(41.37)).unwrap();
        let line = "\"centre_distance_mm\": 41.37, // as measured";
        assert!(got.contains(line) && !got.contains("_in"), "{got}");
    }

    #[test]
    fn null_removes_a_key() {
        let got = set(TEXT, "gears.max_teeth", &Value::Null).unwrap();
        assert!(!got.contains("max_teeth"), "{got}");
        assert_eq!(set(TEXT, "head.teeth", &Value::Null).unwrap(), TEXT);
    }

    #[test]
    fn setting_what_is_set_changes_no_byte() {
        let once = set(TEXT, "gears.face_width_mm", &json!(8)).unwrap();
        assert_eq!(set(&once, "gears.face_width_mm", &json!(8)).unwrap(), once);
        let windows = format!("\u{feff}{}", TEXT.replace('\n', "\r\n"));
        assert_eq!(
            set(&windows, "gears.max_teeth", &json!(70)).unwrap(),
            windows
        );
    }

    #[test]
    fn what_is_not_there_is_refused() {
        for (key, what) in [
            ("gears.max_tooth", "there is no key `gears.max_tooth`"),
            ("speeds[2].ratio", "speeds[2].ratio: the list has 2 entries"),
            ("head.teeth[0]", "head.teeth[0]: the list has 0 entries"),
            (
                "centre_distance_in.step",
                "centre_distance_in is a single value in this file, so centre_distance_in.step can't be set",
            ),
        ] {
            assert_eq!(set(TEXT, key, &json!(1)).unwrap_err().what, what);
        }
        assert!(set("[", "title", &json!("x")).is_err());
        let other = set(TEXT, "centre_distance_mm.step", &json!(1));
        let what = "this file gives centre_distance_in, so centre_distance_mm.step can't be set";
        assert_eq!(other.unwrap_err().what, what);
    }

    #[test]
    fn assignments_take_json_or_a_word() {
        let max = assignment("gears.max_teeth=60").unwrap();
        assert_eq!(max, ("gears.max_teeth".to_owned(), json!(60)));
        let word = assignment("gears.cutting = own-form").unwrap();
        assert_eq!(word.1, json!("own-form"));
        assert!(assignment("gears.max_teeth").is_err());
        assert!(assignment("gears.max_tooth=1").is_err());
    }
}

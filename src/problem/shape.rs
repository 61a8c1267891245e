//! Holds a tree of JSON values against the description of the keys: names,
//! kinds, ranges, and the rules between the keys of one object.

use super::fault::{Log, Span, shown};
use super::item::{Item, Value};
use super::keys::{Key, Kind, Need, Shape, Unit};
use super::scalar;
use super::{suggest, syntax};
use jsonc_parser::ast::{Array, Object, Value as Json};
use jsonc_parser::common::Ranged;
use std::collections::BTreeMap;

/// What the walk gathers.
#[derive(Debug, Default)]
pub(super) struct Checker {
    pub(super) log: Log,
    /// Whether a key in inches, or a diametral pitch, was met.
    pub(super) inches: bool,
}

/// Where a value stands: its path, the unit of its lengths, and the place to
/// point at when something is missing inside.
pub(super) struct Spot {
    pub(super) path: String,
    pub(super) unit: Unit,
    pub(super) key: Option<Span>,
}

impl Spot {
    /// The top of the file.
    pub(super) const fn top() -> Self {
        Self {
            path: String::new(),
            unit: Unit::Mm,
            key: None,
        }
    }

    fn entry(&self, index: usize) -> Self {
        Self {
            path: format!("{}[{index}]", self.path),
            unit: self.unit,
            key: None,
        }
    }

    /// The path of the key `name` inside.
    pub(super) fn child(&self, name: &str) -> String {
        if self.path.is_empty() {
            name.to_owned()
        } else {
            format!("{}.{name}", self.path)
        }
    }
}

pub(super) fn span(value: &impl Ranged) -> Span {
    let range = value.range();
    range.start..range.end
}

impl Checker {
    /// The value as its kind asks for; [`Value::Bad`] when it is not.
    pub(super) fn item(&mut self, json: &Json<'_>, kind: &'static Kind, spot: &Spot) -> Item {
        match (kind, json) {
            (Kind::Fields(shape), Json::Object(object)) => self.fields(object, shape, spot),
            (Kind::Either(_, shapes), Json::Object(object)) => {
                self.fields(object, meant(object, shapes), spot)
            }
            (Kind::Either(single, _), _) => self.item(json, single, spot),
            (Kind::List { of, least, most }, Json::Array(array)) => {
                self.list(array, of, (*least, *most), spot)
            }
            (Kind::Row(places), Json::Array(array)) => self.row(array, places, spot),
            _ => {
                let found = scalar::value(json, kind, spot.unit);
                self.settle(span(json), spot, found)
            }
        }
    }

    /// The item of a value, or of a fault.
    fn settle(&mut self, at: Span, spot: &Spot, found: Result<Value, (String, String)>) -> Item {
        let value = found.unwrap_or_else(|(what, next)| {
            self.log.add(&at, &spot.path, what, next);
            Value::Bad
        });
        Item {
            span: at,
            path: spot.path.clone(),
            given: true,
            value,
        }
    }

    fn list(
        &mut self,
        array: &Array<'_>,
        of: &'static Kind,
        (least, most): (usize, usize),
        spot: &Spot,
    ) -> Item {
        let at = anchor(spot, array.range.start);
        let count = array.elements.len();
        if count < least || count > most {
            let what = format!("the list has {count} entries");
            let next = format!("it takes {least} to {most}");
            return self.settle(at, spot, Err((what, next)));
        }
        let entries = array.elements.iter().enumerate();
        let items = entries
            .map(|(i, json)| self.item(json, of, &spot.entry(i)))
            .collect();
        self.settle(at, spot, Ok(Value::List(items)))
    }

    fn row(
        &mut self,
        array: &Array<'_>,
        places: &'static [(&'static str, Kind)],
        spot: &Spot,
    ) -> Item {
        if array.elements.len() != places.len() {
            let names: Vec<&str> = places.iter().map(|(name, _)| *name).collect();
            let count = array.elements.len();
            let values = if count == 1 { "value" } else { "values" };
            let what = format!("{count} {values} where {} belong", places.len());
            let next = format!("write [{}]", names.join(", "));
            return self.settle(anchor(spot, array.range.start), spot, Err((what, next)));
        }
        let pairs = array.elements.iter().zip(places).enumerate();
        let items = pairs
            .map(|(i, (json, (_, kind)))| self.item(json, kind, &spot.entry(i)))
            .collect();
        self.settle(span(array), spot, Ok(Value::List(items)))
    }

    fn fields(&mut self, object: &Object<'_>, shape: &'static Shape, spot: &Spot) -> Item {
        let mut seen = Seen::default();
        for property in &object.properties {
            let at = span(&property.name);
            let spelling = property.name.as_str();
            match shape.find(spelling) {
                None => self.unknown(&at, spelling, shape, spot, &mut seen),
                Some((key, _)) if seen.has(key.name) => {
                    self.repeated(&at, spelling, key, spot, &seen);
                }
                Some((key, unit)) => {
                    let inner = Spot {
                        path: spot.child(spelling),
                        unit: unit.unwrap_or(spot.unit),
                        key: Some(at),
                    };
                    self.known(&property.value, key, inner, &mut seen);
                }
            }
        }
        let at = anchor(spot, object.range.start);
        self.rules(&at, shape, spot, &seen);
        self.fill(&at, shape, spot, &mut seen);
        seen.take_as_faulty(&at, spot);
        self.settle(at, spot, Ok(Value::Fields(seen.fields)))
    }

    fn known(&mut self, json: &Json<'_>, key: &'static Key, inner: Spot, seen: &mut Seen) {
        let pitch = key.name.starts_with("diametral_pitch");
        self.inches |= pitch || (key.twin && inner.unit == Unit::Inch);
        seen.fields
            .push((key.name, self.item(json, &key.kind, &inner)));
        seen.spots.insert(key.name, inner);
    }

    fn unknown(
        &mut self,
        at: &Span,
        spelling: &str,
        shape: &'static Shape,
        spot: &Spot,
        seen: &mut Seen,
    ) {
        let long = self.log.is_long();
        let near = if long {
            None
        } else {
            suggest::nearest(spelling, shape.spellings())
        };
        let next = match &near {
            Some(near) => format!("did you mean `{near}`?"),
            None if long => "take it out".to_owned(),
            None => suggest::elsewhere(spelling, &[shape]),
        };
        let key = spot.child(&shown(spelling));
        self.log
            .add(at, &key, "there is no such key".to_owned(), next);
        seen.meant.extend(
            near.and_then(|near| shape.find(&near))
                .map(|(key, _)| key.name),
        );
    }

    fn repeated(&mut self, at: &Span, spelling: &str, key: &Key, spot: &Spot, seen: &Seen) {
        let path = spot.child(spelling);
        let same = seen.spots.get(key.name).is_some_and(|s| s.path == path);
        let what = if same {
            "this key is given twice"
        } else {
            "given in millimetres and in inches"
        };
        let next = "keep one of the two".to_owned();
        self.log.add(at, &path, what.to_owned(), next);
    }

    /// Gives every missing key with a default its default.
    fn fill(&mut self, at: &Span, shape: &'static Shape, spot: &Spot, seen: &mut Seen) {
        for key in shape.keys {
            let Need::Default(text) = key.need else {
                continue;
            };
            if seen.has(key.name) {
                continue;
            }
            if let Some(json) = syntax::parse(text, &mut self.log) {
                let inner = Spot {
                    path: spot.child(&key.usual()),
                    unit: Unit::Mm,
                    key: Some(at.clone()),
                };
                let item = self.item(&json, &key.kind, &inner);
                let item = Item {
                    given: false,
                    ..item
                };
                seen.fields.push((key.name, item));
            }
        }
    }

    /// The rules between the keys of one object.
    fn rules(&mut self, at: &Span, shape: &'static Shape, spot: &Spot, seen: &Seen) {
        self.needed(at, shape, spot, seen);
        for (a, b) in shape.apart {
            self.apart(seen.spots.get(a), seen.spots.get(b));
        }
        for (a, b) in shape.with {
            if let (Some(lone), None) = (seen.spots.get(a), seen.spots.get(b)) {
                let other = shape.named(b).map_or_else(String::new, Key::usual);
                let what = format!("means nothing without {}", spot.child(&other));
                let next = format!("add {other}, or remove this key");
                self.at_key(lone, what, next);
            }
        }
        for (a, b) in shape.ordered {
            if let (Some(low), Some(high)) = (seen.item(a), seen.item(b))
                && low.exceeds(high)
            {
                let what = format!("it exceeds {}", high.path);
                let next = "swap the two, or correct one".to_owned();
                self.log.add(&low.span, &low.path, what, next);
            }
        }
    }

    /// Tells what is missing, unless a misspelled key shows that it was meant.
    fn needed(&mut self, at: &Span, shape: &'static Shape, spot: &Spot, seen: &Seen) {
        let absent = |name| !seen.has(name) && !seen.meant.contains(&name);
        for key in shape.keys {
            if matches!(key.need, Need::Required) && absent(key.name) {
                self.missing(at, key, spot);
            }
        }
        if !shape.any_of.is_empty() && shape.any_of.iter().all(|name| absent(name)) {
            let usual = |name: &&str| shape.named(name).map_or_else(String::new, Key::usual);
            let names: Vec<String> = shape.any_of.iter().map(usual).collect();
            let what = format!("{} is missing", either(&names));
            let next = match names.len() {
                2 => "add one of the two",
                _ => "add one of them",
            };
            self.log.add(at, &spot.path, what, next.to_owned());
        }
    }

    fn apart(&mut self, a: Option<&Spot>, b: Option<&Spot>) {
        let (Some(a), Some(b)) = (a, b) else {
            return;
        };
        let start = |spot: &Spot| spot.key.as_ref().map(|key| key.start);
        let (first, second) = if start(a) < start(b) { (a, b) } else { (b, a) };
        let what = format!(
            "{} is given already, and the two exclude each other",
            first.path
        );
        self.at_key(second, what, "keep one of the two".to_owned());
    }

    /// A fault that points at a key rather than at its value.
    fn at_key(&mut self, spot: &Spot, what: String, next: String) {
        if let Some(key) = &spot.key {
            self.log.add(key, &spot.path, what, next);
        }
    }

    fn missing(&mut self, at: &Span, key: &Key, spot: &Spot) {
        let what = if key.twin {
            format!("missing (or {}_in)", key.name)
        } else {
            "missing".to_owned()
        };
        let next = format!("add it: {}", key.doc);
        self.log.add(at, &spot.child(&key.usual()), what, next);
    }
}

/// The keys of one object as they are met.
#[derive(Default)]
struct Seen {
    /// Where each key stands, by its name without unit.
    spots: BTreeMap<&'static str, Spot>,
    fields: Vec<(&'static str, Item)>,
    /// Keys that a misspelled one is most like.
    meant: Vec<&'static str>,
}

impl Seen {
    fn has(&self, name: &str) -> bool {
        self.spots.contains_key(name)
    }

    /// A misspelled key counts as given and faulty, so that no later rule calls
    /// it missing.
    fn take_as_faulty(&mut self, at: &Span, spot: &Spot) {
        for name in std::mem::take(&mut self.meant) {
            if self.item(name).is_none() {
                let item = Item {
                    span: at.clone(),
                    path: spot.child(name),
                    given: true,
                    value: Value::Bad,
                };
                self.fields.push((name, item));
            }
        }
    }

    fn item(&self, name: &str) -> Option<&Item> {
        let found = self.fields.iter().find(|(field, _)| *field == name);
        found.map(|(_, item)| item)
    }
}

/// The shape that more of the keys belong to; the first, when that is level.
fn meant(object: &Object<'_>, shapes: &[&'static Shape]) -> &'static Shape {
    let known = |shape: &'static Shape| {
        let names = object.properties.iter().map(|p| p.name.as_str());
        names.filter(|name| shape.find(name).is_some()).count()
    };
    let (first, rest) = (shapes[0], &shapes[1..]);
    // The first of equals.
    rest.iter().fold(first, |best, &next| {
        if known(next) > known(best) {
            next
        } else {
            best
        }
    })
}

/// `a`, `a or b`, `a, b or c`.
fn either(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} or {last}", before.join(", ")),
    }
}

/// Where to point for something about a whole object or list: its key, or its
/// opening bracket.
fn anchor(spot: &Spot, start: usize) -> Span {
    spot.key.clone().unwrap_or(start..start + 1)
}

//! JSON as it goes into the page, written once: no tree of values is built of
//! what is only to be packed.

use crate::export::bench::tidied;
use serde::Serialize;
use serde_json::Error;
use serde_json::ser::{CompactFormatter, Formatter, Serializer};
use std::io::{self, Write};

/// A value as JSON, with a mark before every item of its lists and before every key
/// and value of its objects, so that it is taken apart without being read. A mark
/// is a byte that JSON spells otherwise in words: how deep its list or object stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Written(Vec<u8>);

/// Deeper lists and objects have no marks: to take them apart costs more time than
/// better packing saves.
const DEEPEST: u8 = 6;

impl Written {
    /// With all figures as they are.
    pub(super) fn of(value: &impl Serialize) -> Result<Self, Error> {
        Self::with(value, |figure| figure)
    }

    /// With figures that are rounded as everything for the bench is.
    pub(super) fn tidy(value: &impl Serialize) -> Result<Self, Error> {
        Self::with(value, tidied)
    }

    fn with(value: &impl Serialize, figure: fn(f64) -> f64) -> Result<Self, Error> {
        let mut json = Vec::new();
        let marks = Marks { deep: 0, figure };
        value.serialize(&mut Serializer::with_formatter(&mut json, marks))?;
        Ok(Self(json))
    }

    /// All of it.
    pub(super) fn whole(&self) -> Part<'_> {
        let json = &self.0;
        Part { json, deep: 1 }
    }
}

/// A value inside of what is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Part<'a> {
    json: &'a [u8],
    /// The mark of its own items or fields.
    deep: u8,
}

impl<'a> Part<'a> {
    /// The keys, colons behind them, and the values of an object; none of another
    /// value, nor where it has no marks.
    pub(super) fn fields(self) -> Option<Vec<(&'a [u8], Self)>> {
        let mut pieces = self.pieces(b'{')?;
        let mut fields = Vec::new();
        while let (Some(key), Some(value)) = (pieces.next(), pieces.next()) {
            fields.push((key, self.inside(value)));
        }
        Some(fields)
    }

    /// The items of a list; none of another value, nor where it has no marks.
    pub(super) fn items(self) -> Option<Vec<Self>> {
        let pieces = self.pieces(b'[')?;
        Some(pieces.map(|item| self.inside(item)).collect())
    }

    /// What stands behind its marks, where it opens with a bracket.
    fn pieces(self, open: u8) -> Option<impl Iterator<Item = &'a [u8]>> {
        let opens = self.deep <= DEEPEST && self.json.first() == Some(&open);
        let pieces = self.json.split(move |byte| *byte == self.deep);
        opens.then(|| pieces.skip(1))
    }

    /// A value, from its mark to the comma or bracket behind it.
    fn inside(self, piece: &'a [u8]) -> Self {
        let json = piece.split_last().map_or(piece, |(_, value)| value);
        let deep = self.deep + 1;
        Self { json, deep }
    }

    /// Adds it to other JSON, without marks.
    pub(super) fn put(self, json: &mut Vec<u8>) {
        if self.deep > DEEPEST {
            json.extend_from_slice(self.json);
        } else {
            json.extend(self.json.iter().filter(|byte| **byte > DEEPEST));
        }
    }
}

/// Adds all of some things between brackets, commas between them.
pub(super) fn put_all<T>(
    [open, close]: [u8; 2],
    all: impl IntoIterator<Item = T>,
    json: &mut Vec<u8>,
    put: impl Fn(T, &mut Vec<u8>),
) {
    json.push(open);
    for (place, one) in all.into_iter().enumerate() {
        if place > 0 {
            json.push(b',');
        }
        put(one, json);
    }
    json.push(close);
}

/// Writes marks between the rest.
struct Marks {
    /// Lists and objects that are open.
    deep: u8,
    /// What is written of a figure.
    figure: fn(f64) -> f64,
}

impl Marks {
    fn mark<W: ?Sized + Write>(&self, to: &mut W) -> io::Result<()> {
        if self.deep > DEEPEST {
            return Ok(());
        }
        to.write_all(&[self.deep])
    }
}

impl Formatter for Marks {
    fn write_f64<W: ?Sized + Write>(&mut self, to: &mut W, value: f64) -> io::Result<()> {
        CompactFormatter.write_f64(to, (self.figure)(value))
    }

    fn begin_array<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep += 1;
        CompactFormatter.begin_array(to)
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, to: &mut W, first: bool) -> io::Result<()> {
        CompactFormatter.begin_array_value(to, first)?;
        self.mark(to)
    }

    fn end_array<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep -= 1;
        CompactFormatter.end_array(to)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep += 1;
        CompactFormatter.begin_object(to)
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, to: &mut W, first: bool) -> io::Result<()> {
        CompactFormatter.begin_object_key(to, first)?;
        self.mark(to)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        CompactFormatter.begin_object_value(to)?;
        self.mark(to)
    }

    fn end_object<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep -= 1;
        CompactFormatter.end_object(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn whole(value: &Value) -> String {
        text(Written::of(value).unwrap().whole())
    }

    fn text(part: Part<'_>) -> String {
        let mut json = Vec::new();
        part.put(&mut json);
        String::from_utf8(json).unwrap()
    }

    #[test]
    fn it_is_the_usual_json() {
        for value in [
            json!({ "a": 1, "b": { "c": [1.5, { "d": null, "e": "x" }], "f": {} } }),
            json!({ "two\nlines": "and {\n\"more\"\n}" }),
            json!([{ "a": 1, "b": 2 }, []]),
            json!("{\n"),
            json!({}),
            json!(-0.0),
        ] {
            assert_eq!(whole(&value), value.to_string());
        }
    }

    #[test]
    fn it_is_taken_apart() {
        let value = json!({ "a": { "b": 1, "c": [2, {}] }, "\u{1}\n": [], "d": [[3, 4], "5,6"] });
        let written = Written::of(&value).unwrap();
        let fields = written.whole().fields().unwrap();
        let keys: Vec<&[u8]> = fields.iter().map(|(key, _)| *key).collect();
        assert_eq!(keys, [&b"\"a\":"[..], br#""\u0001\n":"#, b"\"d\":"]);
        let [object, empty, list] = [0, 1, 2].map(|at: usize| fields[at].1);
        assert_eq!(text(object), r#"{"b":1,"c":[2,{}]}"#);
        assert_eq!(text(object.fields().unwrap()[1].1), "[2,{}]");
        assert_eq!(empty.items(), Some(vec![]));
        let items = list.items().unwrap();
        assert_eq!(
            items.iter().map(|item| text(*item)).collect::<Vec<_>>(),
            ["[3,4]", r#""5,6""#]
        );
        assert_eq!(items[0].items().unwrap().len(), 2);
        for (part, is_object) in [(object, true), (list, false), (items[1], false)] {
            assert_eq!(part.fields().is_some(), is_object);
        }
        assert!(object.items().is_none() && items[1].items().is_none());
    }

    #[test]
    fn what_stands_deepest_stays_whole() {
        let mut value = json!([1, { "a": 2 }]);
        for _ in 0..DEEPEST {
            value = json!([value]);
        }
        let written = Written::of(&value).unwrap();
        let mut part = written.whole();
        for _ in 0..DEEPEST {
            part = part.items().unwrap()[0];
        }
        assert!(part.items().is_none());
        assert_eq!(text(part), r#"[1,{"a":2}]"#);
    }

    #[test]
    fn figures_are_tidied_wherever_they_stand() {
        let mut value = json!({ "a": 0.1 + 0.2, "b": [-0.0, { "c": 1e300, "d": 7 }] });
        let written = Written::tidy(&value).unwrap();
        crate::export::bench::tidy(&mut value);
        assert_eq!(written, Written::of(&value).unwrap());
        assert_ne!(written, Written::of(&json!({ "a": 0.1 + 0.2 })).unwrap());
    }
}

//! JSON as it goes into the page, written once: no tree of values is built of
//! what is only to be packed.

use crate::export::bench::tidied;
use serde::Serialize;
use serde_json::Error;
use serde_json::ser::{CompactFormatter, Formatter, Serializer};
use std::io::{self, Write};

/// A value as JSON, an object field by field: a line for each key and for each
/// value. No line ends elsewhere, as JSON spells those that stand in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Written(Vec<u8>);

/// The line before the fields of an object.
const OBJECT: &[u8] = b"{";

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
        let lines = Lines { deep: 0, figure };
        value.serialize(&mut Serializer::with_formatter(&mut json, lines))?;
        Ok(Self(json))
    }

    /// Keys and values of an object; none of another value.
    pub(super) fn fields(&self) -> Option<Vec<(&[u8], &[u8])>> {
        let mut lines = self.0.split(|byte| *byte == b'\n');
        if lines.next() != Some(OBJECT) {
            return None;
        }
        let mut fields = Vec::new();
        while let (Some(key), Some(value)) = (lines.next(), lines.next()) {
            fields.push((key, value));
        }
        Some(fields)
    }

    /// Adds it to other JSON, whole.
    pub(super) fn put(&self, json: &mut Vec<u8>) {
        match self.fields() {
            None => json.extend_from_slice(&self.0),
            Some(fields) => put_all(*b"{}", fields, json, |(key, value), json| {
                json.extend_from_slice(key);
                json.push(b':');
                json.extend_from_slice(value);
            }),
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

/// Writes the fields of the outer object in lines.
struct Lines {
    /// Lists and objects that are open.
    deep: usize,
    /// What is written of a figure.
    figure: fn(f64) -> f64,
}

impl Formatter for Lines {
    fn write_f64<W: ?Sized + Write>(&mut self, to: &mut W, value: f64) -> io::Result<()> {
        CompactFormatter.write_f64(to, (self.figure)(value))
    }

    fn begin_array<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep += 1;
        to.write_all(b"[")
    }

    fn end_array<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep -= 1;
        to.write_all(b"]")
    }

    fn begin_object<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep += 1;
        to.write_all(OBJECT)
    }

    fn end_object<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        self.deep -= 1;
        to.write_all(if self.deep == 0 { b"" } else { b"}" })
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, to: &mut W, first: bool) -> io::Result<()> {
        to.write_all(match (self.deep, first) {
            (1, _) => b"\n",
            (_, true) => b"",
            (_, false) => b",",
        })
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, to: &mut W) -> io::Result<()> {
        to.write_all(if self.deep == 1 { b"\n" } else { b":" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn whole(value: &Value) -> String {
        let mut json = Vec::new();
        Written::of(value).unwrap().put(&mut json);
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
    fn fields_are_those_of_the_outer_object() {
        let written = Written::of(&json!({ "a": { "b": 1 }, "c\n": [2] })).unwrap();
        let fields: [(&[u8], &[u8]); 2] = [(b"\"a\"", b"{\"b\":1}"), (br#""c\n""#, b"[2]")];
        assert_eq!(written.fields(), Some(fields.to_vec()));
        let none = Written::of(&json!([{ "a": 1 }])).unwrap();
        assert_eq!(none.fields(), None);
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

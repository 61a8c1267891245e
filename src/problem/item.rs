//! The file's values after each has passed the rules that concern it alone.

use super::fault::Span;
use crate::base::{Decimal, Length, Teeth};

/// A value with its place.
#[derive(Debug)]
pub(super) struct Item {
    /// Where it stands; for an object or list, its key or opening bracket.
    pub(super) span: Span,
    /// Its key path.
    pub(super) path: String,
    /// Whether the file has it; else it is a default.
    pub(super) given: bool,
    pub(super) value: Value,
}

/// A value of the kind that its key asks for.
#[derive(Debug)]
pub(super) enum Value {
    /// Faulty; already reported.
    Bad,
    Text(String),
    Word(&'static str),
    Flag(bool),
    Number(Decimal),
    Length(Length),
    Teeth(Teeth),
    Whole(usize),
    /// By name without the unit.
    Fields(Vec<(&'static str, Item)>),
    List(Vec<Item>),
}

impl Item {
    /// The field of that name (without its unit), when given.
    pub(super) fn get(&self, name: &str) -> Option<&Item> {
        let Value::Fields(fields) = &self.value else {
            return None;
        };
        let found = fields.iter().find(|(field, _)| *field == name);
        found.map(|(_, item)| item)
    }

    pub(super) fn list(&self) -> Option<&[Item]> {
        match &self.value {
            Value::List(items) => Some(items),
            _ => None,
        }
    }

    pub(super) fn text(&self) -> Option<&str> {
        match &self.value {
            Value::Text(text) => Some(text),
            _ => None,
        }
    }

    pub(super) fn word(&self) -> Option<&'static str> {
        match self.value {
            Value::Word(word) => Some(word),
            _ => None,
        }
    }

    pub(super) fn flag(&self) -> Option<bool> {
        match self.value {
            Value::Flag(flag) => Some(flag),
            _ => None,
        }
    }

    pub(super) fn number(&self) -> Option<Decimal> {
        match self.value {
            Value::Number(number) => Some(number),
            _ => None,
        }
    }

    pub(super) fn length(&self) -> Option<Length> {
        match self.value {
            Value::Length(length) => Some(length),
            _ => None,
        }
    }

    pub(super) fn teeth(&self) -> Option<Teeth> {
        match self.value {
            Value::Teeth(teeth) => Some(teeth),
            _ => None,
        }
    }

    pub(super) fn whole(&self) -> Option<usize> {
        match self.value {
            Value::Whole(count) => Some(count),
            _ => None,
        }
    }

    /// Whether the second value is certainly less than this one.
    pub(super) fn exceeds(&self, other: &Item) -> bool {
        match (&self.value, &other.value) {
            (Value::Number(a), Value::Number(b)) => a > b,
            (Value::Length(a), Value::Length(b)) => a > b,
            (Value::Teeth(a), Value::Teeth(b)) => a > b,
            _ => false,
        }
    }
}

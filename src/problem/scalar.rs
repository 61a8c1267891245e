//! Single values: kind, range and precision.

use super::fault::shown;
use super::item::Value;
use super::keys::{Kind, Range, Unit};
use super::suggest;
use crate::base::{Decimal, DecimalError, Length, Teeth};
use jsonc_parser::ast::Value as Json;
use std::fmt;

/// What is wrong, and what to do next.
pub(super) type Wrong = (String, String);

/// The value, when it is of its kind and in its range.
pub(super) fn value(json: &Json<'_>, kind: &Kind, unit: Unit) -> Result<Value, Wrong> {
    match (kind, json) {
        (Kind::Text { longest }, Json::StringLit(text)) => line(&text.value, *longest),
        (Kind::Word(words), Json::StringLit(text)) => word(&text.value, words),
        (Kind::LengthOr(_, words), Json::StringLit(text)) if words.contains(&&*text.value) => {
            word(&text.value, words)
        }
        (Kind::Flag, Json::BooleanLit(flag)) => Ok(Value::Flag(flag.value)),
        (Kind::Number(range), Json::NumberLit(text)) => number(text.value, range),
        (Kind::Length(range) | Kind::LengthOr(range, _), Json::NumberLit(text)) => {
            length(text.value, range, unit)
        }
        (Kind::Teeth { least, most }, Json::NumberLit(text)) => {
            whole(text.value, *least, *most).map(|count| Value::Teeth(Teeth::new(count)))
        }
        (Kind::Whole { least, most }, Json::NumberLit(text)) => {
            whole(text.value, *least, *most).map(Value::Whole)
        }
        _ => Err(wrong_kind(json, kind)),
    }
}

fn line(text: &str, longest: usize) -> Result<Value, Wrong> {
    let length = text.chars().count();
    if length == 0 {
        return Err(wrong(
            "the text is empty",
            "write something, or leave the key out",
        ));
    }
    if length > longest {
        let what = format!("the text has {length} characters");
        return Err((what, format!("shorten it to {longest}")));
    }
    if text.chars().any(char::is_control) {
        return Err(wrong("a control character in the text", "remove it"));
    }
    Ok(Value::Text(text.to_owned()))
}

fn word(text: &str, words: &'static [&'static str]) -> Result<Value, Wrong> {
    if let Some(word) = words.iter().find(|word| **word == text) {
        return Ok(Value::Word(word));
    }
    let next = suggest::word(text, words.iter().copied());
    Err((
        format!("\"{}\" is not one of the choices", shown(text)),
        next,
    ))
}

fn number(text: &str, range: &Range) -> Result<Value, Wrong> {
    let legal = format!("it must be {range}");
    let number = decimal(text, &legal)?;
    if range.contains(number) {
        return Ok(Value::Number(number));
    }
    Err((outside(text, number > range.low), legal))
}

fn length(text: &str, range: &Range, unit: Unit) -> Result<Value, Wrong> {
    let legal = legal_lengths(range, unit);
    let number = decimal(text, &legal)?;
    // The bare number first: a length beyond all limits has no exact value.
    let length = (number <= range.high).then(|| match unit {
        Unit::Mm => Length::from_mm(number),
        Unit::Inch => Length::from_inches(number),
    });
    match length {
        Some(length) if range.contains_length(length) => Ok(Value::Length(length)),
        _ => Err((outside(text, number > range.low), legal)),
    }
}

fn legal_lengths(range: &Range, unit: Unit) -> String {
    match unit {
        Unit::Mm => format!("it must be {range} mm"),
        Unit::Inch => format!(
            "it must be {range} mm, that is {:.1} in",
            range.high.to_f64() / 25.4
        ),
    }
}

fn whole<N>(text: &str, least: N, most: N) -> Result<N, Wrong>
where
    N: TryFrom<i64> + PartialOrd + Copy + fmt::Display,
{
    let legal = format!("it must be a whole number from {least} to {most}");
    let number = decimal(text, &legal)?;
    if number.millionths() % Decimal::SCALE != 0 {
        return Err((format!("{} is not a whole number", shown(text)), legal));
    }
    match N::try_from(number.millionths() / Decimal::SCALE) {
        Ok(count) if (least..=most).contains(&count) => Ok(count),
        Ok(count) => Err((outside(text, count > most), legal)),
        Err(_) => Err((outside(text, number > Decimal::whole(0)), legal)),
    }
}

fn outside(text: &str, above: bool) -> String {
    let how = if above { "large" } else { "small" };
    format!("{} is too {how}", shown(text))
}

/// The decimal as written, exact.
fn decimal(text: &str, legal: &str) -> Result<Decimal, Wrong> {
    Decimal::parse(text).map_err(|error| {
        let too_many_digits = significant(text) > 15;
        let text = shown(text);
        match error {
            DecimalError::TooFine => (
                format!("{text} has more than 6 decimals"),
                "round it to 6 decimals".to_owned(),
            ),
            DecimalError::TooLong if too_many_digits => (
                format!("{text} has more than 15 significant digits"),
                "round it to 6 decimals".to_owned(),
            ),
            DecimalError::TooLong => (format!("{text} is too large"), legal.to_owned()),
            DecimalError::NotANumber => (format!("{text} is not a number"), legal.to_owned()),
        }
    })
}

/// How many digits are left without the zeros at both ends.
fn significant(text: &str) -> usize {
    let mantissa = text.split(['e', 'E']).next().unwrap_or(text);
    let digits: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    digits.trim_matches('0').len()
}

fn wrong(what: &str, next: &str) -> Wrong {
    (what.to_owned(), next.to_owned())
}

fn wrong_kind(json: &Json<'_>, kind: &Kind) -> Wrong {
    let what = format!("{} where {} belongs", found(json), wanted(kind));
    (what, remedy(json, kind))
}

fn remedy(json: &Json<'_>, kind: &Kind) -> String {
    match (json, kind) {
        (Json::NullKeyword(_), _) => "leave the key out, or give it a value".to_owned(),
        (
            Json::StringLit(text),
            Kind::Number(_) | Kind::Length(_) | Kind::Teeth { .. } | Kind::Whole { .. },
        ) if Decimal::parse(&text.value).is_ok() => {
            format!("write {} without quotes", text.value)
        }
        (Json::StringLit(text), Kind::Flag) if ["true", "false"].contains(&&*text.value) => {
            format!("write {} without quotes", text.value)
        }
        (Json::NumberLit(number), Kind::Text { .. }) => {
            format!("write \"{}\"", shown(number.value))
        }
        (_, Kind::Word(words)) => suggest::word("", words.iter().copied()),
        (_, Kind::LengthOr(_, words)) => format!("write a length, or \"{}\"", words.join("\", \"")),
        (_, Kind::Row(places)) => {
            let names: Vec<&str> = places.iter().map(|(name, _)| *name).collect();
            format!("write [{}]", names.join(", "))
        }
        (_, Kind::Fields(shape)) => format!("write {{ \"{}\": … }}", shape.first().usual()),
        (_, Kind::List { .. }) => "put it in brackets [ ]".to_owned(),
        _ => format!("write {}", wanted(kind)),
    }
}

const fn found(json: &Json<'_>) -> &'static str {
    match json {
        Json::StringLit(_) => "text",
        Json::NumberLit(_) => "a number",
        Json::BooleanLit(_) => "true or false",
        Json::Object(_) => "an object { }",
        Json::Array(_) => "a list [ ]",
        Json::NullKeyword(_) => "null",
    }
}

const fn wanted(kind: &Kind) -> &'static str {
    match kind {
        Kind::Text { .. } => "text in quotes",
        Kind::Word(_) => "a word in quotes",
        Kind::Flag => "true or false",
        Kind::Number(_) => "a number",
        Kind::Either(single, _) => wanted(single),
        Kind::Length(_) | Kind::LengthOr(..) => "a length",
        Kind::Teeth { .. } | Kind::Whole { .. } => "a whole number",
        Kind::Fields(_) => "an object { }",
        Kind::List { .. } | Kind::Row(_) => "a list [ ]",
    }
}

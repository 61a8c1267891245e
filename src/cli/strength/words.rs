//! Figures and places in words.

use crate::base::{plain, thousands};
use crate::export::WeakestRecord;

/// A figure to three digits, the more the smaller it is; whole from 100 on.
pub(super) fn figure(value: f64) -> String {
    let decimals = match value.abs() {
        100.0.. => 0,
        10.0..100.0 => 1,
        0.1..10.0 => 2,
        _ => 4,
    };
    if decimals == 0 {
        thousands(&plain(value, 0))
    } else {
        plain(value, decimals)
    }
}

/// A figure without needless digits: `1.5`, `9`, `0.001`.
pub(super) fn short(value: f64) -> String {
    let text = plain(value, 4);
    match text.split_once('.') {
        _ if value.abs() >= 100.0 => figure(value),
        Some((whole, part)) => {
            let part = part.trim_end_matches('0');
            let dot = if part.is_empty() { "" } else { "." };
            format!("{whole}{dot}{part}")
        }
        None => text,
    }
}

/// With its unit, if it has one.
pub(super) fn with_unit(figure: &str, unit: &str) -> String {
    format!("{figure} {unit}").trim_end().to_owned()
}

/// `the root of the main gear of 1`.
pub(in crate::cli) fn place(weakest: &WeakestRecord) -> String {
    let against = if weakest.gear == "idler" {
        format!(", against {}", gear(&weakest.against))
    } else {
        String::new()
    };
    format!("the {} of {}{against}", weakest.place, gear(&weakest.gear))
}

/// A gear named by shaft and role, in a sentence.
fn gear(name: &str) -> String {
    match name.split_once(", ") {
        Some((shaft, "head")) => format!("the {shaft} gear of the head pair"),
        Some((shaft, role)) => format!("the {shaft} gear of {role}"),
        None if name == "idler" => "the idler".to_owned(),
        None => format!("the {name} gear"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_three_digits() {
        let told = [1234.5, 99.96, 12.34, 1.234, 0.01234].map(figure);
        assert_eq!(told, ["1\u{2009}235", "100.0", "12.3", "1.23", "0.0123"]);
        assert_eq!(
            [1.5, 9.0, 0.001, 240.4].map(short),
            ["1.5", "9", "0.001", "240"]
        );
    }

    #[test]
    fn places_read_as_a_sentence() {
        let at = |gear: &str| {
            place(&WeakestRecord {
                safety: 1.0,
                place: "root",
                gear: gear.to_owned(),
                against: "main, reverse".to_owned(),
            })
        };
        assert_eq!(at("main, 1"), "the root of the main gear of 1");
        assert_eq!(
            at("layshaft, head"),
            "the root of the layshaft gear of the head pair"
        );
        assert_eq!(at("input"), "the root of the input gear");
        assert_eq!(
            at("idler"),
            "the root of the idler, against the main gear of reverse"
        );
    }
}

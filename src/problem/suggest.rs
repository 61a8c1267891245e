//! "Did you mean": the nearest of the words that would have been right.

use super::keys::{Kind, Shape};
use super::table::PROBLEM;

/// How alike two words must be for one to be offered in place of the other.
const ALIKE: f64 = 0.8;
/// Longer words are nobody's slip of the pen.
const LONGEST: usize = 60;

/// What to do about a key unknown to an object of one of these shapes.
pub(super) fn key(spelling: &str, shapes: &[&Shape]) -> String {
    match nearest(spelling, spellings(shapes)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => elsewhere(spelling, shapes),
    }
}

/// What to do about a key that is like none of its object's.
pub(super) fn elsewhere(spelling: &str, shapes: &[&Shape]) -> String {
    if let Some(other) = instead(spelling, shapes) {
        let keys: Vec<String> = other.spellings().collect();
        return format!(
            "it goes with {} alone: keep one or the other",
            keys.join(", ")
        );
    }
    if let Some(home) = home(spelling, &PROBLEM, "") {
        return format!("it belongs in `{home}`");
    }
    let keys: Vec<String> = spellings(shapes).filter(|key| key != "$schema").collect();
    format!("the keys here are {}", keys.join(", "))
}

fn spellings(shapes: &[&Shape]) -> impl Iterator<Item = String> {
    shapes.iter().flat_map(|shape| shape.spellings())
}

/// What to do about a word that is not one of the choices.
pub(super) fn word<'a>(text: &str, words: impl Iterator<Item = &'a str>) -> String {
    let words: Vec<String> = words.map(str::to_owned).collect();
    match nearest(text, words.iter().cloned()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("write one of \"{}\"", words.join("\", \"")),
    }
}

/// The word most like `text`, when one is like it at all.
pub(super) fn nearest(text: &str, words: impl Iterator<Item = String>) -> Option<String> {
    if text.is_empty() || text.len() > LONGEST {
        return None;
    }
    let text = text.to_lowercase();
    words
        .map(|word| (strsim::jaro_winkler(&text, &word), word))
        .filter(|(likeness, _)| *likeness >= ALIKE)
        // The first of equals: lengths in mm stand before those in inches.
        .reduce(|best, next| if next.0 > best.0 { next } else { best })
        .map(|(_, word)| word)
}

/// The other shape of a value that may have several, where it is that shape
/// which has the key and one of `shapes` that was written.
fn instead(spelling: &str, shapes: &[&Shape]) -> Option<&'static Shape> {
    let several = PROBLEM.keys.iter().filter_map(|key| match key.kind {
        Kind::Either(_, all) => Some(all),
        _ => None,
    });
    let is_written = |one: &&Shape| shapes.iter().any(|shape| std::ptr::eq(*shape, *one));
    several
        .filter(|all| all.iter().any(is_written))
        .flatten()
        .copied()
        .find(|one| one.find(spelling).is_some())
}

/// The first object of the file that has a key of just that spelling.
fn home(spelling: &str, shape: &Shape, path: &str) -> Option<String> {
    for key in shape.keys {
        let inner = match &key.kind {
            Kind::Either(_, shapes) => *shapes,
            Kind::Fields(shape)
            | Kind::List {
                of: Kind::Fields(shape),
                ..
            } => std::slice::from_ref(shape),
            _ => continue,
        };
        let path = if path.is_empty() {
            key.usual()
        } else {
            format!("{path}.{}", key.usual())
        };
        if inner.iter().any(|shape| shape.find(spelling).is_some()) {
            return Some(path);
        }
        let deeper = inner.iter().find_map(|shape| home(spelling, shape, &path));
        if deeper.is_some() {
            return deeper;
        }
    }
    None
}

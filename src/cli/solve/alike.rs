//! What pairs are to each other, and a set to one listed before it.

use super::rows::Row;
use crate::cli::screen::paragraph;
use crate::export::{Answer, SetRecord, SpeedRecord};
use crate::train::exchanges;

/// What its pairs are to each other, and to those of a set listed earlier.
pub(super) fn alike(set: &SetRecord, width: usize) -> String {
    let mut text = String::new();
    let speed_hunts = |speed: &SpeedRecord| match speed {
        SpeedRecord::Geared { hunting_tooth, .. } => *hunting_tooth,
        SpeedRecord::Direct { .. } => false,
    };
    let head_hunts = set.head.as_ref().is_some_and(|head| head.hunting_tooth);
    if head_hunts || set.speeds.iter().any(speed_hunts) {
        text += &paragraph(
            "hunting: the counts share no factor, each tooth meets every other",
            2,
            width,
        );
    }
    if let (Some(of), Some(roles)) = (&set.exchange_of, &set.exchanged) {
        text += &paragraph(&exchange(roles, of), 2, width);
    }
    text
}

/// What a set that only exchanges pairs of one listed above it says of itself.
pub(super) fn exchange_lines(answer: &Answer<'_>, rows: &[Row<'_>]) -> Vec<Option<String>> {
    let sets: Vec<_> = rows.iter().map(|row| row.set).collect();
    let say = |(place, speed): (usize, usize)| {
        let [head, speed] = answer.exchanged_names(sets[place], speed);
        exchange(&[head, speed], &answer.register().shown(sets[place]))
    };
    let found = exchanges(&sets).into_iter();
    found.map(|found| found.map(say)).collect()
}

/// An exchange in words.
fn exchange([one, other]: &[String; 2], of: &str) -> String {
    format!("exchanges {one} and {other} of set {of}")
}

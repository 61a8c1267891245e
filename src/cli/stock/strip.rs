//! A bar as a strip of text, to scale as far as letters go.

use crate::base::plain;
use crate::cli::screen::columns;

/// A stretch of a bar.
#[derive(Clone, Debug)]
pub(super) struct Stretch {
    /// Where it begins and ends, mm from the faced end.
    pub(super) mm: [f64; 2],
    /// What is written in it, the shortest last; none in a cut.
    pub(super) words: Vec<String>,
}

/// One strip: its bars between ends, and the distances below in as many lines
/// as they need.
pub(super) fn strip(stretches: &[Stretch], length_mm: f64, width: usize) -> Vec<String> {
    let places = places(stretches, length_mm, width);
    let mut line = vec![' '; width];
    for (stretch, &[from, to]) in stretches.iter().zip(&places) {
        for end in [from, to] {
            put(&mut line, end, "|");
        }
        let room = to.saturating_sub(from + 1);
        if let Some(words) = stretch.words.iter().find(|words| columns(words) <= room) {
            put(&mut line, from + 1 + (room - columns(words)) / 2, words);
        }
    }
    let mut lines = vec![line.into_iter().collect::<String>().trim_end().to_owned()];
    lines.extend(distances(stretches, &places, width));
    lines
}

/// Columns of the ends of each stretch: to scale, but a stretch never less than
/// its shortest word, at the cost of those with room to spare.
fn places(stretches: &[Stretch], length_mm: f64, width: usize) -> Vec<[usize; 2]> {
    let least = |stretch: &Stretch| stretch.words.last().map_or(1, |words| columns(words) + 1);
    let needed: usize = stretches.iter().map(least).sum();
    let spare = width.saturating_sub(needed + 1);
    let mut places = Vec::new();
    let (mut at, mut given) = (0, 0);
    for stretch in stretches {
        // Spare columns go by length, each stretch up to its end to scale.
        let share = share(spare, stretch.mm[1] / length_mm);
        let more = if stretch.words.is_empty() {
            0
        } else {
            share.saturating_sub(given)
        };
        given += more;
        let to = at + least(stretch) + more;
        places.push([at, to]);
        at = to;
    }
    places
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "columns of a screen"
)]
fn share(spare: usize, part: f64) -> usize {
    (spare as f64 * part.clamp(0.0, 1.0)) as usize
}

/// The distances, each under its mark; those without room go a line down.
fn distances(stretches: &[Stretch], places: &[[usize; 2]], width: usize) -> Vec<String> {
    let mut marks: Vec<(usize, String)> = Vec::new();
    for (stretch, ends) in stretches.iter().zip(places) {
        for (mm, at) in stretch.mm.into_iter().zip(*ends) {
            let words = short(mm);
            if !marks.iter().any(|(_, known)| *known == words) {
                marks.push((at, words));
            }
        }
    }
    let mut lines: Vec<(usize, Vec<char>)> = Vec::new();
    for (at, words) in marks {
        let long = columns(&words);
        let from = at.min(width.saturating_sub(long));
        let free = lines.iter().position(|(end, _)| *end == 0 || *end < from);
        let place = free.unwrap_or(lines.len());
        if free.is_none() {
            lines.push((0, vec![' '; width]));
        }
        if let Some((end, line)) = lines.get_mut(place) {
            put(line, from, &words);
            *end = from + long;
        }
    }
    let text = |(_, line): (usize, Vec<char>)| line.into_iter().collect::<String>();
    lines
        .into_iter()
        .map(|line| text(line).trim_end().to_owned())
        .collect()
}

fn put(line: &mut [char], at: usize, words: &str) {
    for (place, letter) in line.iter_mut().skip(at).zip(words.chars()) {
        *place = letter;
    }
}

/// A length without needless digits, to thousandths: `12`, `12.5`.
pub(super) fn short(mm: f64) -> String {
    let text = plain(mm, 3);
    let text = text.trim_end_matches('0');
    text.trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stretch(from: f64, to: f64, words: &[&str]) -> Stretch {
        Stretch {
            mm: [from, to],
            words: words.iter().map(|&words| words.to_owned()).collect(),
        }
    }

    #[test]
    fn a_strip_is_to_scale_with_distances_below() {
        let bar = [
            stretch(0.0, 10.0, &["68"]),
            stretch(10.0, 12.0, &[]),
            stretch(12.0, 41.0, &["29 left", "29"]),
        ];
        assert_eq!(
            strip(&bar, 41.0, 42),
            [
                "|    68    ||          29 left           |",
                "0          10                           41",
                "            12",
            ]
            .map(str::to_owned)
        );
    }

    #[test]
    fn lengths_lose_needless_digits() {
        assert_eq!(short(100.0), "100");
        assert_eq!(short(12.5), "12.5");
        assert_eq!(short(0.1234), "0.123");
    }
}

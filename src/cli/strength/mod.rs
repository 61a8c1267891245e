//! How a set and its box hold, as verbs show it: the answer, the meshes, the
//! other parts, what was taken, what is not rated, cautions.

mod answer;
mod factors;
mod meshes;
mod parts;
mod words;

pub(super) use answer::{answer, least_asked};
pub(super) use words::place;

use super::screen::paragraph;
use crate::export::StrengthRecord;

/// How much is told, and on how wide a screen.
#[derive(Clone, Copy, Debug)]
pub(super) struct Options {
    /// Every part and every factor of every mesh.
    pub(super) every: bool,
    pub(super) width: usize,
}

/// The rating of a set and its box, below the answer.
pub(super) fn strength_page(record: &StrengthRecord, options: Options) -> String {
    let width = options.width;
    let mut out = String::new();
    if record.rated {
        out += &meshes::table(record, width);
        out += &parts::parts(record, options);
        out += &factors::taken(record, width);
        if options.every {
            out += &factors::every(record, width);
        }
        out += &parts::unrated(record, width);
    }
    out.push('\n');
    for caution in &record.cautions {
        out += &paragraph(caution, 2, width);
    }
    out
}

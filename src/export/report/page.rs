//! The page: skeleton, styles, scripts and the packed record in one file.

use super::pack::Packed;
use base64::engine::general_purpose::STANDARD;
use base64::write::EncoderWriter;
use std::io::{self, Write};

const SKELETON: &str = include_str!("page/page.html");
/// In the order in which they stand in the page: a later one overrules.
const STYLES: &[&str] = &[
    include_str!("page/style-1-sheet.css"),
    include_str!("page/style-2-parts.css"),
    include_str!("page/style-3-narrow.css"),
    include_str!("page/style-4-paper.css"),
];
/// In the order in which they stand in the page.
const SCRIPTS: &[&str] = &[
    include_str!("page/01-record.js"),
    include_str!("page/02-words.js"),
    include_str!("page/03-build.js"),
    include_str!("page/04-state.js"),
    include_str!("page/05-title.js"),
    include_str!("page/06-answer.js"),
    include_str!("page/07-painter.js"),
    include_str!("page/08-stage.js"),
    include_str!("page/09-turning.js"),
    include_str!("page/10-chart.js"),
    include_str!("page/11-choose.js"),
    include_str!("page/12-list.js"),
    include_str!("page/13-compare.js"),
    include_str!("page/14-speeds.js"),
    include_str!("page/15-sweep.js"),
    include_str!("page/16-bore.js"),
    include_str!("page/17-buy.js"),
    include_str!("page/18-dividing.js"),
    include_str!("page/19-cut.js"),
    include_str!("page/20-assemble.js"),
    include_str!("page/21-idler.js"),
    include_str!("page/22-strength.js"),
    include_str!("page/23-trial.js"),
    include_str!("page/24-trust.js"),
    include_str!("page/99-start.js"),
];

/// By this a page is known for one of ours.
pub const WRITTEN_BY: &str = "<meta name=\"generator\" content=\"layshaft report\">";

/// Writes the page with its record.
///
/// # Errors
/// Whatever the writer says.
pub fn write_report(title: &str, record: &Packed, to: &mut dyn Write) -> io::Result<()> {
    let mut rest = SKELETON;
    for (mark, part) in [
        ("<!--WRITTEN-BY-->", Part::Plain(WRITTEN_BY)),
        ("<!--TITLE-->", Part::Text(title)),
        ("/*STYLE*/", Part::Several(STYLES)),
        ("<!--RECORD-->", Part::Record(record)),
        ("/*SCRIPT*/", Part::Several(SCRIPTS)),
    ] {
        let (before, after) = rest
            .split_once(mark)
            .ok_or_else(|| io::Error::other(format!("the page has no place for {mark}")))?;
        to.write_all(before.as_bytes())?;
        part.write(to)?;
        rest = after;
    }
    to.write_all(rest.as_bytes())
}

/// What stands in a place of the skeleton.
enum Part<'a> {
    Text(&'a str),
    Plain(&'a str),
    Record(&'a Packed),
    Several(&'a [&'a str]),
}

impl Part<'_> {
    fn write(&self, to: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Text(text) => to.write_all(escaped(text).as_bytes()),
            Self::Plain(text) => to.write_all(text.as_bytes()),
            Self::Record(record) => letters(record, to),
            Self::Several(parts) => parts
                .iter()
                .try_for_each(|part| to.write_all(part.as_bytes())),
        }
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

/// In the 64 letters that a page can hold.
fn letters(record: &Packed, to: &mut dyn Write) -> io::Result<()> {
    let mut letters = EncoderWriter::new(to, &STANDARD);
    record.write(&mut letters)?;
    letters.finish()?;
    Ok(())
}

//! The page: skeleton, styles, scripts and the packed record in one file.

use base64::engine::general_purpose::STANDARD;
use base64::write::EncoderWriter;
use flate2::Compression;
use flate2::write::DeflateEncoder;
use serde_json::Value;
use std::io::{self, Write};

const SKELETON: &str = include_str!("page/page.html");
const STYLE: &str = include_str!("page/style.css");
const SCRIPTS: &[&str] = &[];

/// By this a page is known for one of ours.
pub const WRITTEN_BY: &str = "<meta name=\"generator\" content=\"layshaft report\">";

/// Writes the page with its record.
///
/// # Errors
/// Whatever the writer says.
pub fn write_report(title: &str, record: &Value, to: &mut dyn Write) -> io::Result<()> {
    let mut rest = SKELETON;
    for (mark, part) in [
        ("<!--WRITTEN-BY-->", Part::Plain(WRITTEN_BY)),
        ("<!--TITLE-->", Part::Text(title)),
        ("/*STYLE*/", Part::Plain(STYLE)),
        ("<!--RECORD-->", Part::Record(record)),
        ("/*SCRIPT*/", Part::Scripts),
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
    Record(&'a Value),
    Scripts,
}

impl Part<'_> {
    fn write(&self, to: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Text(text) => to.write_all(escaped(text).as_bytes()),
            Self::Plain(text) => to.write_all(text.as_bytes()),
            Self::Record(record) => pack(record, to),
            Self::Scripts => SCRIPTS
                .iter()
                .try_for_each(|script| to.write_all(script.as_bytes())),
        }
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

/// JSON, deflated, in the 64 letters that a page can hold.
fn pack(record: &Value, to: &mut dyn Write) -> io::Result<()> {
    let letters = EncoderWriter::new(to, &STANDARD);
    let mut packed = DeflateEncoder::new(letters, Compression::new(LEVEL));
    serde_json::to_writer(&mut packed, record)?;
    packed.finish()?.finish()?;
    Ok(())
}

/// How hard to pack: more takes longer and gains little.
const LEVEL: u32 = 5;

//! The page: skeleton, styles, scripts and the packed record in one file.

use base64::engine::general_purpose::STANDARD;
use base64::write::EncoderWriter;
use flate2::{Compress, Compression, FlushCompress, Status};
use rayon::prelude::*;
use serde_json::Value;
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
pub fn write_report(title: &str, record: &Value, to: &mut dyn Write) -> io::Result<()> {
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
    Record(&'a Value),
    Several(&'a [&'a str]),
}

impl Part<'_> {
    fn write(&self, to: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Text(text) => to.write_all(escaped(text).as_bytes()),
            Self::Plain(text) => to.write_all(text.as_bytes()),
            Self::Record(record) => pack(record, to),
            Self::Several(parts) => parts
                .iter()
                .try_for_each(|part| to.write_all(part.as_bytes())),
        }
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

/// JSON, deflated, in the 64 letters that a page can hold.
fn pack(record: &Value, to: &mut dyn Write) -> io::Result<()> {
    let json = serde_json::to_vec(record)?;
    let parts: Vec<&[u8]> = json.chunks(PART).collect();
    let last = parts.len().saturating_sub(1);
    let packed = parts
        .par_iter()
        .enumerate()
        .map(|(place, part)| deflated(part, place == last))
        .collect::<io::Result<Vec<Vec<u8>>>>()?;
    let mut letters = EncoderWriter::new(to, &STANDARD);
    for part in packed {
        letters.write_all(&part)?;
    }
    letters.finish()?;
    Ok(())
}

/// Part of a stream that ends on a whole byte, so that parts packed side by side
/// are one stream (RFC 1951: any block may follow a stored one of no length).
fn deflated(part: &[u8], is_last: bool) -> io::Result<Vec<u8>> {
    let flush = if is_last {
        FlushCompress::Finish
    } else {
        FlushCompress::Sync
    };
    let mut packer = Compress::new(Compression::new(LEVEL), false);
    let mut out = Vec::with_capacity(part.len() / 4 + 1024);
    let mut read = 0;
    loop {
        out.reserve(64 * 1024);
        let status = packer
            .compress_vec(&part[read..], &mut out, flush)
            .map_err(io::Error::other)?;
        read = usize::try_from(packer.total_in()).map_err(io::Error::other)?;
        // With room left over there is nothing more to come.
        let flushed = !is_last && read == part.len() && out.len() < out.capacity();
        if flushed || matches!(status, Status::StreamEnd) {
            return Ok(out);
        }
    }
}

/// How hard to pack: more takes longer and gains little.
const LEVEL: u32 = 5;
/// Bytes packed at a time: packing looks back a thirtieth of it.
const PART: usize = 1 << 20;

#[cfg(test)]
mod tests {
    use super::*;
    use base64::Engine;
    use flate2::read::DeflateDecoder;
    use serde_json::json;
    use std::io::Read;

    #[test]
    fn parts_are_one_stream() {
        // Longer than three parts, and hard to pack in places.
        let number = |i: u64| i.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        let noise: Vec<u64> = (0..160_000).map(number).collect();
        for record in [json!(noise), json!([]), json!("x".repeat(PART - 2))] {
            let mut page = Vec::new();
            pack(&record, &mut page).unwrap();
            let bytes = STANDARD.decode(page).unwrap();
            let mut json = String::new();
            DeflateDecoder::new(&bytes[..])
                .read_to_string(&mut json)
                .unwrap();
            assert!(serde_json::from_str::<Value>(&json).unwrap() == record);
        }
    }
}

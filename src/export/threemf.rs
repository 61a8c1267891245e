//! Bodies as 3MF: named, in millimetres, zipped. The same bodies give the same
//! bytes.

use crate::base::trimmed;
use crate::sheet::Solid;
use std::fmt::Write as _;
use std::io::{self, Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// Says what the parts of the file are.
const TYPES: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
    <Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\
    <Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
    <Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\
    </Types>\n";
/// Says which part is the model.
const RELATIONS: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
    <Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
    <Relationship Target=\"/3D/3dmodel.model\" Id=\"model\" \
    Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\
    </Relationships>\n";

/// Writes every body as an object of its own.
///
/// # Errors
/// Whatever the writer says.
pub fn write_3mf(title: &str, solids: &[Solid], to: &mut dyn Write) -> io::Result<()> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let how = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    let model = model(title, solids);
    for (name, text) in [
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", RELATIONS),
        ("3D/3dmodel.model", &model),
    ] {
        zip.start_file(name, how)?;
        zip.write_all(text.as_bytes())?;
    }
    to.write_all(&zip.finish()?.into_inner())
}

fn model(title: &str, solids: &[Solid]) -> String {
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    // Writing to a String cannot fail, here and below.
    let _ = writeln!(
        out,
        "<model unit=\"millimeter\" \
         xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n\
         <metadata name=\"Title\">{}</metadata>\n<resources>",
        super::svg::plain_text(title)
    );
    for (id, solid) in (1..).zip(solids) {
        object(&mut out, id, solid);
    }
    out += "</resources>\n<build>\n";
    for id in 1..=solids.len() {
        let _ = writeln!(out, "<item objectid=\"{id}\"/>");
    }
    out += "</build>\n</model>\n";
    out
}

fn object(out: &mut String, id: usize, solid: &Solid) {
    let name = super::svg::plain_text(&solid.name);
    let _ = writeln!(
        out,
        "<object id=\"{id}\" type=\"model\" name=\"{name}\"><mesh><vertices>"
    );
    for corner in &solid.corners_mm {
        let [x, y, z] = corner.map(|figure| trimmed(figure, 5));
        let _ = writeln!(out, "<vertex x=\"{x}\" y=\"{y}\" z=\"{z}\"/>");
    }
    *out += "</vertices><triangles>\n";
    for [a, b, c] in &solid.triangles {
        let _ = writeln!(out, "<triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>");
    }
    *out += "</triangles></mesh></object>\n";
}

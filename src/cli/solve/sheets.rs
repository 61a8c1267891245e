//! What to cut and to measure on the gears of a set, as tables.

use crate::base::plain;
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::export::GearSheet;
use crate::inspect::Size;

/// Depths, spans, pins and chords of every gear.
pub(super) fn block(sheets: &[GearSheet], width: usize) -> String {
    if sheets.is_empty() {
        return String::new();
    }
    let mut out = String::from("\n");
    let text = "To cut and to measure, mm. Full: without thinning. The other figures are for the \
                least to the most backlash aimed at: cut as deep as from and to, and read no \
                less than least and no more than most.";
    out += &paragraph(text, 2, width);
    out += &depths(sheets);
    let spans = |s: &GearSheet| {
        let span = s.inspection.span?;
        Some((span.teeth.to_string(), span.size))
    };
    out += &sized(sheets, "over teeth", "number", &spans);
    let pins = |s: &GearSheet| {
        let pins = s.inspection.over_pins?;
        let balls = if pins.balls { " balls" } else { "" };
        Some((plain(pins.pin_mm, 2) + balls, pins.size))
    };
    out += &sized(sheets, "over two pins", "pin Ø", &pins);
    let chords = |s: &GearSheet| {
        let chord = s.inspection.chord?;
        Some((plain(chord.height_mm, 3), chord.thickness))
    };
    out + &sized(sheets, "chord of a tooth", "height", &chords)
}

fn cells(sheets: &[GearSheet], cell: impl Fn(&GearSheet) -> String) -> Vec<String> {
    sheets.iter().map(cell).collect()
}

fn lines(columns: Vec<Column>) -> String {
    let table = Table::new(2, columns);
    let mut out = String::from("\n");
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    out
}

fn depths(sheets: &[GearSheet]) -> String {
    let mm = |of: fn(&GearSheet) -> f64| cells(sheets, |sheet| plain(of(sheet), 3));
    let mut columns = vec![
        Column::left("depth of cut", cells(sheets, |sheet| sheet.gear.clone())),
        Column::right("full", mm(|s| s.cutting.depth.full_mm)),
        Column::right("from", mm(|s| s.cutting.depth.least_mm)),
        Column::right("to", mm(|s| s.cutting.depth.most_mm)),
    ];
    if sheets.iter().any(|sheet| sheet.cutting.helix.is_some()) {
        let lead = |s: &GearSheet| {
            s.cutting
                .helix
                .map_or(String::new(), |h| plain(h.lead_mm, 2))
        };
        let seen = |s: &GearSheet| s.cutting.virtual_teeth.to_string();
        columns.push(Column::right("lead", cells(sheets, lead)));
        columns.push(Column::right("virtual teeth", cells(sheets, seen)));
    }
    lines(columns)
}

/// A table of one way of measuring; `of` gives what is set and what is read.
fn sized(
    sheets: &[GearSheet],
    title: &str,
    set: &str,
    of: &dyn Fn(&GearSheet) -> Option<(String, Size)>,
) -> String {
    let read = |pick: fn(Size) -> f64| {
        cells(sheets, |sheet| {
            of(sheet).map_or(String::new(), |(_, size)| plain(pick(size), 3))
        })
    };
    let chosen = cells(sheets, |sheet| {
        of(sheet).map_or_else(|| "none".to_owned(), |(set, _)| set)
    });
    lines(vec![
        Column::left(title, cells(sheets, |sheet| sheet.gear.clone())),
        Column::right(set, chosen),
        Column::right("full", read(|size| size.full_mm)),
        Column::right("least", read(|size| size.smallest_mm)),
        Column::right("most", read(|size| size.largest_mm)),
    ])
}

//! Pages for the screen.

use super::View;
use super::steps::{BOX, Reading, readings, set_up, steps, title};
use crate::cli::screen::{columns, paragraph, strong, warning};
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{few, series};
use crate::export::Page;
use std::fmt::Write;

/// Columns before what a step says.
const LABEL: usize = 13;

/// All pages.
pub(super) fn page(view: &View<'_>) -> String {
    let width = view.shown.width;
    let mut out = view.shown.top(&headline(view));
    out += &remarks(view, width);
    for (place, page) in view.work.pages.iter().enumerate() {
        out += &one(view.first + place, page, width);
    }
    if !view.alone {
        out += &set_ups(view, width);
    }
    let _ = write!(out, "\n{}", paragraph(&foot(view), 2, width));
    let _ = write!(out, "\n{}", paragraph(&view.work.cautions, 2, width));
    out + &view.next()
}

/// The answer in a sentence or two.
pub(super) fn headline(view: &View<'_>) -> String {
    let work = view.work;
    if let (true, Some(page)) = (view.alone, work.pages.first()) {
        return format!(
            "Page {} of set {} ({}): {}.",
            view.first,
            work.set,
            view.shown.how,
            page.gears.join("; ")
        );
    }
    let gears: usize = work.pages.iter().map(|page| page.gears.len()).sum();
    let plates: Vec<String> = work.plates.iter().map(|p| p.teeth.to_string()).collect();
    let plates: Vec<&str> = plates.iter().map(String::as_str).collect();
    let plates = if plates.is_empty() {
        "every count divides with the plates at hand".to_owned()
    } else {
        format!(
            "{} teeth need a printed plate or more work",
            series(&plates)
        )
    };
    format!(
        "Set {} ({}): {} on {}, {}; {plates}.",
        work.set,
        view.shown.how,
        few(gears, "gear", "gears"),
        few(work.pages.len(), "page", "pages"),
        few(work.set_ups.len(), "cutter", "cutters"),
    )
}

/// What the sizes are, and what was taken.
pub(super) fn foot(view: &View<'_>) -> String {
    let mut text = "Depths count from the outside of the blank; read no less than the least and \
                    no more than the most. Form-cutter numbers run both ways from maker to maker: \
                    trust the engraved range."
        .to_owned();
    if !view.work.workshop_given {
        text += " Taken for granted: nothing is at hand but a 40:1 dividing head with the usual \
                 plates; 1 mm is left to turn and to face.";
    }
    text
}

/// What to know before the first cut stands before it.
fn remarks(view: &View<'_>, width: usize) -> String {
    let mut out = String::new();
    for line in remarked(view) {
        out += &warning(&paragraph(&line, 2, width));
    }
    if out.is_empty() {
        out
    } else {
        format!("\n{out}")
    }
}

/// Remarks, those that say the same of several gears on one line.
pub(super) fn remarked(view: &View<'_>) -> Vec<String> {
    let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
    for remark in &view.work.remarks {
        match said.iter_mut().find(|(text, _)| *text == remark.text) {
            Some((_, places)) => places.push(&remark.place),
            None => said.push((&remark.text, vec![&remark.place])),
        }
    }
    let lines = said.into_iter();
    lines
        .map(|(text, places)| format!("{text} ({})", places.join("; ")))
        .collect()
}

fn one(number: usize, page: &Page, width: usize) -> String {
    let mut out = "\n".to_owned();
    for line in paragraph(&format!("{number}. {}", title(page)), 0, width).lines() {
        out += &strong(line);
        out.push('\n');
    }
    for step in steps(page) {
        out += &labelled(step.name, &step.lines, width);
    }
    out += &measured(&readings(page));
    out
}

/// A label, and lines beside it, each set as a paragraph.
fn labelled(label: &str, lines: &[String], width: usize) -> String {
    let mut out = String::new();
    for (place, text) in lines.iter().enumerate() {
        let mut set = paragraph(text, LABEL, width);
        if place == 0 {
            let pad = " ".repeat(LABEL.saturating_sub(3 + columns(label)));
            set = format!("   {label}{pad}{}", set.trim_start());
        }
        out += &set;
    }
    out
}

fn measured(readings: &[Reading]) -> String {
    let cells = |of: fn(&Reading) -> &str| readings.iter().map(|r| of(r).to_owned()).collect();
    let boxes = readings.iter().map(|_| BOX.to_owned()).collect();
    let table = Table::new(
        3,
        vec![
            Column::left("Measure", cells(|r| &r.what)),
            Column::right("least mm", cells(|r| &r.least)),
            Column::right("most mm", cells(|r| &r.most)),
            Column::left("read mm", boxes),
        ],
    );
    let mut out = String::new();
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    out
}

fn set_ups(view: &View<'_>, width: usize) -> String {
    let mut out = "\n".to_owned();
    let _ = writeln!(out, "{}", strong("Set-ups, every cutter once"));
    for (place, record) in view.work.set_ups.iter().enumerate() {
        let lines = set_up(record);
        out += &labelled(&(place + 1).to_string(), &lines, width);
    }
    out
}

//! Pages for a printer.

use super::View;
use super::steps::{BOX, readings, set_up, steps, title};
use super::text::{foot, headline, remarked};
use crate::export::Page;
use std::fmt::Write;

/// All pages; a rule stands before each.
pub(super) fn page(view: &View<'_>) -> String {
    let mut out = format!("# Gear sheets\n\n{}\n", plain_text(&headline(view)));
    let remarks = remarked(view);
    if !remarks.is_empty() {
        out.push('\n');
    }
    for line in remarks {
        let _ = writeln!(out, "- {}", plain_text(&line));
    }
    for (place, page) in view.work.pages.iter().enumerate() {
        out += &one(view.first + place, page);
    }
    if !view.alone {
        out += &set_ups(view);
    }
    let cautions = &view.work.cautions;
    let _ = write!(out, "\n---\n\n{}\n\n{cautions}\n", foot(view));
    let next = view.next();
    let commands = next.lines().filter(|line| !line.is_empty());
    for command in commands {
        let _ = write!(out, "\n    {}\n", command.trim());
    }
    out
}

/// Names are the person's own: no sign in them is to set type.
pub(in crate::cli) fn plain_text(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        if matches!(
            sign,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '&'
        ) {
            out.push('\\');
        }
        out.push(sign);
    }
    out
}

fn one(number: usize, page: &Page) -> String {
    let mut out = format!("\n---\n\n## {number}. {}\n\n", plain_text(&title(page)));
    for step in steps(page) {
        let _ = writeln!(out, "- **{}**", step.name);
        for line in &step.lines {
            let _ = writeln!(out, "  - {}", plain_text(line));
        }
    }
    out += "\n| Measure | least mm | most mm | read mm |\n|---|---:|---:|---|\n";
    for reading in readings(page) {
        let _ = writeln!(
            out,
            "| {} | {} | {} | `{BOX}` |",
            plain_text(&reading.what),
            reading.least,
            reading.most
        );
    }
    out
}

fn set_ups(view: &View<'_>) -> String {
    let mut out = "\n---\n\n## Set-ups, every cutter once\n\n".to_owned();
    for (place, record) in view.work.set_ups.iter().enumerate() {
        let [cutter, cuts] = set_up(record);
        let _ = writeln!(out, "{}. {cutter}\n   - {cuts}", place + 1);
    }
    out
}

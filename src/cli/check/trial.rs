//! The page for the bench, as Markdown.

use crate::cli::sheets::markdown::plain_text;
use crate::export::{
    CheckAnswer, TURNING_CAUTIONS, TrialBlock, TrialCell, TrialHead, TrialPart, TrialTable,
    cautions, trial_parts,
};
use std::fmt::Write;

/// A box to write in.
const BOX: &str = "`[      ]`";

/// The whole page.
pub(super) fn page(answer: &CheckAnswer<'_>) -> String {
    let title = match answer.examined.problem.title() {
        "" => format!("set {}", answer.mark),
        title => plain_text(title),
    };
    let mut out = format!("# Trial and fault-finding: {title}\n");
    for part in trial_parts(answer.examined, &answer.trial, &answer.sheets) {
        out += &one(&part);
    }
    let _ = write!(out, "\n## Before it turns\n\n");
    for caution in TURNING_CAUTIONS {
        let _ = writeln!(out, "- {caution}");
    }
    let _ = write!(out, "\n{}\n", cautions(answer.examined.problem));
    out
}

fn one(part: &TrialPart) -> String {
    let mut out = String::new();
    if !part.heading.is_empty() {
        let _ = write!(out, "\n## {}\n", plain_text(&part.heading));
    }
    for block in &part.blocks {
        out.push('\n');
        out += &spelled(block);
    }
    out
}

fn spelled(block: &TrialBlock) -> String {
    match block {
        TrialBlock::Words(text) => format!("{}\n", plain_text(text)),
        TrialBlock::Warning(text) => format!("**{}**\n", plain_text(text)),
        TrialBlock::Points(points) => list(points, |_| "- ".to_owned()),
        TrialBlock::Steps(steps) => list(steps, |place| format!("{}. ", place + 1)),
        TrialBlock::Readings(readings) => list(readings, |_| format!("- {BOX} ")),
        TrialBlock::Table(table) => rows(table),
    }
}

fn list(items: &[String], sign: impl Fn(usize) -> String) -> String {
    let item = |(place, text): (usize, &String)| format!("{}{}\n", sign(place), plain_text(text));
    items.iter().enumerate().map(item).collect()
}

fn rows(table: &TrialTable) -> String {
    let heads: Vec<String> = table.heads.iter().map(TrialHead::text).collect();
    let rules: Vec<&str> = table
        .heads
        .iter()
        .map(|head| if head.figures { "---:" } else { "---" })
        .collect();
    let mut out = format!("| {} |\n|{}|\n", heads.join(" | "), rules.join("|"));
    for row in &table.rows {
        let cells: Vec<String> = row.iter().map(cell).collect();
        let _ = writeln!(out, "| {} |", cells.join(" | "));
    }
    out
}

fn cell(cell: &TrialCell) -> String {
    cell.text()
        .map_or_else(|| BOX.to_owned(), |text| plain_text(&text))
}

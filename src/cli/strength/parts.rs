//! The other parts, weakest first, and what is not rated.

use super::Options;
use super::words::{figure, with_unit};
use crate::base::plain;
use crate::cli::screen::{columns, paragraph, warning};
use crate::cli::words::few;
use crate::export::{PartRecord, StrengthRecord};
use std::fmt::Write;

/// Parts told where not all are asked for; more where more bear too much.
const USUAL: usize = 10;
/// Columns of a part's name before what it bears.
const LONGEST_NAME: usize = 30;

/// A line a part: of each part the worst matter, unless every one is wanted.
pub(super) fn parts(record: &StrengthRecord, options: Options) -> String {
    if let Some(missing) = record.parts_missing {
        let text = format!("Not rated: {missing}.");
        return format!("\n{}", paragraph(&text, 2, options.width));
    }
    let all: Vec<&PartRecord> = if options.every {
        record.parts.iter().collect()
    } else {
        worst_of_each(&record.parts)
    };
    let over = all.iter().filter(|part| part.share_percent > 100.0).count();
    let most = if options.every {
        all.len()
    } else {
        USUAL.max(over)
    };
    let shown = &all[..most.min(all.len())];
    let names = shown.iter().map(|part| columns(&part.part));
    let name = names.max().unwrap_or(0).min(LONGEST_NAME);
    let mut out = "\n  Other parts, weakest first: share of what each may bear\n".to_owned();
    for part in shown {
        out += &line(part, name, options.width);
    }
    if let Some(next) = all.get(shown.len()) {
        let text = format!(
            "{} {} % or less.",
            few(
                all.len() - shown.len(),
                "part more bears",
                "parts more bear"
            ),
            plain(next.share_percent.ceil(), 0)
        );
        out += &paragraph(&text, 2, options.width);
    }
    out
}

fn worst_of_each(parts: &[PartRecord]) -> Vec<&PartRecord> {
    let mut worst: Vec<&PartRecord> = Vec::new();
    for part in parts {
        if !worst.iter().any(|known| known.part == part.part) {
            worst.push(part);
        }
    }
    worst
}

fn line(part: &PartRecord, name: usize, width: usize) -> String {
    let share = format!("{:>5} %", plain(part.share_percent, 0));
    let share = if part.share_percent > 100.0 {
        warning(&share)
    } else {
        share
    };
    let before = 2 + 7 + 2 + name + 2;
    let told = paragraph(&bears(part), before, width);
    let pad = " ".repeat(name.saturating_sub(columns(&part.part)));
    let head = format!("  {share}  {}{pad}", part.part);
    if columns(&part.part) > name {
        return format!("{head}\n{told}");
    }
    let mut out = String::new();
    for (i, text) in told.lines().enumerate() {
        let _ = if i == 0 {
            writeln!(out, "{head}  {}", text.trim_start())
        } else {
            writeln!(out, "{text}")
        };
    }
    out
}

/// What it bears of what it may, and when.
fn bears(part: &PartRecord) -> String {
    if let Some(hours) = part.hours
        && let Some(l10) = hours.l10_hours
    {
        return format!(
            "life {} h, {} asked for ({} in 100 reach that)",
            figure(l10),
            figure(hours.asked_hours),
            plain(hours.last_percent.floor(), 0)
        );
    }
    let limit = with_unit(&figure(part.limit), part.unit);
    let when = match part.when.as_str() {
        "always" => String::new(),
        when => format!(", {when}"),
    };
    format!("{} {} of {limit}{when}", part.what, figure(part.value))
}

/// What is not rated, and what to do about it.
pub(super) fn unrated(record: &StrengthRecord, width: usize) -> String {
    let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
    for one in &record.unrated {
        match said.iter_mut().find(|(why, _)| *why == one.why) {
            Some((_, parts)) => parts.push(&one.part),
            None => said.push((one.why, vec![&one.part])),
        }
    }
    if said.is_empty() {
        return String::new();
    }
    let mut out = "\n  Not rated\n".to_owned();
    for (why, parts) in said {
        out += &paragraph(&format!("{}: {why}", parts.join("; ")), 4, width);
    }
    out
}

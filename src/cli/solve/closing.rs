//! What stands below the figures: cautions, and where to go from here.

use super::page::View;
use super::rows::Row;
use super::{Args, USUAL_TOP};
use crate::cli::changes;
use crate::cli::next::next_lines;
use crate::cli::shell::quoted;
use crate::export::{self, Answer, SetRecord};
use crate::problem::Problem;
use crate::train::Set;
use num_bigint::BigUint;
use std::fmt::Write;

/// What a person must have read before cutting.
pub(super) fn cautions(problem: &Problem, set: &SetRecord) -> String {
    let mut text = String::new();
    let says = |word| set.remark_words.contains(&word);
    if says("binds") || says("undercut") || says("fouls") {
        text += "A set marked binds, undercut or fouls is not for cutting as it stands. ";
    }
    if says("doubtful") {
        text += "A set marked doubtful fits the distance measured, but not all that it may be: \
                 measure finer before cutting, or take a set without the mark. ";
    }
    text + &export::cautions(problem)
}

/// Commands that make sense from here.
pub(super) fn next(
    answer: &Answer<'_>,
    view: &View<'_>,
    front: &[Row<'_>],
    shown: Option<&Set>,
    width: usize,
) -> String {
    let command = command(view.args, answer);
    let mark = |set: &Set| answer.register().shown(set);
    let mut lines = Vec::new();
    if let Some(set) = shown.filter(|_| !answer.picked) {
        lines.push((format!("{command} --pick {}", mark(set)), "keep this set"));
    }
    if let Some(set) = shown.filter(|_| !view.args.inspect) {
        let inspect = format!("{command} --set {} --inspect", mark(set));
        lines.push((inspect, "sizes to cut and measure"));
    }
    if let Some(set) = shown.filter(|_| answer.problem.duty().is_some()) {
        let file = quoted(&view.args.problem.to_string_lossy());
        let flags = changes::flags(&answer.changes);
        let layout = format!(
            "layshaft layout {file}{flags} --set {} --strength",
            mark(set)
        );
        lines.push((layout, "whether all of it holds"));
    }
    if let Some(row) = front.iter().find(|row| Some(row.set) != shown) {
        lines.push((format!("{command} --set {}", mark(row.set)), "see another"));
    }
    if !view.args.every && answer.outcome.counts.sets > BigUint::from(1_u32) {
        lines.push((format!("{command} --every"), "sets one by one"));
    }
    next_lines(&lines, width)
}

/// Commands that make sense where nothing fits.
pub(super) fn ways_on(answer: &Answer<'_>, args: &Args, width: usize) -> String {
    let file = quoted(&args.problem.to_string_lossy());
    let file = file + &changes::flags(&answer.changes);
    let mut lines = vec![
        (format!("layshaft explain {file}"), "finds the ways out"),
        (
            format!("layshaft solve {file} --with KEY=VALUE"),
            "try a change",
        ),
    ];

    if !answer.problem.is_fixed("centre_distance_mm") {
        lines.push((format!("layshaft sweep {file}"), "other centre distances"));
    }
    next_lines(&lines, width)
}

/// The command that finds the same listing again: marks are looked up in it.
fn command(args: &Args, answer: &Answer<'_>) -> String {
    let file = args.problem.to_string_lossy();
    let mut command = format!("layshaft solve {}", quoted(&file));
    command += &changes::flags(&answer.changes);
    if let Some(ranking) = args.sort {
        let _ = write!(command, " --sort {}", ranking.word());
    }
    if !args.measures.is_empty() {
        let words: Vec<_> = args.measures.iter().map(|m| m.word()).collect();
        let _ = write!(command, " --measures {}", words.join(","));
    }
    if args.top != USUAL_TOP {
        let _ = write!(command, " --top {}", args.top);
    }
    if let Some(gears) = args.differ_by {
        let _ = write!(command, " --differ-by {gears}");
    }
    command
}

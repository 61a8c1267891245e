//! The whole screen of `solve`.

use super::list::List;
use super::rows::{self, Row};
use super::words::{counted, few, measure, module, series, value};
use super::{Args, detail};
use crate::base::plain;
use crate::cli::screen::{Column, Screen, Table, columns, paragraph, strong, warning};
use crate::cli::shell::quoted;
use crate::export::{Answer, SetRecord};
use crate::problem::{Arrangement, Measure, Ranking};
use crate::search::Bounds;
use crate::train::{Set, volume_mm3};
use num_bigint::BigUint;
use std::fmt::Write;

/// What the person asked to see, and how the search ended.
#[derive(Debug)]
pub(super) struct View<'a> {
    pub(super) args: &'a Args,
    pub(super) interrupted: bool,
}

/// The text of an answer.
pub(super) fn page(answer: &Answer<'_>, screen: &Screen, view: &View<'_>) -> String {
    let width = screen.width;
    if !answer.has_sets() {
        return strong_paragraph(&nothing_fits(answer), width);
    }
    let mut out = strong_paragraph(&sentence(answer, view), width);
    out += &paragraph(&overrides(view.args), 0, width);
    if let Some(bounds) = answer.bounds() {
        out += &paragraph(&proved(answer, bounds), 0, width);
    }
    out += &paragraph(&picked(answer, view), 0, width);
    let front = rows::unbeaten(answer);
    out += &best(answer, &front);
    out += &if view.args.every {
        plain_list(answer, width)
    } else {
        grouped(answer, &front, width)
    };
    let first = answer.outcome.sets.first().or_else(|| front.first().map(|row| row.set));
    let shown = answer.chosen.or_else(|| first.filter(|_| answer.top > 0 && !view.args.every));
    if let Some(set) = shown {
        let record = answer.record(set);
        let _ = write!(out, "\n{}", detail::detail(answer, &record, width));
        let _ = write!(out, "\n{}", paragraph(&cautions(&record), 2, width));
    }
    out + &next(answer, view, &front, shown)
}

/// Bold from the first word to the last.
fn strong_paragraph(text: &str, width: usize) -> String {
    let lines = paragraph(text, 0, width);
    lines.lines().map(|line| strong(line) + "\n").collect()
}

fn nothing_fits(answer: &Answer<'_>) -> String {
    let distances = answer.problem.centre_distances();
    let apart = match distances.len() {
        1 => format!("on shafts {} mm apart", plain(distances.at(0).mm(), 3)),
        n => format!("at any of the {n} centre distances"),
    };
    match answer.outcome.pairs {
        0 => format!("No set fits. No pair of gears runs properly {apart}."),
        n => format!(
            "No set fits. {} properly {apart}, but no choice of them meets every ratio and limit \
             asked for.",
            few(n, "pair of gears runs", "pairs of gears run")
        ),
    }
}

fn sentence(answer: &Answer<'_>, view: &View<'_>) -> String {
    let counts = &answer.outcome.counts;
    let mut text = counted(&counts.sets, "set fits", "sets fit");
    if counts.sets != BigUint::from(1_u32) && answer.problem.reverse().is_some() {
        let _ = write!(
            text,
            ": {} (same head pair and speeds), with different reverses",
            counted(&counts.trains, "forward train", "forward trains")
        );
    }
    let distances = answer.problem.centre_distances().len();
    if distances > 1 {
        let _ = write!(text, ", over {distances} centre distances");
    }
    text += match (answer.bounds(), view.interrupted) {
        (None, _) => ". All were searched.",
        (Some(_), true) => ". You stopped the search; the list is the best found so far.",
        (Some(_), false) => {
            ". The time limit stopped the search; the list is the best found so far."
        }
    };
    text
}

fn picked(answer: &Answer<'_>, view: &View<'_>) -> String {
    match answer.chosen {
        Some(set) if answer.picked => format!(
            "Set {} is picked: stored in {}.",
            answer.register().shown(set),
            view.args.problem.display()
        ),
        _ => String::new(),
    }
}

/// What the command line changed of the file.
fn overrides(args: &Args) -> String {
    let mut parts = Vec::new();
    if let Some(ranking) = args.sort {
        parts.push(format!("ranked by {}", ranked_by(ranking)));
    }
    if !args.measures.is_empty() {
        let names: Vec<_> = args.measures.iter().map(|m| measure(*m)).collect();
        parts.push(format!("measured by {}", series(&names)));
    }
    if parts.is_empty() {
        String::new()
    } else {
        format!("On this command line: {}.", parts.join(", "))
    }
}

const fn ranked_by(ranking: Ranking) -> &'static str {
    match ranking {
        Ranking::Balanced => "all measures in balance",
        Ranking::By(by) => measure(by),
    }
}

fn proved(answer: &Answer<'_>, bounds: Bounds) -> String {
    let bound = |m: &Measure| match m {
        Measure::WorstError => format!("{} % worst error", plain(100.0 * bounds.worst_error, 2)),
        Measure::BlankVolume => {
            let volume = volume_mm3(bounds.blank_um2, answer.problem.gears().face_width());
            format!("{} cm³ of metal", super::words::metal(volume))
        }
        Measure::DistinctCutters => {
            few(bounds.distinct_cutters as usize, "cutter", "cutters")
        }
    };
    let bounds: Vec<_> = answer.problem.measures().iter().map(bound).collect();
    let bounds: Vec<_> = bounds.iter().map(String::as_str).collect();
    format!("Proved: the count is exact, and no set has less than {}.", series(&bounds))
}

/// The least of each measure on its own, with the mark of a set that reaches
/// it and the remarks on that set.
fn best(answer: &Answer<'_>, front: &[Row<'_>]) -> String {
    if front.is_empty() {
        return String::new();
    }
    let records: Vec<SetRecord> =
        answer.outcome.front.iter().map(|set| answer.record(set)).collect();
    let measures = answer.problem.measures();
    // Of sets that are level the one with the fewest remarks.
    let least = |m: Measure| {
        let words = |set: &SetRecord| set.remark_words.len();
        let level = |a: &&SetRecord, b: &&SetRecord| {
            real(a, m).total_cmp(&real(b, m)).then(words(a).cmp(&words(b)))
        };
        records.iter().min_by(level).map(|set| (m, set))
    };
    let least: Vec<_> = measures.iter().filter_map(|m| least(*m)).collect();
    let cells = |cell: fn(&(Measure, &SetRecord)) -> String| least.iter().map(cell).collect();
    let columns = vec![
        Column::left("", cells(|(m, _)| measure(*m).to_owned())),
        Column::left("", cells(|(m, set)| value(set, *m))),
        Column::left("", cells(|(_, set)| format!("  set {}", set.mark))),
        Column::left("", cells(|(_, set)| warning(&set.remark_words.join(", ")))),
    ];
    let heading = match answer.bounds() {
        None => "Best possible, one at a time",
        Some(_) => "Best found so far, one at a time",
    };
    let mut out = format!("\n  {heading}\n");
    push_lines(&mut out, &Table::new(4, columns).rows());
    out
}

fn real(set: &SetRecord, measure: Measure) -> f64 {
    match measure {
        Measure::WorstError => set.worst_error_percent,
        Measure::BlankVolume => set.blank_volume_mm3,
        Measure::DistinctCutters => f64::from(set.distinct_cutters),
    }
}

fn plain_list(answer: &Answer<'_>, width: usize) -> String {
    let rows = rows::every(answer);
    if rows.is_empty() {
        return String::new();
    }
    let list = List::new(answer, &rows, width);
    let mut out = format!("\n  Ranked by {}\n\n", ranked_by(answer.problem.ranking()));
    push_lines(&mut out, &list.head);
    list.rows.iter().for_each(|row| push_lines(&mut out, row));
    let listed = BigUint::from(rows.len());
    if answer.outcome.counts.sets > listed {
        let more = &answer.outcome.counts.sets - listed;
        let _ = writeln!(out, "  {} not listed (--top N)", counted(&more, "set", "sets"));
    }
    out + "\n" + &paragraph(&notes(answer, &list, false), 2, width)
}

fn grouped(answer: &Answer<'_>, front: &[Row<'_>], width: usize) -> String {
    let shown = front.len().min(answer.top);
    if shown == 0 {
        return String::new();
    }
    let others = rows::worth_a_look(answer);
    let others = if shown < front.len() { Vec::new() } else { others };
    let rows: Vec<_> = front[..shown].iter().chain(&others).copied().collect();
    let list = List::new(answer, &rows, width);
    let mut out = format!("\n{}\n", paragraph(&heading(answer), 2, width));
    push_lines(&mut out, &list.head);
    list.rows[..shown].iter().for_each(|row| push_lines(&mut out, row));
    if shown < front.len() {
        let more = few(front.len() - shown, "unbeaten train", "unbeaten trains");
        let _ = writeln!(out, "  {more} more (--top {})", front.len());
    }
    if !others.is_empty() {
        out += "\n  Others worth a look (another forward train)\n";
        list.rows[shown..].iter().for_each(|row| push_lines(&mut out, row));
    }
    let also = rows.iter().any(|row| row.others > 0);
    out + "\n" + &paragraph(&notes(answer, &list, also), 2, width)
}

fn push_lines(out: &mut String, lines: &[String]) {
    for line in lines {
        out.push_str(line);
        out.push('\n');
    }
}

fn heading(answer: &Answer<'_>) -> String {
    let names: Vec<_> = answer
        .problem
        .measures()
        .iter()
        .map(|m| if *m == Measure::WorstError { "error" } else { measure(*m) })
        .collect();
    match names.as_slice() {
        [one] => format!("Unbeaten (no other set is better in {one})"),
        many => format!("Unbeaten (nothing else is as good in {} together)", series(many)),
    }
}

/// What the list needs to be read.
fn notes(answer: &Answer<'_>, list: &List, also: bool) -> String {
    let problem = answer.problem;
    let mut text = "Driver→driven".to_owned();
    match list.only_module {
        Some(mm) => {
            let _ = write!(text, ". All gears module {} mm.", module(mm));
        }
        None => text += " ×module, mm.",
    }
    text += match problem.arrangement() {
        Arrangement::InLine => {
            " The head pair (input shaft to layshaft) works in every speed but a direct one; each \
             speed's own pair goes from the layshaft to the main shaft."
        }
        Arrangement::Offset => " Each pair goes from the input shaft to the output shaft.",
    };
    if let Some(direct) = problem.speeds().iter().find(|speed| speed.geared().is_none()) {
        let _ = write!(
            text,
            " Speed {} is direct: input locked to main shaft, no gears of its own.",
            direct.name()
        );
    }
    if also {
        text += " Also: how many other unbeaten sets have the same forward train and another \
                 reverse.";
    }
    text
}

/// What a person must have read before cutting.
fn cautions(set: &SetRecord) -> String {
    let mut text = String::new();
    if !set.remark_words.is_empty() {
        text += "A set marked binds, undercut or loose is not for cutting as it stands. ";
    }
    text += "Nothing here is rated for strength. Guard every turning gear. In neutral the box \
             holds nothing: a vehicle needs a brake that does not go through it. Not for lifting, \
             road vehicles or anything that can hurt someone without a licensed engineer's check; \
             local codes come first.";
    text
}

/// Commands that make sense from here.
fn next(answer: &Answer<'_>, view: &View<'_>, front: &[Row<'_>], shown: Option<&Set>) -> String {
    let command = format!("layshaft solve {}", quoted(&view.args.problem.to_string_lossy()));
    let mark = |set: &Set| answer.register().shown(set);
    let mut lines = Vec::new();
    if let Some(set) = shown.filter(|_| !answer.picked) {
        lines.push((format!("{command} --pick {}", mark(set)), "keep this set"));
    }
    if let Some(row) = front.iter().find(|row| Some(row.set) != shown) {
        lines.push((format!("{command} --set {}", mark(row.set)), "see another"));
    }
    if !view.args.every && answer.outcome.counts.sets > BigUint::from(1_u32) {
        lines.push((format!("{command} --every"), "sets one by one"));
    }
    let mut out = String::new();
    let longest = lines.iter().map(|(command, _)| columns(command)).max().unwrap_or(0);
    for (i, (command, what)) in lines.iter().enumerate() {
        let label = if i == 0 { "\n  Next   " } else { "         " };
        let pad = " ".repeat(longest - columns(command));
        let _ = writeln!(out, "{label}  {command}{pad}   {what}");
    }
    out
}

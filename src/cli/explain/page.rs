//! The whole screen of `explain`.

use super::gained::gained;
use super::weak;
use super::words::{change, demand, limit};
use crate::base::plain;
use crate::cli::changes;
use crate::cli::screen::{paragraph, strong};
use crate::cli::shell::quoted;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{counted, few, series, sets};
use crate::export::{ExplainRecord, WayRecord};
use crate::mesh::Pairs;
use crate::problem::{Change, Head, Problem, Reverse, Speed};
use crate::search::{Axis, Clash, Clashes, Explanation, Step, Way};
use num_bigint::BigUint;
use std::fmt::Write;
use std::path::Path;

/// What there is to show.
pub(super) struct View<'a> {
    pub(super) problem: &'a Problem,
    pub(super) explanation: &'a Explanation,
    pub(super) record: &'a ExplainRecord<'a>,
    pub(super) file: &'a Path,
    pub(super) width: usize,
}

/// Clashes told in text; JSON has all.
const TOLD: usize = 3;

/// The text of an explanation.
pub(super) fn page(view: &View<'_>) -> String {
    let sentence = match view.explanation {
        Explanation::NoSet { clashes, .. } => no_set(view.problem, clashes),
        Explanation::TooWeak { .. } => {
            let strength = view.record.strength.as_ref();
            strength.map_or(String::new(), weak::sentence)
        }
        Explanation::PinInTheWay { sets, .. } => pin_in_the_way(sets),
        Explanation::Sets { now, .. } => {
            let sets = counted(&now.sets, "set fits", "sets fit");
            format!("{sets}, so nothing is in the way. What one step of each limit would buy:")
        }
        Explanation::Stopped { fits: true } => {
            "Sets fit; it was stopped before more was known.".to_owned()
        }
        Explanation::Stopped { fits: false } => "Stopped before anything was known.".to_owned(),
    };
    let mut out: String = paragraph(&sentence, 0, view.width)
        .lines()
        .map(|line| strong(line) + "\n")
        .collect();
    for line in changes::said(&view.record.with) {
        out += &paragraph(&line, 0, view.width);
    }
    match view.explanation {
        Explanation::NoSet {
            clashes,
            ways,
            pairs,
        } => {
            out += &limits(view, clashes);
            out += &ways_out(view, &steps_of(ways, pairs));
        }
        Explanation::TooWeak { ways, pairs, .. } => {
            out += &weak::strongest(view);
            out += &ways_out(view, &steps_of(ways, pairs));
        }
        Explanation::PinInTheWay { ways, .. } => {
            out += &ways_out(view, &steps_of(ways, &[]));
        }
        Explanation::Sets { gains, .. } => {
            let steps: Vec<&Step> = gains.iter().map(|gain| &gain.step).collect();
            out += &gained(view, &steps);
        }
        Explanation::Stopped { .. } => {}
    }
    out
}

/// That the idler's pin passes too near other gears in every set.
fn pin_in_the_way(sets: &BigUint) -> String {
    let (one, many) = ("set gives", "sets give");
    format!(
        "No set fits: {} the ratios and {} a place for the idler, but its pin passes other gears \
         too near.",
        counted(sets, one, many),
        if *sets == BigUint::from(1_u32) {
            "has"
        } else {
            "have"
        }
    )
}

fn steps_of<'w>(ways: &'w [Way], pairs: &'w [Way]) -> Vec<&'w [Step]> {
    let all = ways.iter().chain(pairs);
    all.map(|way| way.steps.as_slice()).collect()
}

/// What shuts every set out, in a sentence.
fn no_set(problem: &Problem, clashes: &Clashes) -> String {
    let named = |group: &Vec<usize>| {
        let names: Vec<String> = group.iter().map(|&i| demand(problem, i)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        series(&names)
    };
    let distances = problem.centre_distances();
    let closes = distances.iter().any(|a| Pairs::at(problem, a).count() > 0);
    if !closes && problem.geared().count() > 0 {
        let mut within = String::new();
        if problem.judges() {
            within += " within what is asked of the teeth";
        }
        if problem.workshop_limits() {
            within += " with gears that the workshop can make";
        }
        return format!(
            "No set fits: no pair of gears closes the centre distance{within}, whatever the \
             ratios."
        );
    }
    match clashes.roles.as_slice() {
        [] => "No set fits.".to_owned(),
        [none] if none.is_empty() => "No set fits: there is no head pair.".to_owned(),
        [one] if one.len() == 1 => format!(
            "No set fits: {} is out of reach on its own, whatever the rest.",
            named(one)
        ),
        [one] => format!(
            "No set fits: {} shut each other out. No head pair serves them together; it serves {}.",
            named(one),
            if one.len() == 2 {
                "either without the other"
            } else {
                "the rest without any one of them"
            }
        ),
        many => {
            let told: Vec<String> = many.iter().take(TOLD).map(named).collect();
            let more = match many.len() - told.len() {
                0 => String::new(),
                n => {
                    let at_least = if clashes.roles_complete {
                        ""
                    } else {
                        "at least "
                    };
                    format!("; and {at_least}{} more", few(n, "group", "groups"))
                }
            };
            format!(
                "No set fits, for more than one reason. Each of these is enough: {}{more}.",
                told.join("; or ")
            )
        }
    }
}

/// Which limits of the gears have a part in it.
fn limits(view: &View<'_>, clashes: &Clashes) -> String {
    let mut text = String::new();
    for clash in clashes.limits.iter().take(TOLD) {
        text.push('\n');
        let only = clashes.limits.len() == 1 && clashes.complete;
        text += &paragraph(&one_clash(view.problem, clash, only), 2, view.width);
    }
    let more = clashes.limits.len().saturating_sub(TOLD);
    if more > 0 {
        let line = format!(
            "{} like these (--format json has all).",
            few(more, "more group", "more groups")
        );
        text += &paragraph(&line, 2, view.width);
    }
    if !clashes.complete {
        let line = "Not every combination of limits was tried; there may be more such groups.";
        text += &paragraph(line, 2, view.width);
    }
    text
}

fn one_clash(problem: &Problem, clash: &Clash, only: bool) -> String {
    let demands = clash.roles.iter().map(|&i| demand(problem, i));
    let limits = clash.gears.iter().map(|&l| limit(problem, l));
    let all: Vec<String> = demands.chain(limits).collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    match all.as_slice() {
        [one] => format!("{one} alone shuts every set out."),
        all => format!(
            "It takes {} together: {}. {}",
            number(all.len()),
            series(all),
            if only {
                "Drop any one of them and sets appear."
            } else {
                "None can be spared: with any one less, the others admit sets."
            }
        ),
    }
}

fn number(count: usize) -> String {
    let words = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
    ];
    words.get(count).map_or_else(
        || format!("{count} limits"),
        |word| format!("{word} limits"),
    )
}

/// The ways out, the commands that try them, and what was left alone.
fn ways_out(view: &View<'_>, steps: &[&[Step]]) -> String {
    let record = view.record;
    let mut out = String::new();
    let all: Vec<&WayRecord> = record.ways.iter().chain(&record.pairs).collect();
    if all.is_empty() {
        out += "\n";
        let text = if record.status == "stopped" {
            "It was stopped before a way out was found."
        } else if record.strength.is_some() {
            "No single change within its bounds lets a set hold, nor a stronger material \
             together with wider gears."
        } else {
            "No single change within its bounds lets a set in, nor one of the gears together \
             with one tolerance."
        };
        out += &paragraph(text, 2, view.width);
    } else {
        out.push('\n');
        let table = table(view.problem, steps, &all);
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
        out.push('\n');
        out += &paragraph(&closing(view, steps), 2, view.width);
    }
    out += &kept(view);
    out += &weak::cautions(view);
    out + &commands(view, &all)
}

fn closing(view: &View<'_>, steps: &[&[Step]]) -> String {
    let mut text = "Each is the least change of its kind and was solved in full".to_owned();
    if view.record.status == "stopped" {
        text += ", as far as it got";
    }
    text += ". Best error: the least worst error of the forward speeds.";
    let has = |axis: Axis| {
        steps
            .iter()
            .copied()
            .flatten()
            .any(|step| step.axis == axis)
    };
    if has(Axis::Helix) {
        text += " Helix: the least angle at which the teeth of some pair close exactly.";
    }
    if has(Axis::AnyDividing) {
        text +=
            " Any count to divide: some need a printed plate, compound or differential dividing.";
    }
    if !view.record.pairs.is_empty() {
        text += " Several changes are shown where one does not do, or takes more.";
    }
    text
}

fn table(problem: &Problem, steps: &[&[Step]], ways: &[&WayRecord]) -> Table {
    let mut columns: [Vec<String>; 6] = Default::default();
    for ((steps, way), i) in steps.iter().zip(ways).zip(0..) {
        for (nth, step) in steps.iter().enumerate() {
            let (to, now, cost) = change(problem, step);
            let first = nth == 0;
            let only = |text: String| if first { text } else { String::new() };
            let joined = if first { to } else { format!("and {to}") };
            let cells = [
                only(letter(i)),
                joined,
                now,
                only(sets(&way.feasible_sets)),
                only(format!("{} %", plain(way.best.worst_error_percent, 2))),
                cost,
            ];
            for (column, cell) in columns.iter_mut().zip(cells) {
                column.push(cell);
            }
        }
    }
    let [label, way, now, sets, error, cost] = columns;
    Table::new(
        2,
        vec![
            Column::left("", label),
            Column::left("way out", way),
            Column::right("now", now),
            Column::right("sets", sets),
            Column::right("best\nerror", error),
            Column::left("what it costs you", cost),
        ],
    )
}

/// A, B … Z, then AA.
fn letter(place: usize) -> String {
    let letter = |i: usize| char::from(b'A' + u8::try_from(i % 26).unwrap_or(0)).to_string();
    match place / 26 {
        0 => letter(place),
        more => letter(more - 1) + &letter(place),
    }
}

/// What was left alone.
pub(super) fn kept(view: &View<'_>) -> String {
    let mut text = String::new();
    if !view.record.kept.is_empty() {
        let keys: Vec<&str> = view.record.kept.iter().map(String::as_str).collect();
        text = format!("Left alone, as marked made already: {}. ", series(&keys));
    }
    let problem = view.problem;
    let mut cut: Vec<&str> = Vec::new();
    cut.extend(problem.head().and_then(Head::cut).map(|_| "head"));
    let is_cut = |speed: &&Speed| speed.geared().is_some_and(|g| g.cut().is_some());
    cut.extend(problem.speeds().iter().filter(is_cut).map(Speed::name));
    cut.extend(problem.reverse().and_then(Reverse::cut).map(|_| "reverse"));
    if !cut.is_empty() {
        let _ = write!(
            text,
            "Teeth cut already stay as they are: {}.",
            series(&cut)
        );
    }
    paragraph(&text, 2, view.width)
}

/// Commands to paste.
fn commands(view: &View<'_>, ways: &[&WayRecord]) -> String {
    let name = quoted(&view.file.to_string_lossy());
    // A key that the way sets needs not be set before.
    let made = |way: &WayRecord| {
        let sets = |change: &&Change| {
            let edits = way.steps.iter().flat_map(|step| &step.set);
            edits.into_iter().any(|(key, _)| *key == change.key)
        };
        let kept = view.record.with.iter().filter(|change| !sets(change));
        changes::flags(&kept.cloned().collect::<Vec<_>>())
    };
    let mut out = String::new();
    for (way, i) in ways.iter().zip(0..) {
        let label = if i == 0 { "\n  Try   " } else { "        " };
        let flags = made(way) + &flags(&way.with);
        let _ = writeln!(out, "{label}{:>2}  layshaft solve {name}{flags}", letter(i));
    }
    if ways.is_empty() {
        let made = changes::flags(&view.record.with);
        let _ = writeln!(out, "\n  Next     layshaft solve {name}{made}");
    } else {
        out += "  Keep      the same with --save\n";
    }
    out
}

/// Words of `--with` as flags.
pub(super) fn flags(words: &[String]) -> String {
    let mut out = String::new();
    for word in words {
        let _ = write!(out, " --with {}", quoted(word));
    }
    out
}

//! The sets listed, with what is needed to read the list.

use super::list::List;
use super::rows::{self, Row};
use super::words::{counted, few, measure, module, ranked_by, series};
use crate::base::{Module, ModuleOrigin};
use crate::cli::screen::paragraph;
use crate::cli::table::push_lines;
use crate::export::Answer;
use crate::problem::{Arrangement, Measure, Problem};
use num_bigint::BigUint;
use std::fmt::Write;

pub(super) fn plain_list(answer: &Answer<'_>, width: usize) -> String {
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
        let _ = writeln!(
            out,
            "  {} not listed (--top N)",
            counted(&more, "set", "sets")
        );
    }
    out + "\n" + &paragraph(&notes(answer, &list, false), 2, width)
}

pub(super) fn grouped(answer: &Answer<'_>, front: &[Row<'_>], width: usize) -> String {
    let shown = front.len().min(answer.top);
    if shown == 0 {
        return String::new();
    }
    let others = rows::worth_a_look(answer);
    let others = if shown < front.len() {
        Vec::new()
    } else {
        others
    };
    let rows: Vec<_> = front[..shown].iter().chain(&others).copied().collect();
    let list = List::new(answer, &rows, width);
    let mut out = format!("\n{}\n", paragraph(&heading(answer), 2, width));
    push_lines(&mut out, &list.head);
    list.rows[..shown]
        .iter()
        .for_each(|row| push_lines(&mut out, row));
    if shown < front.len() {
        let more = few(front.len() - shown, "unbeaten train", "unbeaten trains");
        let _ = writeln!(out, "  {more} more (--top {})", front.len());
    }
    if !others.is_empty() {
        out += "\n  Others worth a look (another forward train)\n";
        list.rows[shown..]
            .iter()
            .for_each(|row| push_lines(&mut out, row));
    }
    let also = rows.iter().any(|row| row.others > 0);
    out + "\n" + &paragraph(&notes(answer, &list, also), 2, width)
}

fn heading(answer: &Answer<'_>) -> String {
    let names: Vec<_> = answer
        .problem
        .measures()
        .iter()
        .map(|m| {
            if *m == Measure::WorstError {
                "error"
            } else {
                measure(*m)
            }
        })
        .collect();
    let (word, what) = match answer.bounds() {
        None => ("Unbeaten", "nothing else"),
        Some(_) => ("Unbeaten so far", "nothing else found"),
    };
    match names.as_slice() {
        [one] => format!("{word} ({what} is better in {one})"),
        many => format!("{word} ({what} is as good in {} together)", series(many)),
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
    text += &pitches(problem);
    text += match problem.arrangement() {
        Arrangement::InLine => {
            " The head pair (input shaft to layshaft) works in every speed but a direct one; each \
             speed's own pair goes from the layshaft to the main shaft."
        }
        Arrangement::Offset => " Each pair goes from the input shaft to the output shaft.",
    };
    if let Some(direct) = problem
        .speeds()
        .iter()
        .find(|speed| speed.geared().is_none())
    {
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

/// Modules that were written as diametral pitches, by that name.
fn pitches(problem: &Problem) -> String {
    let named = |m: &Module| match m.origin() {
        ModuleOrigin::Metric => None,
        ModuleOrigin::DiametralPitch(pitch) => Some(format!("{} mm is {pitch} DP", module(m.mm()))),
    };
    let named: Vec<_> = problem.gears().modules().iter().filter_map(named).collect();
    let named: Vec<_> = named.iter().map(String::as_str).collect();
    if named.is_empty() {
        String::new()
    } else {
        format!(" Module {}.", series(&named))
    }
}

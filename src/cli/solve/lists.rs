//! The sets listed, with what is needed to read the list.

use super::apart;
use super::list::List;
use super::rows::{self, Ranked, Row};
use crate::base::Module;
use crate::cli::screen::paragraph;
use crate::cli::table::push_lines;
use crate::cli::words::{counted, few, measure, module, ranked_by, series};
use crate::export::Answer;
use crate::problem::{Arrangement, Measure, Problem};
use num_bigint::BigUint;
use std::fmt::Write;

pub(super) fn plain_list(answer: &Answer<'_>, width: usize) -> String {
    let Ranked { rows, moved } = rows::every(answer);
    if rows.is_empty() {
        return String::new();
    }
    let list = List::new(answer, &rows, width);
    let mut out = format!("\n{}\n", paragraph(&ranked_as(answer), 2, width));
    push_lines(&mut out, &list.head);
    list.rows.iter().for_each(|row| push_lines(&mut out, row));
    out += &not_listed(answer, rows.len(), width);
    out + "\n"
        + &paragraph(
            &(notes(answer, &list, false) + hunting_note(moved)),
            2,
            width,
        )
}

/// What orders a ranked list, and what it leaves out.
fn ranked_as(answer: &Answer<'_>) -> String {
    let ranked = format!("Ranked by {}", ranked_by(answer.problem.ranking()));
    match answer.walk() {
        None => ranked,
        Some(walk) => ranked + &apart::rule(walk),
    }
}

/// What lies behind the end of a ranked list.
fn not_listed(answer: &Answer<'_>, listed: usize, width: usize) -> String {
    let sets = &answer.outcome.counts.sets;
    match answer.walk() {
        Some(walk) => paragraph(&apart::told(walk, sets), 2, width),
        None if *sets > BigUint::from(listed) => {
            let more = counted(&(sets - listed), "set", "sets");
            format!("  {more} not listed (--top N)\n")
        }
        None => String::new(),
    }
}

pub(super) fn grouped(answer: &Answer<'_>, front: &[Row<'_>], width: usize) -> String {
    let shown = front.len().min(answer.top);
    if shown == 0 {
        return String::new();
    }
    let Ranked {
        rows: others,
        moved,
    } = match answer.walk() {
        Some(_) => rows::every(answer),
        None if shown < front.len() => Ranked::default(),
        None => rows::worth_a_look(answer),
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
        out += "\n";
        out += &match answer.walk() {
            Some(_) => paragraph(&ranked_as(answer), 2, width),
            None => "  Others worth a look (another forward train)\n".to_owned(),
        };
        list.rows[shown..]
            .iter()
            .for_each(|row| push_lines(&mut out, row));
    }
    if answer.walk().is_some() {
        out += &not_listed(answer, others.len(), width);
    }
    let also = rows.iter().any(|row| row.others > 0);
    out + "\n"
        + &paragraph(
            &(notes(answer, &list, also) + hunting_note(moved)),
            2,
            width,
        )
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

/// Why ranks do not always rise down the list.
const fn hunting_note(moved: bool) -> &'static str {
    if moved {
        " Of sets level in every measure those with more hunting pairs (counts that share no \
         factor) stand first."
    } else {
        ""
    }
}

/// Modules that were written as diametral pitches, by that name.
fn pitches(problem: &Problem) -> String {
    let named = |m: &Module| {
        let pitch = m.pitch()?;
        Some(format!("{} mm is {pitch} DP", module(m.mm())))
    };
    let named: Vec<_> = problem.gears().modules().iter().filter_map(named).collect();
    let named: Vec<_> = named.iter().map(String::as_str).collect();
    if named.is_empty() {
        String::new()
    } else {
        format!(" Module {}.", series(&named))
    }
}

//! The list of sets: one line each where the screen is wide enough, else the
//! figures on one line and the teeth below.

use super::alike::exchange_lines;
use super::rows::Row;
use crate::base::plain;
use crate::cli::screen::{columns, warning};
use crate::cli::table::{Column, Table};
use crate::cli::words::{metal, module, value};
use crate::export::{Answer, SetRecord, SpeedRecord};
use crate::problem::{Measure, Problem, Ranking};

/// A list set for a width.
#[derive(Debug)]
pub(super) struct List {
    pub(super) head: Vec<String>,
    /// The lines of each set.
    pub(super) rows: Vec<Vec<String>>,
    /// The module of every gear, when there is but one.
    pub(super) only_module: Option<f64>,
}

impl List {
    pub(super) fn new(answer: &Answer<'_>, rows: &[Row<'_>], width: usize) -> Self {
        let records: Vec<_> = rows.iter().map(|row| answer.record(row.set)).collect();
        let only_module = only_module(&records);
        let figures = figures(answer, rows, &records);
        let teeth = teeth(answer, &records, only_module.is_none());
        let remarks = remarks(&records);
        let below = below(&figures);
        let (head, mut lines) = one_line(&figures, &teeth, remarks.as_ref(), width)
            .unwrap_or_else(|| many_lines(figures, teeth, remarks, width));
        for (line, exchange) in lines.iter_mut().zip(exchange_lines(answer, rows)) {
            line.extend(exchange.map(|text| " ".repeat(below) + &text));
        }
        Self {
            head,
            rows: lines,
            only_module,
        }
    }
}

/// The module of all gears of all sets, if it is one.
pub(super) fn only_module(records: &[SetRecord]) -> Option<f64> {
    let mut modules: Vec<f64> = records
        .iter()
        .flat_map(|set| &set.gears)
        .map(|gear| gear.module_mm)
        .collect();
    modules.sort_by(f64::total_cmp);
    modules.dedup();
    (modules.len() == 1).then(|| modules[0])
}

fn figures(answer: &Answer<'_>, rows: &[Row<'_>], records: &[SetRecord]) -> Vec<Column> {
    let cells = |cell: &dyn Fn(&SetRecord) -> String| records.iter().map(cell).collect::<Vec<_>>();
    let mut columns = Vec::new();
    if records.iter().any(|set| set.rank.is_some()) {
        let rank = |set: &SetRecord| set.rank.map_or(String::new(), |rank| rank.to_string());
        columns.push(Column::right("rank", cells(&rank)));
    }
    columns.push(Column::left("set", cells(&|set| set.mark.clone())));
    let error = |set: &SetRecord| format!("{} %", plain(set.worst_error_percent, 2));
    columns.push(Column::right("worst\nerror", cells(&error)));
    columns.push(Column::right(
        "metal\ncm³",
        cells(&|set| metal(set.blank_volume_mm3)),
    ));
    columns.push(Column::right(
        "cut-\nters",
        cells(&|set| set.distinct_cutters.to_string()),
    ));
    if records.iter().any(|set| set.least_safety.is_some()) {
        let safety = |set: &SetRecord| set.least_safety.map_or(String::new(), |s| plain(s, 2));
        columns.push(Column::right("least\nsafety", cells(&safety)));
    }
    columns.extend(purchases(answer.problem, records));
    if answer.problem.centre_distances().len() > 1 {
        let centres = |set: &SetRecord| plain(set.centre_distance_mm, 3);
        columns.push(Column::right("centres\nmm", cells(&centres)));
    }
    if rows.iter().any(|row| row.others > 0) {
        let also = |n| {
            if n == 0 {
                String::new()
            } else {
                format!("+{n}")
            }
        };
        columns.push(Column::right(
            "also",
            rows.iter().map(|row| also(row.others)).collect(),
        ));
    }
    columns
}

/// A column for each measure of the workshop that counts.
fn purchases(problem: &Problem, records: &[SetRecord]) -> Vec<Column> {
    let heading = |measure| match measure {
        Measure::Bars => Some("bar\nsizes".to_owned()),
        Measure::Blanks => Some("blank\nkinds".to_owned()),
        Measure::Setups => Some("set-\nups".to_owned()),
        Measure::Cost => Some(format!("cost\n{}", problem.workshop().currency())),
        _ => None,
    };
    let counts = |measure: &Measure| {
        let leads = problem.ranking() == Ranking::By(*measure);
        leads || problem.measures().contains(measure)
    };
    let counted = Measure::ALL.into_iter().filter(counts);
    counted
        .filter_map(|measure| Some((measure, heading(measure)?)))
        .map(|(measure, heading)| {
            let cells = records.iter().map(|set| value(set, measure));
            Column::right(&heading, cells.collect())
        })
        .collect()
}

fn remarks(records: &[SetRecord]) -> Option<Column> {
    let some = records.iter().any(|set| !set.remark_words.is_empty());
    let cells = records.iter().map(|set| warning(&short(&set.remark_words)));
    some.then(|| Column::left("remarks", cells.collect()))
}

/// Longest name over a column.
const LONGEST_NAME: usize = 16;

fn teeth(answer: &Answer<'_>, records: &[SetRecord], with_module: bool) -> Vec<Column> {
    let of = |mm: f64| {
        if with_module {
            format!(" ×{}", module(mm))
        } else {
            String::new()
        }
    };
    let mut columns = Vec::new();
    if answer.problem.head().is_some() {
        let cell = |set: &SetRecord| {
            let head = set.head.as_ref();
            head.map(|h| format!("{}→{}{}", h.driver_teeth, h.driven_teeth, of(h.module_mm)))
        };
        columns.push(Column::left(
            "head",
            records.iter().filter_map(cell).collect(),
        ));
    }
    for (i, speed) in answer.problem.speeds().iter().enumerate() {
        if speed.geared().is_some() {
            let cells = records.iter().map(|set| speed_teeth(&set.speeds[i], &of));
            columns.push(Column::left(&shortened(speed.name()), cells.collect()));
        }
    }
    if answer.problem.reverse().is_some() {
        let cell = |set: &SetRecord| {
            let reverse = set.reverse.as_ref()?;
            let (l, i, m) = (
                reverse.driver_teeth,
                reverse.idler_teeth,
                reverse.driven_teeth,
            );
            Some(format!("{l}→{i}→{m}{}", of(reverse.module_mm)))
        };
        columns.push(Column::left(
            "reverse",
            records.iter().filter_map(cell).collect(),
        ));
    }
    columns
}

fn speed_teeth(speed: &SpeedRecord, of: &dyn Fn(f64) -> String) -> String {
    match speed {
        SpeedRecord::Direct { .. } => "direct".to_owned(),
        SpeedRecord::Geared {
            module_mm,
            driver_teeth,
            driven_teeth,
            ..
        } => {
            format!("{driver_teeth}→{driven_teeth}{}", of(*module_mm))
        }
    }
}

fn shortened(name: &str) -> String {
    if columns(name) <= LONGEST_NAME {
        name.to_owned()
    } else {
        name.chars()
            .take(LONGEST_NAME - 2)
            .chain("..".chars())
            .collect()
    }
}

const INDENT: usize = 2;

/// Where lines under the first of a set begin.
fn below(figures: &[Column]) -> usize {
    INDENT + figures.first().map_or(0, Column::width) + 2
}

type Lines = (Vec<String>, Vec<Vec<String>>);

/// Everything side by side, if it fits.
fn one_line(
    figures: &[Column],
    teeth: &[Column],
    remarks: Option<&Column>,
    width: usize,
) -> Option<Lines> {
    let all = figures
        .iter()
        .chain(teeth)
        .chain(remarks)
        .cloned()
        .collect();
    let table = Table::new(INDENT, all);
    let rows = || table.rows().into_iter().map(|line| vec![line]).collect();
    (table.width() <= width).then(|| (table.head(), rows()))
}

/// Figures and remarks on a line, the teeth on as many as they need below.
fn many_lines(
    mut figures: Vec<Column>,
    teeth: Vec<Column>,
    remarks: Option<Column>,
    width: usize,
) -> Lines {
    let below = below(&figures);
    figures.extend(remarks);
    let mut tables = vec![Table::new(INDENT, figures)];
    tables.extend(Table::new(below, teeth).split(width));
    let rows = tables[0].rows().len();
    let columns: Vec<_> = tables.iter().map(Table::rows).collect();
    let row = |i: usize| {
        columns
            .iter()
            .filter_map(|lines| lines.get(i).cloned())
            .collect()
    };
    (
        tables.iter().flat_map(Table::head).collect(),
        (0..rows).map(row).collect(),
    )
}

/// The gravest words of a row: all of them stand with the set itself.
pub(super) fn short(words: &[&str]) -> String {
    const MOST: usize = 3;
    let mut text = words[..words.len().min(MOST)].join(", ");
    if words.len() > MOST {
        text += " …";
    }
    text
}

//! What one step of each limit would buy a problem that has sets.

use super::page::{View, flags, kept};
use super::weak;
use super::words::change;
use crate::base::{plain, signed};
use crate::cli::changes;
use crate::cli::screen::paragraph;
use crate::cli::shell::quoted;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{metal, sets};
use crate::export::{GainRecord, ReachRecord};
use crate::search::Step;
use std::fmt::Write;

/// What one step of each limit would buy.
pub(super) fn gained(view: &View<'_>, steps: &[&Step]) -> String {
    let record = view.record;
    let Some(now) = &record.now else {
        return String::new();
    };
    let mut rows: Vec<(&Step, &GainRecord)> = steps.iter().copied().zip(&record.gains).collect();
    let binds = |gain: &GainRecord| helps(now, &gain.reach);
    rows.sort_by_key(|(_, gain)| !binds(gain));
    let cells = |of: &dyn Fn(&(&Step, &GainRecord)) -> String, own: String| {
        std::iter::once(own)
            .chain(rows.iter().map(of))
            .collect::<Vec<_>>()
    };
    let percent = |reach: &ReachRecord| format!("{} %", plain(reach.worst_error_percent, 2));
    // Metal in cm³ as the difference; less than the last digit is none.
    let lighter = |reach: &ReachRecord| {
        let by = (reach.blank_volume_mm3 - now.blank_volume_mm3) / 1000.0;
        if by.abs() < 0.05 {
            String::new()
        } else {
            signed(by, 1)
        }
    };
    let table = Table::new(
        2,
        vec![
            Column::left(
                "one step",
                cells(
                    &|(step, _)| change(view.problem, step).0,
                    "as it is".to_owned(),
                ),
            ),
            Column::right(
                "now",
                cells(&|(step, _)| change(view.problem, step).1, String::new()),
            ),
            Column::right(
                "sets",
                cells(
                    &|(_, gain)| sets(&gain.reach.feasible_sets),
                    sets(&now.feasible_sets),
                ),
            ),
            Column::right(
                "least\nerror",
                cells(&|(_, gain)| percent(&gain.reach), percent(now)),
            ),
            Column::right(
                "metal\ncm³",
                cells(
                    &|(_, gain)| lighter(&gain.reach),
                    metal(now.blank_volume_mm3),
                ),
            ),
            Column::right(
                "cut-\nters",
                cells(
                    &|(_, gain)| gain.reach.distinct_cutters.to_string(),
                    now.distinct_cutters.to_string(),
                ),
            ),
            Column::left(
                "",
                cells(
                    &|(_, gain)| if binds(gain) { "binds" } else { "" }.to_owned(),
                    String::new(),
                ),
            ),
        ],
    );
    let mut out = String::from("\n");
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    out.push('\n');
    let binding = rows.iter().filter(|(_, gain)| binds(gain)).count();
    let sentence = match binding {
        _ if record.status == "stopped" => {
            "Stopped: only the steps listed were tried; others may bind as well.".to_owned()
        }
        0 => "No limit binds: one step of any of them makes no least value smaller.".to_owned(),
        1 => "1 limit binds: with one step of it less error, metal or cutters are to be had."
            .to_owned(),
        n => format!(
            "{n} limits bind: with one step of each less error, metal or cutters are to be had."
        ),
    };
    out += &paragraph(&sentence, 2, view.width);
    out += &paragraph(
        "Error, metal and cutters: the least of each on its own; metal as the difference.",
        2,
        view.width,
    );
    out += &kept(view);
    out += &weak::cautions(view);
    let file = quoted(&view.file.to_string_lossy()) + &changes::flags(&record.with);
    let first = rows.first().filter(|(_, gain)| binds(gain));
    let flags = first.map_or(String::new(), |(_, gain)| flags(&gain.with));
    let _ = writeln!(out, "\n  Next     layshaft solve {file}{flags}");
    out
}

/// Whether something is to be had that was not before.
fn helps(now: &ReachRecord, then: &ReachRecord) -> bool {
    then.worst_error_percent < now.worst_error_percent
        || then.blank_volume_mm3 < now.blank_volume_mm3
        || then.distinct_cutters < now.distinct_cutters
}

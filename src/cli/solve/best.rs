//! How good a set can be at all.

use super::list::short;
use crate::cli::screen::warning;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{measure, value};
use crate::export::{Answer, SetRecord};
use crate::problem::Measure;

/// The least of each measure on its own, with the mark of a set that reaches
/// it and the remarks on that set.
pub(super) fn best(answer: &Answer<'_>) -> String {
    if answer.outcome.front.is_empty() {
        return String::new();
    }
    let records: Vec<SetRecord> = answer
        .outcome
        .front
        .iter()
        .map(|set| answer.record(set))
        .collect();
    let measures = answer.problem.measures();
    // Of sets that are level the one with the fewest remarks.
    let least = |m: Measure| {
        let words = |set: &SetRecord| set.remark_words.len();
        let level = |a: &&SetRecord, b: &&SetRecord| {
            real(a, m)
                .total_cmp(&real(b, m))
                .then(words(a).cmp(&words(b)))
        };
        records.iter().min_by(level).map(|set| (m, set))
    };
    let least: Vec<_> = measures.iter().filter_map(|m| least(*m)).collect();
    let cells = |cell: fn(&(Measure, &SetRecord)) -> String| least.iter().map(cell).collect();
    let columns = vec![
        Column::left("", cells(|(m, _)| measure(*m).to_owned())),
        Column::left("", cells(|(m, set)| value(set, *m))),
        Column::left("", cells(|(_, set)| format!("  set {}", set.mark))),
        Column::left("", cells(|(_, set)| warning(&short(&set.remark_words)))),
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
        Measure::Bars => set.distinct_bars.map_or(0.0, f64::from),
        Measure::Blanks => set.distinct_blanks.map_or(0.0, f64::from),
        Measure::Setups => set.distinct_setups.map_or(0.0, f64::from),
        Measure::Cost => set.cost.flatten().unwrap_or(f64::INFINITY),
        // The greater the better.
        Measure::LeastSafety => -set.least_safety.unwrap_or(0.0),
    }
}

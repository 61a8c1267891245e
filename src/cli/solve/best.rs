//! How good a set can be at all.

use super::list::short;
use crate::cli::screen::warning;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{measure, value};
use crate::export::{Answer, SetRecord};
use crate::problem::Measure;
use crate::train::{Figures, Set};

/// The least of each measure on its own, with the mark of a set that reaches
/// it and the remarks on that set.
pub(super) fn best(answer: &Answer<'_>) -> String {
    if answer.outcome.front.is_empty() {
        return String::new();
    }
    let front = &answer.outcome.front;
    let figures: Vec<Figures> = front
        .iter()
        .map(|set| Figures::of(answer.problem, set))
        .collect();
    let measures = answer.problem.measures();
    // Of sets that are level the one with the fewest remarks.
    let least = |m: Measure| {
        let own = front.iter().zip(&figures);
        let values: Vec<f64> = own.map(|(set, own)| real(answer, (set, own), m)).collect();
        let least = values.iter().copied().min_by(f64::total_cmp)?;
        let level = |(_, value): &(_, &f64)| value.total_cmp(&least).is_eq();
        let level = front.iter().zip(&values).filter(level);
        let records = level.map(|(set, _)| answer.record(set));
        let fewest = records.min_by_key(|set| set.remark_words.len());
        fewest.map(|set| (m, set))
    };
    let least: Vec<_> = measures.iter().filter_map(|m| least(*m)).collect();
    let cells = |cell: fn(&(Measure, SetRecord)) -> String| least.iter().map(cell).collect();
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

fn real(answer: &Answer<'_>, (set, own): (&Set, &Figures), measure: Measure) -> f64 {
    match measure {
        Measure::WorstError => 100.0 * own.worst_error,
        Measure::BlankVolume => own.blank_volume_mm3,
        Measure::DistinctCutters => f64::from(own.distinct_cutters),
        Measure::Bars => f64::from(own.needs.bars),
        Measure::Blanks => f64::from(own.needs.blanks),
        Measure::Setups => f64::from(own.needs.setups),
        Measure::Cost => answer.record(set).cost.flatten().unwrap_or(f64::INFINITY),
        // The greater the better.
        Measure::LeastSafety => -answer.record(set).least_safety.unwrap_or(0.0),
    }
}

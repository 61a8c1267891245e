//! A sweep over centre distances, as JSON and CSV.

use super::record::{SetRecord, set_record};
use crate::problem::{Change, Problem};
use crate::search::Row;
use crate::train::{Figures, Register, Set};
use serde::Serialize;
use std::io::{self, Write};

/// A whole sweep.
#[derive(Debug, Serialize)]
pub struct SweepRecord<'a> {
    /// The problem's title.
    pub title: &'a str,
    /// What was tried otherwise than in the file.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<Change>,
    /// "proven", or "stopped" when distances are missing.
    pub status: &'static str,
    /// How many distances were asked for.
    pub distances: usize,
    /// The distances that were finished, ascending.
    pub rows: Vec<RowRecord>,
}

/// One centre distance.
#[derive(Debug, Serialize)]
pub struct RowRecord {
    /// The distance, mm.
    pub centre_distance_mm: f64,
    /// Exact number of sets.
    pub feasible_sets: String,
    /// Exact number of forward trains.
    pub forward_trains: String,
    /// The least of each measure at this distance; null without sets.
    pub best: Option<BestRecord>,
    /// Whether an unbeaten set of all distances together lies here.
    pub unbeaten: bool,
    /// The first set by the problem's ranking over this distance's own front.
    pub set: Option<SetRecord>,
}

/// The least of each measure.
#[derive(Debug, Serialize)]
pub struct BestRecord {
    /// Largest error of the geared forward speeds, percent.
    pub worst_error_percent: f64,
    /// Volume of all blanks, mm³.
    pub blank_volume_mm3: f64,
    /// Different cutters.
    pub distinct_cutters: u32,
}

impl<'a> SweepRecord<'a> {
    /// The record of `rows`, of `distances` asked for.
    pub fn new(problem: &'a Problem, with: Vec<Change>, distances: usize, rows: &[Row]) -> Self {
        let register = Register::new(problem, rows.iter().filter_map(|row| row.best.as_ref()));
        let record = |row: &Row| row_record(problem, &register, row);
        Self {
            title: problem.title(),
            with,
            status: if rows.len() == distances {
                "proven"
            } else {
                "stopped"
            },
            distances,
            rows: rows.iter().map(record).collect(),
        }
    }
}

fn row_record(problem: &Problem, register: &Register<'_>, row: &Row) -> RowRecord {
    let record = |set: &Set| set_record(problem, set, Some(1), register.shown(set));
    RowRecord {
        centre_distance_mm: row.centre_distance.mm(),
        feasible_sets: row.counts.sets.to_string(),
        forward_trains: row.counts.trains.to_string(),
        best: row.least.as_ref().map(|least| best_record(problem, least)),
        unbeaten: row.unbeaten,
        set: row.best.as_ref().map(record),
    }
}

fn best_record(problem: &Problem, [error, volume, cutters]: &[Set; 3]) -> BestRecord {
    BestRecord {
        worst_error_percent: 100.0 * Figures::of(problem, error).worst_error,
        blank_volume_mm3: Figures::of(problem, volume).blank_volume_mm3,
        distinct_cutters: Figures::of(problem, cutters).distinct_cutters,
    }
}

/// Writes a row a distance.
///
/// # Errors
/// Those of writing.
pub fn write_sweep_csv(record: &SweepRecord<'_>, out: &mut dyn Write) -> io::Result<()> {
    writeln!(
        out,
        "centre_distance_mm,feasible_sets,forward_trains,least_worst_error_percent,\
         least_blank_volume_mm3,least_distinct_cutters,unbeaten,best_mark,\
         best_worst_error_percent,best_blank_volume_mm3,best_distinct_cutters"
    )?;
    for row in &record.rows {
        let RowRecord {
            centre_distance_mm,
            feasible_sets,
            forward_trains,
            best,
            unbeaten,
            set,
        } = row;
        let least = best.as_ref().map_or(",,".to_owned(), |b| {
            format!(
                "{},{},{}",
                b.worst_error_percent, b.blank_volume_mm3, b.distinct_cutters
            )
        });
        let set = set.as_ref().map_or(",,,".to_owned(), |s| {
            format!(
                "{},{},{},{}",
                s.mark, s.worst_error_percent, s.blank_volume_mm3, s.distinct_cutters
            )
        });
        writeln!(
            out,
            "{centre_distance_mm},{feasible_sets},{forward_trains},{least},{unbeaten},{set}"
        )?;
    }
    Ok(())
}

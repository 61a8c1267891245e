//! `layshaft sweep`: centre distances side by side.

use super::recheck::recheck;
use super::screen::{Screen, paragraph};
use super::shell::quoted;
use super::table::{Column, Table, push_lines};
use super::watch::Watch;
use super::words::{counted, few, metal, sets};
use super::{Exit, Failure, changes, out};
use crate::base::{Decimal, Length, plain};
use crate::export::{RowRecord, SweepRecord, write_sweep_csv};
use crate::problem::{CentreDistances, Problem};
use crate::search::sweep;
use clap::ValueEnum;
use num_bigint::BigUint;
use std::fmt::Write as _;
use std::path::PathBuf;

/// Arguments of `sweep`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The problem file
    problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// First centre distance, mm; the file's own range, or 5 % below its distance
    #[arg(long, value_name = "MM", value_parser = length)]
    from: Option<Length>,
    /// Last centre distance, mm
    #[arg(long, value_name = "MM", value_parser = length)]
    to: Option<Length>,
    /// From one distance to the next, mm
    #[arg(long, value_name = "MM", value_parser = length)]
    step: Option<Length>,
    /// Sweep although the file marks the centres as made
    #[arg(long)]
    anyway: bool,
    /// Spelling of the result
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Write the result to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    watch: Watch,
}

/// Spellings of the result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    Text,
    /// Everything, for programs
    Json,
    /// A row a distance
    Csv,
}

/// As many distances as a problem file may have.
const MOST: i64 = 100_000;

fn length(text: &str) -> Result<Length, String> {
    let mm = Decimal::parse(text).map_err(|error| error.to_string())?;
    if mm > Decimal::whole(0) && mm <= Decimal::whole(10_000) {
        Ok(Length::from_mm(mm))
    } else {
        Err("it must be above 0 and at most 10000 mm".to_owned())
    }
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    args.changes.spare(&args.problem, args.output.as_deref())?;
    let (_, problem, made) = changes::read(&args.problem, &args.changes)?;
    if problem.is_fixed("centre_distance_mm") && !args.anyway {
        return Err(Failure::BadInput(format!(
            "{} marks the centres as made (\"fixed\"), so no other distance can be built; \
             nothing was done.\n  next: --anyway sweeps all the same",
            args.problem.display()
        )));
    }
    let distances = distances(args, &problem)?;
    let ended = args
        .watch
        .over(|control| sweep(&problem, &distances, args.watch.threads(), control))?;
    for row in &ended.outcome {
        let here = problem.clone().at(CentreDistances::stepped(
            row.centre_distance,
            Length::ZERO,
            1,
        ));
        recheck(&here, row.best.iter().chain(row.least.iter().flatten()))?;
    }
    let record = SweepRecord::new(&problem, made, distances.len(), &ended.outcome);
    deliver(args, &record)?;
    Ok(if record.rows.len() < distances.len() {
        if ended.interrupted {
            Exit::Interrupted
        } else {
            Exit::Stopped
        }
    } else if record.rows.iter().all(|row| row.best.is_none()) {
        Exit::No
    } else {
        Exit::Done
    })
}

fn deliver(args: &Args, record: &SweepRecord<'_>) -> Result<(), Failure> {
    let output = args.output.as_deref();
    match args.format {
        Format::Csv => out::deliver(output, |to| write_sweep_csv(record, to)),
        Format::Json => out::deliver_json(output, record),
        Format::Text => {
            let screen = Screen::of(output);
            let file = quoted(&args.problem.to_string_lossy());
            out::deliver_text(output, &screen, &page(record, &file, screen.width))
        }
    }
}

/// The distances asked for: flags, else the file's range, else 5 % either way.
fn distances(args: &Args, problem: &Problem) -> Result<CentreDistances, Failure> {
    let own = problem.centre_distances();
    if args.from.is_none() && args.to.is_none() && args.step.is_none() && own.len() > 1 {
        return Ok(own.clone());
    }
    let centre = own.at(own.len() / 2);
    let usual = usual_step(centre);
    let step = args.step.unwrap_or(usual);
    let reach = centre.steps() / 20 / step.steps() * step.steps();
    let from = args
        .from
        .unwrap_or(Length::from_steps(centre.steps() - reach));
    let to = args
        .to
        .unwrap_or(Length::from_steps(centre.steps() + reach));
    let count = (to.steps() - from.steps()).div_euclid(step.steps()) + 1;
    if from > to || count > MOST {
        let why = if from > to {
            "the last distance is below the first".to_owned()
        } else {
            format!("that is {count} distances")
        };
        return Err(Failure::BadInput(format!(
            "{from} to {to} mm in steps of {step} mm: {why}; nothing was done.\n  \
             next: --from A --to B --step C with A below B, at most {MOST} distances"
        )));
    }
    let count = usize::try_from(count).unwrap_or(1);
    Ok(CentreDistances::stepped(from, step, count))
}

/// The largest round step that is at most a hundredth of the distance.
fn usual_step(centre: Length) -> Length {
    let tenths_of_microns = [
        100_i64, 200, 500, 1000, 2000, 2500, 5000, 10_000, 20_000, 50_000,
    ];
    let steps = tenths_of_microns.map(|n| Length::from_steps(n * 100_000));
    let fits = |step: &&Length| step.steps() * 100 <= centre.steps();
    steps.iter().rev().find(fits).copied().unwrap_or(steps[0])
}

fn page(record: &SweepRecord<'_>, file: &str, width: usize) -> String {
    let mut out = paragraph(&sentence(record), 0, width);
    for line in changes::said(&record.with) {
        out += &paragraph(&line, 0, width);
    }
    let flags = changes::flags(&record.with);
    let shown: Vec<&RowRecord> = record
        .rows
        .iter()
        .filter(|row| row.best.is_some())
        .collect();
    if shown.is_empty() {
        return out + &format!("\n  Next     layshaft solve {file}{flags}\n");
    }
    let table = table(&shown);
    out.push('\n');
    push_lines(&mut out, &table.head());
    let mut lines = table.rows().into_iter();
    for run in record
        .rows
        .chunk_by(|x, y| x.best.is_none() && y.best.is_none())
    {
        match run {
            [row] if row.best.is_some() => {
                push_lines(&mut out, &Vec::from_iter(lines.next()));
            }
            run => push_lines(&mut out, &[gap(run)]),
        }
    }
    out.push('\n');
    out += &paragraph(
        "Least: the least of each on its own. Best: the first set by the problem's ranking over \
         that distance's own unbeaten sets. Unbeaten: some set there is not beaten by any set at \
         any distance listed, in error, metal and cutters together.",
        2,
        width,
    );
    let best = shown.iter().find(|row| row.unbeaten).unwrap_or(&shown[0]);
    out + &format!(
        "\n  Next     layshaft solve {file}{flags} --with centre_distance_mm={}\n",
        best.centre_distance_mm
    )
}

fn sentence(record: &SweepRecord<'_>) -> String {
    let with_sets = record.rows.iter().filter(|row| row.best.is_some()).count();
    let unbeaten = record.rows.iter().filter(|row| row.unbeaten).count();
    let ends = match (record.rows.first(), record.rows.last()) {
        (Some(first), Some(last)) => format!(
            " from {} to {} mm",
            plain(first.centre_distance_mm, 3),
            plain(last.centre_distance_mm, 3)
        ),
        _ => String::new(),
    };
    let missing = record.distances - record.rows.len();
    let mut text = format!(
        "{}{ends}: {} sets, {unbeaten} of them unbeaten.",
        few(record.rows.len(), "centre distance", "centre distances"),
        if with_sets == 1 {
            "1 has".to_owned()
        } else {
            format!("{with_sets} have")
        }
    );
    if missing > 0 {
        let _ = write!(text, " Stopped: {missing} more were not finished.");
    }
    text
}

fn table(rows: &[&RowRecord]) -> Table {
    let cells = |cell: &dyn Fn(&RowRecord) -> String| rows.iter().map(|row| cell(row)).collect();
    let best = |cell: &dyn Fn(f64, f64, u32) -> String| {
        cells(&|row| {
            row.best.as_ref().map_or(String::new(), |b| {
                cell(
                    b.worst_error_percent,
                    b.blank_volume_mm3,
                    b.distinct_cutters,
                )
            })
        })
    };
    let of_set = |cell: &dyn Fn(f64, f64, u32) -> String| {
        cells(&|row| {
            row.set.as_ref().map_or(String::new(), |s| {
                cell(
                    s.worst_error_percent,
                    s.blank_volume_mm3,
                    s.distinct_cutters,
                )
            })
        })
    };
    let percent = |error: f64, _, _| format!("{} %", plain(error, 2));
    let metal = |_, volume: f64, _| metal(volume);
    let cutters = |_, _, cutters: u32| cutters.to_string();
    let mark = |row: &RowRecord| row.set.as_ref().map_or(String::new(), |s| s.mark.clone());
    let count = |row: &RowRecord| sets(&row.feasible_sets);
    let unbeaten = |row: &RowRecord| if row.unbeaten { "unbeaten" } else { "" }.to_owned();
    let columns = vec![
        Column::right(
            "centres\nmm",
            cells(&|row| plain(row.centre_distance_mm, 3)),
        ),
        Column::right("sets", cells(&count)),
        Column::right("least\nerror", best(&percent)),
        Column::right("metal\ncm³", best(&metal)),
        Column::right("cut-\nters", best(&cutters)),
        Column::left("best\nset", cells(&mark)),
        Column::right("its\nerror", of_set(&percent)),
        Column::right("metal\ncm³", of_set(&metal)),
        Column::right("cut-\nters", of_set(&cutters)),
        Column::left("", cells(&unbeaten)),
    ];
    Table::new(1, columns)
}

/// A run of distances without sets.
fn gap(run: &[RowRecord]) -> String {
    let at = |row: &RowRecord| plain(row.centre_distance_mm, 3);
    match run {
        [only] => format!(" {}  no set", at(only)),
        [first, .., last] => format!(
            " {} to {}  no set ({})",
            at(first),
            at(last),
            counted(&BigUint::from(run.len()), "distance", "distances")
        ),
        [] => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> Length {
        length(text).unwrap()
    }

    #[test]
    fn steps_are_round_and_at_most_a_hundredth() {
        for (centre, step) in [
            ("45", "0.25"),
            ("100", "1"),
            ("99.9", "0.5"),
            ("0.5", "0.01"),
        ] {
            assert_eq!(usual_step(mm(centre)), mm(step), "{centre}");
        }
    }
}

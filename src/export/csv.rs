//! Ranked sets as a table: one row a set, units in the header.

use super::answer::Answer;
use super::record::{SetRecord, SpeedRecord};
use crate::problem::Problem;
use std::io::{self, Write};

/// Writes the ranked sets of `answer`.
///
/// # Errors
/// Those of the writer.
pub fn write_csv(answer: &Answer<'_>, out: &mut dyn Write) -> io::Result<()> {
    row(out, &header(answer.problem))?;
    for set in answer.listed() {
        row(out, &cells(answer.problem, &answer.record(set)))?;
    }
    Ok(())
}

fn row(out: &mut dyn Write, cells: &[String]) -> io::Result<()> {
    let cells: Vec<_> = cells.iter().map(|cell| quoted(cell)).collect();
    writeln!(out, "{}", cells.join(","))
}

/// A field in quotes where RFC 4180 wants them.
fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

fn header(problem: &Problem) -> Vec<String> {
    let mut names: Vec<String> = [
        "rank",
        "mark",
        "centre_distance_mm",
        "worst_error_percent",
        "rms_error_percent",
        "blank_volume_mm3",
        "largest_blank_mm",
        "distinct_cutters",
        "step_evenness",
    ]
    .map(str::to_owned)
    .into();
    if problem.duty().is_some() {
        names.push("least_safety".to_owned());
    }
    let mut add = |role: &str, keys: &[&str]| {
        names.extend(keys.iter().map(|key| format!("{role}_{key}")));
    };
    if problem.head().is_some() {
        add(
            "head",
            &["module_mm", "driver_teeth", "driven_teeth", "ratio"],
        );
    }
    for speed in problem.speeds() {
        let role = format!("speed_{}", speed.name());
        match speed.geared() {
            Some(_) => add(
                &role,
                &[
                    "module_mm",
                    "driver_teeth",
                    "driven_teeth",
                    "ratio",
                    "error_percent",
                ],
            ),
            None => add(&role, &["ratio"]),
        }
    }
    if problem.reverse().is_some() {
        let gears = [
            "module_mm",
            "driver_teeth",
            "idler_teeth",
            "driven_teeth",
            "ratio",
        ];
        add("reverse", &gears);
        add("reverse", &["error_percent", "idler_x_mm", "idler_y_mm"]);
    }
    names.push("remarks".to_owned());
    names
}

fn cells(problem: &Problem, set: &SetRecord) -> Vec<String> {
    let mut cells = vec![
        set.rank.map_or(String::new(), |rank| rank.to_string()),
        set.mark.clone(),
        set.centre_distance_mm.to_string(),
        set.worst_error_percent.to_string(),
        set.rms_error_percent.to_string(),
        set.blank_volume_mm3.to_string(),
        set.largest_blank_mm.to_string(),
        set.distinct_cutters.to_string(),
        set.step_evenness
            .map_or(String::new(), |evenness| evenness.to_string()),
    ];
    if problem.duty().is_some() {
        let safety = set.least_safety;
        cells.push(safety.map_or(String::new(), |safety| safety.to_string()));
    }
    if let Some(head) = &set.head {
        let teeth = [head.driver_teeth, head.driven_teeth].map(|z| z.to_string());
        cells.push(head.module_mm.to_string());
        cells.extend(teeth);
        cells.push(head.ratio.to_string());
    }
    for speed in &set.speeds {
        cells.extend(speed_cells(speed));
    }
    if let Some(reverse) = &set.reverse {
        let teeth = [
            reverse.driver_teeth,
            reverse.idler_teeth,
            reverse.driven_teeth,
        ];
        cells.push(reverse.module_mm.to_string());
        cells.extend(teeth.map(|z| z.to_string()));
        cells.extend([reverse.ratio, reverse.error_percent].map(|x| x.to_string()));
        let place = reverse.idler_centres.first();
        cells.push(place.map_or(String::new(), |p| p.x_mm.to_string()));
        cells.push(place.map_or(String::new(), |p| p.y_mm.to_string()));
    }
    let remarks: Vec<_> = set
        .remarks
        .iter()
        .map(|r| format!("{}: {}", r.place, r.text))
        .collect();
    cells.push(remarks.join("; "));
    cells
}

fn speed_cells(speed: &SpeedRecord) -> Vec<String> {
    match speed {
        SpeedRecord::Direct { ratio, .. } => vec![ratio.to_string()],
        SpeedRecord::Geared {
            module_mm,
            driver_teeth,
            driven_teeth,
            ratio,
            error_percent,
            ..
        } => vec![
            module_mm.to_string(),
            driver_teeth.to_string(),
            driven_teeth.to_string(),
            ratio.to_string(),
            error_percent.to_string(),
        ],
    }
}

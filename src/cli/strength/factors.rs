//! What was taken where nothing was said; every factor where it is asked for.

use super::words::{short, with_unit};
use crate::cli::screen::{columns as columns_of, paragraph};
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::series;
use crate::export::{FactorRecord, MeshRating, StrengthRecord, Taken, TakenRecord};
use std::fmt::Write;

/// Figures that the file does not give: no safety without them.
pub(super) fn taken(record: &StrengthRecord, width: usize) -> String {
    let mut out = String::new();
    let teeth: Vec<String> = record.taken_for_teeth.iter().map(taken_words).collect();
    if !teeth.is_empty() {
        let text = format!(
            "Taken for the teeth, as the file does not say: {}.",
            teeth.join("; ")
        );
        let _ = write!(out, "\n{}", paragraph(&text, 2, width));
    }
    let parts = record
        .part_factors
        .iter()
        .filter(|factor| factor.is_taken());
    let parts: Vec<String> = parts.map(part_words).collect();
    if !parts.is_empty() {
        let text = format!(
            "Taken for the other parts, usual figures all: {}.",
            parts.join("; ")
        );
        let _ = write!(out, "\n{}", paragraph(&text, 2, width));
    }
    out
}

/// `shock from the machine at either end: K_A 1.5 (duty.shock)`.
fn taken_words(taken: &TakenRecord) -> String {
    let value = match &taken.value {
        Taken::Number(value) => with_unit(&short(*value), taken.unit),
        Taken::Name(name) => name.clone(),
    };
    let symbol = taken
        .symbol
        .map_or(String::new(), |symbol| format!("{symbol} "));
    let symbol = match taken.symbol {
        Some("share" | "grade" | "h" | "n_in") => String::new(),
        _ => symbol,
    };
    let roles: Vec<&str> = taken.roles.iter().map(String::as_str).collect();
    let roles = if roles.is_empty() {
        String::new()
    } else {
        format!(" for {}", series(&roles))
    };
    format!("{}: {symbol}{value}{roles} ({})", taken.what, taken.key)
}

fn part_words(factor: &FactorRecord) -> String {
    let value = with_unit(&short(factor.value), factor.unit);
    format!("{} {value}", factor.what)
}

/// Every factor of every mesh, and of the other parts.
pub(super) fn every(record: &StrengthRecord, width: usize) -> String {
    let mut out = String::new();
    for mesh in &record.meshes {
        let [driver, driven] = &mesh.gears;
        let _ = write!(
            out,
            "\n  Figures of {}: {} on {}\n",
            mesh.role, driver.gear, driven.gear
        );
        mesh_factors(&mut out, mesh, width);
        gear_factors(&mut out, mesh, width);
        out += &lewis(mesh, width);
    }
    if !record.part_factors.is_empty() {
        out += "\n  Figures of the other parts\n";
        for factor in &record.part_factors {
            let text = format!(
                "{}: {}, {}",
                part_words(factor),
                factor.origin,
                factor.source
            );
            out += &paragraph(&text, 4, width);
        }
    }
    out
}

/// A table, and a text beside each row that is set as a paragraph.
fn push_told(out: &mut String, columns: Vec<Column>, texts: &[&str], width: usize) {
    let table = Table::new(4, columns);
    let before = table.width() + 2;
    push_lines(out, &table.head());
    for (row, text) in table.rows().iter().zip(texts) {
        let told = paragraph(text, before, width);
        let pad = " ".repeat(before.saturating_sub(columns_of(row)));
        let _ = write!(out, "{row}{pad}{}", told.trim_start());
    }
}

fn mesh_factors(out: &mut String, mesh: &MeshRating, width: usize) {
    let factors = &mesh.factors;
    let cells = |cell: &dyn Fn(&FactorRecord) -> String| factors.iter().map(cell).collect();
    let columns = vec![
        Column::left("", cells(&|factor| factor.symbol.unwrap_or("").to_owned())),
        Column::right("value", cells(&|factor| short(factor.value))),
        Column::left("", cells(&|factor| factor.unit.to_owned())),
        Column::left("", cells(&|factor| factor.origin.to_owned())),
    ];
    let texts: Vec<&str> = factors.iter().map(|factor| factor.what).collect();
    push_told(out, columns, &texts, width);
}

/// Both gears side by side; what only one of them has stands too.
fn gear_factors(out: &mut String, mesh: &MeshRating, width: usize) {
    let [driver, driven] = mesh.gears.each_ref().map(|gear| &gear.factors);
    let all = if driver.len() < driven.len() {
        driven
    } else {
        driver
    };
    let value = |of: &[FactorRecord], factor: &FactorRecord| {
        let found = of.iter().find(|other| other.symbol == factor.symbol);
        found.map_or_else(String::new, |own| short(own.value))
    };
    let cells = |cell: &dyn Fn(&FactorRecord) -> String| all.iter().map(cell).collect();
    let columns = vec![
        Column::left("", cells(&|factor| factor.symbol.unwrap_or("").to_owned())),
        Column::right("driver", cells(&|factor| value(driver, factor))),
        Column::right("driven", cells(&|factor| value(driven, factor))),
        Column::left("", cells(&|factor| factor.unit.to_owned())),
    ];
    let texts: Vec<&str> = all.iter().map(|factor| factor.what).collect();
    push_told(out, columns, &texts, width);
}

/// The older rating beside it.
fn lewis(mesh: &MeshRating, width: usize) -> String {
    let of = |gear: &crate::export::GearRating| {
        let lewis = gear.lewis?;
        let allowed = lewis.allowed_mpa.map_or_else(String::new, |allowed| {
            format!(" of {} allowed", short(allowed.round()))
        });
        Some(format!(
            "{} {} MPa{allowed}",
            gear.gear,
            short(lewis.stress_mpa.round())
        ))
    };
    let both: Vec<String> = mesh.gears.iter().filter_map(of).collect();
    if both.is_empty() {
        return String::new();
    }
    let text = format!(
        "Beside it the older way of Lewis, with shock: {}.",
        both.join("; ")
    );
    paragraph(&text, 4, width)
}

//! The screen of `compare`.

use crate::cli::chosen::Shown;
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{few, module, series};
use crate::export::{Better, CompareRow, Comparison, Contender, CutterRecord, SpeedRecord};
use std::collections::BTreeMap;
use std::fmt::Write;

/// What `solve` ranks where nothing else is said: it knows marks no further.
const SOLVE_KNOWS: usize = 20;

/// The text of a comparison.
pub(super) fn page(comparison: &Comparison, shown: &Shown<'_>) -> String {
    let width = shown.width;
    let mut out = shown.top(&headline(comparison));
    out += &blocks(&teeth(comparison), None, &marks(comparison), width);
    let rows: Vec<_> = comparison.rows.iter().map(cells).collect();
    let better: Vec<_> = comparison.rows.iter().map(better).collect();
    out += &blocks(&rows, Some(&better), &marks(comparison), width);
    out.push('\n');
    out += &paragraph(&notes(comparison), 2, width);
    out.push('\n');
    for sentence in &comparison.summary {
        out += &paragraph(sentence, 2, width);
    }
    if !comparison.cautions.is_empty() {
        out.push('\n');
        out += &paragraph(&comparison.cautions, 2, width);
    }
    out + &pick(comparison, shown)
}

/// In how many of the rows that tell sets apart each is not behind.
fn headline(comparison: &Comparison) -> String {
    let rows = comparison.rows.iter();
    let apart = rows.filter(|row| row.tells_apart()).count();
    if apart == 0 {
        return format!(
            "No figure compared tells these sets apart ({}).",
            comparison.chosen
        );
    }
    let told: Vec<String> = comparison
        .standings
        .iter()
        .map(|standing| {
            let good = standing.best_alone.len() + standing.best_shared.len();
            format!("{} in {good}", standing.mark)
        })
        .collect();
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    format!(
        "{} these sets apart ({}); the best or as good: {}.",
        few(apart, "figure tells", "figures tell"),
        comparison.chosen,
        series(&told)
    )
}

fn marks(comparison: &Comparison) -> Vec<String> {
    let mark = |set: &Contender| set.mark.clone();
    comparison.sets.iter().map(mark).collect()
}

/// A line of a table: its name, and a cell for each set.
type Line = (String, Vec<String>);

/// The teeth of each role.
fn teeth(comparison: &Comparison) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let mixed = several_modules(comparison);
    for (place, set) in comparison.sets.iter().enumerate() {
        for (i, (role, teeth)) in roles(set, mixed).into_iter().enumerate() {
            if place == 0 {
                lines.push((role, Vec::new()));
            }
            if let Some((_, cells)) = lines.get_mut(i) {
                cells.push(teeth);
            }
        }
    }
    lines
}

fn several_modules(comparison: &Comparison) -> bool {
    let mut gears = comparison.sets.iter().flat_map(|set| &set.set.gears);
    let first = gears.next().map(|gear| gear.module_mm.to_bits());
    gears.any(|gear| Some(gear.module_mm.to_bits()) != first)
}

fn roles(set: &Contender, mixed: bool) -> Vec<(String, String)> {
    let of = |mm: f64| {
        if mixed {
            format!(" ×{}", module(mm))
        } else {
            String::new()
        }
    };
    let mut roles = Vec::new();
    if let Some(head) = &set.set.head {
        let (driver, driven) = (head.driver_teeth, head.driven_teeth);
        let teeth = format!("{driver}→{driven}{}", of(head.module_mm));
        roles.push(("head".to_owned(), teeth));
    }
    for speed in &set.set.speeds {
        let teeth = match speed {
            SpeedRecord::Direct { .. } => "direct".to_owned(),
            SpeedRecord::Geared {
                module_mm,
                driver_teeth,
                driven_teeth,
                ..
            } => format!("{driver_teeth}→{driven_teeth}{}", of(*module_mm)),
        };
        roles.push((speed.name().to_owned(), teeth));
    }
    if let Some(r) = &set.set.reverse {
        let teeth = [r.driver_teeth, r.idler_teeth, r.driven_teeth].map(|teeth| teeth.to_string());
        let teeth = format!("{}{}", teeth.join("→"), of(r.module_mm));
        roles.push(("reverse".to_owned(), teeth));
    }
    roles
}

fn cells(row: &CompareRow) -> Line {
    (row.name.clone(), row.shown.clone())
}

/// The last cell of a row: which set is better there, and by how much.
fn better(row: &CompareRow) -> String {
    if row.alike {
        return "alike".to_owned();
    }
    if row.better == Better::Neither || row.best.is_empty() {
        return String::new();
    }
    if row.level() {
        return "level".to_owned();
    }
    let best = row.best.join(", ");
    match &row.lead {
        Some(lead) => format!("{best} by {lead}"),
        None => best,
    }
}

/// A table, in as few parts as the width allows; each part has the names and
/// what is better over all sets.
fn blocks(lines: &[Line], better: Option<&[String]>, marks: &[String], width: usize) -> String {
    let part = |from: usize, to: usize| {
        let names = lines.iter().map(|(name, _)| name.clone()).collect();
        let mut columns = vec![Column::left("", names)];
        for (place, mark) in marks.iter().enumerate().take(to).skip(from) {
            let cell = |(_, cells): &Line| cells.get(place).cloned().unwrap_or_default();
            columns.push(Column::left(mark, lines.iter().map(cell).collect()));
        }
        if let Some(better) = better {
            columns.push(Column::left(
                "closer, lighter,\ncheaper, quicker",
                better.to_vec(),
            ));
        }
        Table::new(2, columns)
    };
    let mut out = String::new();
    let mut from = 0;
    while from < marks.len() {
        let fits = |to: &usize| part(from, *to).width() <= width;
        let to = (from + 1..=marks.len())
            .rev()
            .find(fits)
            .unwrap_or(from + 1);
        let table = part(from, to);
        out.push('\n');
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
        from = to;
    }
    out
}

/// What is needed to read the figures.
fn notes(comparison: &Comparison) -> String {
    let mut notes = "Speeds: the ratio, and how far it is off in %. Cutters: how many, and which. \
                     Better by the digits shown; alike where these are the same, level where one \
                     is as good as the other."
        .to_owned();
    notes += &ranges(comparison);
    notes += &dividing(comparison);
    let mut forms = comparison.sets.iter().filter_map(|set| set.reverse_form);
    if let Some(form) = forms.next() {
        let _ = write!(notes, " Reverse: {form}.");
    }
    notes += &prices(comparison);
    notes
}

/// The counts that are not divided simply.
fn dividing(comparison: &Comparison) -> String {
    let hard = |set: &&Contender| !set.not_divided_simply.is_empty();
    let told: Vec<String> = comparison
        .sets
        .iter()
        .filter(hard)
        .map(|set| {
            let counts = set.not_divided_simply.iter().map(u32::to_string);
            format!("{} {}", set.mark, counts.collect::<Vec<_>>().join(", "))
        })
        .collect();
    if told.is_empty() {
        String::new()
    } else {
        format!(" Not divided by turns and holes: {}.", told.join("; "))
    }
}

fn prices(comparison: &Comparison) -> String {
    let mut said = String::new();
    for set in &comparison.sets {
        let modules = set.form_sets_module_mm.iter().copied().map(module);
        let modules: Vec<String> = modules.collect();
        if !modules.is_empty() {
            let _ = write!(
                said,
                " For {} all eight cutters of module {} mm together cost less than those it needs.",
                set.mark,
                modules.join(", ")
            );
        }
    }
    if comparison.cutter_prices_taken {
        said += " Prices of cutters are taken for granted.";
    }
    said
}

/// What the numbered cutters cut.
fn ranges(comparison: &Comparison) -> String {
    let tools = comparison.sets.iter().flat_map(|set| &set.cutters);
    let mut numbers: BTreeMap<u8, String> = BTreeMap::new();
    for tool in tools {
        if let CutterRecord::Form {
            number,
            from_teeth,
            to_teeth,
        } = tool.cutter
        {
            let to = to_teeth.map_or(" and more".to_owned(), |to| format!("-{to}"));
            numbers.insert(number, format!("{number} ({from_teeth}{to})"));
        }
    }
    if numbers.is_empty() {
        return String::new();
    }
    let told: Vec<String> = numbers.into_values().collect();
    format!(" Form cutters and the teeth they cut: {}.", told.join(", "))
}

/// How to take the set that is behind in least.
fn pick(comparison: &Comparison, shown: &Shown<'_>) -> String {
    let mut sets = comparison.sets.iter();
    let rank = sets
        .find(|set| set.mark == comparison.pick)
        .and_then(|set| set.set.rank);
    let name = match rank {
        Some(rank) if rank > SOLVE_KNOWS => rank.to_string(),
        _ => comparison.pick.clone(),
    };
    format!(
        "\n  Pick it  layshaft solve {} --pick {name}\n",
        shown.command_file()
    )
}

//! The tables of `check`: ratios, meshes, gears, sizes to measure.

use crate::base::{plain, signed};
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::module;
use crate::examine::Mesh;
use crate::export::{CheckAnswer, GearSheet, RatioRow};
use crate::inspect::{GearFigures, MeshFigures, Size};
use crate::train::Gear;

/// A titled table, split where it is too wide; each part repeats the names.
fn titled(title: &str, name: &Column, columns: Vec<Column>, width: usize) -> String {
    let mut out = format!("\n  {title}\n");
    let mut rest = columns.into_iter().peekable();
    while rest.peek().is_some() {
        let mut part = vec![name.clone()];
        while let Some(next) = rest.peek() {
            let mut wider = part.clone();
            wider.push(next.clone());
            if part.len() > 1 && Table::new(2, wider).width() > width {
                break;
            }
            part.extend(rest.next());
        }
        let table = Table::new(2, part);
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    out
}

/// Every ratio, and how far it is from what was asked.
pub(super) fn ratios(answer: &CheckAnswer<'_>, width: usize) -> String {
    let rows = answer.ratios();
    let cells = |cell: &dyn Fn(&RatioRow) -> String| rows.iter().map(cell).collect();
    let teeth = |row: &RatioRow| {
        let counts: Vec<String> = row.teeth.iter().map(ToString::to_string).collect();
        if counts.is_empty() {
            "direct".to_owned()
        } else {
            counts.join("→")
        }
    };
    let name = Column::left("ratio of", cells(&|row| row.name.clone()));
    let mut columns = vec![
        Column::left("teeth", cells(&teeth)),
        Column::right("ratio", cells(&|row| plain(row.ratio, 3))),
    ];
    if rows.iter().any(|row| row.asked.is_some()) {
        let asked = |row: &RatioRow| row.asked.map_or_else(String::new, |(a, _)| plain(a, 3));
        let off = |row: &RatioRow| {
            row.asked
                .map_or_else(String::new, |(_, off)| signed(off, 2))
        };
        columns.push(Column::right("asked", cells(&asked)));
        columns.push(Column::right("off by %", cells(&off)));
    }
    titled(
        "Ratios (input speed by output speed; driver→driven)",
        &name,
        columns,
        width,
    )
}

/// Every mesh at full teeth.
pub(super) fn meshes(answer: &CheckAnswer<'_>, width: usize) -> String {
    let problem = answer.examined.problem;
    let meshes = &answer.examined.meshes;
    let cells = |cell: &dyn Fn(&Mesh) -> String| meshes.iter().map(cell).collect();
    let figure = |of: &dyn Fn(&MeshFigures) -> String| {
        cells(&|mesh| mesh.figures.as_ref().map_or_else(String::new, of))
    };
    let name = |mesh: &Mesh| {
        let [one, other] = mesh.gears.map(|gear| gear.teeth);
        format!("{} {one}→{other}", mesh.role.name(problem))
    };
    let tips = |m: &MeshFigures| m.first.tip_clearance_mm.min(m.second.tip_clearance_mm);
    let roots = |m: &MeshFigures| m.first.root_margin_mm.min(m.second.root_margin_mm);
    let columns = vec![
        Column::right(
            "module\nmm",
            cells(&|mesh| module(mesh.gears[0].module.of(problem).mm())),
        ),
        Column::right("teeth\nin all", cells(&|mesh| mesh.tooth_sum().to_string())),
        Column::right(
            "centres\nfit",
            cells(&|mesh| plain(mesh.sum_for_centres(), 2)),
        ),
        Column::right("centres\nmm", cells(&|mesh| plain(mesh.centres_mm, 3))),
        Column::right("standard\nmm", cells(&|mesh| plain(mesh.standard_mm, 3))),
        Column::right(
            "backlash\nmm",
            figure(&|m| plain(m.full_teeth.transverse_mm, 3)),
        ),
        Column::right(
            "angle\n°",
            figure(&|m| plain(m.working_pressure_angle_deg, 2)),
        ),
        Column::right("contact\nratio", figure(&|m| plain(m.contact_ratio, 3))),
        Column::right("tip to\nroot mm", figure(&|m| plain(tips(m), 2))),
        Column::right("foot\nmargin mm", figure(&|m| plain(roots(m), 3))),
    ];
    let name = Column::left("mesh", cells(&name));
    titled(
        "Meshes, teeth at full size (backlash below 0 binds)",
        &name,
        columns,
        width,
    )
}

/// Every gear at full teeth.
pub(super) fn gears(answer: &CheckAnswer<'_>, width: usize) -> String {
    let problem = answer.examined.problem;
    let gears = &answer.examined.gears;
    let cells = |cell: &dyn Fn(&(Gear, GearFigures)) -> String| gears.iter().map(cell).collect();
    let wall = |gear: &Gear| {
        let walls = &answer.examined.walls;
        let own = walls.iter().find(|wall| wall.gear == *gear);
        own.map_or_else(String::new, |wall| plain(wall.wall_mm, 2))
    };
    let mut columns = vec![
        Column::right("teeth", cells(&|(gear, _)| gear.teeth.to_string())),
        Column::right("tip Ø\nmm", cells(&|(_, f)| plain(f.tip_diameter_mm, 2))),
        Column::right("root Ø\nmm", cells(&|(_, f)| plain(f.root_diameter_mm, 2))),
        Column::right(
            "tip thick\nmm",
            cells(&|(_, f)| plain(f.tip_thickness_mm, 2)),
        ),
        Column::left(
            "undercut",
            cells(&|(_, f)| if f.undercut { "undercut" } else { "no" }.to_owned()),
        ),
    ];
    if !answer.examined.walls.is_empty() {
        columns.push(Column::right("wall\nmm", cells(&|(gear, _)| wall(gear))));
    }
    let name = Column::left("gear", cells(&|(gear, _)| gear.name(problem)));
    titled("Gears", &name, columns, width)
}

/// What to read on every gear: none above the most, none below the least.
pub(super) fn sizes(answer: &CheckAnswer<'_>, width: usize) -> String {
    let sheets = &answer.sheets;
    if sheets.is_empty() {
        return String::new();
    }
    let cells = |cell: &dyn Fn(&GearSheet) -> String| sheets.iter().map(cell).collect();
    let range = |size: Size| {
        format!(
            "{} to {}",
            plain(size.smallest_mm, 3),
            plain(size.largest_mm, 3)
        )
    };
    let over_teeth = |sheet: &GearSheet| {
        let span = sheet.inspection.span;
        span.map_or_else(String::new, |span| span.teeth.to_string())
    };
    let span = |sheet: &GearSheet| {
        let span = sheet.inspection.span;
        span.map_or_else(String::new, |span| range(span.size))
    };
    let pin = |sheet: &GearSheet| {
        let pins = sheet.inspection.over_pins;
        pins.map_or_else(String::new, |pins| plain(pins.pin_mm, 2))
    };
    let over = |sheet: &GearSheet| {
        let pins = sheet.inspection.over_pins;
        pins.map_or_else(String::new, |pins| range(pins.size))
    };
    let columns = vec![
        Column::right("over\nteeth", cells(&over_teeth)),
        Column::right("mm", cells(&span)),
        Column::right("pins Ø\nmm", cells(&pin)),
        Column::right("over pins\nmm", cells(&over)),
    ];
    let name = Column::left("gear", cells(&|sheet| sheet.gear.clone()));
    titled("Measure (least to most)", &name, columns, width)
}

//! Along the shafts: planes and sleeves in order, gears of one piece, the shift
//! pattern.

use crate::base::{Length, plain, signed};
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::series;
use crate::design::planes::{End, Layout, Moved, PartId};
use crate::export::LayoutAnswer;
use crate::problem::{Arrangement, Holding};
use crate::train::Role;
use std::fmt::Write;

/// Everything along the shafts.
pub(super) fn along(answer: &LayoutAnswer<'_>, layout: &Layout, width: usize) -> String {
    places(answer, layout)
        + &between(answer, width)
        + &pieces(answer, layout, width)
        + &pattern(answer, layout, width)
}

/// A line of the table: from, to (mm), what it is, more of it.
type Row = (f64, f64, String, String);

/// Planes and sleeves from the input wall on.
fn places(answer: &LayoutAnswer<'_>, layout: &Layout) -> String {
    let mut rows: Vec<Row> = layout
        .planes
        .iter()
        .map(|plane| {
            let gears = gears(answer, plane.role);
            (plane.from_mm, plane.to_mm, answer.role(plane.role), gears)
        })
        .collect();
    for sleeve in &layout.sleeves {
        let part = layout
            .parts
            .iter()
            .find(|part| part.id == PartId::Sleeve(sleeve.sleeve));
        if let Some(part) = part {
            let ring = format!(
                "moves {} mm, dog rings Ø {}",
                plain(sleeve.travel_mm, 2),
                plain(2.0 * sleeve.ring_radius_mm, 2)
            );
            rows.push((part.from_mm, part.to_mm, answer.part(part.id), ring));
        }
    }
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    let cells = |cell: &dyn Fn(&Row) -> String| rows.iter().map(cell).collect();
    let columns = vec![
        Column::right("from mm", cells(&|row| plain(row.0, 2))),
        Column::right("to mm", cells(&|row| plain(row.1, 2))),
        Column::left("what", cells(&|row| row.2.clone())),
        Column::left("", cells(&|row| row.3.clone())),
    ];
    let table = Table::new(2, columns);
    let mut out = "\n  Along the shafts, from the inner face of the input wall\n".to_owned();
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    let _ = writeln!(
        out,
        "  {:>7}  inner face of the output wall",
        plain(layout.length_mm, 2)
    );
    out
}

fn gears(answer: &LayoutAnswer<'_>, role: Role) -> String {
    use crate::train::gears_of;
    let gears = gears_of(answer.problem, answer.set);
    let teeth: Vec<String> = gears
        .iter()
        .filter(|gear| gear.role == role)
        .map(|gear| gear.teeth.to_string())
        .collect();
    teeth.join("→")
}

/// What stands beside a gear that turns on its shaft.
fn between(answer: &LayoutAnswer<'_>, width: usize) -> String {
    let sizes = answer.problem.layout();
    let mm = |length: Length| plain(length.mm(), 2);
    let circlip = match sizes.circlip() {
        Length::ZERO => String::new(),
        thick => format!(", a circlip of {} mm", mm(thick)),
    };
    let text = format!(
        "Beside a gear that turns on its shaft: a thrust washer of {} mm{circlip} and {} mm of end \
         float.",
        mm(sizes.washer()),
        mm(sizes.end_float())
    );
    paragraph(&text, 2, width)
}

/// Which fixed gears can be cut on one blank.
fn pieces(answer: &LayoutAnswer<'_>, layout: &Layout, width: usize) -> String {
    let shaft = match answer.problem.arrangement() {
        Arrangement::InLine => "Layshaft",
        Arrangement::Offset => "Input shaft",
    };
    let names = |roles: &[Role]| {
        let names: Vec<String> = roles.iter().map(|role| answer.role(*role)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        series(&names)
    };
    let (together, alone): (Vec<_>, Vec<_>) = layout.pieces.iter().partition(|p| p.len() > 1);
    let radius = plain(answer.problem.layout().cutter_radius().mm(), 0);
    let how = match answer.problem.layout().holding() {
        Holding::Keyed => "keyed",
        Holding::Bonded => "bonded",
        Holding::Pressed => "pressed on",
        Holding::OnePiece | Holding::Auto => "keyed or bonded",
    };
    let mut text = format!("{shaft}, with a cutter of {radius} mm radius running out: ");
    let mut parts: Vec<String> = together
        .iter()
        .map(|piece| format!("{} can be of one piece", names(piece)))
        .collect();
    if !alone.is_empty() {
        let roles: Vec<Role> = alone
            .iter()
            .flat_map(|piece| piece.iter().copied())
            .collect();
        parts.push(format!("{} each by itself, {how}", names(&roles)));
    }
    text += &parts.join("; ");
    text.push('.');
    format!("\n{}", paragraph(&text, 2, width))
}

/// Which rod goes where.
fn pattern(answer: &LayoutAnswer<'_>, layout: &Layout, width: usize) -> String {
    let mut out =
        "\n  Shift pattern; only one rod may be out of neutral: fit the interlock\n".to_owned();
    for rod in &layout.rods {
        let what = match rod.moves {
            Moved::Sleeve(sleeve) => answer.part(PartId::Sleeve(sleeve)),
            Moved::Idler => "idler".to_owned(),
        };
        let engaged = rod.positions.iter().filter_map(|position| {
            let role = position.engages?;
            let end = position.towards.map_or("", End::word);
            Some(format!(
                "{} {} mm towards the {end} (notch {} mm from neutral's)",
                answer.engaged(role),
                plain(position.move_mm.abs(), 2),
                signed(position.notch_mm, 2)
            ))
        });
        let text = format!("{what}: {}", engaged.collect::<Vec<_>>().join(", "));
        out += &paragraph(&text, 4, width);
    }
    out
}

//! The boring table and its checks.

use super::Face;
use crate::base::Length;
use crate::base::{plain, signed};
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::design::boring::{Hole, Trueness};
use crate::export::{LayoutAnswer, over_pins};
use crate::problem::Arrangement;
use crate::sheet::bored_for;
use std::fmt::Write;

/// The bores of one face.
pub(super) fn face(answer: &LayoutAnswer<'_>, face: Face, width: usize) -> String {
    let (holes, title) = match face {
        Face::Output => (
            &answer.plan.boring.output,
            "Bore the output wall, seen from the output end (left and right change places)",
        ),
        Face::Input | Face::Both => (
            &answer.plan.boring.input,
            "Bore the input wall, seen from the input end",
        ),
    };
    let cells = |cell: &dyn Fn(&Hole) -> String| holes.iter().map(cell).collect();
    let inch = |mm: f64| plain(mm / 25.4, 4);
    let diameter = |hole: &Hole| hole.diameter_mm.map_or_else(String::new, |mm| plain(mm, 2));
    let columns = vec![
        Column::left("for", cells(&|hole| bored_for(hole.shaft).to_owned())),
        Column::right("Ø mm", cells(&diameter)),
        Column::right("x mm", cells(&|hole| plain(hole.place.x_mm, 3))),
        Column::right("y mm", cells(&|hole| plain(hole.place.y_mm, 3))),
        Column::right("x in", cells(&|hole| inch(hole.place.x_mm))),
        Column::right("y in", cells(&|hole| inch(hole.place.y_mm))),
    ];
    let mut out = format!("\n{}", paragraph(title, 2, width));
    for table in Table::new(2, columns).split(width) {
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    out
}

/// Checks over pins, how true, and what heat does.
pub(super) fn checks(answer: &LayoutAnswer<'_>, width: usize) -> String {
    let boring = &answer.plan.boring;
    let mut out = "\n".to_owned();
    out += &paragraph(&datum(answer), 2, width);
    let _ = writeln!(out, "  Check over pins");
    for check in &boring.checks {
        let _ = writeln!(out, "    {}", over_pins(check));
    }
    let mut text = String::new();
    if let Some(trueness) = &boring.shafts {
        let _ = write!(
            text,
            "Hold the shafts' distance to {}. ",
            off(answer, trueness)
        );
    }
    if let Some(trueness) = boring.pin.filter(|trueness| trueness.reached) {
        let within = plain(floor(trueness.closer_mm.min(trueness.wider_mm)), 3);
        let _ = write!(
            text,
            "Hold the idler's pin within {within} mm of its place, any way ({}). ",
            backlash(answer, &trueness)
        );
    }
    if !text.is_empty() {
        text += "Teeth cut to the middle of their limits.";
        out += &paragraph(&text, 2, width);
    }
    if let Some(growth) = boring.growth {
        let how = if growth.opens_mm < 0.0 {
            "closes"
        } else {
            "opens"
        };
        let text = format!(
            "Warmed by {} K, a case of {} {how} the centres {} mm beyond what steel gears grow: \
             {} mm of backlash.",
            plain(growth.warmer_k, 0),
            answer.problem.layout().case_material().word(),
            plain(growth.opens_mm.abs(), 3),
            signed(growth.backlash_mm, 3)
        );
        out += &paragraph(&text, 2, width);
    }
    out
}

fn datum(answer: &LayoutAnswer<'_>) -> String {
    let upper = match answer.problem.arrangement() {
        Arrangement::InLine => "main shaft",
        Arrangement::Offset => "input shaft",
    };
    let [x, y] = answer.problem.layout().datum();
    if [x, y] == [Length::ZERO; 2] {
        format!("Measured from the axis of the {upper}.")
    } else {
        format!(
            "Measured from the datum; the {upper} at {x}, {y} mm of it, seen from the input end."
        )
    }
}

/// To a thousandth, never more than there is.
fn floor(mm: f64) -> f64 {
    (mm * 1000.0).floor() / 1000.0
}

fn off(answer: &LayoutAnswer<'_>, trueness: &Trueness) -> String {
    format!(
        "-{}/+{} mm ({})",
        plain(floor(trueness.closer_mm), 3),
        plain(floor(trueness.wider_mm), 3),
        backlash(answer, trueness)
    )
}

fn backlash(answer: &LayoutAnswer<'_>, trueness: &Trueness) -> String {
    format!(
        "{} keeps {} to {} mm between the flanks",
        answer.role(trueness.role),
        plain(trueness.backlash_mm.0, 3),
        plain(trueness.backlash_mm.1, 3)
    )
}

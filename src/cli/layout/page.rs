//! The screen of `layout`.

use super::{Args, Face, along, boring, carrying, turning};
use crate::base::plain;
use crate::cli::chosen::Shown;
use crate::cli::next::next_lines;
use crate::cli::screen::paragraph;
use crate::cli::strength::{Options, answer as holding, strength_page};
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{module, series};
use crate::design::planes::Layout;
use crate::export::{LayoutAnswer, StrengthRecord, cautions};
use crate::problem::{Origin, Shaft, ShaftSize};
use std::fmt::Write;

/// The text of an answer.
pub(super) fn page(
    answer: &LayoutAnswer<'_>,
    strength: Option<&StrengthRecord>,
    args: &Args,
    shown: &Shown<'_>,
) -> String {
    let width = shown.width;
    if let Some(record) = strength {
        return strong_enough(answer, record, args, shown);
    }
    let mut out = shown.top(&headline(answer, shown.how));
    out += &shafts(answer, width);
    if let Ok(layout) = &answer.plan.layout {
        out += &along::along(answer, layout, width);
    }
    for (face, wanted) in [(Face::Input, Face::Output), (Face::Output, Face::Input)] {
        if args.face != wanted {
            out += &boring::face(answer, face, width);
        }
    }
    out += &boring::checks(answer, width);
    if args.turning {
        out += &turning::turning(answer, width);
    }
    if args.forces {
        out += &carrying::carrying(answer, width);
    }
    if let Ok(layout) = &answer.plan.layout {
        out += &assembly(layout, width);
    }
    let _ = write!(out, "\n{}", paragraph(&cautions(answer.problem), 2, width));
    out + &next(answer, args, shown)
}

/// The page of `--strength`: whether it holds, and nothing of where it stands.
fn strong_enough(
    answer: &LayoutAnswer<'_>,
    record: &StrengthRecord,
    args: &Args,
    shown: &Shown<'_>,
) -> String {
    let (mark, width) = (answer.mark, shown.width);
    let mut out = shown.top(&format!("Set {mark} ({}). {}", shown.how, holding(record)));
    if args.turning {
        out += &turning::turning(answer, width);
    }
    if args.forces {
        out += &carrying::carrying(answer, width);
    }
    let every = args.factors;
    out += &strength_page(record, Options { every, width });
    out + &next(answer, args, shown)
}

fn headline(answer: &LayoutAnswer<'_>, how: &str) -> String {
    let mark = answer.mark;
    match &answer.plan.layout {
        Ok(layout) => {
            let best = if answer.problem.layout().least_bending() {
                "the order with the least bending of the shafts"
            } else {
                "the shortest of all orders"
            };
            let mut text = format!(
                "Set {mark} ({how}): {} mm between the walls, {best} of planes and sleeves, proved.",
                plain(layout.length_mm, 2)
            );
            if layout.assembly.is_err() {
                text += " But none of the orders tried puts it together.";
            }
            text
        }
        Err(faults) => {
            let words: Vec<String> = faults
                .iter()
                .map(|fault| fault.words(&answer.plan.gearbox))
                .collect();
            format!(
                "Set {mark} ({how}) does not go together: {}.",
                words.join("; ")
            )
        }
    }
}

fn shafts(answer: &LayoutAnswer<'_>, width: usize) -> String {
    let sized: Vec<(Shaft, ShaftSize)> = answer
        .plan
        .housed
        .shafts()
        .iter()
        .filter_map(|&shaft| Some((shaft, answer.plan.housed.size(shaft)?)))
        .collect();
    let cells = |cell: &dyn Fn(Shaft, ShaftSize) -> String| {
        sized
            .iter()
            .map(|(shaft, size)| cell(*shaft, *size))
            .collect()
    };
    let bearing = |size: ShaftSize| {
        size.bearing().map_or_else(String::new, |bearing| {
            let mm = |length: crate::base::Length| plain(length.mm(), 0);
            let [bore, outside, wide] =
                [bearing.bore(), bearing.outside(), bearing.width()].map(mm);
            format!("{bore} × {outside} × {wide}")
        })
    };
    let from = |size: ShaftSize| match size.origin() {
        Origin::Given => "the file".to_owned(),
        Origin::Bore => "the bore of its gears".to_owned(),
        Origin::Assumed => "taken: nothing gives it".to_owned(),
        Origin::Torque {
            torque_n_m,
            needed_mm,
        } => {
            format!(
                "{} N m needs {} mm",
                plain(torque_n_m, 1),
                plain(needed_mm, 1)
            )
        }
    };
    let columns = vec![
        Column::left("shaft", cells(&|shaft, _| shaft.word().to_owned())),
        Column::right("Ø mm", cells(&|_, size| plain(size.diameter().mm(), 2))),
        Column::left("bearings mm", cells(&|_, size| bearing(size))),
        Column::left("from", cells(&|_, size| from(size))),
    ];
    let table = Table::new(2, columns);
    let mut out = "\n".to_owned();
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    if let Some(duty) = answer.problem.duty() {
        let text = format!(
            "Sized for {} N m on the input shaft, {} times for shock and bending, {} MPa of shear.",
            plain(duty.input_torque_n_m(), 2),
            plain(duty.shock(), 2),
            plain(duty.shaft_shear_mpa(), 0)
        );
        out += &paragraph(&text, 2, width);
    }
    if answer.problem.bores().any() {
        out += &paragraph(&least_teeth(answer, &sized), 2, width);
    }
    let taken = answer.plan.housed.taken();
    if !taken.is_empty() {
        let words: Vec<&str> = taken.iter().map(|shaft| shaft.word()).collect();
        let text = format!(
            "Nothing in the file says how thick the {} must be: add \"duty\" or \"shafts\".",
            series(&words)
        );
        out += &paragraph(&text, 2, width);
    }
    out
}

/// Fewest teeth over the holes, shaft by shaft; nothing where the file gives no
/// holes.
fn least_teeth(answer: &LayoutAnswer<'_>, sized: &[(Shaft, ShaftSize)]) -> String {
    let bores = answer.problem.bores();
    let bored = sized.iter().filter(|(shaft, _)| bores.on(*shaft).is_some());
    if bored.clone().count() == 0 {
        return String::new();
    }
    let modules = answer.problem.gears().modules();
    let of = |(shaft, _): &(Shaft, ShaftSize)| {
        let least = answer.plan.housed.least_teeth(*shaft);
        let each = modules.iter().zip(least).map(|(own, teeth)| {
            let teeth = teeth.map_or_else(|| "none".to_owned(), |teeth| teeth.to_string());
            format!("{teeth} of module {}", module(own.mm()))
        });
        let each: Vec<String> = each.collect();
        format!("{} {}", shaft.word(), each.join(", "))
    };
    let all: Vec<String> = bored.map(of).collect();
    let wall = plain(answer.problem.limits().min_wall().mm(), 2);
    format!(
        "Fewest teeth that leave {wall} mm over the hole: {}.",
        all.join("; ")
    )
}

fn assembly(layout: &Layout, width: usize) -> String {
    let mut out = String::new();
    match &layout.assembly {
        Ok(steps) => {
            out += "\n  Put together in this order (each step proved free of collisions)\n";
            for (i, step) in steps.iter().enumerate() {
                out += &paragraph(&format!("{}. {}", i + 1, step.words), 4, width);
            }
        }
        Err(obstacles) => {
            out += "\n  In the way\n";
            for obstacle in obstacles {
                out += &paragraph(&obstacle.words, 4, width);
            }
        }
    }
    out
}

fn next(answer: &LayoutAnswer<'_>, args: &Args, shown: &Shown<'_>) -> String {
    let file = shown.command_file();
    let mark = answer.mark;
    let mut lines = Vec::new();
    if !args.turning {
        lines.push((
            format!("layshaft layout {file} --set {mark} --turning"),
            "how everything turns",
        ));
    }
    if !args.forces {
        lines.push((
            format!("layshaft layout {file} --set {mark} --forces"),
            "what it carries",
        ));
    }
    if !args.rates() {
        lines.push((
            format!("layshaft layout {file} --set {mark} --strength"),
            "whether it holds",
        ));
    } else if !args.factors && answer.problem.duty().is_some() {
        lines.push((
            format!("layshaft layout {file} --set {mark} --factors"),
            "every figure behind it",
        ));
    }
    if answer.set.reverse.is_some() {
        lines.push((
            format!("layshaft idler {file} --set {mark}"),
            "other places",
        ));
    }
    lines.push((format!("layshaft solve {file} --set {mark}"), "the gears"));
    next_lines(&lines, shown.width)
}

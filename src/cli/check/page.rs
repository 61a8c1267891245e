//! The screen of `check`.

use super::{Args, tables};
use crate::base::{plain, signed};
use crate::cli::chosen::Shown;
use crate::cli::next::next_lines;
use crate::cli::screen::{paragraph, warning};
use crate::cli::strength::{Options, answer as holding, strength_page};
use crate::export::{CheckAnswer, found_words, over_pins};
use crate::problem::Arrangement;
use std::fmt::Write;

/// Columns before what a finding says.
const INDENT: usize = 5;

/// The text of an answer.
pub(super) fn page(answer: &CheckAnswer<'_>, args: &Args, shown: &Shown<'_>) -> String {
    let width = shown.width;
    let mut out = shown.top(&found_words(answer.examined));
    out += &paragraph(&holding(&answer.strength), 0, width);
    out += &paragraph(&about(answer, shown.how), 0, width);
    out += &faults(answer, width);
    out += &remarks(answer, width);
    out += &tables::ratios(answer, width);
    out += &tables::meshes(answer, width);
    out += &tables::gears(answer, width);
    out += &tables::sizes(answer, width);
    out += &gaps(answer, width);
    out += &along(answer, width);
    let every = args.every;
    out += &strength_page(&answer.strength, Options { every, width });
    out + &next(answer, args, shown)
}

fn about(answer: &CheckAnswer<'_>, how: &str) -> String {
    let examined = answer.examined;
    let shafts = match examined.problem.arrangement() {
        Arrangement::InLine => "in-line",
        Arrangement::Offset => "offset",
    };
    let a = plain(examined.set.centre_distance.mm(), 3);
    let doubt = examined.problem.centre_distances().doubt();
    let measured = if doubt.mm() > 0.0 {
        format!(" (measured to {doubt} mm)")
    } else {
        String::new()
    };
    let title = match examined.problem.title() {
        "" => String::new(),
        title => format!("{title}. "),
    };
    let mark = answer.mark;
    format!("{title}Set {mark} ({how}), {shafts}, shafts {a} mm apart{measured}.")
}

fn faults(answer: &CheckAnswer<'_>, width: usize) -> String {
    let mut out = String::new();
    for (place, fault) in answer.examined.faults().enumerate() {
        let number = (place + 1).to_string();
        let text = format!("{}: {}.", fault.place, fault.what);
        let told = paragraph(&text, INDENT, width);
        let pad = " ".repeat(INDENT.saturating_sub(2 + number.len()));
        let told = format!("  {number}{pad}{}", told.trim_start());
        let _ = write!(out, "\n{}", coloured(&told));
        out += &paragraph(&format!("Do: {}.", fault.next), INDENT, width);
    }
    out
}

/// Line by line, so that no line carries its colour into the next.
fn coloured(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        out += &warning(line);
        out.push('\n');
    }
    out
}

fn remarks(answer: &CheckAnswer<'_>, width: usize) -> String {
    let mut out = String::new();
    for remark in answer.examined.remarks() {
        if out.is_empty() {
            out += "\n  Worth knowing\n";
        }
        let text = format!("{}: {}. Do: {}.", remark.place, remark.what, remark.next);
        out += &paragraph(&text, INDENT, width);
    }
    out
}

/// Reverse across the shafts, and the centres over pins.
fn gaps(answer: &CheckAnswer<'_>, width: usize) -> String {
    let examined = answer.examined;
    let mut out = String::new();
    if let Some(reverse) = &examined.figures.reverse {
        let mut text = format!(
            "Reverse: {} mm between the tips that pass each other.",
            plain(reverse.tip_gap_mm, 2)
        );
        if let Some(idler) = answer.idler() {
            for place in &idler.study.places {
                let _ = write!(
                    text,
                    " Its idler has a clear place on the {}, at x {}, y {} mm",
                    place.side.word(),
                    signed(place.centre.x_mm, 3),
                    signed(place.centre.y_mm, 3)
                );
                let nearest = idler.nearest(place);
                let near =
                    nearest.map(|(thing, mm)| format!(", {} mm from the {thing}", plain(mm, 2)));
                let _ = write!(text, "{}.", near.unwrap_or_default());
            }
        }
        let _ = write!(out, "\n{}", paragraph(&text, 2, width));
    }
    out += "\n  Centres over pins\n";
    for check in &examined.plan.boring.checks {
        let _ = writeln!(out, "    {}", over_pins(check));
    }
    out
}

/// What the layout says, in a sentence.
fn along(answer: &CheckAnswer<'_>, width: usize) -> String {
    let Ok(layout) = &answer.examined.plan.layout else {
        let text = "Where everything stands along the shafts, and whether every sleeve finds its \
                    dogs, is worked out once the faults above are mended.";
        return format!("\n{}", paragraph(text, 2, width));
    };
    let planes: Vec<String> = layout
        .planes
        .iter()
        .map(|plane| plane.role.name(answer.examined.problem).to_owned())
        .collect();
    let text = format!(
        "The shortest box for these gears: {} mm between the walls, planes from the input: {}. \
         Every speed can be engaged.",
        plain(layout.length_mm, 2),
        planes.join(", ")
    );
    format!("\n{}", paragraph(&text, 2, width))
}

fn next(answer: &CheckAnswer<'_>, args: &Args, shown: &Shown<'_>) -> String {
    let file = shown.command_file();
    let sound = answer.examined.faults().next().is_none();
    let line = match (&args.trial, sound) {
        (_, false) => (
            format!("layshaft check {file}"),
            "again, once it is mended or measured",
        ),
        (None, true) => (
            format!("layshaft check {file} --trial trial.md"),
            "a page for the bench: prove it by hand",
        ),
        (Some(_), true) => (
            format!("layshaft check {file} --format json"),
            "every figure, for programs",
        ),
    };
    next_lines(&[line], shown.width)
}

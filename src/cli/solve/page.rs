//! The whole screen of `solve`.

use super::rows;
use super::{Args, best, certified, closing, detail, lists, misses, refused, sheets};
use crate::base::{Length, plain};
use crate::cli::changes;
use crate::cli::screen::{Screen, paragraph, strong};
use crate::cli::words::{counted, few, measure, metal, ranked_by, series};
use crate::export::{Answer, cautions, gear_sheets};
use crate::problem::{Arrangement, Measure};
use crate::search::Bounds;
use crate::train::volume_mm3;
use num_bigint::BigUint;
use std::fmt::Write;

/// What the person asked to see, and how the search ended.
#[derive(Debug)]
pub(super) struct View<'a> {
    pub(super) args: &'a Args,
    pub(super) interrupted: bool,
}

/// The text of an answer.
pub(super) fn page(answer: &Answer<'_>, screen: &Screen, view: &View<'_>) -> String {
    let width = screen.width;
    if !answer.has_sets() {
        let misses = |nearest| misses::misses(answer.problem, nearest, width);
        // Where strength alone is in the way, every ratio can be had.
        let ratios = answer.nearest.as_ref();
        let ratios = ratios.filter(|_| {
            refused::too_weak(answer).is_none() && refused::no_room_for_pin(answer).is_none()
        });
        let below = ratios.map_or(String::new(), misses);
        let changed: String = changes::said(&answer.changes)
            .iter()
            .map(|line| paragraph(line, 0, width))
            .collect();
        return strong_paragraph(&nothing_fits(answer), width)
            + &refused::without_place(answer, width)
            + &refused::workshop(answer, width)
            + &changed
            + &certified::block(answer, view, width)
            + &below
            + &refused::block(answer, width)
            + &closing::ways_on(answer, view.args, width);
    }
    let mut out = strong_paragraph(&sentence(answer, view), width);
    for line in overrides(view.args, answer).lines() {
        out += &paragraph(line, 0, width);
    }
    out += &refused::without_place(answer, width);
    out += &refused::without_strength(answer, width);
    out += &refused::workshop(answer, width);
    if let Some(bounds) = answer.bounds() {
        out += &paragraph(&proved(answer, bounds), 0, width);
    }
    out += &paragraph(&picked(answer, view), 0, width);
    let front = rows::unbeaten(answer);
    out += &best::best(answer);
    out += &if view.args.every {
        lists::plain_list(answer, width)
    } else {
        lists::grouped(answer, &front, width)
    };
    out += &certified::block(answer, view, width);
    let first = answer
        .outcome
        .sets
        .first()
        .or_else(|| front.first().map(|row| row.set));
    let shown = answer
        .chosen
        .or_else(|| first.filter(|_| answer.top > 0 && !view.args.every));
    if let Some(set) = shown {
        let record = answer.record(set);
        let _ = write!(out, "\n{}", detail::detail(answer, set, &record, width));
        if view.args.inspect {
            out += &sheets::block(&gear_sheets(answer.problem, set), width);
        }
        let _ = write!(
            out,
            "\n{}",
            paragraph(&closing::cautions(answer.problem, &record), 2, width)
        );
    } else if answer.problem.duty().is_some() {
        // The list carries safeties.
        let _ = write!(out, "\n{}", paragraph(&cautions(answer.problem), 2, width));
    }
    if view.args.stats {
        out += &refused::block(answer, width);
    }
    out + &closing::next(answer, view, &front, shown, width)
}

/// Bold from the first word to the last.
fn strong_paragraph(text: &str, width: usize) -> String {
    let lines = paragraph(text, 0, width);
    lines.lines().map(|line| strong(line) + "\n").collect()
}

fn nothing_fits(answer: &Answer<'_>) -> String {
    if let Some(text) = refused::too_weak(answer).or_else(|| refused::no_room_for_pin(answer)) {
        return text;
    }
    let distances = answer.problem.centre_distances();
    let apart = match distances.len() {
        1 => format!("on shafts {} mm apart", plain(distances.at(0).mm(), 3)),
        n => format!("at any of the {n} centre distances"),
    };
    match answer.outcome.pairs {
        0 => {
            let limited = answer.problem.workshop_limits();
            let which = if limited {
                " that the workshop can make"
            } else {
                ""
            };
            format!("No set fits. No pair of gears{which} runs properly {apart}.")
        }
        n => format!(
            "No set fits. {} properly {apart}, but no choice of them meets every ratio and limit \
             asked for.",
            few(n, "pair of gears runs", "pairs of gears run")
        ),
    }
}

fn sentence(answer: &Answer<'_>, view: &View<'_>) -> String {
    let counts = &answer.outcome.counts;
    let mut text = counted(&counts.sets, "set fits", "sets fit");
    if counts.sets != BigUint::from(1_u32) && answer.problem.reverse().is_some() {
        let same = match answer.problem.arrangement() {
            Arrangement::InLine => "same head and speed pairs",
            Arrangement::Offset => "same speed pairs",
        };
        let trains = counted(&counts.trains, "forward train", "forward trains");
        let _ = write!(text, ": {trains} ({same}), their reverses differ");
    }
    let distances = answer.problem.centre_distances().len();
    if distances > 1 {
        let _ = write!(text, ", over {distances} centre distances");
    }
    text += &measured(answer);
    text += match (answer.bounds(), view.interrupted) {
        (None, _) => ". All were searched.",
        (Some(_), true) => ". You stopped the search; the list is the best found so far.",
        (Some(_), false) => {
            ". The time limit stopped the search; the list is the best found so far."
        }
    };
    text
}

/// That the centres are what was measured, and how well.
fn measured(answer: &Answer<'_>) -> String {
    let distances = answer.problem.centre_distances();
    if distances.doubt() == Length::ZERO {
        return String::new();
    }
    let (centres, doubt) = (distances.at(0).mm(), distances.doubt().mm());
    format!(
        ", on centres of {} mm as measured, give or take {} mm",
        plain(centres, 3),
        plain(doubt, 3)
    )
}

fn picked(answer: &Answer<'_>, view: &View<'_>) -> String {
    match answer.chosen {
        Some(set) if answer.picked => format!(
            "Set {} is picked: stored in {}.",
            answer.register().shown(set),
            view.args.problem.display()
        ),
        _ => String::new(),
    }
}

/// What the command line changed of the file.
fn overrides(args: &Args, answer: &Answer<'_>) -> String {
    let mut said = changes::said(&answer.changes);
    let mut parts = Vec::new();
    if let Some(ranking) = args.sort {
        parts.push(format!("ranked by {}", ranked_by(ranking)));
    }
    if !args.measures.is_empty() {
        let names: Vec<_> = args.measures.iter().map(|m| measure(*m)).collect();
        parts.push(format!("measured by {}", series(&names)));
    }
    if !parts.is_empty() {
        said.push(format!("On this command line: {}.", parts.join(", ")));
    }
    said.join("\n")
}

fn proved(answer: &Answer<'_>, bounds: Bounds) -> String {
    let bound = |m: &Measure| match m {
        Measure::WorstError => Some(format!(
            "{} % worst error",
            plain(100.0 * bounds.worst_error, 2)
        )),
        Measure::BlankVolume => {
            let volume = volume_mm3(bounds.blank_um2, answer.problem.gears().face().unit());
            Some(format!("{} cm³ of metal", metal(volume)))
        }
        Measure::DistinctCutters => {
            Some(few(bounds.distinct_cutters as usize, "cutter", "cutters"))
        }
        // Nothing is known of these before the search has ended.
        Measure::Bars
        | Measure::Blanks
        | Measure::Setups
        | Measure::Cost
        | Measure::LeastSafety => None,
    };
    let bounds: Vec<_> = answer.problem.measures().iter().filter_map(bound).collect();
    let bounds: Vec<_> = bounds.iter().map(String::as_str).collect();
    format!(
        "Proved: the count is exact, and no set has less than {}.",
        series(&bounds)
    )
}

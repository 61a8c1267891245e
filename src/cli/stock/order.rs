//! What to buy, and the money together.

use super::page::price;
use super::strip::short;
use crate::base::plain;
use crate::cli::screen::{columns, paragraph};
use crate::cli::words::module;
use crate::export::StockAnswer;
use crate::problem::WhichCutter;
use crate::shop::job::money;
use crate::stock::CutterNeed;
use crate::stock::Source;
use std::fmt::Write;

/// What is shorter is not worth its place on the rack, mm: common practice, no
/// source.
const LEAST_KEPT_MM: f64 = 10.0;
/// Where the words of a line begin.
const INDENT: usize = 16;

/// A line with its label, its words, and money at the right.
fn line(label: &str, words: &str, money: &str, width: usize) -> String {
    let head = format!("  {label:<14}{words}");
    let used = columns(&head) + columns(money);
    if money.is_empty() || used < width {
        let pad = if money.is_empty() { 0 } else { width - used };
        return format!("{head}{}{money}\n", " ".repeat(pad));
    }
    let pad = width.saturating_sub(columns(money));
    format!("{head}\n{}{money}\n", " ".repeat(pad))
}

/// Bars, cutters and counts that need a plate.
pub(super) fn order(answer: &StockAnswer<'_>, width: usize) -> String {
    let mut out = "\n".to_owned();
    let mut label = "Order";
    for &(place, count) in &answer.job.plan.buys {
        let Some(rod) = answer.job.stock.rod_of(Source::Bar(place)) else {
            continue;
        };
        let material = answer.job.stock.name(rod.material);
        let many = if count > 1 {
            format!("{count} × ")
        } else {
            String::new()
        };
        let mut words = format!("{many}Ø{} {material}, {} mm", rod.diameter, rod.length);
        if let Some(kg) = answer.bar_kg(Source::Bar(place)) {
            let each = if count > 1 { " each" } else { "" };
            let _ = write!(words, ", {} kg{each}", plain(kg, 2));
        }
        let all = rod
            .price_millionths
            .saturating_mul(u64::try_from(count).unwrap_or(u64::MAX));
        out += &line(label, &words, &price(answer, money(all)), width);
        label = "";
    }
    if answer.job.plan.buys.is_empty() {
        out += &line(label, "no bars", "", width);
    }
    out + &cutters(answer, width) + &dividing(answer, width)
}

fn cutters(answer: &StockAnswer<'_>, width: usize) -> String {
    let mut out = String::new();
    let mut label = "Cutters";
    for set in &answer.job.cutters.sets {
        let words = format!("module {}: the set of eight", module(set.module.mm()));
        out += &line(label, &words, &price(answer, set.price), width);
        label = "";
    }
    for need in &answer.job.cutters.needs {
        let cost = if need.at_hand || need.in_set {
            String::new()
        } else {
            price(answer, need.price)
        };
        out += &line(label, &cutter(need), &cost, width);
        label = "";
    }
    out
}

/// A cutter with the range that must be engraved on it.
fn cutter(need: &CutterNeed) -> String {
    let size = module(need.module.mm());
    let teeth: Vec<String> = need.teeth.iter().map(ToString::to_string).collect();
    let teeth = teeth.join(", ");
    let mut words = match (need.which, need.range) {
        (WhichCutter::Form(number), Some((from, Some(to)))) => {
            format!("module {size}, no. {number} ({from}-{to} teeth)")
        }
        (WhichCutter::Form(number), Some((from, None))) => {
            format!("module {size}, no. {number} ({from} teeth to a rack)")
        }
        (WhichCutter::Form(number), None) => format!("module {size}, no. {number}"),
        (WhichCutter::FormSet, _) => format!("module {size}, all eight"),
        (WhichCutter::Own(_), _) => format!("module {size}, form cutter made for {teeth} teeth"),
        (WhichCutter::Tool, _) => format!("module {size}, hob or rack tool"),
    };
    if need.at_hand {
        words += ", in the drawer";
    } else if need.in_set {
        words += ", of that set";
    }
    words
}

/// Counts that the head does not divide by turns and holes.
fn dividing(answer: &StockAnswer<'_>, width: usize) -> String {
    let counts = answer.undivided();
    let worm = answer.problem.workshop().dividing_head().worm();
    if counts.is_empty() {
        let words = format!("a {worm}:1 head with its circles divides every count");
        return line("Dividing", &words, "", width);
    }
    let counts: Vec<String> = counts.iter().map(ToString::to_string).collect();
    let words = format!(
        "no circle of the {worm}:1 head divides {}: a printed plate, or change gears",
        counts.join(", ")
    );
    let text = paragraph(&words, INDENT, width);
    let label = format!("  {:<14}", "Dividing");
    label + text.trim_start()
}

/// The money.
pub(super) fn together(answer: &StockAnswer<'_>, width: usize) -> String {
    let job = answer.job;
    let mut out = line("Together", "", &price(answer, job.money()), width);
    if let Some(gears) = job.gears_money() {
        let words = "gears and cutters alone, bars for nothing else";
        out += &line("of which", words, &price(answer, gears), width);
    }
    let back: Vec<String> = job
        .plan
        .cuts
        .iter()
        .filter(|cut| cut.left.mm() >= LEAST_KEPT_MM)
        .map(|cut| format!("Ø{} × {}", cut.rod.diameter, short(cut.left.mm())))
        .collect();
    if !back.is_empty() {
        let label = format!("  {:<14}", "Back on rack");
        let text = paragraph(&(back.join(", ") + " mm"), INDENT, width);
        out = out + &label + text.trim_start();
    }
    out
}

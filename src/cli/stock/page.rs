//! The screen of `stock`.

use super::Args;
use super::order::{order, together};
use super::strip::{Stretch, short, strip};
use crate::base::{Decimal, plain};
use crate::cli::chosen::Shown;
use crate::cli::next::next_lines;
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::few;
use crate::export::{StockAnswer, cautions};
use crate::shop::blanks::Kind;
use crate::shop::cutting::Cut;
use crate::stock::Source;
use std::fmt::Write;

/// The text of an answer.
pub(super) fn page(answer: &StockAnswer<'_>, args: &Args, shown: &Shown<'_>) -> String {
    let width = shown.width;
    let mut out = shown.top(&headline(answer));
    let mut about = format!("For set {} ({}).", answer.mark, shown.how);
    if let Some(drawn) = &args.svg {
        let _ = write!(about, " Bars drawn in {}.", drawn.display());
    }
    out += &paragraph(&about, 0, width);
    for cut in &answer.job.plan.cuts {
        let _ = write!(out, "\n{}", bar(answer, cut, width));
    }
    let _ = write!(out, "\n{}", paragraph(&legend(answer), 2, width));
    let _ = write!(out, "\n{}", parts(answer, width));
    out += &order(answer, width);
    out += &together(answer, width);
    let remarks = remarks(answer);
    if !remarks.is_empty() {
        out.push('\n');
    }
    for remark in remarks {
        out += &paragraph(&remark, 2, width);
    }
    let _ = write!(out, "\n{}", paragraph(&cautions(answer.problem), 2, width));
    out + &next(answer, args, shown)
}

/// Money with two decimals and the workshop's word behind it.
pub(super) fn price(answer: &StockAnswer<'_>, money: Decimal) -> String {
    let currency = answer.problem.workshop().currency();
    let text = plain(money.to_f64(), 2);
    if currency.is_empty() {
        text
    } else {
        format!("{text} {currency}")
    }
}

fn headline(answer: &StockAnswer<'_>) -> String {
    let plan = &answer.job.plan;
    let rack = plan
        .cuts
        .iter()
        .any(|cut| matches!(cut.source, Source::Rack(_)));
    let mut text = match plan.bars {
        0 => "Buy no bar: the rack does it all.".to_owned(),
        1 => format!("Buy one bar, {}.", price(answer, answer.job.bars_money())),
        bars => format!(
            "Buy {bars} bars, {}.",
            price(answer, answer.job.bars_money())
        ),
    };
    if rack && plan.bars > 0 {
        text += " The rack does the rest.";
    }
    if plan.bars == 0 && plan.money_is_proved() {
        return text;
    }
    if plan.money_is_proved() {
        text += " No plan costs less (proved).";
    } else {
        let least = crate::shop::job::money(plan.proof.money_at_least_millionths);
        let _ = write!(
            text,
            " No plan costs less than {} (proved).",
            price(answer, least)
        );
    }
    text
}

/// A bar: what it is, its strip, its distances.
fn bar(answer: &StockAnswer<'_>, cut: &Cut, width: usize) -> String {
    let material = answer.job.stock.name(cut.rod.material);
    let (diameter, length) = (cut.rod.diameter, cut.rod.length);
    let (what, from) = match cut.source {
        Source::Rack(_) => ("piece", "rack"),
        Source::Bar(_) => ("bar", "buy"),
    };
    let title = format!("Ø{diameter} {material} {what}, {length} mm");
    let pad = width
        .saturating_sub(2 + title.chars().count() + from.len())
        .max(1);
    let mut out = format!("  {title}{}{from}\n", " ".repeat(pad));
    for line in strip(&stretches(answer, cut), cut.rod.length.mm(), width - 2) {
        let _ = writeln!(out, "  {line}");
    }
    out
}

fn stretches(answer: &StockAnswer<'_>, cut: &Cut) -> Vec<Stretch> {
    let mut stretches = Vec::new();
    for ((place, [from, to]), kerf) in cut.pieces.iter().zip(&cut.kerfs) {
        stretches.push(Stretch {
            mm: [from.mm(), to.mm()],
            words: words(answer, *place),
        });
        if kerf.steps() > 0 {
            stretches.push(Stretch {
                mm: [to.mm(), to.mm() + kerf.mm()],
                words: Vec::new(),
            });
        }
    }
    if cut.left.steps() > 0 {
        let left = short(cut.left.mm());
        let length = cut.rod.length.mm();
        stretches.push(Stretch {
            mm: [length - cut.left.mm(), length],
            words: vec![format!("{left} left"), "left".to_owned(), "-".to_owned()],
        });
    }
    stretches
}

/// What is written in a piece: a gear's teeth; of others the name, or the letter
/// that the list of parts has for it.
fn words(answer: &StockAnswer<'_>, place: usize) -> Vec<String> {
    let label = answer.label(place);
    match answer.job.blanks.get(place) {
        Some(blank) if !matches!(blank.kind, Kind::Gear(..)) => {
            let mut words = vec![label];
            words.extend(answer.letter(place));
            words
        }
        _ => vec![label],
    }
}

fn legend(answer: &StockAnswer<'_>) -> String {
    let allowances = answer.problem.workshop().allowances();
    let (kerf, facing, turning) = (allowances.kerf(), allowances.facing(), allowances.turning());
    let mut text = format!(
        "Numbers in a bar are teeth, letters the parts below; distances are mm from the faced \
         end; bar is the thinnest that does. Saw cut {kerf} mm. Left on each piece: {facing} mm to face at either end, {turning} \
         mm to turn off the diameter."
    );
    if allowances.grip().steps() > 0 {
        let _ = write!(
            text,
            " What is left has the {} mm it is held by.",
            allowances.grip()
        );
    }
    text
}

/// Every part with its sizes.
fn parts(answer: &StockAnswer<'_>, width: usize) -> String {
    let groups = answer.job.alike();
    let rows: Vec<(usize, &[usize])> = groups
        .iter()
        .filter_map(|group| Some((*group.first()?, group.as_slice())))
        .collect();
    let blank = |place: usize| answer.job.blanks.get(place);
    let cells = |cell: &dyn Fn(usize, &[usize]) -> String| {
        rows.iter()
            .map(|(first, group)| cell(*first, group))
            .collect()
    };
    let mark =
        |first: usize, _: &[usize]| answer.letter(first).unwrap_or_else(|| answer.label(first));
    let name = |_: usize, group: &[usize]| answer.group_name(group);
    let size = |of: fn(&crate::shop::blanks::Blank) -> f64| {
        move |first: usize, _: &[usize]| blank(first).map(|b| plain(of(b), 2)).unwrap_or_default()
    };
    let root = |first: usize, _: &[usize]| {
        let root = blank(first).and_then(|blank| blank.root_mm);
        root.map(|mm| plain(mm, 2)).unwrap_or_default()
    };
    let columns = vec![
        Column::right("in\nbar", cells(&mark)),
        Column::left("part", cells(&name)),
        Column::right("outside\nmm", cells(&size(|b| b.outside.mm()))),
        Column::right("root\nmm", cells(&root)),
        Column::right("bore\nmm", cells(&size(|b| b.bore_mm))),
        Column::right("long\nmm", cells(&size(|b| b.length.mm()))),
        Column::right("cut\nmm", cells(&size(|b| b.piece.length.mm()))),
        Column::right("bar\nmm", cells(&size(|b| b.piece.diameter.mm()))),
    ];
    let mut out = String::new();
    for table in Table::new(2, columns).split(width) {
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    out
}

/// What was taken and what is missing.
fn remarks(answer: &StockAnswer<'_>) -> Vec<String> {
    let workshop = answer.problem.workshop();
    let job = answer.job;
    let mut remarks = Vec::new();
    let bars = job.plan.buys.iter().any(|(place, _)| {
        workshop
            .bars()
            .get(*place)
            .is_some_and(crate::problem::Bar::price_taken)
    });
    let bought = job.cutters.needs.iter().any(|need| !need.at_hand);
    let cutters = workshop.cutter_prices_taken() && bought;
    let taken = match (bars, cutters) {
        (true, true) => "Prices of bars and cutters are",
        (true, false) => "Prices of bars are",
        (false, true) => "Prices of cutters are",
        (false, false) => "",
    };
    if !taken.is_empty() {
        remarks.push(format!(
            "{taken} taken, not yours: see \"workshop\" in the file."
        ));
    }
    if !job.laid_out {
        remarks.push(
            "The box can't be laid out, so the bars are for its gears alone: layshaft layout \
             says why."
                .to_owned(),
        );
    }
    for (blank, why) in &job.left_out {
        let why = answer.why(blank, *why);
        remarks.push(format!("Not in the bars: {}; {why}.", blank.name));
    }
    let proof = job.plan.proof;
    if !(proof.bars && proof.metal) {
        remarks.push(format!(
            "Not proved: that {} for this money.",
            if proof.bars {
                "no plan takes less metal"
            } else {
                "no plan has fewer new bars"
            }
        ));
    }
    if !job.left_out.is_empty() || job.laid_out {
        let count = few(job.blanks.len(), "part is", "parts are");
        remarks.push(format!(
            "{count} cut. Keys, washers, bearings, case and selector parts are not among them."
        ));
    }
    remarks
}

fn next(answer: &StockAnswer<'_>, args: &Args, shown: &Shown<'_>) -> String {
    let file = shown.command_file();
    let mark = answer.mark;
    let mut lines = vec![(
        format!("layshaft layout {file} --set {mark}"),
        "where everything stands",
    )];
    if args.svg.is_none() {
        let draw = format!("layshaft stock {file} --set {mark} --svg bars.svg");
        lines.insert(0, (draw, "draws the bars"));
    }
    next_lines(&lines, shown.width)
}

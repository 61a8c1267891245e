//! The screen of `idler`.

use super::Args;
use crate::base::{plain, signed};
use crate::cli::chosen::Shown;
use crate::cli::next::next_lines;
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{few, module};
use crate::design::idler::{ERROR_MM, Place, Refused};
use crate::export::{IdlerAnswer, cautions};
use crate::problem::{Arrangement, HeldIn};
use std::collections::BTreeSet;
use std::fmt::Write;

/// Places and reasons shown without `--all`.
const SHOWN: usize = 5;

/// What the person asked to see.
#[derive(Debug)]
struct View<'a> {
    args: &'a Args,
    shown: &'a Shown<'a>,
}

/// The text of an answer.
pub(super) fn page(answer: &IdlerAnswer<'_>, args: &Args, shown: &Shown<'_>) -> String {
    let width = shown.width;
    let view = View { args, shown };
    let mut out = shown.top(&headline(answer, shown.how));
    let _ = write!(out, "\n{}", paragraph(&frame(answer), 2, width));
    out += &places(answer, &view);
    out += &refused(answer, &view);
    let all = &answer.study.places;
    // What is bored is the set's own idler, where it has a clear place.
    let own = all.iter().find(|place| answer.is_own(place));
    if let Some(place) = own.or_else(|| all.first()) {
        let sides = sides(answer, place);
        if !sides.is_empty() {
            let _ = write!(out, "\n{}", paragraph(&sides, 2, width));
        }
        let _ = write!(out, "\n{}", bore(answer, place));
        let _ = write!(out, "\n{}", paragraph(&loads(answer), 2, width));
    }
    let _ = write!(out, "\n{}", paragraph(&cautions(answer.problem), 2, width));
    out + &next(answer, shown)
}

fn headline(answer: &IdlerAnswer<'_>, how: &str) -> String {
    let Some(gears) = answer.set.reverse else {
        return String::new();
    };
    let places = &answer.study.places;
    let counts: BTreeSet<_> = places.iter().map(|place| place.teeth).collect();
    let mut text = format!(
        "Reverse of set {} ({}): {}→idler→{}, module {} mm. ",
        answer.mark,
        how,
        gears.driver,
        gears.driven,
        module(gears.module.of(answer.problem).mm())
    );
    match places.first() {
        None => text += "No idler has a clear place.",
        Some(best) => {
            let _ = write!(
                text,
                "{} clear, {}. Best: {} teeth on the {}",
                few(places.len(), "place is", "places are"),
                few(counts.len(), "tooth count", "tooth counts"),
                best.teeth,
                best.side.word(),
            );
            text += if best.shares_cutter {
                "; it shares a cutter already needed."
            } else {
                "."
            };
            if !answer.is_own(best) {
                let _ = write!(text, " The set itself has {} teeth.", gears.idler);
            }
        }
    }
    text
}

fn frame(answer: &IdlerAnswer<'_>) -> String {
    let a = plain(answer.set.centre_distance.mm(), 3);
    match answer.problem.arrangement() {
        Arrangement::InLine => {
            format!("Seen from the input end; main shaft at 0, 0; layshaft at 0, -{a} mm.")
        }
        Arrangement::Offset => {
            format!("Seen from the input end; input shaft at 0, 0; output shaft at 0, -{a} mm.")
        }
    }
}

fn places(answer: &IdlerAnswer<'_>, view: &View<'_>) -> String {
    let all = &answer.study.places;
    if all.is_empty() {
        return String::new();
    }
    let mut shown: Vec<&Place> = if view.args.all {
        all.iter().collect()
    } else {
        all.iter().take(SHOWN).collect()
    };
    // The set's own idler is never left out.
    for place in all.iter().filter(|place| answer.is_own(place)) {
        if !shown.contains(&place) {
            shown.push(place);
        }
    }
    let cells = |cell: &dyn Fn(&Place) -> String| shown.iter().map(|place| cell(place)).collect();
    let nearest = |place: &Place| answer.nearest(place).unwrap_or_default();
    let name = |place: &Place| {
        let own = if answer.is_own(place) { "*" } else { "" };
        format!("{} {}{own}", place.teeth, place.side.word())
    };
    let columns = vec![
        Column::left("idler", cells(&name)),
        Column::right("x mm", cells(&|p| plain(p.centre.x_mm, 3))),
        Column::right("y mm", cells(&|p| plain(p.centre.y_mm, 3))),
        Column::left("nearest thing", cells(&|p| nearest(p).0)),
        Column::right("gap\nmm", cells(&|p| plain(nearest(p).1, 2))),
        Column::right("pin load\nN", cells(&|p| plain(p.loads[0].across_n(), 0))),
        Column::right("overrun\nN", cells(&|p| plain(p.loads[1].across_n(), 0))),
    ];
    let mut out = "\n".to_owned();
    for table in Table::new(2, columns).split(view.shown.width) {
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    if shown.iter().any(|place| answer.is_own(place)) {
        out += "  * the idler of the set itself\n";
    }
    if shown.len() < all.len() {
        let _ = writeln!(out, "  ({} more with --all)", all.len() - shown.len());
    }
    out
}

fn refused(answer: &IdlerAnswer<'_>, view: &View<'_>) -> String {
    let all = &answer.study.refused;
    if all.is_empty() {
        return String::new();
    }
    let groups = alike(answer, all);
    let shown = if view.args.all { groups.len() } else { SHOWN };
    let mut out = "\n  Refused\n".to_owned();
    for (who, reasons) in groups.iter().take(shown) {
        out += &paragraph(&format!("{who}: {reasons}"), 3, view.shown.width);
    }
    if groups.len() > shown {
        let _ = writeln!(out, "  ({} more with --all)", groups.len() - shown);
    }
    out
}

/// Neighbours refused for the same reasons together.
fn alike(answer: &IdlerAnswer<'_>, all: &[Refused]) -> Vec<(String, String)> {
    let reasons_of = |refused: &Refused| reasons(answer, refused);
    let same = |a: &Refused, b: &Refused| reasons_of(a) == reasons_of(b);
    all.chunk_by(same)
        .map(|group| {
            let (first, last) = (&group[0], &group[group.len() - 1]);
            let teeth = if first.teeth == last.teeth {
                first.teeth.to_string()
            } else {
                format!("{} to {}", first.teeth, last.teeth)
            };
            let sides: BTreeSet<_> = group.iter().map(|refused| refused.side).collect();
            let side = match (sides.len(), first.side) {
                (1, Some(side)) => side.word(),
                _ => "either side",
            };
            (format!("{teeth} teeth, {side}"), reasons_of(first))
        })
        .collect()
}

fn reasons(answer: &IdlerAnswer<'_>, refused: &Refused) -> String {
    let reasons: Vec<String> = refused.why.iter().map(|why| answer.why(why)).collect();
    reasons.join("; ")
}

/// Which side is kinder to the pin, in a sentence.
fn sides(answer: &IdlerAnswer<'_>, place: &Place) -> String {
    let other = answer.study.places.iter();
    let other = other.filter(|other| other.teeth == place.teeth && other.side != place.side);
    let Some(other) = other.clone().next() else {
        return String::new();
    };
    let (here, there) = (place.loads[0], other.loads[0]);
    let (kind, hard) = if here.across_n() <= there.across_n() {
        (place, other)
    } else {
        (other, place)
    };
    let turning = answer.problem.input_turns().word();
    format!(
        "Kinder side for {} teeth: the {}. With the input turning {turning} the teeth push the \
         idler {}, {} N on the pin; on the {} they push it {}, {} N. Overrun, it is {} N and {} N.",
        place.teeth,
        kind.side.word(),
        towards(kind),
        plain(kind.loads[0].across_n(), 0),
        hard.side.word(),
        towards(hard),
        plain(hard.loads[0].across_n(), 0),
        plain(kind.loads[1].across_n(), 0),
        plain(hard.loads[1].across_n(), 0),
    )
}

/// Whether the drive pushes the idler off the shafts or against them.
fn towards(place: &Place) -> &'static str {
    if place.loads[0].x_n * place.centre.x_mm > 0.0 {
        "out, off the shafts"
    } else {
        "in, towards the shafts"
    }
}

fn bore(answer: &IdlerAnswer<'_>, place: &Place) -> String {
    let (x, y) = (place.centre.x_mm, place.centre.y_mm);
    let inch = |mm: f64| plain(mm / 25.4, 4);
    let mut out = format!(
        "  Bore the pin hole for {} teeth, {}\n",
        place.teeth,
        place.side.word()
    );
    let _ = writeln!(out, "     x  {:>9} mm  ({} in)", plain(x, 3), inch(x));
    let _ = writeln!(out, "     y  {:>9} mm  ({} in)", plain(y, 3), inch(y));
    let names = match answer.problem.arrangement() {
        Arrangement::InLine => ["layshaft", "main"],
        Arrangement::Offset => ["input", "output"],
    };
    let said = |changes: [f64; 2]| {
        let change = |(name, mm): (&str, f64)| {
            let how = if mm < 0.0 { "tighter" } else { "looser" };
            format!("{name} mesh {} {how}", plain(mm.abs(), 3))
        };
        let both: Vec<String> = names.into_iter().zip(changes).map(change).collect();
        both.join(", ")
    };
    let error = plain(ERROR_MM, 2);
    let _ = writeln!(out, "  {error} mm too low        {}", said(place.lower_mm));
    let _ = writeln!(out, "  {error} mm too far right  {}", said(place.right_mm));
    out
}

fn loads(answer: &IdlerAnswer<'_>) -> String {
    let torque = answer.study.torque_n_m;
    let given = if answer.problem.duty().is_some() {
        format!("Pin load at {} N m input torque", plain(torque, 2))
    } else {
        "Pin load for each N m of input torque (the file has no duty)".to_owned()
    };
    let pin = match answer.problem.idler_pin() {
        Some(pin) => {
            let held = match pin.held_in() {
                HeldIn::OutputWall => "a stub in the output wall",
                HeldIn::InputWall => "a stub in the input wall",
                HeldIn::BothWalls => "held in both walls",
            };
            format!("Pin of {} mm, {held}.", signless(pin.pin().mm()))
        }
        None => "Taken for granted: a pin of 6 mm, a stub in the output wall; an \"idler\" block \
                 in the file says otherwise, and makes its clear place a condition."
            .to_owned(),
    };
    format!("{pin} {given}, friction left out: estimate by forces at the pitch circle.")
}

fn signless(mm: f64) -> String {
    signed(mm, 2).trim_start_matches('+').to_owned()
}

fn next(answer: &IdlerAnswer<'_>, shown: &Shown<'_>) -> String {
    let file = shown.command_file();
    let mut lines = vec![(
        format!("layshaft solve {file} --set {}", answer.mark),
        "the whole set",
    )];
    if answer.study.places.is_empty() {
        lines.insert(
            0,
            (format!("layshaft explain {file}"), "finds the ways out"),
        );
    }
    next_lines(&lines, shown.width)
}

//! The cutting plan as a drawing: one strip a bar, lengths to one scale.
//!
//! The page is as wide as A4 between its margins, so that it prints as it is;
//! where the longest bar is longer, all are drawn smaller by one factor, which
//! stands at the foot.

use super::stock::StockAnswer;
use crate::base::{plain, trimmed};
use crate::shop::cutting::Cut;
use crate::stock::Source;
use std::fmt::Write as _;
use std::io::{self, Write};

/// Width of the page, mm.
const PAGE_MM: f64 = 190.0;
/// From the page's edge to the strips, mm.
const EDGE_MM: f64 = 5.0;
/// From one strip to the next, mm.
const STEP_MM: f64 = 27.0;
/// Height of a strip, mm.
const STRIP_MM: f64 = 9.0;
/// Above the first strip, mm.
const HEAD_MM: f64 = 14.0;
/// Marks nearer than this stand in a second row, mm.
const CLOSE_MM: f64 = 9.0;
/// From one line of small text to the next, mm.
const LINE_MM: f64 = 4.2;
/// Letters explained in a line.
const KEY_COLUMNS: usize = 3;
/// Width of a figure of small text, mm.
const FIGURE_MM: f64 = 1.7;

/// Writes the strips.
///
/// # Errors
/// Whatever the writer says.
pub fn write_stock_svg(answer: &StockAnswer<'_>, to: &mut dyn Write) -> io::Result<()> {
    let cuts = &answer.job.plan.cuts;
    let longest = cuts
        .iter()
        .map(|cut| cut.rod.length.mm())
        .fold(1.0, f64::max);
    let scale = ((PAGE_MM - 2.0 * EDGE_MM) / longest).min(1.0);
    let mut top = HEAD_MM;
    let mut strips = String::new();
    for cut in cuts {
        strips += &strip(answer, cut, top, scale);
        top += STEP_MM;
    }
    let lines = u32::try_from(key(answer).len()).map_or(0.0, f64::from);
    let height = top + 4.0 + LINE_MM * lines;
    writeln!(
        to,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{PAGE_MM}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {PAGE_MM} {height}\" font-family=\"sans-serif\" fill=\"#222\">"
    )?;
    writeln!(
        to,
        "<rect width=\"{PAGE_MM}\" height=\"{height}\" fill=\"#fff\"/>"
    )?;
    let title = format!("Set {}: cut from the faced end on the left", answer.mark);
    write!(to, "{}", text(EDGE_MM, 7.0, 4.2, "start", &title))?;
    to.write_all(strips.as_bytes())?;
    let kerf = answer.problem.workshop().allowances().kerf();
    let foot = format!(
        "Marks in mm. Saw cut {kerf} mm. Lengths drawn 1 : {}",
        plain(1.0 / scale, 2)
    );
    write!(to, "{}", text(EDGE_MM, height - 3.0, 3.0, "start", &foot))?;
    let key = key(answer);
    for (line, words) in key.iter().enumerate() {
        let line = u32::try_from(line).map_or(0.0, f64::from);
        write!(
            to,
            "{}",
            text(EDGE_MM, top + LINE_MM * line, 3.0, "start", words)
        )?;
    }
    writeln!(to, "</svg>")
}

/// What the letters stand for, some to a line.
fn key(answer: &StockAnswer<'_>) -> Vec<String> {
    let groups = answer.job.alike();
    let words = groups.iter().filter_map(|group| {
        let letter = answer.letter(*group.first()?)?;
        Some(format!("{letter} {}", answer.group_name(group)))
    });
    let words: Vec<String> = words.collect();
    words
        .chunks(KEY_COLUMNS)
        .map(|line| line.join(";  "))
        .collect()
}

fn strip(answer: &StockAnswer<'_>, cut: &Cut, top: f64, scale: f64) -> String {
    let x = |mm: f64| EDGE_MM + mm * scale;
    let (bar_top, bar_end) = (top + 5.0, x(cut.rod.length.mm()));
    let mut out = text(EDGE_MM, top + 3.0, 3.6, "start", &heading(answer, cut));
    out += &block((EDGE_MM, bar_top), bar_end - EDGE_MM, "#fff");
    let mut marks = Vec::new();
    for (place, [from, to]) in &cut.pieces {
        let (left, right) = (x(from.mm()), x(to.mm()));
        out += &block((left, bar_top), right - left, "#d5dde6");
        out += &label(
            &in_bar(answer, *place, right - left),
            (left, right),
            bar_top,
        );
        marks.extend([from.mm(), to.mm()]);
    }
    if cut.left.steps() > 0 {
        let from = cut.rod.length.mm() - cut.left.mm();
        let words = format!("{} left", figure(cut.left.mm()));
        let (left, right) = (x(from), bar_end);
        if wide_mm(&words) <= right - left {
            out += &label(&words, (left, right), bar_top);
        }
        marks.push(from);
    }
    marks.push(cut.rod.length.mm());
    marks.dedup_by(|one, other| (*one - *other).abs() < 1e-6);
    out + &figures(&marks, bar_top + STRIP_MM, scale)
}

fn heading(answer: &StockAnswer<'_>, cut: &Cut) -> String {
    let material = answer.job.stock.name(cut.rod.material);
    let from = match cut.source {
        Source::Rack(_) => "from the rack",
        Source::Bar(_) => "to buy",
    };
    let (diameter, length) = (cut.rod.diameter, cut.rod.length);
    format!("Ø{diameter} {material}, {length} mm, {from}")
}

fn block((x, y): (f64, f64), width: f64, fill: &str) -> String {
    format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{STRIP_MM}\" fill=\"{fill}\" \
         stroke=\"#222\" stroke-width=\"0.25\"/>\n",
        short(x),
        short(y),
        short(width)
    )
}

/// The words of a piece: its letter where its name has no room.
fn in_bar(answer: &StockAnswer<'_>, place: usize, room_mm: f64) -> String {
    let words = answer.label(place);
    let letter = answer.letter(place).filter(|_| wide_mm(&words) > room_mm);
    letter.unwrap_or(words)
}

/// Width of small text, mm.
fn wide_mm(words: &str) -> f64 {
    let count = u32::try_from(words.chars().count()).unwrap_or(u32::MAX);
    f64::from(count) * FIGURE_MM
}

/// Words in the middle of a piece, smaller where they are too wide.
fn label(words: &str, (left, right): (f64, f64), bar_top: f64) -> String {
    let wide = wide_mm(words);
    let (middle, width) = (f64::midpoint(left, right), right - left);
    let size = if wide <= width {
        3.0
    } else {
        (3.0 * width / wide).max(0.9)
    };
    text(
        middle,
        bar_top + STRIP_MM / 2.0 + size / 3.0,
        size,
        "middle",
        words,
    )
}

/// The distances below a strip, in rows so that none covers another.
fn figures(marks: &[f64], below: f64, scale: f64) -> String {
    let mut out = String::new();
    let mut ends = [f64::MIN; 3];
    for (place, &mark) in marks.iter().enumerate() {
        let x = EDGE_MM + mark * scale;
        let free = ends.iter().position(|end| x - end >= CLOSE_MM);
        let row = free.unwrap_or(0);
        if let Some(end) = ends.get_mut(row) {
            *end = x;
        }
        // Figures stand on the side of their mark where no other mark passes.
        let anchor = if place == 0 || row == 1 {
            "start"
        } else {
            "end"
        };
        let row = u32::try_from(row).map_or(0.0, f64::from);
        let y = below + 3.4 + 2.9 * row;
        // Writing to a String cannot fail.
        let _ = writeln!(
            out,
            "<path d=\"M{0} {1}V{2}\" stroke=\"#222\" stroke-width=\"0.15\"/>",
            short(x),
            short(below),
            short(y)
        );
        let beside = if anchor == "start" { 0.5 } else { -0.5 };
        out += &text(x + beside, y, 2.7, anchor, &figure(mark));
    }
    out
}

/// A distance, to hundredths without needless digits.
fn figure(mm: f64) -> String {
    trimmed(mm, 2)
}

fn text(x: f64, y: f64, size: f64, anchor: &str, words: &str) -> String {
    let words = words.replace('&', "&amp;").replace('<', "&lt;");
    format!(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\">{words}</text>\n",
        short(x),
        short(y),
        short(size)
    )
}

/// A place on the page, to hundredths of a millimetre.
fn short(mm: f64) -> String {
    plain(mm, 2)
}

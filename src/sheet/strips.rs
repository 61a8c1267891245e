//! The cutting plan: one strip a bar, lengths to one scale.
//!
//! The page is as wide as A4 between its margins, so that it prints as it is;
//! where the longest bar is longer, all are drawn smaller by one factor, which
//! stands at the foot.

use super::drawing::{Anchor, Box2, Drawing, Group, Item, Kind, Layer, Shape, at};
use crate::base::{plain, trimmed};

/// Width of the page, mm.
const PAGE_MM: f64 = 190.0;
/// From the page's edge to the strips, mm.
const EDGE_MM: f64 = 5.0;
/// From one strip to the next, but for the rows of figures between, mm.
const STEP_MM: f64 = 18.3;
/// Height of a strip, mm.
const STRIP_MM: f64 = 9.0;
/// Above the first strip, mm.
const HEAD_MM: f64 = 14.0;
/// Size of the figures below a strip, mm.
const FIGURE_MM: f64 = 2.7;
/// From a strip to the foot of its first row of figures, mm.
const FIRST_ROW_MM: f64 = 3.4;
/// From one row of figures to the next, mm.
const ROW_MM: f64 = 2.9;
/// From a figure to its own line, mm.
const BESIDE_MM: f64 = 0.5;
/// From a figure to another or to another line at least, mm.
const APART_MM: f64 = 0.4;
/// From one line of small text to the next, mm.
const LINE_MM: f64 = 4.2;
/// Letters explained in a line.
const KEY_COLUMNS: usize = 3;
/// Size of small text, mm.
const SMALL_MM: f64 = 3.0;
/// Share of its size that a figure of small text is wide.
const WIDE: f64 = 0.57;

/// A plan of bars to draw.
#[derive(Clone, Debug, Default)]
pub struct Strips {
    /// What the plan is for.
    pub title: String,
    /// Width of the saw cut, as it is written.
    pub kerf: String,
    /// The bars.
    pub bars: Vec<Strip>,
    /// What each letter stands for.
    pub key: Vec<String>,
}

/// One bar, mm from the faced end.
#[derive(Clone, Debug)]
pub struct Strip {
    /// What bar it is.
    pub heading: String,
    /// Its length, mm.
    pub length_mm: f64,
    /// Its pieces from the faced end on.
    pub pieces: Vec<StripPiece>,
    /// What is left at the other end, mm.
    pub left_mm: f64,
}

/// A piece of a bar.
#[derive(Clone, Debug)]
pub struct StripPiece {
    /// Where it begins, mm.
    pub from_mm: f64,
    /// Where it ends, mm.
    pub to_mm: f64,
    /// What it is.
    pub words: String,
    /// The letter that stands for that where it has no room.
    pub letter: Option<String>,
}

/// The plan as a page.
pub fn strips(plan: &Strips) -> Drawing {
    let longest = plan
        .bars
        .iter()
        .map(|bar| bar.length_mm)
        .fold(1.0, f64::max);
    let scale = ((PAGE_MM - 2.0 * EDGE_MM) / longest).min(1.0);
    let title = Layer::Text.words(&plan.title, at(EDGE_MM, -7.0), 4.2, Anchor::Start);
    let mut groups = vec![Group::new(Kind::Label, "title", vec![title])];
    let mut top_mm = -HEAD_MM;
    for bar in &plan.bars {
        let (items, rows) = strip(bar, top_mm, scale);
        groups.push(Group::new(Kind::Bar, &bar.heading, items));
        top_mm -= STEP_MM + ROW_MM * small(rows);
    }
    let mut foot = Vec::new();
    for line in plan.key.chunks(KEY_COLUMNS) {
        foot.push(line_of(line.join(";  "), top_mm));
        top_mm -= LINE_MM;
    }
    let words = format!(
        "Marks in mm. Saw cut {} mm. Lengths drawn 1 : {}",
        plan.kerf,
        plain(1.0 / scale, 2)
    );
    foot.push(line_of(words, top_mm - 1.0));
    groups.push(Group::new(Kind::Label, "key", foot));
    Drawing {
        title: plan.title.clone(),
        about: "Each bar with its pieces and what is left, and the distances to mark from the \
                faced end."
            .to_owned(),
        frame: Box2::new(at(0.0, top_mm - 4.0), at(PAGE_MM, 0.0)),
        groups,
    }
}

fn line_of(words: String, y_mm: f64) -> Item {
    Layer::Text.words(words, at(EDGE_MM, y_mm), SMALL_MM, Anchor::Start)
}

/// A strip, and how many rows of figures stand below it.
fn strip(bar: &Strip, top_mm: f64, scale: f64) -> (Vec<Item>, usize) {
    let x = |mm: f64| EDGE_MM + mm * scale;
    let bar_top = top_mm - 5.0;
    let heading = at(EDGE_MM, top_mm - 3.0);
    let mut items = vec![
        Layer::Text.words(&bar.heading, heading, 3.6, Anchor::Start),
        block(Layer::Outline, (x(0.0), x(bar.length_mm)), bar_top),
    ];
    let mut marks = Vec::new();
    for piece in &bar.pieces {
        let ends = (x(piece.from_mm), x(piece.to_mm));
        items.push(block(Layer::Fill, ends, bar_top));
        items.push(label(words_of(piece, ends.1 - ends.0), ends, bar_top));
        marks.extend([piece.from_mm, piece.to_mm]);
    }
    if bar.left_mm > 0.0 {
        let from = bar.length_mm - bar.left_mm;
        let words = format!("{} left", figure(bar.left_mm));
        let ends = (x(from), x(bar.length_mm));
        if small_mm(&words) <= ends.1 - ends.0 {
            items.push(label(&words, ends, bar_top));
        }
        marks.push(from);
    }
    marks.push(bar.length_mm);
    marks.dedup_by(|one, other| (*one - *other).abs() < 1e-6);
    let (below, rows) = figures(&marks, bar_top - STRIP_MM, scale);
    items.extend(below);
    (items, rows)
}

fn block(layer: Layer, (left, right): (f64, f64), top_mm: f64) -> Item {
    layer.draws(Shape::Rect(at(left, top_mm - STRIP_MM), at(right, top_mm)))
}

/// The words of a piece: its letter where its name has no room.
fn words_of(piece: &StripPiece, room_mm: f64) -> &str {
    let letter = piece.letter.as_ref();
    let letter = letter.filter(|_| small_mm(&piece.words) > room_mm);
    letter.unwrap_or(&piece.words)
}

/// Width of words, mm: most of them are figures, narrower than letters.
fn wide_mm(words: &str, size_mm: f64) -> f64 {
    small(words.chars().count()) * WIDE * size_mm
}

/// Width of small text, mm.
fn small_mm(words: &str) -> f64 {
    wide_mm(words, SMALL_MM)
}

/// Words in the middle of a piece, smaller where they are too wide.
fn label(words: &str, (left, right): (f64, f64), top_mm: f64) -> Item {
    let (wide, width) = (small_mm(words), right - left);
    let size_mm = if wide <= width {
        SMALL_MM
    } else {
        (SMALL_MM * width / wide).max(0.9)
    };
    let foot = at(
        f64::midpoint(left, right),
        top_mm - STRIP_MM / 2.0 - size_mm / 3.0,
    );
    Layer::Text.words(words, foot, size_mm, Anchor::Middle)
}

/// A distance that has its place below a strip: its line goes from the strip down
/// to its row, its figure stands beside the line's end.
struct Placed {
    row: usize,
    x_mm: f64,
    from_mm: f64,
    to_mm: f64,
}

impl Placed {
    /// Whether its figure comes near what stands there.
    fn covers(&self, from_mm: f64, to_mm: f64) -> bool {
        self.from_mm < to_mm + APART_MM && from_mm < self.to_mm + APART_MM
    }

    /// Whether neither figure covers the other, nor the line of the other.
    fn is_clear_of(&self, other: &Self) -> bool {
        let line =
            |one: &Self, line: &Self| line.row >= one.row && one.covers(line.x_mm, line.x_mm);
        let figures = self.row == other.row && self.covers(other.from_mm, other.to_mm);
        !(figures || line(self, other) || line(other, self))
    }
}

/// The distances below a strip, each in the first row where it covers nothing; and
/// how many rows there are.
fn figures(marks: &[f64], below_mm: f64, scale: f64) -> (Vec<Item>, usize) {
    let mut items = Vec::new();
    let mut placed: Vec<Placed> = Vec::new();
    let xs: Vec<f64> = marks.iter().map(|mark| EDGE_MM + mark * scale).collect();
    for (place, (&mark, &x_mm)) in marks.iter().zip(&xs).enumerate() {
        let words = figure(mark);
        let wide = wide_mm(&words, FIGURE_MM);
        let beside = |row, anchor| {
            let from_mm = match anchor {
                Anchor::Start => x_mm + BESIDE_MM,
                _ => x_mm - BESIDE_MM - wide,
            };
            let to_mm = from_mm + wide;
            let way = Placed {
                row,
                x_mm,
                from_mm,
                to_mm,
            };
            (anchor, way)
        };
        let below = placed.iter().map(|way| way.row + 1).max().unwrap_or(0);
        let mut ways =
            (0..=below).flat_map(|row| [Anchor::End, Anchor::Start].map(|at| beside(row, at)));
        let free = |(_, way): &(Anchor, Placed)| {
            way.from_mm > 1.0
                && way.to_mm < PAGE_MM - 1.0
                && placed.iter().all(|other| way.is_clear_of(other))
                && !xs[place + 1..].iter().any(|x| way.covers(*x, *x))
        };
        // At the edge of the page there may be no such way.
        let (anchor, way) = ways
            .find(free)
            .unwrap_or_else(|| beside(below, Anchor::Start));
        let beside = if anchor == Anchor::Start {
            BESIDE_MM
        } else {
            -BESIDE_MM
        };
        let y = below_mm - FIRST_ROW_MM - ROW_MM * small(way.row);
        items.push(Layer::Mark.line(at(x_mm, below_mm), at(x_mm, y)));
        items.push(Layer::Text.words(words, at(x_mm + beside, y), FIGURE_MM, anchor));
        placed.push(way);
    }
    let rows = placed.iter().map(|way| way.row + 1).max();
    (items, rows.unwrap_or(0))
}

fn small(count: usize) -> f64 {
    u32::try_from(count).map_or(0.0, f64::from)
}

/// A distance, to hundredths without needless digits.
fn figure(mm: f64) -> String {
    trimmed(mm, 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pieces so short that three rows would not do.
    #[test]
    fn no_figure_covers_another_and_none_is_left_out() {
        for (piece, kerf, scale) in [(20.0, 2.0, 0.36), (8.0, 1.5, 0.36), (14.0, 2.0, 0.72)] {
            let mut marks = vec![0.0];
            for _ in 0..12 {
                let last = marks[marks.len() - 1];
                marks.extend([last + piece, last + piece + kerf]);
            }
            marks.push(500.0);
            let (items, rows) = figures(&marks, 0.0, scale);
            assert_eq!(items.len(), 2 * marks.len());
            assert!((2..30).contains(&rows), "{rows}");
            let texts = items.iter().filter_map(|item| match &item.shape {
                Shape::Text {
                    words, at, anchor, ..
                } => {
                    let wide = wide_mm(words, FIGURE_MM);
                    let from = at.x_mm - if *anchor == Anchor::End { wide } else { 0.0 };
                    Some((at.y_mm, from, from + wide))
                }
                _ => None,
            });
            let texts: Vec<(f64, f64, f64)> = texts.collect();
            for (i, one) in texts.iter().enumerate() {
                for other in &texts[..i] {
                    let beside = one.1 >= other.2 || other.1 >= one.2;
                    assert!((one.0 - other.0).abs() > 1.0 || beside, "{one:?} {other:?}");
                }
            }
        }
    }
}

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
/// From one strip to the next, mm.
const STEP_MM: f64 = 27.0;
/// Height of a strip, mm.
const STRIP_MM: f64 = 9.0;
/// Above the first strip, mm.
const HEAD_MM: f64 = 14.0;
/// Marks nearer than this stand in another row, mm.
const CLOSE_MM: f64 = 9.0;
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
        groups.push(Group::new(
            Kind::Bar,
            &bar.heading,
            strip(bar, top_mm, scale),
        ));
        top_mm -= STEP_MM;
    }
    let mut foot = Vec::new();
    for line in plan.key.chunks(KEY_COLUMNS) {
        foot.push(small(line.join(";  "), top_mm));
        top_mm -= LINE_MM;
    }
    let words = format!(
        "Marks in mm. Saw cut {} mm. Lengths drawn 1 : {}",
        plan.kerf,
        plain(1.0 / scale, 2)
    );
    foot.push(small(words, top_mm - 1.0));
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

fn small(words: String, y_mm: f64) -> Item {
    Layer::Text.words(words, at(EDGE_MM, y_mm), SMALL_MM, Anchor::Start)
}

fn strip(bar: &Strip, top_mm: f64, scale: f64) -> Vec<Item> {
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
    items.extend(figures(&marks, bar_top - STRIP_MM, scale));
    items
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

/// Width of small text, mm.
fn small_mm(words: &str) -> f64 {
    let count = u32::try_from(words.chars().count()).unwrap_or(u32::MAX);
    f64::from(count) * WIDE * SMALL_MM
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

/// The distances below a strip, in rows so that none covers another.
fn figures(marks: &[f64], below_mm: f64, scale: f64) -> Vec<Item> {
    let mut items = Vec::new();
    let mut ends = [f64::MIN; 3];
    for (place, &mark) in marks.iter().enumerate() {
        let x = EDGE_MM + mark * scale;
        let free = ends.iter().position(|end| x - end >= CLOSE_MM);
        let row = free.unwrap_or(0);
        if let Some(end) = ends.get_mut(row) {
            *end = x;
        }
        // Figures stand on the side of their mark where no other mark passes.
        let (anchor, beside) = if place == 0 || row == 1 {
            (Anchor::Start, 0.5)
        } else {
            (Anchor::End, -0.5)
        };
        let row = u32::try_from(row).map_or(0.0, f64::from);
        let y = below_mm - 3.4 - 2.9 * row;
        items.push(Layer::Mark.line(at(x, below_mm), at(x, y)));
        items.push(Layer::Text.words(figure(mark), at(x + beside, y), 2.7, anchor));
    }
    items
}

/// A distance, to hundredths without needless digits.
fn figure(mm: f64) -> String {
    trimmed(mm, 2)
}

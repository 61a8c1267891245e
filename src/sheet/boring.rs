//! The boring plan of a wall, seen from outside: holes about the datum, and a
//! table of their places.

use super::drawing::{Anchor, Box2, Drawing, Group, Item, Kind, Layer, at};
use super::shape::wide_mm;
use super::views::Scene;
use crate::base::{Length, plain};
use crate::design::Plan;
use crate::design::boring::{Hole, PinCheck};
use crate::design::planes::End;
use crate::problem::{Problem, Shaft};
use crate::train::{Point, Set};

/// Letters that stand for holes, in the order of the table.
const LETTERS: [&str; 4] = ["A", "B", "C", "D"];

/// The plans of the input wall and of the output wall; with the places of the
/// holes in a table beside them, or as the picture alone.
pub fn boring_plans(
    problem: &Problem,
    set: &Set,
    plan: &Plan<'_>,
    with_table: bool,
) -> [Drawing; 2] {
    let scene = Scene::new(problem, set, plan);
    [End::Input, End::Output].map(|end| {
        let holes = match end {
            End::Input => &plan.boring.input,
            End::Output => &plan.boring.output,
        };
        let wall = Wall {
            scene: &scene,
            end,
            holes,
        };
        wall.drawing(with_table)
    })
}

/// A wall with its holes.
struct Wall<'a> {
    scene: &'a Scene<'a>,
    end: End,
    holes: &'a [Hole],
}

impl Wall<'_> {
    fn drawing(&self, with_table: bool) -> Drawing {
        let room = self.room();
        let mut groups = vec![
            self.gears(),
            self.holes(),
            self.datum(),
            self.distance(room),
        ];
        if with_table {
            groups.push(self.table(room));
        }
        let items = groups.iter().flat_map(|group| &group.items);
        let all = items.map(|item| item.shape.bounds());
        let frame = all.fold(room, Box2::with).grown(self.scene.letter_mm);
        let wall = self.end.word();
        Drawing {
            title: format!("Boring plan, {wall} wall seen from the {wall} end"),
            about: self.about(),
            frame,
            groups,
        }
    }

    fn about(&self) -> String {
        let places = self.holes.iter().enumerate().map(|(i, hole)| {
            format!(
                "{} {} at {:.3}, {:.3} mm",
                letter(i),
                bored_for(hole.shaft),
                hole.place.x_mm,
                hole.place.y_mm
            )
        });
        let places: Vec<String> = places.collect();
        format!("From the datum, right and up: {}.", places.join("; "))
    }

    /// A place of the end view as this face shows it.
    fn seen(&self, place: Point) -> Point {
        let [x0, y0] = self.scene.problem.layout().datum().map(Length::mm);
        let turned = match self.end {
            End::Input => 1.0,
            End::Output => -1.0,
        };
        at(turned * (x0 + place.x_mm), y0 + place.y_mm)
    }

    /// Around gears, holes and the datum.
    fn room(&self) -> Box2 {
        let start = Box2::new(at(0.0, 0.0), at(0.0, 0.0));
        let gears = self.gears();
        let all = gears.items.iter().map(|item| item.shape.bounds());
        let holes = self.holes.iter();
        let holes = holes.map(|hole| Box2::round(hole.place, radius_mm(hole)));
        all.chain(holes).fold(start, Box2::with)
    }

    /// What turns behind the wall, as thin circles.
    fn gears(&self) -> Group {
        let scene = self.scene;
        let circle = |wheel: &super::views::Wheel| {
            let axis = scene.axis(wheel.shaft, scene.plan.side)?;
            let tip = Layer::Tip.circle(self.seen(axis), wheel.made.tip_mm() / 2.0);
            Some(tip)
        };
        let items = scene.wheels.iter().filter_map(circle).collect();
        Group::new(Kind::Circles, "gears behind the wall", items)
    }

    fn holes(&self) -> Group {
        let drawn = |(i, hole): (usize, &Hole)| self.hole(letter(i), hole);
        let items = self.holes.iter().enumerate().flat_map(drawn).collect();
        Group::new(Kind::Hole, "holes", items)
    }

    /// A circle with centre lines and its letter beside it.
    fn hole(&self, letter: &str, hole: &Hole) -> Vec<Item> {
        let size = self.scene.letter_mm;
        let (Point { x_mm, y_mm }, radius) = (hole.place, radius_mm(hole));
        let reach = radius + size;
        let beside = 0.72 * radius + 0.5 * size;
        let mut items = vec![
            Layer::Centre.line(at(x_mm - reach, y_mm), at(x_mm + reach, y_mm)),
            Layer::Centre.line(at(x_mm, y_mm - reach), at(x_mm, y_mm + reach)),
            Layer::Text.words(
                letter,
                at(x_mm + beside, y_mm + beside),
                1.4 * size,
                Anchor::Start,
            ),
        ];
        if radius > 0.0 {
            items.push(Layer::Bore.circle(hole.place, radius));
        }
        items
    }

    /// A crossed circle where everything is measured from.
    fn datum(&self) -> Group {
        let size = self.scene.letter_mm;
        let zero = at(0.0, 0.0);
        let mut items = vec![Layer::Mark.circle(zero, 0.6 * size)];
        for (dx, dy) in [(1.0, 0.0), (0.0, 1.0)] {
            let end = |sign: f64| at(sign * dx * size, sign * dy * size);
            items.push(Layer::Mark.line(end(-1.0), end(1.0)));
        }
        let (words, small) = (at(0.7 * size, -1.3 * size), 0.7 * size);
        items.push(Layer::Text.words("0, 0", words, small, Anchor::Start));
        Group::new(Kind::Datum, "datum", items)
    }

    /// Between the first two holes: the shafts.
    fn distance(&self, room: Box2) -> Group {
        let mut items = Vec::new();
        if let [upper, lower, ..] = self.holes {
            let x = room.low.x_mm - 1.5 * self.scene.letter_mm;
            items = super::dimension::upright(x, [lower.place, upper.place], self.scene.letter_mm);
        }
        Group::new(Kind::Dimension, "centre distance", items)
    }

    /// Holes, then checks over pins, to the right of everything.
    fn table(&self, room: Box2) -> Group {
        let mut rows = vec![["", "hole for", "Ø mm", "x mm", "y mm"].map(str::to_owned)];
        rows.extend(self.holes.iter().enumerate().map(|(i, hole)| row(i, hole)));
        let mut table = Table::new(self.scene.letter_mm, room);
        table.rows(&rows);
        let checks = self.scene.plan.boring.checks.iter();
        let checks: Vec<_> = checks.filter_map(|check| self.check(check)).collect();
        if !checks.is_empty() {
            let head = ["", "check over pins", "pins mm", "apart mm", "outside mm"];
            let rows: Vec<_> = [head.map(str::to_owned)]
                .into_iter()
                .chain(checks)
                .collect();
            table.rows(&rows);
        }
        Group::new(Kind::Label, "places", table.items)
    }

    /// A check between two holes of this wall.
    fn check(&self, check: &PinCheck) -> Option<[String; 5]> {
        let [one, other] = check.shafts.map(|shaft| {
            let place = self.holes.iter().position(|hole| hole.shaft == shaft);
            place.map(letter)
        });
        let [first, second] = check.pins_mm.map(|mm| plain(mm, 2));
        Some([
            String::new(),
            format!("{} to {}", one?, other?),
            format!("{first}, {second}"),
            plain(check.apart_mm, 3),
            plain(check.outside_mm, 3),
        ])
    }
}

fn letter(place: usize) -> &'static str {
    LETTERS.get(place).copied().unwrap_or("+")
}

fn radius_mm(hole: &Hole) -> f64 {
    hole.diameter_mm.unwrap_or(0.0) / 2.0
}

/// What a bore is for.
pub const fn bored_for(shaft: Shaft) -> &'static str {
    match shaft {
        Shaft::Idler => "idler pin",
        other => other.word(),
    }
}

fn row(place: usize, hole: &Hole) -> [String; 5] {
    [
        letter(place).to_owned(),
        bored_for(hole.shaft).to_owned(),
        hole.diameter_mm.map_or_else(String::new, |mm| plain(mm, 2)),
        plain(hole.place.x_mm, 3),
        plain(hole.place.y_mm, 3),
    ]
}

/// Lines of words in columns, downwards.
struct Table {
    size_mm: f64,
    /// Foot of the next line, at its left end.
    next: Point,
    items: Vec<Item>,
}

impl Table {
    /// To the right of what is drawn.
    fn new(size_mm: f64, room: Box2) -> Self {
        let next = at(
            room.high.x_mm + 3.0 * size_mm,
            room.high.y_mm - 1.5 * size_mm,
        );
        Self {
            size_mm,
            next,
            items: Vec::new(),
        }
    }

    /// The head first; words to the left of their column, figures to the right.
    fn rows(&mut self, rows: &[[String; 5]]) {
        let width = |column: usize| {
            let cells = rows.iter().map(|row| wide_mm(&row[column], self.size_mm));
            cells.fold(0.0, f64::max) + self.size_mm
        };
        let widths = [0, 1, 2, 3, 4].map(width);
        for cells in rows {
            let mut left = self.next.x_mm;
            for ((column, cell), wide) in cells.iter().enumerate().zip(widths) {
                let (x, anchor) = if column < 2 {
                    (left, Anchor::Start)
                } else {
                    (left + wide - self.size_mm, Anchor::End)
                };
                left += wide;
                if !cell.is_empty() {
                    let foot = at(x, self.next.y_mm);
                    self.items
                        .push(Layer::Text.words(cell, foot, self.size_mm, anchor));
                }
            }
            self.next.y_mm -= 1.7 * self.size_mm;
        }
        self.next.y_mm -= 1.7 * self.size_mm;
    }
}

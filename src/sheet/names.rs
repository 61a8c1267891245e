//! The section with a number at every kind of part, and what each is for.

use super::drawing::{Anchor, Box2, Drawing, Group, Item, Kind, Layer, at};
use super::section::section;
use super::shape::wide_mm;
use super::views::Scene;
use crate::design::Plan;
use crate::design::planes::{Layout, Part, PartId};
use crate::problem::{Problem, Shaft};
use crate::train::{Point, Role, Seat, Set};

/// A part that gets a number.
struct Named {
    words: String,
    /// A place inside it.
    at: Point,
}

/// The drawing; none where nothing is laid out.
pub fn names_of_parts(problem: &Problem, set: &Set, plan: &Plan<'_>) -> Option<Drawing> {
    let scene = Scene::new(problem, set, plan);
    let layout = plan.layout.as_ref().ok()?;
    let mut drawing = section(&scene)?.still("neutral", plan.side);
    drawing
        .groups
        .retain(|group| !matches!(group.kind, Kind::Label | Kind::Count));
    let mut named = parts(&scene, layout);
    // From left to right, so that no two leaders cross far.
    named.sort_by(|one, other| one.at.x_mm.total_cmp(&other.at.x_mm));
    let middle = f64::midpoint(Scene::upper().y_mm, scene.lower().y_mm);
    let mut frame = drawing.frame;
    let size = scene.letter_mm;
    let above = scene.tips().high.y_mm + 3.0 * size;
    let below = scene.tips().low.y_mm - 3.0 * size;
    let upper = row(&named, &|part| part.at.y_mm >= middle, above, (frame, size));
    let lower = row(&named, &|part| part.at.y_mm < middle, below, (frame, size));
    frame.high.y_mm = above + 2.0 * size;
    frame.low.y_mm = below - size;
    let mut items = Vec::new();
    let mut key = Key::new(frame, size);
    for (number, part, balloon) in numbered(&named, upper.into_iter().chain(lower).collect()) {
        items.extend(leader(number, part.at, balloon, size));
        key.line(number, &part.words);
    }
    drawing
        .groups
        .push(Group::new(Kind::Label, "numbers", items));
    frame = frame.with(key.frame());
    drawing
        .groups
        .push(Group::new(Kind::Label, "names", key.items));
    drawing.frame = frame;
    drawing.title = "What the parts are called".to_owned();
    Some(drawing)
}

/// Numbers in the order of reading: the upper row, then the lower.
fn numbered(named: &[Named], balloons: Vec<(usize, Point)>) -> Vec<(usize, &Named, Point)> {
    let with = balloons.into_iter().zip(1..);
    with.filter_map(|((place, balloon), number)| Some((number, named.get(place)?, balloon)))
        .collect()
}

/// Where the numbers of a row stand: above their parts as far as they leave
/// each other room.
fn row(
    named: &[Named],
    mine: &dyn Fn(&Named) -> bool,
    y_mm: f64,
    (frame, size_mm): (Box2, f64),
) -> Vec<(usize, Point)> {
    let step = 2.6 * size_mm;
    let mut places: Vec<(usize, f64)> = Vec::new();
    for (place, part) in named.iter().enumerate().filter(|(_, part)| mine(part)) {
        let least = places.last().map_or(f64::MIN, |(_, x)| x + step);
        places.push((place, part.at.x_mm.max(least)));
    }
    // What was pushed over the right edge moves back.
    let mut most = frame.high.x_mm - size_mm;
    for (_, x) in places.iter_mut().rev() {
        *x = x.min(most);
        most = *x - step;
    }
    places
        .into_iter()
        .map(|(place, x)| (place, at(x, y_mm)))
        .collect()
}

/// A number in a circle, a line to the part and a dot there.
fn leader(number: usize, part: Point, balloon: Point, size_mm: f64) -> Vec<Item> {
    let (dx, dy) = (part.x_mm - balloon.x_mm, part.y_mm - balloon.y_mm);
    let long = dx.hypot(dy).max(f64::MIN_POSITIVE);
    let radius = 1.1 * size_mm;
    let edge = at(
        balloon.x_mm + dx / long * radius,
        balloon.y_mm + dy / long * radius,
    );
    vec![
        Layer::Dimension.line(edge, part),
        Layer::Dimension.circle(part, 0.18 * size_mm),
        Layer::Dimension.circle(balloon, radius),
        Layer::Text.words(
            number.to_string(),
            at(balloon.x_mm, balloon.y_mm - 0.36 * size_mm),
            size_mm,
            Anchor::Middle,
        ),
    ]
}

/// The list of names below the drawing.
struct Key {
    size_mm: f64,
    next: Point,
    wide_mm: f64,
    items: Vec<Item>,
    top: f64,
}

impl Key {
    fn new(frame: Box2, letter_mm: f64) -> Self {
        let top = frame.low.y_mm - 2.0 * letter_mm;
        Self {
            size_mm: 0.9 * letter_mm,
            next: at(frame.low.x_mm, top),
            wide_mm: 0.0,
            items: Vec::new(),
            top,
        }
    }

    fn line(&mut self, number: usize, words: &str) {
        let Point { x_mm, y_mm } = self.next;
        let left = x_mm + 2.6 * self.size_mm;
        let figure = at(x_mm + 1.8 * self.size_mm, y_mm);
        self.items.extend([
            Layer::Text.words(number.to_string(), figure, self.size_mm, Anchor::End),
            Layer::Text.words(words, at(left, y_mm), self.size_mm, Anchor::Start),
        ]);
        self.wide_mm = self.wide_mm.max(left - x_mm + wide_mm(words, self.size_mm));
        self.next.y_mm -= 1.7 * self.size_mm;
    }

    fn frame(&self) -> Box2 {
        let low = at(self.next.x_mm, self.next.y_mm);
        Box2::new(low, at(self.next.x_mm + self.wide_mm, self.top))
    }
}

/// The parts that get a number, one of each kind.
fn parts(scene: &Scene<'_>, layout: &Layout) -> Vec<Named> {
    let mut named = Vec::new();
    let all = &layout.parts;
    let mut add = |part: Option<&Part>, words: &str, share: f64, sign: f64| {
        let found = part.and_then(|part| {
            let axis = scene.axis(part.shaft, scene.plan.side)?;
            let radius =
                part.inner_radius_mm + share * (part.outer_radius_mm - part.inner_radius_mm);
            let x = f64::midpoint(part.from_mm, part.to_mm);
            Some(at(x, axis.y_mm + sign * radius))
        });
        named.extend(found.map(|at| Named {
            words: words.to_owned(),
            at,
        }));
    };
    let longest = |shaft: Shaft| {
        let own = all.iter().filter(|part| part.id == PartId::Shaft(shaft));
        own.max_by(|one, other| (one.to_mm - one.from_mm).total_cmp(&(other.to_mm - other.from_mm)))
    };
    let is = |id: PartId| all.iter().find(|part| part.id == id);
    let first = |test: &dyn Fn(PartId) -> bool| all.iter().find(|part| test(part.id));
    let in_line = scene.plan.housed.shafts().contains(&Shaft::Layshaft);
    add(
        longest(Shaft::Input),
        "input shaft: brings the power in",
        0.3,
        1.0,
    );
    if in_line {
        add(
            is(PartId::Gear(Role::Head, Seat::Driver)),
            "input gear, of one piece with the input shaft or fixed to it: drives the head pair",
            0.6,
            1.0,
        );
        add(
            is(PartId::Gear(Role::Head, Seat::Driven)),
            "layshaft gear of the head pair: turns the layshaft whenever the input turns",
            0.5,
            -1.0,
        );
        add(
            longest(Shaft::Layshaft),
            "layshaft: carries its gears round as one piece",
            0.3,
            -1.0,
        );
        add(
            longest(Shaft::Main),
            "main shaft: takes the power out; free gears run on it",
            0.3,
            1.0,
        );
        let spigot = all
            .iter()
            .filter(|part| part.id == PartId::Shaft(Shaft::Main));
        let spigot = spigot.min_by(|one, other| one.from_mm.total_cmp(&other.from_mm));
        add(
            spigot,
            "spigot: the end of the main shaft, which runs in the input gear",
            0.3,
            -1.0,
        );
    } else {
        add(
            longest(Shaft::Output),
            "output shaft: takes the power out; free gears run on it",
            0.3,
            -1.0,
        );
    }
    add(
        first(&|id| matches!(id, PartId::Gear(Role::Speed(_), Seat::Driver))),
        "fixed gear: turns with its shaft",
        0.5,
        if in_line { -1.0 } else { 1.0 },
    );
    let sign = if in_line { 1.0 } else { -1.0 };
    add(
        first(&|id| matches!(id, PartId::Gear(Role::Speed(_), Seat::Driven))),
        "free gear: always in mesh, runs free until its dogs are locked",
        0.5,
        sign,
    );
    add(
        first(&|id| matches!(id, PartId::DogRing(Role::Speed(_)))),
        "dog ring: the dogs on the side of a free gear",
        0.8,
        sign,
    );
    add(
        first(&|id| matches!(id, PartId::Sleeve(_))),
        "dog sleeve: turns with the shaft, slides on it and locks one gear at a time",
        0.55,
        sign,
    );
    let groove = all
        .iter()
        .rfind(|part| matches!(part.id, PartId::Sleeve(_)));
    add(
        groove,
        "groove for the fork that slides the sleeve",
        0.85,
        sign,
    );
    add(
        first(&|id| matches!(id, PartId::Gear(_, Seat::Idler))),
        "idler: between the gears of reverse, turns their sense about",
        0.4,
        -1.0,
    );
    add(
        is(PartId::Pin),
        "idler's pin: stands still in the wall",
        0.4,
        1.0,
    );
    let walls = first(&|id| matches!(id, PartId::Bearing(Shaft::Layshaft | Shaft::Output, _)));
    add(walls, "bearing, in its bore of the wall", 0.5, -1.0);
    named
}

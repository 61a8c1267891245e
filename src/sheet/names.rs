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
    words: &'static str,
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
        key.line(number, part.words);
    }
    drawing
        .groups
        .push(Group::new(Kind::Label, "numbers", items));
    frame = frame.with(key.frame());
    drawing
        .groups
        .push(Group::new(Kind::Label, "names", key.items));
    drawing.frame = frame;
    Some(Drawing {
        title: "What the parts are called".to_owned(),
        ..drawing
    })
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
    let in_line = scene.plan.housed.shafts().contains(&Shaft::Layshaft);
    let seen = Seen { scene, layout };
    let own = if in_line { &IN_LINE[..] } else { &OFFSET[..] };
    let all = own
        .iter()
        .chain(if in_line { &WITH_MAIN } else { &WITH_OUTPUT });
    all.chain(&REVERSE)
        .filter_map(|entry| seen.named(entry))
        .collect()
}

/// A kind of part: which of them is shown, where in it the dot stands (a share
/// of the way from its hole outwards, above its axis or below), what it is for.
type Entry = (Which, f64, Half, &'static str);

/// Which part is shown of a kind.
#[derive(Clone, Copy)]
enum Which {
    /// The longest length of a shaft.
    Shaft(Shaft),
    /// The end of the main shaft towards the input.
    Spigot,
    /// The first gear in a seat, of the head or of a speed.
    Head(Seat),
    Speed(Seat),
    Idler,
    DogRing,
    FirstSleeve,
    LastSleeve,
    Pin,
    /// A bearing of the lower shaft.
    Bearing,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Half {
    Above,
    Below,
}

const IN_LINE: [Entry; 5] = [
    (
        Which::Shaft(Shaft::Input),
        0.3,
        Half::Above,
        "input shaft: brings the power in",
    ),
    (
        Which::Head(Seat::Driver),
        0.6,
        Half::Above,
        "input gear, of one piece with the input shaft or fixed to it: drives the head pair",
    ),
    (
        Which::Head(Seat::Driven),
        0.5,
        Half::Below,
        "layshaft gear of the head pair: turns the layshaft whenever the input turns",
    ),
    (
        Which::Shaft(Shaft::Layshaft),
        0.3,
        Half::Below,
        "layshaft: carries its gears round as one piece",
    ),
    (
        Which::Spigot,
        0.3,
        Half::Below,
        "spigot: the end of the main shaft, which runs in the input gear",
    ),
];

const OFFSET: [Entry; 1] = [(
    Which::Shaft(Shaft::Input),
    0.3,
    Half::Above,
    "input shaft: brings the power in and carries its gears round as one piece",
)];

const WITH_MAIN: [Entry; 6] = on_free_shaft(
    (
        Which::Shaft(Shaft::Main),
        0.3,
        Half::Above,
        "main shaft: takes the power out; free gears run on it",
    ),
    Half::Below,
);
const WITH_OUTPUT: [Entry; 6] = on_free_shaft(
    (
        Which::Shaft(Shaft::Output),
        0.3,
        Half::Below,
        "output shaft: takes the power out; free gears run on it",
    ),
    Half::Above,
);

/// What sits on the shaft of the free gears, on the side of it away from the
/// other shaft.
const fn on_free_shaft(shaft: Entry, fixed: Half) -> [Entry; 6] {
    let (_, _, away, _) = shaft;
    [
        shaft,
        (
            Which::Speed(Seat::Driver),
            0.5,
            fixed,
            "fixed gear: turns with its shaft",
        ),
        (
            Which::Speed(Seat::Driven),
            0.5,
            away,
            "free gear: always in mesh, runs free until its dogs are locked",
        ),
        (
            Which::DogRing,
            0.8,
            away,
            "dog ring: the dogs on the side of a free gear",
        ),
        (
            Which::FirstSleeve,
            0.55,
            away,
            "dog sleeve: turns with the shaft, slides on it and locks one gear at a time",
        ),
        (
            Which::LastSleeve,
            0.85,
            away,
            "groove for the fork that slides the sleeve",
        ),
    ]
}

const REVERSE: [Entry; 3] = [
    (
        Which::Idler,
        0.4,
        Half::Below,
        "idler: between the gears of reverse, turns their sense about",
    ),
    (
        Which::Pin,
        0.4,
        Half::Above,
        "idler's pin: stands still in the wall",
    ),
    (
        Which::Bearing,
        0.5,
        Half::Below,
        "bearing, in its bore of the wall",
    ),
];

/// What is looked at.
struct Seen<'a> {
    scene: &'a Scene<'a>,
    layout: &'a Layout,
}

impl Seen<'_> {
    /// The part with its dot; none where the box has none.
    fn named(&self, &(which, share, half, words): &Entry) -> Option<Named> {
        let part = self.part(which)?;
        let axis = self.scene.axis(part.shaft, self.scene.plan.side)?;
        let radius = part.inner_radius_mm + share * (part.outer_radius_mm - part.inner_radius_mm);
        let sign = if half == Half::Above { 1.0 } else { -1.0 };
        let x = f64::midpoint(part.from_mm, part.to_mm);
        Some(Named {
            words,
            at: at(x, axis.y_mm + sign * radius),
        })
    }

    fn part(&self, which: Which) -> Option<&Part> {
        let mut all = self.layout.parts.iter();
        let lengths = |shaft| {
            let own = self.layout.parts.iter();
            own.filter(move |part| part.id == PartId::Shaft(shaft))
        };
        let long = |part: &Part| part.to_mm - part.from_mm;
        match which {
            Which::Shaft(shaft) => {
                lengths(shaft).max_by(|one, other| long(one).total_cmp(&long(other)))
            }
            Which::Spigot => {
                lengths(Shaft::Main).min_by(|one, other| one.from_mm.total_cmp(&other.from_mm))
            }
            Which::Head(seat) => all.find(|part| part.id == PartId::Gear(Role::Head, seat)),
            Which::Speed(seat) => {
                all.find(|part| matches!(part.id, PartId::Gear(Role::Speed(_), own) if own == seat))
            }
            Which::Idler => all.find(|part| matches!(part.id, PartId::Gear(_, Seat::Idler))),
            Which::DogRing => all.find(|part| matches!(part.id, PartId::DogRing(Role::Speed(_)))),
            Which::FirstSleeve => all.find(|part| matches!(part.id, PartId::Sleeve(_))),
            Which::LastSleeve => all.rfind(|part| matches!(part.id, PartId::Sleeve(_))),
            Which::Pin => all.find(|part| part.id == PartId::Pin),
            Which::Bearing => all.find(|part| {
                matches!(part.id, PartId::Bearing(Shaft::Layshaft | Shaft::Output, _))
            }),
        }
    }
}

//! The section along the shafts: parts above and below their axes.

use super::drawing::{Anchor, Box2, Drawing, Group, Item, Kind, Layer, at};
use super::power::power_lines;
use super::shape::wide_mm;
use super::views::{Scene, Wheel, state_name};
use crate::design::motion::State;
use crate::design::planes::{Layout, Part, PartId};
use crate::problem::{Shaft, Side};
use crate::train::{Point, Role};

/// The section; none where nothing is laid out.
pub(super) fn section(scene: &Scene<'_>) -> Option<Drawing> {
    let layout = scene.plan.layout.as_ref().ok()?;
    let mut groups = walls(scene, layout);
    let drawn = |part: &&Part| !matches!(part.id, PartId::Shaft(_));
    let lengths = shaft_lengths(layout);
    groups.extend(lengths.iter().map(|part| self::drawn(scene, part)));
    // What the cut does not pass stands behind it.
    let (behind, cut): (Vec<&Part>, Vec<&Part>) =
        (layout.parts.iter().filter(drawn)).partition(|part| part.shaft == Shaft::Idler);
    groups.extend(cut.into_iter().map(|part| in_states(layout, scene, part)));
    groups.extend(
        behind
            .into_iter()
            .map(|part| in_states(layout, scene, part)),
    );
    groups.extend(centre_lines(scene, layout));
    groups.extend(labels(scene, layout));
    groups.extend(power_lines(scene, layout));
    let length_mm = layout.length_mm;
    Some(Drawing {
        title: "Section along the shafts".to_owned(),
        about: format!(
            "From the input wall on the left to the output wall {length_mm:.1} mm further on; all \
             sleeves in neutral. The idler, dashed, is turned up into the plane of the drawing."
        ),
        frame: frame(scene, layout),
        groups,
    })
}

fn span(layout: &Layout) -> [f64; 2] {
    let from = layout.parts.iter().map(|part| part.from_mm);
    let to = layout.parts.iter().map(|part| part.to_mm);
    [
        from.fold(0.0, f64::min),
        to.fold(layout.length_mm, f64::max),
    ]
}

fn frame(scene: &Scene<'_>, layout: &Layout) -> Box2 {
    let mut all = scene.tips();
    for part in &layout.parts {
        if let Some(axis) = scene.axis(part.shaft, Side::Right) {
            let round = Box2::round(at(0.0, axis.y_mm), part.outer_radius_mm);
            all = all.with(round);
        }
    }
    let [from, to] = span(layout);
    all.low.x_mm = from;
    all.high.x_mm = to;
    let mut frame = all.grown(scene.letter_mm);
    frame.high.y_mm += 3.0 * scene.letter_mm;
    frame.low.y_mm -= 2.0 * scene.letter_mm;
    frame
}

/// A part with what moves it.
fn in_states(layout: &Layout, scene: &Scene<'_>, part: &Part) -> Group {
    let mut group = drawn(scene, part);
    for rod in layout.rods.iter().filter(|rod| rod.moves.is(part.id)) {
        let positions = rod.positions.iter().filter_map(|position| {
            let state = match position.engages? {
                Role::Head => direct(scene)?,
                Role::Speed(place) => State::Speed(place),
                Role::Reverse => State::Reverse,
            };
            Some((state_name(scene.problem, state), position.move_mm))
        });
        group.moves.extend(positions);
    }
    group
}

/// The speed that locks input and main shaft.
fn direct(scene: &Scene<'_>) -> Option<State> {
    let mut speeds = scene.problem.speeds().iter();
    let place = speeds.position(|speed| speed.geared().is_none())?;
    Some(State::Speed(place))
}

fn drawn(scene: &Scene<'_>, part: &Part) -> Group {
    let name = part.id.name(&scene.plan.gearbox);
    let axis = scene.axis(part.shaft, scene.plan.side);
    let y = axis.map_or(0.0, |axis| axis.y_mm);
    let ring = Ring { part, y };
    match part.id {
        PartId::Gear(role, seat) => {
            let wheel = scene.wheel(role, seat);
            let name = wheel.map_or(name, |wheel| wheel.name.clone());
            Group::new(Kind::Gear, name, gear(&ring, wheel))
        }
        PartId::DogRing(_) => Group::new(Kind::Dog, name, ring.both(Layer::Fill)),
        PartId::Sleeve(_) => Group::new(Kind::Sleeve, name, sleeve(&ring)),
        PartId::Pin => Group::new(Kind::Pin, name, vec![ring.whole(Layer::Hidden)]),
        PartId::Bearing(..) => Group::new(Kind::Bearing, name, bearing(&ring)),
        PartId::Shaft(_) => Group::new(Kind::Shaft, name, vec![ring.whole(Layer::Outline)]),
    }
}

/// A part and the height of its axis.
struct Ring<'a> {
    part: &'a Part,
    y: f64,
}

impl Ring<'_> {
    /// From one radius to another, above the axis and below it.
    fn between(&self, layer: Layer, inner_mm: f64, outer_mm: f64) -> Vec<Item> {
        let rect = |sign: f64| {
            layer.rect(
                at(self.part.from_mm, self.y + sign * inner_mm),
                at(self.part.to_mm, self.y + sign * outer_mm),
            )
        };
        vec![rect(1.0), rect(-1.0)]
    }

    fn both(&self, layer: Layer) -> Vec<Item> {
        self.between(layer, self.part.inner_radius_mm, self.part.outer_radius_mm)
    }

    fn whole(&self, layer: Layer) -> Item {
        let r = self.part.outer_radius_mm;
        layer.rect(
            at(self.part.from_mm, self.y - r),
            at(self.part.to_mm, self.y + r),
        )
    }

    fn level(&self, layer: Layer, radius_mm: f64) -> [Item; 2] {
        [radius_mm, -radius_mm].map(|dy| {
            layer.line(
                at(self.part.from_mm, self.y + dy),
                at(self.part.to_mm, self.y + dy),
            )
        })
    }
}

/// Hatched up to the root; the teeth, which no section cuts, plain.
fn gear(ring: &Ring<'_>, wheel: Option<&Wheel>) -> Vec<Item> {
    let tip = ring.part.outer_radius_mm;
    let root = wheel.map_or(tip, |wheel| wheel.made.root_mm() / 2.0);
    let pitch = wheel.map(|wheel| wheel.made.reference_mm() / 2.0);
    if ring.part.shaft == Shaft::Idler {
        let mut items = vec![ring.whole(Layer::Hidden)];
        items.extend(pitch.into_iter().flat_map(|r| ring.level(Layer::Pitch, r)));
        return items;
    }
    let mut items = ring.between(Layer::Hatch, ring.part.inner_radius_mm, root);
    items.extend(ring.between(Layer::Outline, root, tip));
    items.extend(pitch.into_iter().flat_map(|r| ring.level(Layer::Pitch, r)));
    items
}

/// A ring with the groove of its fork in the middle.
fn sleeve(ring: &Ring<'_>) -> Vec<Item> {
    let part = ring.part;
    let (width, high) = (
        part.to_mm - part.from_mm,
        part.outer_radius_mm - part.inner_radius_mm,
    );
    let mut items = ring.both(Layer::Outline);
    let groove = |sign: f64| {
        let outer = ring.y + sign * part.outer_radius_mm;
        Layer::Fill.rect(
            at(part.from_mm + 0.35 * width, outer),
            at(part.to_mm - 0.35 * width, outer - sign * 0.3 * high),
        )
    };
    items.extend([groove(1.0), groove(-1.0)]);
    items
}

/// A box with a cross, as drawing offices have it.
fn bearing(ring: &Ring<'_>) -> Vec<Item> {
    let part = ring.part;
    let mut items = ring.both(Layer::Outline);
    for sign in [1.0, -1.0] {
        let [low, high] = [part.inner_radius_mm, part.outer_radius_mm].map(|r| ring.y + sign * r);
        items.push(Layer::Mark.line(at(part.from_mm, low), at(part.to_mm, high)));
        items.push(Layer::Mark.line(at(part.from_mm, high), at(part.to_mm, low)));
    }
    items
}

/// Every length of every shaft: those of one radius that touch are one.
pub(super) fn shaft_lengths(layout: &Layout) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    let own = layout.parts.iter();
    let mut lengths: Vec<&Part> = own.filter(|p| matches!(p.id, PartId::Shaft(_))).collect();
    lengths.sort_by(|one, other| {
        (one.id, one.from_mm)
            .partial_cmp(&(other.id, other.from_mm))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    for part in lengths {
        match parts.last_mut() {
            Some(last)
                if last.id == part.id
                    && (last.to_mm - part.from_mm).abs() < 1e-9
                    && (last.outer_radius_mm - part.outer_radius_mm).abs() < 1e-9 =>
            {
                last.to_mm = part.to_mm;
            }
            _ => parts.push(*part),
        }
    }
    parts
}

/// Walls between their bores.
fn walls(scene: &Scene<'_>, layout: &Layout) -> Vec<Group> {
    let thick = layout.parts.iter().filter_map(|part| match part.id {
        PartId::Bearing(..) => Some(part.to_mm - part.from_mm),
        _ => None,
    });
    let thick = thick.fold(0.0, f64::max);
    if thick <= 0.0 {
        return Vec::new();
    }
    let (low, high) = {
        let tips = scene.tips();
        (tips.low.y_mm, tips.high.y_mm)
    };
    [
        (-thick, 0.0, "input wall"),
        (layout.length_mm, layout.length_mm + thick, "output wall"),
    ]
    .into_iter()
    .map(|(from, to, name)| {
        let mut holes: Vec<(f64, f64)> = layout
            .parts
            .iter()
            .filter(|part| part.from_mm < to - 1e-9 && part.to_mm > from + 1e-9)
            .filter_map(|part| {
                let y = scene.axis(part.shaft, scene.plan.side)?.y_mm;
                Some((y - part.outer_radius_mm, y + part.outer_radius_mm))
            })
            .collect();
        holes.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut items = Vec::new();
        let mut from_y = low;
        for (bottom, top) in holes {
            if bottom > from_y {
                items.push(Layer::Hatch.rect(at(from, from_y), at(to, bottom)));
            }
            from_y = from_y.max(top);
        }
        if high > from_y {
            items.push(Layer::Hatch.rect(at(from, from_y), at(to, high)));
        }
        Group::new(Kind::Wall, name, items)
    })
    .collect()
}

fn centre_lines(scene: &Scene<'_>, layout: &Layout) -> Vec<Group> {
    let [from, to] = span(layout);
    let mut items: Vec<Item> = [Scene::upper(), scene.lower()]
        .into_iter()
        .map(|Point { y_mm, .. }| {
            Layer::Centre.line(
                at(from - 0.8 * scene.letter_mm, y_mm),
                at(to + 0.8 * scene.letter_mm, y_mm),
            )
        })
        .collect();
    let pin = layout.parts.iter().find(|part| part.id == PartId::Pin);
    if let (Some(pin), Some(axis)) = (pin, scene.axis(Shaft::Idler, scene.plan.side)) {
        items.push(Layer::Centre.line(
            at(pin.from_mm - 1.0, axis.y_mm),
            at(pin.to_mm + 1.0, axis.y_mm),
        ));
    }
    vec![Group::new(Kind::Datum, "axes", items)]
}

/// Names above the planes, teeth above and below.
fn labels(scene: &Scene<'_>, layout: &Layout) -> Vec<Group> {
    let letter = scene.letter_mm;
    let tips = scene.tips();
    let mut names = Vec::new();
    let mut counts = Vec::new();
    for (place, plane) in layout.planes.iter().enumerate() {
        let x = plane.middle_mm;
        let name = plane.role.name(scene.problem);
        let size = letter * (room_mm(layout, place) / wide_mm(name, letter)).min(1.0);
        let above = at(x, tips.high.y_mm + 2.0 * letter);
        names.push(Layer::Text.words(name, above, size, Anchor::Middle));
        let own = scene.wheels.iter();
        for wheel in own.filter(|wheel| wheel.gear.role == plane.role) {
            let foot = match wheel.shaft {
                Shaft::Input | Shaft::Main => tips.high.y_mm + 0.6 * letter,
                Shaft::Layshaft | Shaft::Output => tips.low.y_mm - 1.6 * letter,
                Shaft::Idler => continue,
            };
            let teeth = wheel.gear.teeth.to_string();
            counts.push(Layer::Text.words(teeth, at(x, foot), letter, Anchor::Middle));
        }
    }
    vec![
        Group::new(Kind::Label, "speeds", names),
        Group::new(Kind::Count, "teeth", counts),
    ]
}

/// How wide the name of a plane may be beside those of its neighbours, mm.
fn room_mm(layout: &Layout, place: usize) -> f64 {
    let middle = |place: usize| layout.planes.get(place).map(|plane| plane.middle_mm);
    let own = middle(place);
    let neighbours = [place.checked_sub(1), Some(place + 1)];
    let apart = neighbours.into_iter().flatten().filter_map(|other| {
        let apart = middle(other)? - own?;
        Some(apart.abs())
    });
    0.92 * apart.fold(f64::INFINITY, f64::min)
}

//! A dividing plate to print and drill.

use super::drawing::{Anchor, Box2, Drawing, Group, Item, Kind, Layer, at};
use super::shape::wide_mm;
use crate::shop::dividing::{PlateDrawing, PlateHole};
use crate::train::Point;

/// Half a centre mark, mm.
const MARK_MM: f64 = 1.0;
/// Every so many holes have their number beside them.
const NUMBERED: usize = 10;
/// From the circle of holes to the middle of the numbers, inwards, mm.
const NUMBER_IN_MM: f64 = 5.0;
/// Size of the numbers, mm.
const NUMBER_MM: f64 = 2.5;
/// Size of the words where they have room, mm.
const WORDS_MM: f64 = 3.5;

/// The plate: rim, centre hole and holes, each with a cross to punch by.
pub fn plate(plate: &PlateDrawing) -> Drawing {
    let zero = at(0.0, 0.0);
    let mut rim = vec![
        Layer::Outline.circle(zero, plate.rim_radius_mm),
        Layer::Bore.circle(zero, plate.centre_hole_mm / 2.0),
    ];
    rim.extend(mark(zero));
    let holes = plate.holes.iter();
    let drilled = holes.flat_map(|hole| {
        let place = at(hole.x_mm, hole.y_mm);
        let circle = Layer::Bore.circle(place, plate.pin_hole_mm / 2.0);
        std::iter::once(circle).chain(mark(place))
    });
    Drawing {
        title: format!(
            "Dividing plate, {}",
            plate.text.first().map_or("", String::as_str)
        ),
        about: format!("{}.", plate.text.join("; ")),
        frame: Box2::round(zero, plate.rim_radius_mm),
        groups: vec![
            Group::new(Kind::Plate, "plate", rim),
            Group::new(Kind::Hole, "holes", drilled.collect()),
            Group::new(Kind::Count, "numbers", numbers(plate)),
            Group::new(Kind::Label, "words", words(plate)),
        ],
    }
}

/// A cross to centre-punch by.
fn mark(Point { x_mm, y_mm }: Point) -> [Item; 2] {
    [
        Layer::Mark.line(at(x_mm - MARK_MM, y_mm), at(x_mm + MARK_MM, y_mm)),
        Layer::Mark.line(at(x_mm, y_mm - MARK_MM), at(x_mm, y_mm + MARK_MM)),
    ]
}

fn numbers(plate: &PlateDrawing) -> Vec<Item> {
    let inwards = 1.0 - NUMBER_IN_MM / plate.radius_mm;
    let number = |(place, hole): (usize, &PlateHole)| {
        let foot = at(inwards * hole.x_mm, inwards * hole.y_mm - 0.36 * NUMBER_MM);
        Layer::Text.words(place.to_string(), foot, NUMBER_MM, Anchor::Middle)
    };
    let holes = plate.holes.iter().enumerate().step_by(NUMBERED);
    holes.map(number).collect()
}

/// Between the middle and the numbers; set smaller, not cut, where they are
/// long.
fn words(plate: &PlateDrawing) -> Vec<Item> {
    let widest = plate.text.iter().map(|text| wide_mm(text, 1.0));
    let room_mm = 1.7 * (plate.radius_mm - 2.0 * NUMBER_IN_MM);
    let size_mm = (room_mm / widest.fold(1.0, f64::max)).min(WORDS_MM);
    let mut y_mm = -plate.centre_hole_mm / 2.0 - 1.6 * size_mm;
    let mut items = Vec::new();
    for text in &plate.text {
        items.push(Layer::Text.words(text, at(0.0, y_mm), size_mm, Anchor::Middle));
        y_mm -= 1.3 * size_mm;
    }
    items
}

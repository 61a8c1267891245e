//! What can be asked of a shape: its corners, its ends, how far it reaches.

use super::drawing::{Anchor, Bend, Box2, Layer, Shape, Vertex, at};
use crate::train::Point;
use std::f64::consts::{PI, TAU};

/// Share of a letter's size that a capital is high.
const CAPITAL: f64 = 0.7;
/// Share of a letter's size that a letter is wide, on the safe side.
const WIDE: f64 = 0.6;

/// Width of words, mm, on the safe side.
pub(super) fn wide_mm(words: &str, size_mm: f64) -> f64 {
    let letters = u32::try_from(words.chars().count()).unwrap_or(u32::MAX);
    WIDE * size_mm * f64::from(letters)
}

/// Height of a capital, mm.
pub fn capital_mm(size_mm: f64) -> f64 {
    CAPITAL * size_mm
}

fn on_circle(centre: Point, radius_mm: f64, angle_rad: f64) -> Point {
    let (sin, cos) = angle_rad.sin_cos();
    at(centre.x_mm + radius_mm * cos, centre.y_mm + radius_mm * sin)
}

impl Layer {
    /// Words whose foot stands at a place.
    pub fn words(
        self,
        words: impl Into<String>,
        at: Point,
        size_mm: f64,
        anchor: Anchor,
    ) -> super::Item {
        self.draws(Shape::Text {
            words: words.into(),
            at,
            size_mm,
            anchor,
        })
    }
}

impl Bend {
    /// The middle of the circle it is part of, between two points.
    fn centre(&self, from: Point, to: Point) -> Point {
        let (dx, dy) = (to.x_mm - from.x_mm, to.y_mm - from.y_mm);
        // The chord's middle, and from it square to the chord.
        let off = 0.5 / (self.turn_rad / 2.0).tan();
        at(
            f64::midpoint(from.x_mm, to.x_mm) - off * dy,
            f64::midpoint(from.y_mm, to.y_mm) + off * dx,
        )
    }
}

impl Shape {
    /// The corners of a whole gear or rectangle, for writers that have only
    /// paths; none of any other shape.
    pub fn outline(&self) -> Option<Vec<Vertex>> {
        match self {
            Self::Teeth {
                tooth,
                times,
                at,
                turned_deg,
            } => {
                let pitch = TAU / f64::from(*times);
                let turned = |place: u32| turned_deg.to_radians() + pitch * f64::from(place);
                let teeth = (0..*times).flat_map(|place| {
                    tooth
                        .iter()
                        .map(move |vertex| vertex.moved(turned(place), *at))
                });
                Some(teeth.collect())
            }
            Self::Rect(low, high) => {
                let corners = [
                    *low,
                    at(high.x_mm, low.y_mm),
                    *high,
                    at(low.x_mm, high.y_mm),
                ];
                Some(corners.map(Vertex::corner).to_vec())
            }
            _ => None,
        }
    }

    /// Where an arc begins and ends; none of any other shape.
    pub fn ends(&self) -> Option<[Point; 2]> {
        let Self::Arc {
            centre,
            radius_mm,
            from_deg,
            to_deg,
        } = self
        else {
            return None;
        };
        Some([from_deg, to_deg].map(|deg| on_circle(*centre, *radius_mm, deg.to_radians())))
    }

    /// Whether an arc is longer than a half circle.
    pub fn is_large(&self) -> bool {
        match self {
            Self::Arc {
                from_deg, to_deg, ..
            } => (to_deg - from_deg).rem_euclid(360.0) > 180.0,
            _ => false,
        }
    }

    /// The same, moved.
    #[must_use]
    pub fn shifted(self, by: Point) -> Self {
        let moved = |point: Point| at(point.x_mm + by.x_mm, point.y_mm + by.y_mm);
        match self {
            Self::Line(from, to) => Self::Line(moved(from), moved(to)),
            Self::Circle { centre, radius_mm } => Self::Circle {
                centre: moved(centre),
                radius_mm,
            },
            Self::Arc {
                centre,
                radius_mm,
                from_deg,
                to_deg,
            } => Self::Arc {
                centre: moved(centre),
                radius_mm,
                from_deg,
                to_deg,
            },
            Self::Path { corners, closed } => Self::Path {
                corners: corners.into_iter().map(|v| v.moved(0.0, by)).collect(),
                closed,
            },
            Self::Teeth {
                tooth,
                times,
                at,
                turned_deg,
            } => Self::Teeth {
                tooth,
                times,
                at: moved(at),
                turned_deg,
            },
            Self::Rect(low, high) => Self::Rect(moved(low), moved(high)),
            Self::Text {
                words,
                at,
                size_mm,
                anchor,
            } => Self::Text {
                words,
                at: moved(at),
                size_mm,
                anchor,
            },
        }
    }

    /// The paper that it covers; words on the safe side.
    pub fn bounds(&self) -> Box2 {
        match self {
            Self::Line(from, to) | Self::Rect(from, to) => Box2::new(*from, *to),
            Self::Circle { centre, radius_mm }
            | Self::Arc {
                centre, radius_mm, ..
            } => Box2::round(*centre, *radius_mm),
            Self::Path { corners, closed } => path_bounds(corners, *closed),
            Self::Teeth { tooth, at, .. } => {
                let reach = tooth.iter().map(|v| v.at.x_mm.hypot(v.at.y_mm));
                Box2::round(*at, reach.fold(0.0, f64::max))
            }
            Self::Text {
                words,
                at: foot,
                size_mm,
                anchor,
            } => {
                let wide = wide_mm(words, *size_mm);
                let from = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => wide / 2.0,
                    Anchor::End => wide,
                };
                let low = at(foot.x_mm - from, foot.y_mm - 0.25 * size_mm);
                Box2::new(low, at(low.x_mm + wide, foot.y_mm + 0.8 * size_mm))
            }
        }
    }
}

/// Around corners and the arcs between them.
fn path_bounds(corners: &[Vertex], closed: bool) -> Box2 {
    let Some(first) = corners.first() else {
        return Box2::new(at(0.0, 0.0), at(0.0, 0.0));
    };
    let mut all = Box2::new(first.at, first.at);
    for pair in corners.windows(2) {
        all = all.with(step_bounds(pair[0].at, &pair[1]));
    }
    match corners.last() {
        Some(last) if closed => all.with(step_bounds(last.at, first)),
        _ => all,
    }
}

/// Around one line or arc.
fn step_bounds(from: Point, to: &Vertex) -> Box2 {
    let ends = Box2::new(from, to.at);
    let Some(bend) = to.arc else {
        return ends;
    };
    let centre = bend.centre(from, to.at);
    let began = (from.y_mm - centre.y_mm).atan2(from.x_mm - centre.x_mm);
    // The quarter points of the circle that the arc passes.
    let passed = (0..4).map(|quarter| f64::from(quarter) * PI / 2.0);
    let passed = passed.filter(|angle| {
        let ahead = (angle - began) * bend.turn_rad.signum();
        ahead.rem_euclid(TAU) < bend.turn_rad.abs()
    });
    passed
        .map(|angle| on_circle(centre, bend.radius_mm, angle))
        .fold(ends, |all, point| all.with(Box2::new(point, point)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(one: Point, other: Point) -> bool {
        (one.x_mm - other.x_mm).hypot(one.y_mm - other.y_mm) < 1e-12
    }

    #[test]
    fn a_half_circle_reaches_its_radius_to_the_side_it_turns_to() {
        let half = |turn_rad: f64| Shape::Path {
            corners: vec![
                Vertex::corner(at(0.0, -2.0)),
                Vertex {
                    at: at(0.0, 2.0),
                    arc: Some(Bend {
                        radius_mm: 2.0,
                        turn_rad,
                    }),
                },
            ],
            closed: false,
        };
        let right = half(PI).bounds();
        assert!(near(right.low, at(0.0, -2.0)) && near(right.high, at(2.0, 2.0)));
        let left = half(-PI).bounds();
        assert!(near(left.low, at(-2.0, -2.0)) && near(left.high, at(0.0, 2.0)));
    }

    #[test]
    fn an_arc_ends_where_its_angles_say() {
        let arc = |from_deg: f64, to_deg: f64| Shape::Arc {
            centre: at(1.0, 0.0),
            radius_mm: 2.0,
            from_deg,
            to_deg,
        };
        let [from, to] = arc(0.0, 90.0).ends().unwrap();
        assert!(near(from, at(3.0, 0.0)) && near(to, at(1.0, 2.0)));
        assert!(!arc(270.0, 90.0).is_large() && arc(80.0, 10.0).is_large());
    }
}

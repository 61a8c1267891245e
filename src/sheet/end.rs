//! The end view: real teeth where a state works, the drawing office's circles
//! elsewhere.

use super::dimension::upright;
use super::drawing::{Box2, Drawing, Group, Item, Kind, Layer, Shape, at};
use super::teeth::{ToothPath, cut_of};
use super::views::{Scene, Wheel, state_name};
use crate::design::motion::{State, StateMotion, Step};
use crate::problem::{Shaft, Side};
use crate::train::{Point, Role, Seat};
use std::f64::consts::PI;
use std::fmt::Write;

/// On a screen no chord shows that is so near its curve, mm.
const CHORD_ERROR_MM: f64 = 0.01;

/// How every gear is turned so that the teeth of all meshes fit: the angle of
/// the middle of tooth 0 from the x axis, radians, for either side of the idler.
#[derive(Clone, Debug, PartialEq)]
pub struct Phases {
    /// Gears by name, the idler on the right, then on the left.
    pub turned_rad: Vec<(String, [f64; 2])>,
}

impl Phases {
    pub(super) fn new(scene: &Scene<'_>) -> Self {
        let sides = [Side::Right, Side::Left].map(|side| Turned::new(scene, side));
        let all = scene.wheels.iter().map(|wheel| {
            let of = |turned: &Turned| turned.of(&wheel.name);
            (wheel.name.clone(), [of(&sides[0]), of(&sides[1])])
        });
        Self {
            turned_rad: all.collect(),
        }
    }

    /// Of one gear, with the idler on `side`.
    pub fn of(&self, name: &str, side: Side) -> f64 {
        let own = self.turned_rad.iter().find(|(of, _)| of == name);
        own.map_or(0.0, |(_, turned)| turned[side as usize])
    }
}

/// Phases while they are worked out.
struct Turned(Vec<(String, f64)>);

impl Turned {
    fn new(scene: &Scene<'_>, side: Side) -> Self {
        let mut turned = Self(Vec::new());
        for wheel in &scene.wheels {
            let driver = match (wheel.gear.role, wheel.gear.seat) {
                (_, Seat::Driver) | (Role::Head | Role::Speed(_), Seat::Idler) => None,
                (Role::Reverse, Seat::Idler) => scene.reverse_driver(),
                (Role::Reverse, Seat::Driven) => scene.wheel(Role::Reverse, Seat::Idler),
                (role, Seat::Driven) => scene.wheel(role, Seat::Driver),
            };
            let phase = driver.and_then(|driver| turned.meshing(scene, driver, wheel, side));
            turned.0.push((wheel.name.clone(), phase.unwrap_or(0.0)));
        }
        turned
    }

    fn of(&self, name: &str) -> f64 {
        let own = self.0.iter().find(|(of, _)| of == name);
        own.map_or(0.0, |(_, turned)| *turned)
    }

    /// What turns `driven` so that a space of it takes a tooth of `driver`: a
    /// tooth ahead of the line of centres by δ meets a space behind it by
    /// δ z₁/z₂.
    fn meshing(
        &self,
        scene: &Scene<'_>,
        driver: &Wheel,
        driven: &Wheel,
        side: Side,
    ) -> Option<f64> {
        let from = scene.axis(driver.shaft, side)?;
        let to = scene.axis(driven.shaft, side)?;
        let line = (to.y_mm - from.y_mm).atan2(to.x_mm - from.x_mm);
        let [z1, z2] = [driver, driven].map(|wheel| f64::from(wheel.gear.teeth));
        let ahead = self.of(&driver.name) - line;
        Some((line + PI - ahead * z1 / z2 + PI / z2) % (2.0 * PI))
    }
}

/// The view from the input end, the idler on either side.
pub(super) fn end_view(scene: &Scene<'_>, phases: &Phases) -> Drawing {
    let mut groups = Vec::new();
    let mut wheels: Vec<&Wheel> = scene.wheels.iter().collect();
    wheels.sort_by(|one, other| other.made.tip_mm().total_cmp(&one.made.tip_mm()));
    for wheel in &wheels {
        groups.extend(
            sides(wheel)
                .iter()
                .filter_map(|&side| circles(scene, wheel, side)),
        );
    }
    let states = scene.plan.motion.iter().flat_map(|motion| &motion.states);
    let working: Vec<(String, Vec<&str>)> = states
        .map(|state| {
            (
                state_name(scene.problem, state.state),
                working(scene, state),
            )
        })
        .collect();
    for wheel in &wheels {
        let of = |(_, names): &&(String, Vec<&str>)| names.contains(&wheel.name.as_str());
        let in_states: Vec<String> = working.iter().filter(of).map(|(s, _)| s.clone()).collect();
        for &side in sides(wheel) {
            groups.extend(toothed(scene, wheel, side, &in_states, phases));
        }
    }
    groups.extend(axles(scene));
    groups.extend(dimensions(scene));
    Drawing {
        title: "End view from the input end".to_owned(),
        about: about(scene),
        frame: frame(scene),
        groups,
    }
}

fn about(scene: &Scene<'_>) -> String {
    let a = scene.set.centre_distance.mm();
    let shafts = scene.plan.housed.shafts();
    let [upper, lower] = if shafts.contains(&Shaft::Layshaft) {
        ["Main shaft", "layshaft"]
    } else {
        ["Input shaft", "output shaft"]
    };
    let mut words = format!("{upper} above, {lower} {a:.3} mm straight below");
    if let Some([right, _]) = scene.plan.housed.idler_places() {
        // Writing to a String cannot fail.
        let _ = write!(
            words,
            ", reverse idler {:.3} mm to the side and {:.3} mm down",
            right.x_mm, -right.y_mm
        );
    }
    words + "."
}

/// Around all gears, whichever side the idler is on, with room for words.
fn frame(scene: &Scene<'_>) -> Box2 {
    let idlers = [Side::Right, Side::Left].into_iter().filter_map(|side| {
        let wheel = scene.wheel(Role::Reverse, Seat::Idler)?;
        let axis = scene.axis(Shaft::Idler, side)?;
        Some(Box2::round(axis, wheel.made.tip_mm() / 2.0))
    });
    let all = idlers.fold(scene.tips(), Box2::with);
    let words = dimensions(scene).into_iter().flat_map(|group| group.items);
    let words = words.map(|item| item.shape.bounds());
    words.fold(all.grown(1.5 * scene.letter_mm), Box2::with)
}

/// Both sides for what moves with the idler's side; else one, of no matter.
const fn sides(wheel: &Wheel) -> &'static [Side] {
    match (wheel.gear.role, wheel.gear.seat) {
        (Role::Reverse, Seat::Idler | Seat::Driven) => &[Side::Right, Side::Left],
        _ => &[Side::Right],
    }
}

/// Marks a group as that of one side.
fn on_side(mut group: Group, wheel: &Wheel, side: Side) -> Group {
    group.side = (sides(wheel).len() > 1).then_some(side);
    group
}

fn circles(scene: &Scene<'_>, wheel: &Wheel, side: Side) -> Option<Group> {
    // The driven gear's circles do not depend on the side.
    if wheel.gear.seat != Seat::Idler && side == Side::Left {
        return None;
    }
    let axis = scene.axis(wheel.shaft, side)?;
    let items = vec![
        Layer::Pitch.circle(axis, wheel.made.reference_mm() / 2.0),
        Layer::Tip.circle(axis, wheel.made.tip_mm() / 2.0),
    ];
    let group = Group::new(Kind::Circles, &wheel.name, items);
    Some(match wheel.gear.seat {
        Seat::Idler => on_side(group, wheel, side),
        _ => group,
    })
}

fn toothed(
    scene: &Scene<'_>,
    wheel: &Wheel,
    side: Side,
    states: &[String],
    phases: &Phases,
) -> Option<Group> {
    let axis = scene.axis(wheel.shaft, side)?;
    let shape = teeth_at(wheel, axis, phases.of(&wheel.name, side), CHORD_ERROR_MM)?;
    let mut items = vec![
        Layer::Outline.draws(shape),
        Layer::Pitch.circle(axis, wheel.made.reference_mm() / 2.0),
    ];
    // A mark by which the eye follows its turning.
    let (root_mm, turned) = (wheel.made.root_mm() / 2.0, phases.of(&wheel.name, side));
    let on_ray = |share: f64| {
        let r = wheel.hole_mm + share * (root_mm - wheel.hole_mm);
        at(axis.x_mm + r * turned.cos(), axis.y_mm + r * turned.sin())
    };
    items.push(Layer::Mark.line(on_ray(0.35), on_ray(0.85)));
    if wheel.hole_mm > 0.0 {
        items.push(Layer::Bore.circle(axis, wheel.hole_mm));
    }
    let mut group = Group::new(Kind::Gear, &wheel.name, items);
    group.states = states.to_vec();
    group.axis = Some(axis);
    (!states.is_empty()).then(|| on_side(group, wheel, side))
}

/// The outline of a gear, turned and in its place.
fn teeth_at(wheel: &Wheel, axis: Point, turned_rad: f64, chord_error_mm: f64) -> Option<Shape> {
    let path = ToothPath::new(&cut_of(&wheel.made, 0.0), chord_error_mm).ok()?;
    Some(Shape::Teeth {
        tooth: path.corners,
        times: wheel.gear.teeth.get(),
        at: axis,
        turned_deg: turned_rad.to_degrees(),
    })
}

/// The gears that a state is about: those that the power passes; in direct and
/// in neutral the head pair, which turns the layshaft.
fn working<'a>(scene: &'a Scene<'_>, state: &StateMotion) -> Vec<&'a str> {
    let passed = state.path.iter().filter_map(|step| match step {
        Step::Gear(gear) => Some((gear.role, gear.seat)),
        Step::Shaft(_) => None,
    });
    let mut passed: Vec<(Role, Seat)> = passed.collect();
    if passed.is_empty() {
        passed = vec![(Role::Head, Seat::Driver), (Role::Head, Seat::Driven)];
    }
    let found = passed.into_iter().filter_map(|(role, seat)| {
        let own = scene.wheel(role, seat);
        let shared = || {
            scene
                .reverse_driver()
                .filter(|_| state.state == State::Reverse)
        };
        own.or_else(shared)
    });
    found.map(|wheel| wheel.name.as_str()).collect()
}

/// Shafts and the idler's pin, cut across.
fn axles(scene: &Scene<'_>) -> Vec<Group> {
    let mut groups = Vec::new();
    let mut drawn: Vec<Point> = Vec::new();
    for &shaft in scene.plan.housed.shafts().iter().rev() {
        let (Some(axis), Some(size)) = (
            scene.axis(shaft, Side::Right),
            scene.plan.housed.size(shaft),
        ) else {
            continue;
        };
        if drawn.contains(&axis) {
            continue;
        }
        drawn.push(axis);
        let items = crossed(scene, axis, size.diameter().mm() / 2.0);
        groups.push(Group::new(Kind::Shaft, shaft_words(shaft), items));
    }
    for side in [Side::Right, Side::Left] {
        if let Some(axis) = scene.axis(Shaft::Idler, side) {
            let items = crossed(scene, axis, scene.plan.housed.pin_radius_mm());
            let mut group = Group::new(Kind::Pin, "idler's pin", items);
            group.side = Some(side);
            groups.push(group);
        }
    }
    groups
}

pub(super) fn shaft_words(shaft: Shaft) -> String {
    match shaft {
        Shaft::Layshaft => "layshaft".to_owned(),
        other => format!("{} shaft", other.word()),
    }
}

/// A round bar with its centre lines.
fn crossed(scene: &Scene<'_>, axis: Point, radius_mm: f64) -> Vec<Item> {
    let reach = radius_mm + scene.letter_mm;
    let Point { x_mm, y_mm } = axis;
    vec![
        Layer::Outline.circle(axis, radius_mm),
        Layer::Centre.line(at(x_mm - reach, y_mm), at(x_mm + reach, y_mm)),
        Layer::Centre.line(at(x_mm, y_mm - reach), at(x_mm, y_mm + reach)),
    ]
}

/// The distance between the axes, and the idler's place from the upper one.
fn dimensions(scene: &Scene<'_>) -> Vec<Group> {
    let (upper, lower) = (Scene::upper(), scene.lower());
    let left = scene.tips().low.x_mm - 2.2 * scene.letter_mm;
    let items = upright(left, [lower, upper], scene.letter_mm);
    vec![Group::new(Kind::Dimension, "centre distance", items)]
}

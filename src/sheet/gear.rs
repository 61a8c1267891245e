//! Single gears with the teeth that their rack generates.

use super::drawing::{Anchor, Box2, Drawing, Group, Item, Kind, Layer, Shape, at};
use super::shape::wide_mm;
use super::teeth::{ToothPath, cut_of};
use super::views::{Scene, Wheel};
use crate::base::{plain, trimmed};
use crate::design::Plan;
use crate::design::forces::Hand;
use crate::involute::outline::CHORD_ERROR_MM;
use crate::problem::Problem;
use crate::train::Set;

/// Smallest and largest letters, mm.
const LETTERS_MM: (f64, f64) = (1.8, 3.5);

/// A drawing of every gear that has teeth, with its name, in the order of the
/// set.
pub fn gear_drawings(problem: &Problem, set: &Set, plan: &Plan<'_>) -> Vec<(String, Drawing)> {
    let scene = Scene::new(problem, set, plan);
    let drawn = scene.wheels.iter().filter_map(|wheel| {
        let drawing = gear_drawing(problem, wheel)?;
        Some((wheel.name.clone(), drawing))
    });
    drawn.collect()
}

fn gear_drawing(problem: &Problem, wheel: &Wheel) -> Option<Drawing> {
    let path = ToothPath::new(&cut_of(&wheel.made, 0.0), CHORD_ERROR_MM).ok()?;
    let teeth = Layer::Outline.draws(Shape::Teeth {
        tooth: path.corners,
        times: wheel.gear.teeth.get(),
        at: at(0.0, 0.0),
        // A tooth stands up.
        turned_deg: 90.0,
    });
    let mut items = vec![teeth];
    items.extend(circles(wheel));
    let tip = wheel.made.tip_mm() / 2.0;
    let (least, most) = LETTERS_MM;
    let letter = (tip / 9.0).clamp(least, most);
    let lines = figures(problem, wheel);
    let words = words(&lines, -tip - 2.5 * letter, letter);
    let reach = Box2::round(at(0.0, 0.0), tip + letter);
    let frame = words.iter().map(|item| item.shape.bounds());
    let frame = frame.fold(reach, Box2::with);
    let name = &wheel.name;
    Some(Drawing {
        title: format!("Gear: {name}"),
        about: format!("{}.", lines.join("; ")),
        frame,
        groups: vec![
            Group::new(Kind::Gear, name, items),
            Group::new(Kind::Label, "figures", words),
        ],
    })
}

/// Pitch, tip and root circle, hole, centre lines.
fn circles(wheel: &Wheel) -> Vec<Item> {
    let (zero, made) = (at(0.0, 0.0), &wheel.made);
    let mut items = vec![
        Layer::Pitch.circle(zero, made.reference_mm() / 2.0),
        Layer::Tip.circle(zero, made.tip_mm() / 2.0),
        Layer::Root.circle(zero, made.root_mm() / 2.0),
    ];
    if wheel.hole_mm > 0.0 {
        items.push(Layer::Bore.circle(zero, wheel.hole_mm));
    }
    let reach = 1.08 * made.tip_mm() / 2.0;
    items.push(Layer::Centre.line(at(-reach, 0.0), at(reach, 0.0)));
    items.push(Layer::Centre.line(at(0.0, -reach), at(0.0, reach)));
    items
}

/// What stands below the gear, a line each.
fn figures(problem: &Problem, wheel: &Wheel) -> Vec<String> {
    let (made, rack) = (&wheel.made, wheel.made.toothing().rack());
    let module = trimmed(made.toothing().module_mm(), 4);
    let angle = trimmed(rack.pressure_angle_rad.to_degrees(), 3);
    let mut lines = vec![
        format!("{}: {} teeth", wheel.name, wheel.gear.teeth),
        format!("module {module} mm, pressure angle {angle}°"),
        format!("profile shift {}", plain(made.shift(), 4)),
        format!(
            "tip Ø {} mm, root Ø {} mm",
            plain(made.tip_mm(), 2),
            plain(made.root_mm(), 2)
        ),
    ];
    let width = format!("{} mm wide", plain(wheel.gear.face.mm(), 2));
    lines.push(if wheel.hole_mm > 0.0 {
        format!("hole Ø {} mm, {width}", plain(2.0 * wheel.hole_mm, 2))
    } else {
        width
    });
    lines.extend(helix(problem, wheel));
    lines.push("full teeth: thin them for backlash".to_owned());
    lines
}

fn helix(problem: &Problem, wheel: &Wheel) -> Option<String> {
    let helix_deg = wheel.made.toothing().helix_rad().to_degrees();
    (helix_deg > 0.0).then(|| {
        let hand = match Hand::of_problem(problem).of_gear(wheel.gear.role, wheel.gear.seat) {
            Hand::Right => "right",
            Hand::Left => "left",
        };
        format!(
            "helix {}° {hand} hand, seen square to the axis",
            plain(helix_deg, 3)
        )
    })
}

/// Lines below each other, as wide as they are.
fn words(lines: &[String], top_mm: f64, size_mm: f64) -> Vec<Item> {
    let widest = lines.iter().map(|line| wide_mm(line, size_mm));
    let left = -widest.fold(0.0, f64::max) / 2.0;
    let mut foot = at(left, top_mm);
    let mut items = Vec::new();
    for line in lines {
        items.push(Layer::Text.words(line, foot, size_mm, Anchor::Start));
        foot.y_mm -= 1.5 * size_mm;
    }
    items
}

//! Where to bore: every hole from one datum, checks over pins, how true the
//! centres must be, what heat does to them.
//!
//! In: a set with its box. Out: plain figures. Assumed: walls parallel, bores
//! square to them. Sources: backlash of ISO 21771; growth of materials from
//! memory, as said at [`CaseMaterial`](crate::problem::CaseMaterial).

use super::Housed;
use super::planes::End;
use crate::base::Length;
use crate::inspect::wanted_backlash;
use crate::involute::{Meshing, Thinning};
use crate::problem::{Arrangement, HeldIn, Problem, Shaft, Side};
use crate::train::{Point, Role, Set, forms_of, gears_of, made_of, mesh_of, meshes_of};

/// A hole in a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hole {
    /// What it is for.
    pub shaft: Shaft,
    /// From the datum: to the right as the face is seen, and up.
    pub place: Point,
    /// Its diameter, mm: of the bearing, or of the pin; none where no bearing
    /// is known.
    pub diameter_mm: Option<f64>,
}

/// A distance between two holes, and what it reads over pins, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinCheck {
    /// The holes.
    pub shafts: [Shaft; 2],
    /// Diameters of the pins in them.
    pub pins_mm: [f64; 2],
    /// Between the axes.
    pub apart_mm: f64,
    /// Over both pins.
    pub outside_mm: f64,
    /// Between the pins; negative where they would overlap.
    pub inside_mm: f64,
}

/// How far a distance may be off with every mesh on it inside its backlash, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trueness {
    /// The mesh that sets it.
    pub role: Role,
    /// Whether that mesh is inside its backlash at the distance itself; else no
    /// tolerance keeps it there.
    pub reached: bool,
    /// Smaller by.
    pub closer_mm: f64,
    /// Larger by.
    pub wider_mm: f64,
    /// Least and most normal backlash that it must stay in, mm.
    pub backlash_mm: (f64, f64),
}

/// What heat does to the centres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// By how much warmer than when it was bored, K.
    pub warmer_k: f64,
    /// By how much the centres open beyond what steel gears grow, mm; negative
    /// where they close.
    pub opens_mm: f64,
    /// What that adds to the normal backlash of the mesh that feels it most.
    pub backlash_mm: f64,
}

/// The boring of a set.
#[derive(Clone, Debug, PartialEq)]
pub struct Boring {
    /// Holes of the input wall.
    pub input: Vec<Hole>,
    /// Holes of the output wall.
    pub output: Vec<Hole>,
    /// Checks, as either face shows them.
    pub checks: Vec<PinCheck>,
    /// Of the shafts' distance.
    pub shafts: Option<Trueness>,
    /// Of the pin's place, in any direction; none without reverse.
    pub pin: Option<Trueness>,
    /// At [`WARMER_K`].
    pub growth: Option<Growth>,
}

/// A box that has warmed up (common practice, no source).
pub const WARMER_K: f64 = 40.0;
/// Growth of steel gears per kelvin (from memory).
const STEEL_PER_K: f64 = 11.5e-6;
/// Bisections: to a millionth of a millimetre of any range looked at.
const HALVINGS: usize = 40;

/// The boring of `set`; its idler, if any, on `side`.
pub fn boring(problem: &Problem, set: &Set, side: Side) -> Boring {
    let housed = Housed::new(problem, set);
    let pin = housed.idler_places().map(|places| places[side as usize]);
    let meshes = meshes(problem, set);
    let on_shafts = || meshes.iter().filter(|(role, _)| *role != Role::Reverse);
    let on_pin = || meshes.iter().filter(|(role, _)| *role == Role::Reverse);
    Boring {
        input: holes(problem, set, &housed, pin, End::Input),
        output: holes(problem, set, &housed, pin, End::Output),
        checks: checks(problem, set, &housed, pin),
        shafts: on_shafts()
            .filter_map(|m| trueness(problem, m))
            .reduce(narrower),
        pin: on_pin()
            .filter_map(|m| trueness(problem, m))
            .reduce(narrower),
        growth: growth(problem, set, on_shafts().map(|(_, mesh)| mesh)),
    }
}

/// Every mesh with its role, at full teeth.
fn meshes(problem: &Problem, set: &Set) -> Vec<(Role, Meshing)> {
    let made = made_of(problem, set, &forms_of(problem, set));
    let gears = gears_of(problem, set);
    let meshes = meshes_of(problem, set).into_iter();
    meshes
        .filter_map(|(places, centres_mm)| {
            let role = gears.get(places[0])?.role;
            Some((role, mesh_of(&made, places, centres_mm)?))
        })
        .collect()
}

/// The axes of the shafts, and of the pin, seen from the input end.
fn axis(set: &Set, pin: Option<Point>, shaft: Shaft) -> Option<Point> {
    let at = |y_mm| Some(Point { x_mm: 0.0, y_mm });
    match shaft {
        Shaft::Input | Shaft::Main => at(0.0),
        Shaft::Layshaft | Shaft::Output => at(-set.centre_distance.mm()),
        Shaft::Idler => pin,
    }
}

fn holes(
    problem: &Problem,
    set: &Set,
    housed: &Housed<'_>,
    pin: Option<Point>,
    face: End,
) -> Vec<Hole> {
    let [x0, y0] = problem.layout().datum().map(Length::mm);
    let turned = if face == End::Output { -1.0 } else { 1.0 };
    let shafts = shafts_in(problem, housed, face);
    let hole = |shaft: Shaft| {
        let place = axis(set, pin, shaft)?;
        let bearing = housed.size(shaft).and_then(|size| size.bearing());
        Some(Hole {
            shaft,
            place: Point {
                x_mm: turned * (x0 + place.x_mm) + 0.0,
                y_mm: y0 + place.y_mm,
            },
            diameter_mm: match shaft {
                Shaft::Idler => Some(2.0 * housed.pin_radius_mm()),
                _ => bearing.map(|bearing| bearing.outside().mm()),
            },
        })
    };
    shafts.into_iter().filter_map(hole).collect()
}

/// What has a hole in a wall, upper shaft first.
fn shafts_in(problem: &Problem, housed: &Housed<'_>, face: End) -> Vec<Shaft> {
    let mut shafts = match (problem.arrangement(), face) {
        (Arrangement::InLine, End::Input) => vec![Shaft::Input, Shaft::Layshaft],
        (Arrangement::InLine, End::Output) => vec![Shaft::Main, Shaft::Layshaft],
        (Arrangement::Offset, _) => vec![Shaft::Input, Shaft::Output],
    };
    let other = match face {
        End::Input => HeldIn::OutputWall,
        End::Output => HeldIn::InputWall,
    };
    if problem.reverse().is_some() && housed.held_in() != other {
        shafts.push(Shaft::Idler);
    }
    shafts
}

/// Every two holes that share a wall, each pair of axes once.
fn checks(problem: &Problem, set: &Set, housed: &Housed<'_>, pin: Option<Point>) -> Vec<PinCheck> {
    let thick = |shaft: Shaft| {
        let given = problem.layout().check_pin(shaft).map(Length::mm);
        let own = match shaft {
            Shaft::Idler => Some(2.0 * housed.pin_radius_mm()),
            _ => housed.size(shaft).map(|size| size.diameter().mm()),
        };
        given.or(own)
    };
    let mut checks: Vec<PinCheck> = Vec::new();
    for face in [End::Output, End::Input] {
        let shafts = shafts_in(problem, housed, face);
        for (i, &one) in shafts.iter().enumerate() {
            for &other in &shafts[i + 1..] {
                let known = checks.iter().any(|check| check.shafts == [one, other]);
                let (Some(here), Some(there)) = (axis(set, pin, one), axis(set, pin, other)) else {
                    continue;
                };
                let (Some(first), Some(second)) = (thick(one), thick(other)) else {
                    continue;
                };
                let apart_mm = (here.x_mm - there.x_mm).hypot(here.y_mm - there.y_mm);
                if !known {
                    checks.push(PinCheck {
                        shafts: [one, other],
                        pins_mm: [first, second],
                        apart_mm,
                        outside_mm: apart_mm + f64::midpoint(first, second),
                        inside_mm: apart_mm - f64::midpoint(first, second),
                    });
                }
            }
        }
    }
    checks
}

/// How far one mesh lets its distance be off, its teeth cut to the middle of
/// their backlash where the centres allow it.
fn trueness(problem: &Problem, (role, mesh): &(Role, Meshing)) -> Option<Trueness> {
    let (least, most) = wanted_backlash(problem, mesh);
    let thinning = Thinning::ByDepth(mesh.thinning_for_mm(f64::midpoint(least, most)));
    let [one, other] = mesh.gears().map(|gear| gear.with_thinning(thinning).ok());
    let (one, other) = (one?, other?);
    let at = |off: f64| {
        let moved = Meshing::new(one, other, mesh.centres_mm() + off).ok()?;
        Some(moved.normal_backlash_mm())
    };
    let holds = |off: f64| at(off).is_some_and(|j| j >= least - 1e-12 && j <= most + 1e-12);
    let reach = mesh.toothing().module_mm();
    let farthest = |sign: f64| {
        let (mut low, mut high) = (0.0, reach);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if holds(sign * middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    };
    Some(Trueness {
        role: *role,
        reached: holds(0.0),
        closer_mm: farthest(-1.0),
        wider_mm: farthest(1.0),
        backlash_mm: (least, most),
    })
}

/// What both allow; called after the one that allows less.
fn narrower(one: Trueness, other: Trueness) -> Trueness {
    let within = |t: &Trueness| (t.reached, t.closer_mm.min(t.wider_mm));
    let tighter = if within(&other) < within(&one) {
        other
    } else {
        one
    };
    Trueness {
        closer_mm: one.closer_mm.min(other.closer_mm),
        wider_mm: one.wider_mm.min(other.wider_mm),
        ..tighter
    }
}

fn growth<'a>(
    problem: &Problem,
    set: &Set,
    meshes: impl Iterator<Item = &'a Meshing>,
) -> Option<Growth> {
    let a = set.centre_distance.mm();
    let beyond = problem.layout().case_material().growth_per_k() - STEEL_PER_K;
    let opens_mm = a * beyond * WARMER_K;
    let added = |mesh: &Meshing| {
        let [one, other] = *mesh.gears();
        let warm = Meshing::new(one, other, mesh.centres_mm() + opens_mm).ok()?;
        Some(warm.normal_backlash_mm() - mesh.normal_backlash_mm())
    };
    let most = meshes
        .filter_map(added)
        .reduce(|x, y| if y.abs() > x.abs() { y } else { x })?;
    Some(Growth {
        warmer_k: WARMER_K,
        opens_mm,
        backlash_mm: most,
    })
}

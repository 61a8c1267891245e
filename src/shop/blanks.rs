//! Every part that is made from bar: finished sizes, and the piece to cut.
//!
//! Gears are as the set has them; shafts, sleeves, pin and bushes as the layout
//! draws them, where it does. Lengths that come from a drawing are rounded up
//! to whole micrometres: a piece must not be short.

use crate::base::{Length, Teeth};
use crate::design::Plan as Box;
use crate::design::planes::{Part, PartId};
use crate::problem::{Problem, Shaft};
use crate::stock::{Material, Piece, Stock};
use crate::train::{Form, Gear, ModuleId, Role, Seat, Set, finished_length, own_gears};

/// Steps of a length in a micrometre.
const STEPS_PER_UM: i64 = 1_000_000;
/// What a drawn size may be over a whole micrometre for rounding alone, µm.
const SLACK_UM: f64 = 1e-3;

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A gear of so many teeth.
    Gear(ModuleId, Teeth),
    /// A shaft, over its thickest length.
    Shaft,
    /// A sleeve.
    Sleeve,
    /// A dog ring that is not of one piece with its gear.
    DogRing,
    /// The idler's pin.
    Pin,
    /// A bush.
    Bush,
    /// A part that the file asks for beside the box.
    Further,
}

impl Kind {
    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Gear(..) => "gear",
            Self::Shaft => "shaft",
            Self::Sleeve => "sleeve",
            Self::DogRing => "dog ring",
            Self::Pin => "pin",
            Self::Bush => "bush",
            Self::Further => "further part",
        }
    }
}

/// A part to be made from bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// What it is called.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// Its outside diameter when finished.
    pub outside: Length,
    /// Its length when finished.
    pub length: Length,
    /// Its hole, mm; 0 for none.
    pub bore_mm: f64,
    /// Root diameter of a gear, mm.
    pub root_mm: Option<f64>,
    /// What is cut for it.
    pub piece: Piece,
}

impl Blank {
    /// Metal of the turned and bored blank, mm³.
    pub fn turned_mm3(&self) -> f64 {
        let (outside, bore) = (self.outside.mm(), self.bore_mm);
        std::f64::consts::FRAC_PI_4 * (outside * outside - bore * bore) * self.length.mm()
    }

    /// Whether another is made alike in every size.
    pub fn is_alike(&self, other: &Self) -> bool {
        let sizes = |blank: &Self| {
            let sizes = (blank.outside, blank.length, blank.piece);
            (blank.kind, sizes, blank.bore_mm.to_bits())
        };
        sizes(self) == sizes(other)
    }
}

/// Every part of a set's box that is made from bar: gears in the order of
/// [`own_gears`], then the rest of the box where it can be laid out, then further
/// parts of the file.
pub fn blanks(problem: &Problem, set: &Set, design: &Box<'_>, stock: &mut Stock) -> Vec<Blank> {
    let mut list = gear_blanks(problem, set, stock);
    for blank in &mut list {
        add_bore(blank, design);
    }
    let mut blanks: Vec<Blank> = list.into_iter().map(|(_, blank)| blank).collect();
    blanks.extend(box_blanks(problem, set, design));
    blanks.extend(further_blanks(problem, stock));
    blanks
}

/// The gears of a set; one that also drives reverse stands once.
fn gear_blanks(problem: &Problem, set: &Set, stock: &mut Stock) -> Vec<(Gear, Blank)> {
    let material = stock.gear_material(problem);
    own_gears(problem, set)
        .into_iter()
        .map(|(gear, _, od_um)| (gear, gear_blank(problem, &gear, od_um, material)))
        .collect()
}

fn gear_blank(problem: &Problem, gear: &Gear, od_um: u64, material: Option<Material>) -> Blank {
    Blank {
        name: gear.name(problem),
        kind: Kind::Gear(gear.module, gear.teeth),
        outside: Length::from_um(od_um),
        length: finished_length(problem, gear.role, gear.seat, gear.face),
        bore_mm: 0.0,
        root_mm: None,
        piece: Piece::of_gear(problem, gear, od_um, material),
    }
}

fn add_bore((gear, blank): &mut (Gear, Blank), design: &Box<'_>) {
    if let Some(wheel) = design.housed.wheel(gear.role, gear.seat) {
        blank.bore_mm = 2.0 * wheel.hole_radius_mm;
        blank.root_mm = Some(2.0 * wheel.root_radius_mm);
    }
}

/// Parts of the box beside its gears; none without a layout.
fn box_blanks(problem: &Problem, set: &Set, design: &Box<'_>) -> Vec<Blank> {
    let Ok(layout) = &design.layout else {
        return Vec::new();
    };
    let mut ids: Vec<PartId> = layout.parts.iter().map(|part| part.id).collect();
    ids.sort_unstable();
    ids.dedup();
    let mut blanks = Vec::new();
    for id in ids {
        let kind = match id {
            PartId::Shaft(_) => Kind::Shaft,
            PartId::Sleeve(_) => Kind::Sleeve,
            PartId::DogRing(_) if !problem.workshop().rings_on_gears() => Kind::DogRing,
            PartId::Pin => Kind::Pin,
            _ => continue,
        };
        let lengths: Vec<&Part> = layout.parts.iter().filter(|part| part.id == id).collect();
        blanks.push(drawn(problem, id.name(&design.gearbox), kind, &lengths));
    }
    blanks.extend(bushes(problem, set));
    blanks
}

/// A part that is drawn as one or more rings behind each other.
fn drawn(problem: &Problem, name: String, kind: Kind, rings: &[&Part]) -> Blank {
    let most = |of: fn(&Part) -> f64| rings.iter().map(|ring| of(ring)).fold(f64::MIN, f64::max);
    let least = |of: fn(&Part) -> f64| rings.iter().map(|ring| of(ring)).fold(f64::MAX, f64::min);
    let outside = up(2.0 * most(|ring| ring.outer_radius_mm));
    let length = up(most(|ring| ring.to_mm) - least(|ring| ring.from_mm));
    let bore_mm = 2.0 * least(|ring| ring.inner_radius_mm);
    turned(problem, name, kind, (outside, length, bore_mm), None)
}

/// Bushes between gears and what they turn on, as long as the gear.
fn bushes(problem: &Problem, set: &Set) -> Vec<Blank> {
    let bush = |(gear, _, _): (Gear, Form, u64)| {
        let shaft = gear.shaft(problem);
        // The input gear's hole is the spigot's.
        if gear.role == Role::Head && gear.seat == Seat::Driver {
            return None;
        }
        let pin = problem.idler_pin().filter(|_| shaft == Shaft::Idler);
        let (bore, wall) = if let Some(pin) = pin {
            (pin.pin(), pin.bush())
        } else {
            let bore = problem.bores().on(shaft)?;
            (bore.diameter(), bore.bush())
        };
        let outside = Length::from_steps(bore.steps() + 2 * wall.steps());
        let length = finished_length(problem, gear.role, gear.seat, gear.face);
        let name = format!("bush of {}", gear.name(problem));
        let sizes = (outside, length, bore.mm());
        (wall > Length::ZERO).then(|| turned(problem, name, Kind::Bush, sizes, None))
    };
    own_gears(problem, set)
        .into_iter()
        .filter_map(bush)
        .collect()
}

fn further_blanks(problem: &Problem, stock: &mut Stock) -> Vec<Blank> {
    let mut blanks = Vec::new();
    for part in problem.further_parts() {
        let material = part.material().map(|name| stock.material(name));
        let sizes = (part.diameter(), part.length(), 0.0);
        let blank = turned(
            problem,
            part.name().to_owned(),
            Kind::Further,
            sizes,
            material,
        );
        blanks.extend(std::iter::repeat_n(blank, part.count()));
    }
    blanks
}

/// A part of finished diameter, length and bore, with what is left on it for
/// turning and facing.
fn turned(
    problem: &Problem,
    name: String,
    kind: Kind,
    (outside, length, bore_mm): (Length, Length, f64),
    material: Option<Material>,
) -> Blank {
    let left_on = problem.workshop().allowances();
    let piece = Piece {
        diameter: Length::from_steps(outside.steps() + left_on.turning().steps()),
        length: Length::from_steps(length.steps() + 2 * left_on.facing().steps()),
        material,
    };
    Blank {
        name,
        kind,
        outside,
        length,
        bore_mm,
        root_mm: None,
        piece,
    }
}

fn whole_um(um: i64) -> Length {
    Length::from_steps(um.saturating_mul(STEPS_PER_UM))
}

/// A drawn size, rounded up to whole micrometres.
#[allow(
    clippy::cast_possible_truncation,
    reason = "sizes of a box are far below what a length can hold"
)]
fn up(mm: f64) -> Length {
    whole_um((mm * 1000.0 - SLACK_UM).ceil() as i64)
}

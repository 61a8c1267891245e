//! What a layout says.

use super::assembly::{Obstacle, Step};
use super::given::End;
use super::part::{Part, PartId};
use crate::train::Role;

/// A plane along the shafts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanePlace {
    /// The pair, or reverse.
    pub role: Role,
    /// Where its gears begin, mm from the input wall's inner face.
    pub from_mm: f64,
    /// Where they end, mm.
    pub to_mm: f64,
    /// The middle of its gears, mm.
    pub middle_mm: f64,
}

/// A sleeve and its dog rings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SleevePlace {
    /// Its place in the list given.
    pub sleeve: usize,
    /// Its middle in neutral, mm from the input wall's inner face.
    pub middle_mm: f64,
    /// From neutral to fully engaged, mm, either way.
    pub travel_mm: f64,
    /// Outer radius of the dog rings it engages, mm.
    pub ring_radius_mm: f64,
}

/// What a rod of the shift moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moved {
    /// A sleeve, by its place in the list given.
    Sleeve(usize),
    /// The sliding idler.
    Idler,
}

/// A position in which a rod is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RodPosition {
    /// What is engaged there ([`Role::Head`] is direct); none in neutral.
    pub engages: Option<Role>,
    /// The side it is moved to; none in neutral.
    pub towards: Option<End>,
    /// How far it is moved from neutral, mm, towards the output above 0.
    pub move_mm: f64,
    /// Where its notch is on the rod, mm from the notch of neutral, towards the
    /// output above 0: against the move, for the ball stays where it is.
    pub notch_mm: f64,
    /// The middle of what is moved, mm from the input wall's inner face.
    pub middle_mm: f64,
}

/// A rod of the shift. Only one may be out of neutral: any two would lock the
/// shafts.
#[derive(Clone, Debug, PartialEq)]
pub struct Rod {
    /// What it moves.
    pub moves: Moved,
    /// Neutral and one or two engaged positions, from the input on.
    pub positions: Vec<RodPosition>,
}

/// What is beside a gear of the layshaft or input shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// The pair whose gear it is.
    pub role: Role,
    /// The gap between the two, mm.
    pub gap_mm: f64,
    /// The gap that cutting this gear on one blank with it needs, mm.
    pub run_out_mm: f64,
    /// Whether both gears can be cut on one blank.
    pub fits: bool,
}

/// A gear of the layshaft or input shaft.
#[derive(Clone, Debug, PartialEq)]
pub struct FixedGear {
    /// The pair it belongs to.
    pub role: Role,
    /// Its nearest neighbours, that towards the input first.
    pub beside: Vec<Beside>,
    /// Its place in [`Layout::pieces`].
    pub piece: usize,
}

/// Everything in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Between the inner faces of the walls, mm.
    pub length_mm: f64,
    /// Every part, all sleeves in neutral and a sliding idler out of mesh.
    pub parts: Vec<Part>,
    /// The planes, from the input on.
    pub planes: Vec<PlanePlace>,
    /// The sleeves, from the input on.
    pub sleeves: Vec<SleevePlace>,
    /// The shift pattern: a rod for each sleeve, then that of a sliding idler.
    pub rods: Vec<Rod>,
    /// The gears of the layshaft or input shaft, from the input on.
    pub fixed_gears: Vec<FixedGear>,
    /// Which of these are of one piece, from the input on; a piece of one is a
    /// separate gear. Where blanks are separate they say what could be.
    pub pieces: Vec<Vec<Role>>,
    /// The largest bending moment of the two shafts over all loads, N·m.
    pub bending_n_m: f64,
    /// The steps that put the box together, or what is in the way.
    pub assembly: Result<Vec<Step>, Vec<Obstacle>>,
}

impl Layout {
    /// The parts while a speed is engaged (none: in neutral): what its rod
    /// moves is moved.
    pub fn parts_in(&self, engaged: Option<Role>) -> Vec<Part> {
        let mut parts = self.parts.clone();
        for rod in &self.rods {
            let mut positions = rod.positions.iter();
            let position = positions.find(|p| p.engages.is_some() && p.engages == engaged);
            for part in &mut parts {
                if let (true, Some(position)) = (rod.moves.is(part.id), position) {
                    part.from_mm += position.move_mm;
                    part.to_mm += position.move_mm;
                }
            }
        }
        parts
    }

    /// The middle of a pair's gears, mm from the input wall's inner face.
    pub fn middle_mm(&self, role: Role) -> Option<f64> {
        let mut planes = self.planes.iter();
        planes
            .find(|plane| plane.role == role)
            .map(|plane| plane.middle_mm)
    }
}

impl Moved {
    /// Whether it is this part.
    pub fn is(self, id: PartId) -> bool {
        match self {
            Self::Sleeve(sleeve) => id == PartId::Sleeve(sleeve),
            Self::Idler => matches!(id, PartId::Gear(_, crate::train::Seat::Idler)),
        }
    }
}

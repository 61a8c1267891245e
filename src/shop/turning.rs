//! What a gear is turned from, and to.

use crate::base::Length;
use crate::making::blank_um;
use crate::problem::{Bore, Problem};
use crate::train::{Form, Gear, finished_length, rough_length, rough_um, um_to_mm};
use serde::Serialize;

const STEPS_PER_UM: u64 = 1_000_000;

/// The hole of a gear.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Hole {
    /// Diameter of the hole in the gear, over the bush where it has one, mm.
    pub bore_mm: f64,
    /// Diameter of the shaft, or pin, mm.
    pub shaft_mm: f64,
    /// Wall of the bush, mm; 0 without one.
    pub bush_wall_mm: f64,
    /// Depth of the keyway beyond the bore, mm; 0 without one.
    pub keyway_mm: f64,
}

/// The piece of bar and the blank that is turned from it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Piece {
    /// What gears are made of; none where any material will do.
    pub material: Option<String>,
    /// Diameter of the piece at the least, mm.
    pub rough_diameter_mm: f64,
    /// Length of the piece, mm.
    pub rough_length_mm: f64,
    /// The thinnest bar that is sold for it, mm; none where all are too thin.
    pub bar_mm: Option<f64>,
    /// Diameter of the blank, mm.
    pub outside_mm: f64,
    /// Length over face and dog ring, mm.
    pub length_mm: f64,
    /// Width of the teeth, mm.
    pub face_width_mm: f64,
    /// Length of the dog ring that is of one piece with the gear, mm; 0 without.
    pub dog_ring_mm: f64,
    /// The hole; none where the file gives no bores.
    pub hole: Option<Hole>,
    /// The largest diameter that the lathe turns, mm, where it is said.
    pub largest_turned_mm: Option<f64>,
    /// Whether the piece goes into the lathe, where that is said.
    pub turns: Option<bool>,
}

impl Piece {
    /// For `gear`, made as `form` says.
    pub fn of(problem: &Problem, gear: &Gear, form: &Form) -> Self {
        let workshop = problem.workshop();
        let od_um = blank_um(problem.gears(), gear.module.of(problem), gear.teeth, form);
        let rough = rough_um(problem, od_um);
        let finished = finished_length(problem, gear.role, gear.seat, gear.face);
        let face = gear.face;
        let largest = workshop.largest_turned();
        Self {
            material: workshop.gear_material().map(str::to_owned),
            rough_diameter_mm: um_to_mm(rough),
            rough_length_mm: rough_length(problem, gear.role, gear.seat, gear.face).mm(),
            bar_mm: bar_for(problem, rough).map(Length::mm),
            outside_mm: um_to_mm(od_um),
            length_mm: finished.mm(),
            face_width_mm: face.mm(),
            dog_ring_mm: Length::from_steps(finished.steps() - face.steps()).mm(),
            hole: problem.bores().on(gear.shaft(problem)).map(hole),
            largest_turned_mm: largest.map(Length::mm),
            turns: largest.map(|largest| reaches(largest, rough)),
        }
    }
}

/// The thinnest bar of the gears' material that is sold and is no thinner than
/// the piece.
fn bar_for(problem: &Problem, rough_um: u64) -> Option<Length> {
    let workshop = problem.workshop();
    let bars = workshop.bars().iter();
    let bars = bars.filter(|bar| {
        let material = workshop.gear_material();
        material.is_none_or(|material| material == bar.material())
    });
    let sizes = bars.map(crate::problem::Bar::diameter);
    sizes.filter(|size| reaches(*size, rough_um)).min()
}

fn reaches(size: Length, um: u64) -> bool {
    u64::try_from(size.steps()).is_ok_and(|steps| steps / STEPS_PER_UM >= um)
}

fn hole(bore: Bore) -> Hole {
    let over_bush = bore.diameter().steps() + 2 * bore.bush().steps();
    Hole {
        bore_mm: Length::from_steps(over_bush).mm(),
        shaft_mm: bore.diameter().mm(),
        bush_wall_mm: bore.bush().mm(),
        keyway_mm: bore.keyway().mm(),
    }
}

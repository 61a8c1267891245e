//! Where everything stands along the shafts: the order of planes and sleeves,
//! every part's place, what can be of one piece, and how it goes together.
//!
//! In: a [`Gearbox`], plain figures of gears whose teeth are settled. Out: a
//! [`Layout`], or every [`Fault`]. Assumed: parallel shafts; gears are plain
//! rings as wide as their plane, and gears of one pair mesh. Sources: the rules
//! of the trade as each is stated (common practice, no source); geometry.
//!
//! Coordinates: z along the shafts in mm, 0 at the inner face of the input
//! wall, growing towards the output wall. Across the shafts, seen from the
//! input end: x to the right, y up, the main (in-line) or input (offset) shaft
//! at (0, 0), the layshaft or output shaft at (0, −a).
//!
//! The order: units (a sleeve with its gears, a plane without a sleeve) stand
//! as near to the input as all before them allow, in whole nanometres. An exact
//! walk (`order.rs`) under bounds from dynamic programming (`outlook.rs`) finds
//! the best one; ties fall in the order given.

mod across;
mod assembly;
mod bending;
mod blocks;
mod check;
mod fault;
mod given;
mod grid;
mod idler;
mod layout;
mod order;
mod outlook;
mod part;
mod parts;
mod pieces;
mod place;
mod rows;
mod run_out;
mod unit;

pub use assembly::{Direction, Obstacle, Site, Step};
pub use fault::Fault;
pub use given::{
    Blanks, End, Gearbox, Goal, Idler, InputShaft, Load, Pair, Pin, Reverse, ReverseForm,
    ShaftSize, Shafts, Sizes, Wheel,
};
pub use layout::{Beside, FixedGear, Layout, Moved, PlanePlace, Rod, RodPosition, SleevePlace};
pub use part::{Part, PartId, axis, fixed_shaft, free_shaft};
pub use run_out::run_out_mm;

use across::Across;
use bending::Beams;
use blocks::Space;
use unit::Frame;

/// The best layout of a box, or all that forbids one.
///
/// # Errors
///
/// Every fault of the figures; where there is none, every fault that no order
/// of the planes can mend; else that no order is free of collisions.
pub fn lay_out(gearbox: &Gearbox) -> Result<Layout, Vec<Fault>> {
    let frame = frame(gearbox)?;
    let space = Space::of(&frame);
    let with = idler::idler_rows(&frame).map(|(_, with)| with);
    let beams = Beams::of(&frame.rows, &gearbox.loads, with);
    match order::best(&space, &frame, &beams) {
        Some(order) => {
            let mut layout = place::layout(&space, &frame, &beams, &order);
            layout.assembly = assembly::assemble(gearbox, &layout);
            Ok(layout)
        }
        None => Err(vec![Fault::NoOrder(space.clashes)]),
    }
}

fn frame(gearbox: &Gearbox) -> Result<Frame<'_>, Vec<Fault>> {
    let mut faults = check::figures(gearbox);
    faults.extend(check::served(gearbox));
    if !faults.is_empty() {
        return Err(faults);
    }
    let rows = rows::rows(gearbox);
    let mut frame = Frame {
        gearbox,
        idler_at: vec![false; rows.len()],
        rows,
        across: Across::of(gearbox),
        ring_radii_mm: Vec::new(),
    };
    if let Some((own, with)) = idler::idler_rows(&frame) {
        for row in [own, with] {
            frame.idler_at[row] = true;
        }
    }
    let rings = check::ring_radii(&frame);
    faults.extend(check::touches(&frame));
    match rings {
        Ok(radii_mm) if faults.is_empty() => {
            frame.ring_radii_mm = radii_mm;
            Ok(frame)
        }
        Ok(_) => Err(faults),
        Err(rings) => Err(rings.into_iter().chain(faults).collect()),
    }
}

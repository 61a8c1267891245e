//! What follows from a settled set: how it turns, what loads it.
//!
//! In: a checked [`Problem`](crate::problem::Problem), a
//! [`Set`](crate::train::Set), and how the box is built. Out: plain data; who
//! prints it does no arithmetic.
//!
//! Coordinates: z along the shafts, mm, 0 at the inner face of the input wall,
//! growing towards the output wall. Across the shafts, seen from the input end:
//! x to the right, y up; the main shaft (in-line) or input shaft (offset) at
//! (0, 0), the layshaft or output shaft at (0, −a). Turning is positive
//! clockwise seen from the input end.

pub mod forces;
pub mod motion;

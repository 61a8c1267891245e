//! Involute gears: the basic rack, one gear, a mesh.
//!
//! In: rack, module, tooth count, helix angle, centre distance. Out: diameters,
//! blank sizes, undercut limit, interference limit, backlash. Assumed: external gears on parallel
//! axes, spur or helical, no profile shift. Notation of ISO 21771; formulas of
//! ISO 21771 and ISO 53.

mod gear;
mod interference;
mod mesh;
mod rack;

pub use gear::{Blank, GearSize, blank_um};
pub use interference::{largest_gear_teeth, least_pinion_teeth};
pub use mesh::{Pairing, backlash_at};
pub use rack::{Rack, involute};

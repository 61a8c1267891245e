//! Involute gears: the basic rack, one gear, a mesh, its inspection sizes.
//!
//! In: rack, module, tooth count, helix angle, profile shift, centre distance.
//! Out: diameters, thicknesses, limits (undercut, interference, tips), contact
//! and sliding, backlash, the shifts that close a centre distance, sizes to
//! measure. Assumed: external gears on parallel axes, spur or helical.
//! Notation of ISO 21771; formulas of ISO 21771 and ISO 53 where nothing else
//! is named. [`GearSize`] and [`Pairing`] are the short way for gears without
//! shift; [`ShiftedGear`] and [`Meshing`] hold for all.

mod bracket;
mod chord;
mod closing;
mod contact;
mod corner;
mod fault;
mod fillet;
mod gear;
mod hill;
mod interference;
mod inverse;
mod mesh;
pub mod outline;
mod pins;
mod play;
mod rack;
mod reach;
mod root;
mod shifted;
mod sliding;
mod span;
mod split;
mod toothing;
mod undercut;

pub use chord::Chord;
pub use closing::Closing;
pub use contact::{Member, Meshing, Path};
pub use fault::GeometryFault;
pub use gear::{Blank, GearSize, blank_um};
pub use interference::{largest_gear_teeth, least_pinion_teeth};
pub use inverse::{inverse_involute, involute};
pub use mesh::{Pairing, backlash_at};
pub use pins::{OverPins, PinFault};
pub use rack::{Rack, RackKind};
pub use reach::{Foot, Reach};
pub use root::{Bent, RootSection};
pub use shifted::{ShiftedGear, Thinning};
pub use sliding::Sliding;
pub use span::Span;
pub use split::{NoSplit, Split, SplitLimit, SplitLimits};
pub use toothing::Toothing;

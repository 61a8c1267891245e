//! What is drawn, before anybody spells it: the one drawing model behind the
//! report, SVG, DXF and solids.
//!
//! In: a set with its [`Plan`](crate::design::Plan). Out: [`Drawing`]s in
//! millimetres at full size, x to the right, y up, of true arcs and circles;
//! and the teeth of a gear as such. Assumed: parts are rings about their axes,
//! as the layout places them. Writers turn shapes into text and nothing more.

mod bodies;
mod boring;
mod dimension;
mod drawing;
mod end;
mod gear;
mod hatch;
mod names;
mod paper;
mod plate;
mod power;
mod section;
mod shape;
mod solid;
mod still;
mod strips;
mod teeth;
mod views;

pub use bodies::{gear_solids, set_in_place, too_wide_holes};
pub use boring::{bored_for, boring_plans};
pub use drawing::{Anchor, Bend, Box2, Drawing, Group, Item, Kind, Layer, Shape, Vertex};
pub use end::Phases;
pub use gear::gear_drawings;
pub use hatch::HATCH_MM;
pub use names::names_of_parts;
pub use paper::{BEFORE_DRILLING, BEFORE_TRUSTING};
pub use plate::plate;
pub use shape::capital_mm;
pub use solid::Solid;
pub use strips::{Strip, StripPiece, Strips, strips};
pub use teeth::{ToothPath, cut_of};
pub use views::{Views, state_name};

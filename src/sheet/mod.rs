//! What is drawn, before anybody spells it: the one drawing model behind the
//! report, SVG, DXF and solids.
//!
//! In: a set with its [`Plan`](crate::design::Plan). Out: [`Drawing`]s in
//! millimetres at full size, x to the right, y up, of true arcs and circles;
//! and the teeth of a gear as such. Assumed: parts are rings about their axes,
//! as the layout places them. Writers turn shapes into text and nothing more.

mod drawing;
mod end;
mod power;
mod section;
mod teeth;
mod views;

pub use drawing::{Anchor, Bend, Box2, Drawing, Group, Item, Kind, Layer, Shape, Vertex};
pub use end::Phases;
pub use teeth::{ToothPath, cut_of};
pub use views::{Views, state_name};

//! The outline of a gear, as a rack cuts it: tip, involute, fillet, root.
//!
//! In: a [`Cut`], that is a rack, module, teeth, shift, helix angle, tip
//! shortening and thinning. Out: a [`Tooth`], whose half flank is four exact
//! [`Curve`]s, and an [`Outline`], the closed polygon of the whole gear to a
//! chord error that the caller names. Assumed: the transverse section of an
//! external gear; the rack's straight flanks reach as far up as the tooth does
//! (the tip is turned, not cut by the rack). The bore is somebody else's.
//!
//! The fillet is the envelope of the rack's rounded corner, found from the law
//! of gearing: where two shapes touch, their common normal passes through the
//! pitch point. At a helix angle β the corner, a circle in the normal section,
//! is an ellipse 1/cos β as wide; ISO 21771 for all other sizes, ISO 53 for the
//! rack.
//!
//! Tooth 0 stands on the x axis, its centre line along +x, the gear's axis at
//! the origin; teeth count counter-clockwise.

mod chords;
mod curve;
mod cut;
mod fault;
mod polygon;
mod tooth;
mod trochoid;

pub use curve::{Arc, Curve, Involute, Point};
pub use cut::{Cut, Thinned};
pub use fault::OutlineFault;
pub use polygon::{CHORD_ERROR_MM, Outline};
pub use tooth::Tooth;
pub use trochoid::Trochoid;

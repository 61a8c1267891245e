//! How strong the teeth of a mesh are.
//!
//! In: a problem with a duty, and how the gears of a mesh are made. Out: the
//! safety of both roots and both flanks, and every factor that it rests on, with
//! its value and where that comes from. Assumed: external gears on parallel
//! shafts; nothing is proved by test, so that every figure is an estimate.
//!
//! Sources: roots after ISO 6336-3:2006 method B, flanks after ISO 6336-2:2006
//! (with its correction of `Z_β`), both from memory; dynamic and face load factors
//! after AGMA 2001 as Shigley has them; endurance limits of ISO 6336-5 are the
//! problem's [`Material`](crate::problem::Material). Each formula names its own
//! beside it. The older way of Lewis stands beside them ([`Lewis`]).
//!
//! A [`Rater`] is made once for a problem. [`Rater::meshed`] works out what
//! depends on the teeth alone ([`MeshStrength`]), [`Rater::pair_load`] and
//! [`Rater::reverse_loads`] what a role carries; [`MeshStrength::under`] joins the
//! two and is cheap enough for a search. [`rate`](crate::train::rate) does all of it
//! for a set.

mod agma;
mod curve;
mod factor;
mod flank;
mod lewis;
mod loads;
mod rated;
mod rater;
mod root;
mod service;
mod strand;
mod strength;
mod told;

pub use agma::{dynamic_factor, face_load_factor};
pub use curve::Curve;
pub use factor::{Factor, Origin};
pub use flank::elasticity_factor;
pub use lewis::{Lewis, barth_factor, lewis_form_factor, lewis_stress_mpa};
pub use loads::MeshLoad;
pub use rated::Rated;
pub use rater::Rater;
pub use strand::{Strand, Widths, least_near, least_that};
pub use strength::{LoadedMesh, MeshSafety, MeshShape, MeshStrength, MeshStress};

//! Where the reverse idler can sit: every idler count on either side.
//!
//! In: a checked [`Problem`], a set with reverse, the box around it. Out: each
//! place with what is near it, the load on its pin and what an error of its
//! centre does; and why other places are refused. Assumed: friction left out,
//! forces at the pitch point. Sources: circles in the plane; ISO 21771 for the
//! working angles; F_t = 2 T / d_w, F_r = F_t tan α_wt (handbooks).

mod gaps;
mod load;
mod study;

pub use gaps::{Near, clearance_mm, nearby};
pub use load::{IdlerMesh, PinLoad, pin_loads};
pub use study::{ERROR_MM, Place, Refused, Study, Why, study, study_own};

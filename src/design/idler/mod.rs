//! Where the reverse idler can sit: every idler count on either side.
//!
//! In: a checked problem, a set with reverse, the box around it. Out: each
//! place with what is near it, the load on its pin and what an error of its
//! centre does; and why other places are refused. Assumed and sources:
//! circles in the plane; loads as in [`forces`](super::forces).

mod gaps;
mod study;

pub use gaps::{Near, clearance_mm, nearby};
pub use study::{ERROR_MM, Place, Refused, Study, Why, study, study_own};

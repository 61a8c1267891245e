//! From a set of teeth to a box that goes together.
//!
//! In: gears whose sizes are settled, shafts, a case. Out: where everything
//! stands, how it turns, what it carries and whether it holds. Assumed: parallel shafts. Sources
//! stand at each formula.

pub mod boring;
pub mod forces;
mod housed;
pub mod idler;
mod loaded;
pub mod motion;
mod plan;
pub mod planes;
pub mod strength;

pub use housed::Housed;
pub use loaded::{gear_forces, input_span_mm, torque_n_m};
pub use plan::Plan;

//! Every set of a problem: counted, proved, ranked.
//!
//! In: a checked [`Problem`](crate::problem::Problem). Out: an [`Outcome`] with
//! the exact count, the unbeaten sets, the best by the ranking; or, where no
//! set exists, the [`Nearest`] misses. Assumed: nothing beyond the checks.
//! How each part works stands at its head; [`enumerate`] is the plain twin that
//! the tests hold [`solve`] against.

mod best;
mod bills;
mod cheapest;
mod control;
mod count;
mod enumerate;
mod explain;
mod field;
mod found;
mod front;
mod gears;
mod grouping;
mod head;
mod ladder;
mod least;
mod mask;
mod meter;
mod nearby;
mod nearer;
mod nearest;
mod order;
mod outlook;
mod passing;
mod program;
mod purse;
mod quest;
mod rank;
mod ranked;
mod rest;
mod reverses;
mod safest;
mod scale;
mod share;
mod solve;
mod sorting;
mod space;
mod store;
mod strong;
mod sweep;
mod terms;
mod walk;

pub use control::Control;
pub use count::Counts;
pub use enumerate::{Enumerated, count_plainly, enumerate};
pub use explain::{
    Axis, Clash, Clashes, Edits, Effort, Explanation, Gain, Reach, Shortfall, Step, Strongest, Way,
    explain,
};
pub use field::{Field, FieldPoint, field};
pub use nearer::nearer_reverse;
pub use nearest::{
    Distances, HeadMiss, Nearest, PairTeeth, ReverseMiss, SpeedAt, SpeedMiss, SumAt, Together,
    nearest,
};
pub(crate) use program::Program;
pub use program::{Certificate, MOST_UNKNOWNS, Objection, Whole, certify, least_by_program};
pub use solve::{Bounds, Outcome, Request, Status, solve, solve_alternatives};
pub use space::Refused;
pub use sweep::{Row, sweep};
pub use walk::{Alternatives, Walk, WalkEnd};

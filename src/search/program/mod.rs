//! The integer program: the front proved by other means than the search.
//!
//! In: a checked [`Problem`](crate::problem::Problem) and a front. Out: a
//! [`Certificate`]: whether every point of the front is a set that nothing
//! beats, and whether nothing is missing. Assumed: the lists of `mesh`, and
//! nothing of the search, which is what is being checked; a test holds that no
//! file here names one of its parts.
//!
//! A front is a list of claims ([`claims`]): "no set with at most so many
//! cutters has less error than this and less metal than that". For one head the
//! ratio windows and the error only strike options off the lists, so each claim
//! is a choice of one option a role under two sums: metal, and cutters that
//! roles share. Most heads fall to sums of least values ([`bounds`]), the rest
//! are integer programs ([`choice`]) for the solver crate ([`solver`]), whose
//! answers are taken only when they hold in whole numbers. A small problem can
//! also be asked for the least of any measure as one program over all choices at
//! once ([`least_by_program`], stated in [`statement`]): what gears share is an
//! unknown with a price ([`needs`]), and for money each gear is cut from one bar
//! that holds it ([`bars`]).

mod bars;
mod bounds;
mod certify;
mod choice;
mod choices;
mod claims;
mod gearing;
mod needs;
mod options;
mod points;
mod seats;
mod solver;
mod stage;
mod statement;
mod sums;
mod whole;

pub use certify::{Certificate, Objection, certify};
pub(crate) use solver::Program;
pub use whole::{MOST_UNKNOWNS, Whole, least_by_program};

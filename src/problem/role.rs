//! The names of a problem's meshes and of the seats of gears in them.

use super::model::Problem;

/// What a mesh, or the chain of meshes of reverse, is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Input shaft to layshaft.
    Head,
    /// A geared speed, by its place among all speeds of the problem.
    Speed(usize),
    /// Reverse.
    Reverse,
}

impl Role {
    /// Its name in tables: `head`, the speed's own name, `reverse`.
    pub fn name(self, problem: &Problem) -> &str {
        match self {
            Self::Head => "head",
            Self::Speed(place) => problem.speeds()[place].name(),
            Self::Reverse => "reverse",
        }
    }
}

/// Which gear of a role.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Seat {
    /// The one that drives.
    Driver,
    /// The one between, in reverse.
    Idler,
    /// The one that is driven.
    Driven,
}

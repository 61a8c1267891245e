//! The gears of a set by what they are there for.

use super::width::face_widths;
use super::{ModuleId, Pair, Set};
use crate::base::{Length, Teeth};
use crate::problem::{Arrangement, Problem, Role, Seat, Shaft};

/// One gear of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gear {
    /// What it is there for.
    pub role: Role,
    /// Its place in that role.
    pub seat: Seat,
    /// Its module.
    pub module: ModuleId,
    /// Its teeth.
    pub teeth: Teeth,
    /// Its face width.
    pub face: Length,
}

impl Gear {
    /// What it sits on.
    pub fn shaft(&self, problem: &Problem) -> Shaft {
        let [driving, driven] = problem.shafts(self.role == Role::Head);
        match self.seat {
            Seat::Driver => driving,
            Seat::Idler => Shaft::Idler,
            Seat::Driven => driven,
        }
    }

    /// Its name by shaft and role: `input`, `layshaft, 1`, `idler`.
    pub fn name(&self, problem: &Problem) -> String {
        let (driving, driven) = match problem.arrangement() {
            Arrangement::InLine => ("layshaft", "main"),
            Arrangement::Offset => ("input", "output"),
        };
        match (self.role, self.seat) {
            (_, Seat::Idler) => "idler".to_owned(),
            (Role::Head, Seat::Driver) => "input".to_owned(),
            (Role::Head, Seat::Driven) => "layshaft, head".to_owned(),
            (role, Seat::Driver) => format!("{driving}, {}", role.name(problem)),
            (role, Seat::Driven) => format!("{driven}, {}", role.name(problem)),
        }
    }
}

/// The pairs of a set with their roles: head first, then speeds in file order.
pub fn pairs_of(problem: &Problem, set: &Set) -> Vec<(Role, Pair)> {
    let geared = problem.speeds().iter().enumerate();
    let geared = geared.filter(|(_, speed)| speed.geared().is_some());
    let speeds = geared
        .zip(&set.pairs)
        .map(|((i, _), &pair)| (Role::Speed(i), pair));
    let head = set.head.map(|pair| (Role::Head, pair));
    head.into_iter().chain(speeds).collect()
}

/// Every gear of a set: head, speeds, reverse; driver before driven.
pub fn gears_of(problem: &Problem, set: &Set) -> Vec<Gear> {
    let mut gears = Vec::new();
    let mut faces = face_widths(problem, set).into_iter();
    for (
        role,
        Pair {
            module,
            driver,
            driven,
        },
    ) in pairs_of(problem, set)
    {
        let face = faces.next().unwrap_or(Length::ZERO);
        for (seat, teeth) in [(Seat::Driver, driver), (Seat::Driven, driven)] {
            gears.push(Gear {
                role,
                seat,
                module,
                teeth,
                face,
            });
        }
    }
    if let Some(r) = set.reverse {
        let seats = [
            (Seat::Driver, r.driver),
            (Seat::Idler, r.idler),
            (Seat::Driven, r.driven),
        ];
        let role = Role::Reverse;
        let face = faces.next().unwrap_or(Length::ZERO);
        gears.extend(seats.map(|(seat, teeth)| Gear {
            role,
            seat,
            module: r.module,
            teeth,
            face,
        }));
    }
    gears
}

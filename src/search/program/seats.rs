//! Where the gears of a set stand that are pieces of their own.

use crate::problem::Problem;
use crate::train::{Role, Seat};

/// A gear that is cut for itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    /// Heads are group 0, roles follow as they stand.
    pub(super) group: usize,
    /// Its place among the gears of a choice, the driver at 0.
    pub(super) gear: usize,
    pub(super) role: Role,
    pub(super) seat: Seat,
}

/// Every such gear; the driver of reverse that is the gear of a speed is none.
pub(super) fn places(problem: &Problem) -> Vec<Place> {
    let mut places = Vec::new();
    let mut add = |group, role, seats: &[(usize, Seat)]| {
        let place = |&(gear, seat): &(usize, Seat)| Place {
            group,
            gear,
            role,
            seat,
        };
        places.extend(seats.iter().map(place));
    };
    let pair = [(0, Seat::Driver), (1, Seat::Driven)];
    if problem.head().is_some() {
        add(0, Role::Head, &pair);
    }
    let speeds = problem.speeds().iter().enumerate();
    let geared = speeds.filter(|(_, speed)| speed.geared().is_some());
    let mut group = 1;
    for (place, _) in geared {
        add(group, Role::Speed(place), &pair);
        group += 1;
    }
    if problem.reverse().is_some() {
        let chain = [(0, Seat::Driver), (1, Seat::Idler), (2, Seat::Driven)];
        let own = usize::from(problem.shared_speed().is_some());
        add(group, Role::Reverse, chain.get(own..).unwrap_or_default());
    }
    places
}

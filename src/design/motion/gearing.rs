//! A set with the form of its reverse: what turns what.

use super::Turns;
use crate::problem::{Arrangement, Problem, ReverseForm, Shaft};
use crate::train::{Gear, Pair, ReverseGears, Role, Seat, Set, gears_of};
use std::fmt;

/// What the box is put in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// No dog is in.
    Neutral,
    /// A forward speed, by its place among all speeds of the problem.
    Speed(usize),
    /// Reverse.
    Reverse,
}

/// Why a set cannot be set turning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MotionFault {
    /// The set's pairs are not those of the problem's speeds.
    OtherProblem,
    /// Reverse is to be driven by the first speed's driving gear, and no geared
    /// speed has that module and that many teeth there.
    NotShared,
}

impl fmt::Display for MotionFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::OtherProblem => "the set's gears are not those of the problem's speeds",
            Self::NotShared => {
                "reverse is to share the first speed's driving gear, but its own has other \
                 teeth or another module"
            }
        })
    }
}

impl std::error::Error for MotionFault {}

/// A set whose parts are known to fit the problem.
#[derive(Clone, Debug)]
pub(in crate::design) struct Gearing<'a> {
    pub(in crate::design) problem: &'a Problem,
    pub(in crate::design) form: ReverseForm,
    pub(in crate::design) head: Option<Pair>,
    /// One per speed of the problem; none for the direct one.
    pub(in crate::design) speeds: Vec<Option<Pair>>,
    pub(in crate::design) reverse: Option<ReverseGears>,
    /// The speed whose driving gear is also that of reverse.
    pub(in crate::design) sharing: Option<usize>,
    /// Every gear of the set.
    made: Vec<Gear>,
}

impl<'a> Gearing<'a> {
    pub(in crate::design) fn new(
        problem: &'a Problem,
        set: &Set,
        form: ReverseForm,
    ) -> Result<Self, MotionFault> {
        let is_in_line = problem.arrangement() == Arrangement::InLine;
        if set.head.is_some() != is_in_line || set.pairs.len() != problem.geared().count() {
            return Err(MotionFault::OtherProblem);
        }
        let mut pairs = set.pairs.iter().copied();
        let speeds = problem.speeds().iter();
        let mut gearing = Self {
            problem,
            form,
            head: set.head,
            speeds: speeds
                .map(|speed| speed.geared().and_then(|_| pairs.next()))
                .collect(),
            reverse: set.reverse,
            sharing: None,
            made: gears_of(problem, set),
        };
        if let (ReverseForm::SharedDriver, Some(gears)) = (form, set.reverse) {
            gearing.sharing = Some(gearing.sharing_with(gears)?);
        }
        Ok(gearing)
    }

    /// The first speed, if its driving gear can be that of reverse.
    fn sharing_with(&self, gears: ReverseGears) -> Result<usize, MotionFault> {
        let mut places = self.by_speed().into_iter();
        // Where the problem itself shares, its targets say which speed it is:
        // speeds of nearly equal targets may come out the other way round.
        let first = match self.problem.shared_speed_among_all() {
            Some(place) => self.pair(place).map(|pair| (place, pair)),
            None => places.find_map(|place| Some((place, self.pair(place)?))),
        };
        let wanted = (gears.module, gears.driver);
        first
            .filter(|(_, pair)| (pair.module, pair.driver) == wanted)
            .map(|(place, _)| place)
            .ok_or(MotionFault::NotShared)
    }

    pub(in crate::design) fn pair(&self, place: usize) -> Option<Pair> {
        self.speeds.get(place).copied().flatten()
    }

    /// Neutral, the speeds in file order, reverse.
    pub(in crate::design) fn states(&self) -> Vec<State> {
        let speeds = (0..self.speeds.len()).map(State::Speed);
        let reverse = self.reverse.map(|_| State::Reverse);
        std::iter::once(State::Neutral)
            .chain(speeds)
            .chain(reverse)
            .collect()
    }

    /// Places of the speeds, the slowest output first; level ones in file
    /// order.
    pub(super) fn by_speed(&self) -> Vec<usize> {
        let mut places: Vec<usize> = (0..self.speeds.len()).collect();
        places.sort_by(|&a, &b| self.speed_turns(a).cmp_speed(self.speed_turns(b)));
        places
    }

    /// Turns of the shaft that drives the speeds: layshaft, or the input.
    pub(super) fn source(&self) -> Turns {
        let head = self.head;
        head.map_or(Turns::ONE, |p| Turns::ONE.meshed(p.driver, p.driven))
    }

    /// Turns of a speed's last gear: its driven one, or the input gear itself
    /// for the direct speed.
    pub(super) fn speed_turns(&self, place: usize) -> Turns {
        let pair = self.pair(place);
        pair.map_or(Turns::ONE, |p| self.source().meshed(p.driver, p.driven))
    }

    /// Turns of idler and driven gear of reverse, all in mesh.
    pub(super) fn reverse_turns(&self, gears: ReverseGears) -> [Turns; 2] {
        let idler = self.source().meshed(gears.driver, gears.idler);
        [idler, idler.meshed(gears.idler, gears.driven)]
    }

    /// The gear at a seat, as one of those that are made: the driving gear of
    /// reverse may be that of a speed.
    pub(in crate::design) fn gear(&self, role: Role, seat: Seat) -> Option<Gear> {
        let role = match (role, seat, self.sharing) {
            (Role::Reverse, Seat::Driver, Some(place)) => Role::Speed(place),
            _ => role,
        };
        let is = |gear: &&Gear| (gear.role, gear.seat) == (role, seat);
        self.made.iter().find(is).copied()
    }

    /// Every gear that is made: head, speeds in file order, reverse; driver
    /// before driven.
    pub(super) fn gears(&self) -> Vec<Gear> {
        let speeds = (0..self.speeds.len()).map(Role::Speed);
        let roles = std::iter::once(Role::Head)
            .chain(speeds)
            .chain([Role::Reverse]);
        let seats = [Seat::Driver, Seat::Idler, Seat::Driven];
        let all = roles.flat_map(|role| seats.map(|seat| (role, seat)));
        all.filter(|&at| self.sharing.is_none() || at != (Role::Reverse, Seat::Driver))
            .filter_map(|(role, seat)| self.gear(role, seat))
            .collect()
    }

    /// What a gear sits on.
    pub(in crate::design) fn shaft_of(&self, role: Role, seat: Seat) -> Shaft {
        let [driving, driven] = self.problem.shafts(role == Role::Head);
        match seat {
            Seat::Driver => driving,
            Seat::Idler => Shaft::Idler,
            Seat::Driven => driven,
        }
    }

    /// The shaft that the power leaves by.
    pub(in crate::design) fn last_shaft(&self) -> Shaft {
        self.shaft_of(Role::Reverse, Seat::Driven)
    }
}

//! One state: how fast everything turns, and what holds what.

use super::path::{path, words};
use super::{Gearing, Rate, State, Step, Turns};
use crate::problem::{ReverseForm, Shaft};
use crate::train::{Gear, Role, Seat};

/// How a gear sits on its shaft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// Always turns with it.
    Fixed,
    /// Idles on it.
    Free,
    /// Free by itself, and locked to it by its dog in this state.
    Locked,
}

/// How a shaft turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftMotion {
    /// Which; the idler's is its pin, which stands.
    pub shaft: Shaft,
    /// How fast.
    pub rate: Rate,
}

/// How a gear turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearMotion {
    /// Which. The driving gear of reverse is not listed apart where it is that
    /// of the first speed.
    pub gear: Gear,
    /// What it sits on.
    pub shaft: Shaft,
    /// How it sits there.
    pub hold: Hold,
    /// Whether it is in mesh; only a sliding idler is ever out, and is then
    /// taken as standing.
    pub in_mesh: bool,
    /// How fast it turns.
    pub rate: Rate,
    /// How fast it turns seen from its shaft; none where it is fixed to it.
    pub slip: Option<Rate>,
}

/// How everything turns in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateMotion {
    /// Which.
    pub state: State,
    /// Input, layshaft (in-line), main or output shaft, pin of the idler.
    pub shafts: Vec<ShaftMotion>,
    /// Head, speeds in file order, reverse; driver before driven.
    pub gears: Vec<GearMotion>,
    /// In-line: how fast the main shaft turns seen from the input gear, in
    /// which its end runs.
    pub spigot_slip: Option<Rate>,
    /// Whether nothing drives the output, which is then taken as standing.
    pub output_taken_as_standing: bool,
    /// What the power passes through, in order; empty in neutral.
    pub path: Vec<Step>,
    /// The same as one line of plain words.
    pub words: String,
}

impl StateMotion {
    /// How fast a shaft turns; none where the box has no such shaft.
    pub fn shaft(&self, shaft: Shaft) -> Option<Rate> {
        let found = self.shafts.iter().find(|at| at.shaft == shaft);
        found.map(|at| at.rate)
    }

    /// How the gear at a seat turns; none where there is none.
    pub fn gear(&self, role: Role, seat: Seat) -> Option<&GearMotion> {
        let at = |g: &&GearMotion| (g.gear.role, g.gear.seat) == (role, seat);
        self.gears.iter().find(at)
    }
}

impl Gearing<'_> {
    pub(in crate::design) fn motion_in(&self, state: State, input_rpm: Option<f64>) -> StateMotion {
        let output = self.output_turns(state);
        let rate = |turns| Rate::of(turns, input_rpm);
        let shafts = self.shafts().into_iter().map(|shaft| ShaftMotion {
            shaft,
            rate: rate(self.shaft_turns(shaft, output)),
        });
        let gears = self.gears().into_iter();
        let path = path(self, state);
        StateMotion {
            state,
            shafts: shafts.collect(),
            gears: gears
                .map(|gear| self.gear_motion(gear, state, input_rpm))
                .collect(),
            spigot_slip: self.head.map(|_| rate(output.less(Turns::ONE))),
            output_taken_as_standing: state == State::Neutral,
            words: words(self, state, &path),
            path,
        }
    }

    fn shafts(&self) -> Vec<Shaft> {
        let shafts = self.problem.arrangement().shafts().iter();
        let pin = self.reverse.map(|_| Shaft::Idler);
        shafts.copied().chain(pin).collect()
    }

    fn output_turns(&self, state: State) -> Turns {
        match state {
            State::Neutral => Turns::STANDING,
            State::Speed(place) => self.speed_turns(place),
            State::Reverse => {
                let gears = self.reverse;
                gears.map_or(Turns::STANDING, |gears| self.reverse_turns(gears)[1])
            }
        }
    }

    fn shaft_turns(&self, shaft: Shaft, output: Turns) -> Turns {
        match shaft {
            Shaft::Input => Turns::ONE,
            Shaft::Layshaft => self.source(),
            Shaft::Main | Shaft::Output => output,
            Shaft::Idler => Turns::STANDING,
        }
    }

    fn gear_motion(&self, gear: Gear, state: State, input_rpm: Option<f64>) -> GearMotion {
        let shaft = self.shaft_of(gear.role, gear.seat);
        let on = self.shaft_turns(shaft, self.output_turns(state));
        let hold = self.hold(&gear, state);
        let in_mesh = gear.seat != Seat::Idler
            || self.form != ReverseForm::SlidingIdler
            || state == State::Reverse;
        let turns = match hold {
            Hold::Fixed => on,
            Hold::Free | Hold::Locked if in_mesh => self.driven_turns(&gear),
            Hold::Free | Hold::Locked => Turns::STANDING,
        };
        let slip = (hold != Hold::Fixed).then(|| Rate::of(turns.less(on), input_rpm));
        GearMotion {
            gear,
            shaft,
            hold,
            in_mesh,
            rate: Rate::of(turns, input_rpm),
            slip,
        }
    }

    /// Turns of a gear that its mate drives, whatever its shaft does.
    fn driven_turns(&self, gear: &Gear) -> Turns {
        match (gear.role, gear.seat, self.reverse) {
            (Role::Speed(place), ..) => self.speed_turns(place),
            (Role::Reverse, Seat::Idler, Some(gears)) => self.reverse_turns(gears)[0],
            (Role::Reverse, _, Some(gears)) => self.reverse_turns(gears)[1],
            _ => Turns::ONE,
        }
    }

    fn hold(&self, gear: &Gear, state: State) -> Hold {
        let slides = self.form == ReverseForm::SlidingIdler;
        let (own, free) = match (gear.role, gear.seat) {
            (Role::Speed(place), Seat::Driven) => (State::Speed(place), true),
            (Role::Reverse, Seat::Driven) => (State::Reverse, !slides),
            (Role::Reverse, Seat::Idler) => return Hold::Free,
            _ => return Hold::Fixed,
        };
        match (free, own == state) {
            (false, _) => Hold::Fixed,
            (true, true) => Hold::Locked,
            (true, false) => Hold::Free,
        }
    }
}

//! End view and section of a set, at one scale with their axes level.

use super::drawing::{Box2, Drawing, at};
use super::end::{Phases, end_view};
use super::section::section;
use crate::design::Plan;
use crate::design::motion::State;
use crate::involute::ShiftedGear;
use crate::making::gear_of;
use crate::problem::{Problem, Shaft, Side};
use crate::train::{Gear, Point, Role, Seat, Set, forms_of, gears_of};

/// The two views, third angle: the end view from the input end stands to the
/// left of the section.
#[derive(Clone, Debug, PartialEq)]
pub struct Views {
    /// From the input end.
    pub end: Drawing,
    /// Along the shafts; none where nothing can be laid out.
    pub section: Option<Drawing>,
    /// How the gears stand.
    pub phases: Phases,
}

/// What a state is called: neutral, a speed's or reverse's name.
pub fn state_name(problem: &Problem, state: State) -> String {
    match state {
        State::Neutral => "neutral".to_owned(),
        State::Speed(place) => Role::Speed(place).name(problem).to_owned(),
        State::Reverse => Role::Reverse.name(problem).to_owned(),
    }
}

/// A gear with its shape and its name.
#[derive(Clone, Debug)]
pub(super) struct Wheel {
    pub(super) gear: Gear,
    pub(super) name: String,
    pub(super) shaft: Shaft,
    pub(super) made: ShiftedGear,
    /// Radius of its hole, mm.
    pub(super) hole_mm: f64,
}

/// What both views look at.
#[derive(Debug)]
pub(super) struct Scene<'a> {
    pub(super) problem: &'a Problem,
    pub(super) set: &'a Set,
    pub(super) plan: &'a Plan<'a>,
    /// Those that are cut; a shared driver of reverse is the speed's.
    pub(super) wheels: Vec<Wheel>,
    /// Height of a capital, mm: small boxes have small letters.
    pub(super) letter_mm: f64,
}

impl<'a> Scene<'a> {
    pub(super) fn new(problem: &'a Problem, set: &'a Set, plan: &'a Plan<'a>) -> Self {
        let shared = set.shared_place(problem);
        let gears = gears_of(problem, set)
            .into_iter()
            .zip(forms_of(problem, set));
        let wheels = gears.enumerate().filter_map(|(place, (gear, form))| {
            if Some(place) == shared {
                return None;
            }
            let module = gear.module.of(problem);
            let made = gear_of(problem.gears(), module, gear.teeth, &form).ok()?;
            let wheel = plan.housed.wheel(gear.role, gear.seat);
            Some(Wheel {
                name: gear.name(problem),
                shaft: gear.shaft(problem),
                made,
                hole_mm: wheel.map_or(0.0, |wheel| wheel.hole_radius_mm),
                gear,
            })
        });
        let mut scene = Self {
            problem,
            set,
            plan,
            wheels: wheels.collect(),
            letter_mm: 1.0,
        };
        scene.letter_mm = scene.tips().height_mm() / 30.0;
        scene
    }

    /// Around the tips of all gears on the two axes.
    pub(super) fn tips(&self) -> Box2 {
        let round = |wheel: &Wheel| {
            let axis = self.axis(wheel.shaft, Side::Right)?;
            Some(Box2::round(axis, wheel.made.tip_mm() / 2.0))
        };
        let both = Box2::new(Self::upper(), self.lower());
        self.wheels.iter().filter_map(round).fold(both, Box2::with)
    }

    /// The axis at the origin.
    pub(super) const fn upper() -> Point {
        at(0.0, 0.0)
    }

    /// The other of the two shafts' axes.
    pub(super) fn lower(&self) -> Point {
        at(0.0, -self.set.centre_distance.mm())
    }

    /// Where a shaft is across the box; the idler's pin on `side`.
    pub(super) fn axis(&self, shaft: Shaft, side: Side) -> Option<Point> {
        match shaft {
            Shaft::Input | Shaft::Main => Some(Self::upper()),
            Shaft::Layshaft | Shaft::Output => Some(self.lower()),
            Shaft::Idler => Some(self.plan.housed.idler_places()?[side as usize]),
        }
    }

    pub(super) fn wheel(&self, role: Role, seat: Seat) -> Option<&Wheel> {
        let is = |wheel: &&Wheel| (wheel.gear.role, wheel.gear.seat) == (role, seat);
        self.wheels.iter().find(is)
    }

    /// The gear that drives reverse: its own, or the one it shares.
    pub(super) fn reverse_driver(&self) -> Option<&Wheel> {
        self.wheel(Role::Reverse, Seat::Driver).or_else(|| {
            let place = self.problem.shared_speed_among_all()?;
            self.wheel(Role::Speed(place), Seat::Driver)
        })
    }
}

impl Views {
    /// Of a set with its plan.
    pub fn new(problem: &Problem, set: &Set, plan: &Plan<'_>) -> Self {
        let scene = Scene::new(problem, set, plan);
        let phases = Phases::new(&scene);
        let mut end = end_view(&scene, &phases);
        let mut section = section(&scene);
        if let Some(section) = &mut section {
            let (low, high) = (&mut section.frame.low, &mut section.frame.high);
            low.y_mm = low.y_mm.min(end.frame.low.y_mm);
            high.y_mm = high.y_mm.max(end.frame.high.y_mm);
            end.frame.low.y_mm = low.y_mm;
            end.frame.high.y_mm = high.y_mm;
        }
        Self {
            end,
            section,
            phases,
        }
    }
}

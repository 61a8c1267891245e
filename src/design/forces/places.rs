//! Where the axles stand and how each mesh of the power's path lies.

use super::{ForceFault, Hand, Mounting};
use crate::design::motion::{Gearing, State};
use crate::involute::{Closing, GeometryFault, Toothing};
use crate::making::Form;
use crate::problem::{Problem, ReverseForm, Shaft, Side};
use crate::train::{Gear, Point, Role, Seat, Set, forms_of, gears_of, idler_centres};

/// Two gears in mesh, ready to be loaded.
#[derive(Clone, Copy, Debug)]
pub(super) struct Meeting {
    /// Driving gear first.
    pub(super) gears: [Gear; 2],
    pub(super) shafts: [Shaft; 2],
    /// Where their axles stand.
    pub(super) axles: [Point; 2],
    pub(super) hands: [Hand; 2],
    pub(super) plane_mm: f64,
    pub(super) closing: Closing,
}

/// All places of one box.
#[derive(Debug)]
pub(super) struct Places<'a> {
    pub(super) gearing: &'a Gearing<'a>,
    mounting: &'a Mounting,
    centres_mm: f64,
    /// The two meshes of reverse, and where the idler stands.
    pub(super) reverse: Option<([Closing; 2], Point)>,
}

impl<'a> Places<'a> {
    pub(super) fn new(
        gearing: &'a Gearing<'a>,
        set: &Set,
        mounting: &'a Mounting,
    ) -> Result<Self, ForceFault> {
        let centres_mm = set.centre_distance.mm();
        let mut places = Self {
            gearing,
            mounting,
            centres_mm,
            reverse: None,
        };
        if set.reverse.is_some() {
            places.reverse = places.idler(set)?;
        }
        Ok(places)
    }

    /// Reverse's meshes closed by the shifts that its gears have, and the place
    /// that follows.
    fn idler(&self, set: &Set) -> Result<Option<([Closing; 2], Point)>, ForceFault> {
        let problem = self.gearing.problem;
        let helix_deg = problem.gears().helix_angle_deg();
        if self.mounting.reverse == ReverseForm::SlidingIdler && helix_deg > 0.0 {
            return Err(ForceFault::SlidingHelix);
        }
        let Some(mounted) = self.mounting.idler else {
            return Err(ForceFault::NoPin);
        };
        let seat = |seat| self.gearing.gear(Role::Reverse, seat);
        let gears = (seat(Seat::Driver), seat(Seat::Idler), seat(Seat::Driven));
        let (Some(driver), Some(idler), Some(driven)) = gears else {
            return Ok(None);
        };
        let made = made(problem, set);
        let shift = |gear: &Gear| shift_of(&made, gear);
        let closing = |one: Gear, other: Gear| {
            let sum = shift(&one) + shift(&other);
            let toothing = toothing(problem, &one)?;
            Closing::from_shift_sum(toothing, [one.teeth, other.teeth], sum)
        };
        let meshes = [closing(driver, idler)?, closing(idler, driven)?];
        let distances_mm = meshes.map(|mesh| mesh.centres_mm());
        let [upper, lower] = problem.arrangement().upper_lower(distances_mm);
        let [right, left] =
            idler_centres(self.centres_mm, upper, lower).ok_or(ForceFault::IdlerApart)?;
        let place = match mounted.side {
            Side::Right => right,
            Side::Left => left,
        };
        Ok(Some((meshes, place)))
    }

    /// The loaded meshes of a state, in the order that the power passes them.
    pub(super) fn meetings(&self, state: State) -> Result<Vec<Meeting>, ForceFault> {
        let head = || self.pair(Role::Head);
        match state {
            State::Neutral => Ok(Vec::new()),
            State::Speed(place) if self.gearing.pair(place).is_none() => Ok(Vec::new()),
            State::Speed(place) => {
                let speed = self.pair(Role::Speed(place))?;
                Ok(head()?.into_iter().chain(speed).collect())
            }
            State::Reverse => {
                let reverse = self.reverse_meetings()?;
                Ok(head()?.into_iter().chain(reverse).collect())
            }
        }
    }

    fn pair(&self, role: Role) -> Result<Option<Meeting>, ForceFault> {
        let seat = |seat| self.gearing.gear(role, seat);
        let (Some(driver), Some(driven)) = (seat(Seat::Driver), seat(Seat::Driven)) else {
            return Ok(None);
        };
        let toothing = toothing(self.gearing.problem, &driver)?;
        let teeth = [driver.teeth, driven.teeth];
        let closing = Closing::at_centres(toothing, teeth, self.centres_mm)?;
        self.meeting([driver, driven], closing).map(Some)
    }

    fn reverse_meetings(&self) -> Result<Vec<Meeting>, ForceFault> {
        let seat = |seat| self.gearing.gear(Role::Reverse, seat);
        let gears = (seat(Seat::Driver), seat(Seat::Idler), seat(Seat::Driven));
        let (Some(driver), Some(idler), Some(driven), Some((meshes, _))) =
            (gears.0, gears.1, gears.2, self.reverse)
        else {
            return Ok(Vec::new());
        };
        let [first, second] = meshes;
        Ok(vec![
            self.meeting([driver, idler], first)?,
            self.meeting([idler, driven], second)?,
        ])
    }

    fn meeting(&self, gears: [Gear; 2], closing: Closing) -> Result<Meeting, ForceFault> {
        let shafts = gears.map(|gear| self.gearing.shaft_of(gear.role, gear.seat));
        let [driver, driven] = gears;
        // A shared driving gear lies in the plane of the speed it belongs to.
        let role = match driver.seat {
            Seat::Idler => driven.role,
            _ => driver.role,
        };
        Ok(Meeting {
            gears,
            shafts,
            axles: shafts.map(|shaft| self.axle(shaft)),
            hands: gears.map(|gear| self.hand(&gear)),
            plane_mm: self.plane_mm(role)?,
            closing,
        })
    }

    fn plane_mm(&self, role: Role) -> Result<f64, ForceFault> {
        let mut planes = self.mounting.planes_mm.iter();
        let found = planes.find(|(of, _)| *of == role).map(|(_, z_mm)| *z_mm);
        found
            .filter(|z_mm| z_mm.is_finite())
            .ok_or(ForceFault::Plane(role))
    }

    fn axle(&self, shaft: Shaft) -> Point {
        let at = |y_mm| Point { x_mm: 0.0, y_mm };
        match shaft {
            Shaft::Layshaft | Shaft::Output => at(-self.centres_mm),
            Shaft::Idler => self.reverse.map_or(at(0.0), |(_, place)| place),
            Shaft::Input | Shaft::Main => at(0.0),
        }
    }

    fn hand(&self, gear: &Gear) -> Hand {
        self.mounting.hand.of_gear(gear.role, gear.seat)
    }
}

fn toothing(problem: &Problem, gear: &Gear) -> Result<Toothing, GeometryFault> {
    let shared = problem.gears();
    let helix_rad = shared.helix_angle_deg().to_radians();
    Toothing::new(*shared.rack(), gear.module.of(problem).mm(), helix_rad)
}

/// Every gear with what it is cut as.
fn made(problem: &Problem, set: &Set) -> Vec<(Gear, Form)> {
    let gears = gears_of(problem, set).into_iter();
    gears.zip(forms_of(problem, set)).collect()
}

/// The shift that a gear is cut with, modules.
fn shift_of(made: &[(Gear, Form)], gear: &Gear) -> f64 {
    let mut made = made.iter();
    let found = made.find(|(of, _)| (of.role, of.seat) == (gear.role, gear.seat));
    found.map_or(Form::PLAIN.shift, |(_, form)| form.shift)
}

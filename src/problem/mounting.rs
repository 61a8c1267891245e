//! What the gears sit on: shafts, the idler's pin. Part of the checked
//! problem.

use super::layout::{Layout, ReverseForm};
use super::model::{Geared, Problem};
use super::sizing;
use super::teeth::Shaft;
use crate::base::{Decimal, Length, Module};

/// A sense of turning, seen from the input end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turning {
    /// As the hands of a clock.
    Clockwise,
    /// Against them.
    Anticlockwise,
}

impl Turning {
    /// 1 for clockwise, −1 for anticlockwise.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Clockwise => 1.0,
            Self::Anticlockwise => -1.0,
        }
    }

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clockwise => "clockwise",
            Self::Anticlockwise => "anticlockwise",
        }
    }
}

/// Where a diameter comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Origin {
    /// The file.
    Given,
    /// The bore of the shaft's gears.
    Bore,
    /// Nothing: taken as usual for the gears on it.
    Assumed,
    /// The torque of the duty.
    Torque {
        /// On this shaft, shock left out, N m.
        torque_n_m: f64,
        /// What it needs before rounding, mm.
        needed_mm: f64,
    },
}

/// What a bearing carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rating {
    /// Load that nine in ten stand for a million turns, N (C of ISO 281).
    pub dynamic_n: f64,
    /// Load at rest, N (C0 of ISO 76).
    pub static_n: f64,
    /// Whether the file gives these, dynamic and static; else they are those of
    /// the light ball bearing, roughly, from memory.
    pub given: [bool; 2],
}

/// A bearing of a shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    pub(super) bore: Length,
    pub(super) outside: Length,
    pub(super) width: Length,
    pub(super) rating: Option<Rating>,
}

impl Bearing {
    /// Diameter of its seat on the shaft.
    pub const fn bore(&self) -> Length {
        self.bore
    }
    /// Diameter of its bore in the wall.
    pub const fn outside(&self) -> Length {
        self.outside
    }
    /// Its width.
    pub const fn width(&self) -> Length {
        self.width
    }
    /// What it carries; none where neither the file nor its size tells.
    pub const fn rating(&self) -> Option<Rating> {
        self.rating
    }

    pub(super) fn standard(standard: &sizing::Standard) -> Self {
        Self {
            bore: standard.bore,
            outside: standard.outside,
            width: standard.width,
            rating: Some(Rating {
                dynamic_n: standard.dynamic_n,
                static_n: standard.static_n,
                given: [false; 2],
            }),
        }
    }
}

/// The size of a shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftSize {
    pub(super) diameter: Length,
    pub(super) origin: Origin,
    pub(super) bearing: Option<Bearing>,
}

impl ShaftSize {
    /// A shaft that nothing sizes: the largest standard bore up to `most_mm`, in
    /// bearings of that bore.
    pub fn assumed(most_mm: f64) -> Self {
        let most = Length::from_mm(Decimal::nearest(most_mm).unwrap_or(Decimal::whole(1)));
        let diameter = sizing::standard_up_to(most);
        let bearing = sizing::bearing_for(diameter);
        Self {
            diameter,
            origin: Origin::Assumed,
            bearing: bearing.as_ref().map(Bearing::standard),
        }
    }

    /// Diameter under the gears.
    pub const fn diameter(&self) -> Length {
        self.diameter
    }
    /// Where the diameter comes from.
    pub const fn origin(&self) -> Origin {
        self.origin
    }
    /// Its bearings; none where no standard one fits and none is given.
    pub const fn bearing(&self) -> Option<Bearing> {
        self.bearing
    }
}

/// The end of the main shaft that runs in the input gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spigot {
    pub(super) diameter: Length,
    pub(super) needle: bool,
    pub(super) wall: Length,
}

impl Spigot {
    /// It is so much of the main shaft at most, in tenths, where nothing else is
    /// said (common practice, no source).
    pub const SHARE_TENTHS: i32 = 6;
    /// Its diameter.
    pub const fn diameter(&self) -> Length {
        self.diameter
    }
    /// Whether it runs in needle rollers, not in a plain bush.
    pub const fn needle(&self) -> bool {
        self.needle
    }
    /// Thickness of bush, or of rollers and cage.
    pub const fn wall(&self) -> Length {
        self.wall
    }
}

/// The shafts of a problem, as far as file and duty size them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shafting {
    pub(super) by_shaft: [Option<ShaftSize>; 5],
    pub(super) spigot: Option<Spigot>,
}

impl Shafting {
    /// The size of `shaft`, when it is known; the idler's pin is one of them.
    pub const fn of(&self, shaft: Shaft) -> Option<ShaftSize> {
        self.by_shaft[shaft as usize]
    }

    /// The spigot of an in-line box, when the main shaft is sized.
    pub const fn spigot(&self) -> Option<Spigot> {
        self.spigot
    }
}

/// Which wall holds the idler's pin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeldIn {
    /// A stub in the output wall.
    OutputWall,
    /// A stub in the input wall.
    InputWall,
    /// A pin through the whole box.
    BothWalls,
}

impl HeldIn {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::OutputWall, Self::InputWall, Self::BothWalls];

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::OutputWall => "output wall",
            Self::InputWall => "input wall",
            Self::BothWalls => "both walls",
        }
    }
}

/// Gears beside the reverse gears that the idler's pin passes whatever the order
/// of the planes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passed {
    /// The head pair, next to the input wall that holds the pin.
    Head,
    /// All gears: the pin goes through the whole box.
    All,
}

/// A side of the shafts, seen from the input end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// To the right.
    Right,
    /// To the left.
    Left,
}

impl Side {
    /// Both, in the order of [`idler_centres`](crate::train::idler_centres).
    pub const BOTH: [Self; 2] = [Self::Right, Self::Left];

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Left => "left",
        }
    }
}

/// The pin of the reverse idler and the room it needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct IdlerPin {
    pub(super) pin: Length,
    pub(super) bush: Length,
    pub(super) held_in: HeldIn,
    pub(super) gap: Length,
    pub(super) min_wall: Length,
    pub(super) side: Option<Side>,
    pub(super) case: [Option<Length>; 2],
    pub(super) clear_place: bool,
    /// Whether the pin must be clear of gears that it passes, for its place to be.
    pub(super) clear_of_gears: bool,
}

impl IdlerPin {
    /// Diameter of the pin.
    pub const fn pin(&self) -> Length {
        self.pin
    }
    /// Wall of the bush between pin and idler.
    pub const fn bush(&self) -> Length {
        self.bush
    }
    /// Which wall holds it.
    pub const fn held_in(&self) -> HeldIn {
        self.held_in
    }
    /// Least gap to anything that idler and pin do not touch.
    pub const fn gap(&self) -> Length {
        self.gap
    }
    /// Least metal between the pin's hole and a bearing bore.
    pub const fn min_wall(&self) -> Length {
        self.min_wall
    }
    /// Whether it may sit on this side.
    pub fn may_sit(&self, side: Side) -> bool {
        self.side.is_none_or(|only| only == side)
    }
    /// From the line of the shafts to the inside of the case on that side.
    pub const fn case(&self, side: Side) -> Option<Length> {
        self.case[side as usize]
    }
    /// Whether sets without a clear place are left out.
    pub const fn clear_place(&self) -> bool {
        self.clear_place
    }
}

impl Problem {
    /// Which way the input shaft turns.
    pub const fn input_turns(&self) -> Turning {
        self.input_turns
    }
    /// Speed of the input shaft, rpm, when it is said.
    pub const fn input_rpm(&self) -> Option<f64> {
        self.input_rpm
    }
    /// Way of the vehicle in one turn of the output shaft, mm, when there is one.
    pub const fn road_way_mm(&self) -> Option<f64> {
        self.road_way_mm
    }
    /// The shafts, as far as they are sized.
    pub const fn shafting(&self) -> &Shafting {
        &self.shafting
    }
    /// The idler's pin, when the file has its block.
    pub const fn idler_pin(&self) -> Option<&IdlerPin> {
        self.idler_pin.as_ref()
    }
    /// How everything stands along the shafts.
    pub const fn layout(&self) -> &Layout {
        &self.layout
    }
    /// How reverse is engaged, when there is one.
    pub fn reverse_form(&self) -> Option<ReverseForm> {
        self.reverse.map(|reverse| reverse.form)
    }
    /// The speed whose driving gear drives reverse too, by its place among the
    /// geared speeds; none where reverse has a driving gear of its own. It is the
    /// slowest: the largest target ratio, of equal ones the first of the file.
    pub fn shared_speed(&self) -> Option<usize> {
        if self.reverse_form() != Some(ReverseForm::SharedDriver) {
            return None;
        }
        let targets = self.geared().map(Geared::target).enumerate();
        let slowest = targets.min_by_key(|&(place, target)| (std::cmp::Reverse(target), place));
        slowest.map(|(place, _)| place)
    }
    /// That speed's place among all speeds.
    pub fn shared_speed_among_all(&self) -> Option<usize> {
        let speeds = self.speeds.iter().enumerate();
        let mut geared = speeds.filter(|(_, speed)| speed.geared.is_some());
        geared.nth(self.shared_speed()?).map(|(place, _)| place)
    }
    /// Whether sets are left out whose idler has no clear place.
    pub fn wants_clear_place(&self) -> bool {
        self.idler_pin.is_some_and(|pin| pin.clear_place) && self.reverse.is_some()
    }
    /// Which gears the idler's pin must be clear of for its place to be a clear
    /// one: those that it passes in every order of the planes. Next to the wall
    /// that holds a stub there is room for the reverse planes, but for the input
    /// wall of an in-line box, where the head pair is.
    pub fn passed_by_pin(&self) -> Option<Passed> {
        let pin = self.idler_pin.filter(|_| self.wants_clear_place())?;
        if !pin.clear_of_gears {
            return None;
        }
        match pin.held_in {
            HeldIn::BothWalls => Some(Passed::All),
            HeldIn::InputWall if self.head().is_some() => Some(Passed::Head),
            HeldIn::InputWall | HeldIn::OutputWall => None,
        }
    }
    /// Height of the teeth above the pitch circle, mm, where reverse is driven by
    /// the gear of a speed; such gears have no shift.
    pub fn shared_addendum_mm(&self, module: Module) -> Option<f64> {
        let shared = self.shared_speed().is_some();
        shared.then(|| self.gears.rack.addendum * module.mm())
    }
    /// The same problem with a clear place for the idler asked of the reverse gears
    /// alone, whatever other gears its pin passes.
    #[must_use]
    pub fn whatever_it_passes(mut self) -> Self {
        if let Some(pin) = &mut self.idler_pin {
            pin.clear_of_gears = false;
        }
        self
    }
    /// The same problem without the demand for a clear place for the idler.
    #[must_use]
    pub fn anywhere(mut self) -> Self {
        if let Some(pin) = &mut self.idler_pin {
            pin.clear_place = false;
        }
        self
    }
}

//! How the box is built, as far as loads ask, and how it is driven.

use crate::problem::{Problem, ReverseForm, Side, Turning};
use crate::train::{Role, Seat};

/// Hand of a helix: looking along the axis, a right-hand tooth turns clockwise
/// as it goes away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// Clockwise going away, as the thread of a common screw.
    Right,
    /// Anticlockwise going away.
    Left,
}

impl Hand {
    /// That of the mate.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Right => Self::Left,
            Self::Left => Self::Right,
        }
    }

    /// That of a gear, where this is the hand of the gears on the layshaft, or
    /// on the input shaft of an offset box.
    #[must_use]
    pub fn of_gear(self, role: Role, seat: Seat) -> Self {
        let own = match (role, seat) {
            (Role::Head, seat) => seat == Seat::Driven,
            (Role::Reverse, seat) => seat != Seat::Idler,
            (Role::Speed(_), seat) => seat == Seat::Driver,
        };
        if own { self } else { self.other() }
    }

    /// That of the layshaft's gears, or of an offset box's input gears, as the
    /// problem has it.
    pub fn of_problem(problem: &Problem) -> Self {
        if problem.layout().left_hand() {
            Self::Left
        } else {
            Self::Right
        }
    }
}

/// Which of a shaft's two bearings takes its thrust.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Locating {
    /// Each takes the thrust towards its own end of the box.
    EitherEnd,
    /// The one nearer the input end takes both.
    InputEnd,
    /// The one nearer the output end takes both.
    OutputEnd,
}

/// Two bearings of one shaft: the middles of where they carry, mm. Either may
/// lie outside the walls; `input_end_mm` must be less than `output_end_mm`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearings {
    /// The one nearer the input end.
    pub input_end_mm: f64,
    /// The one nearer the output end.
    pub output_end_mm: f64,
    /// What takes the thrust.
    pub locating: Locating,
}

/// The main shaft of an in-line box: its end runs in the input gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MainMounting {
    /// Middle of the spigot, mm; less than `bearing_mm`.
    pub spigot_mm: f64,
    /// Middle of the bearing in the output wall, mm.
    pub bearing_mm: f64,
    /// Which takes the thrust towards the input end:
    /// [`Locating::OutputEnd`], the bearing; otherwise the spigot's shoulder,
    /// which hands it to the input shaft. [`Locating::InputEnd`] is taken as
    /// [`Locating::EitherEnd`]: no shoulder pulls.
    pub locating: Locating,
}

/// The shafts' bearings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ShaftBearings {
    /// Of an in-line box.
    InLine {
        /// Input shaft: two in the wall, or one there and one outboard.
        input: Bearings,
        /// Layshaft.
        layshaft: Bearings,
        /// Main shaft.
        main: MainMounting,
    },
    /// Of an offset box.
    Offset {
        /// Input shaft.
        input: Bearings,
        /// Output shaft.
        output: Bearings,
    },
}

/// How the idler's pin is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pin {
    /// Held in one wall; its free end carries the idler.
    Stub {
        /// Face of that wall, mm.
        wall_mm: f64,
    },
    /// Held at two places, mm, the first nearer the input end.
    Through {
        /// Nearer the input end.
        input_end_mm: f64,
        /// Nearer the output end.
        output_end_mm: f64,
    },
}

/// Where the reverse idler stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IdlerMounting {
    /// Beside which side of the shafts.
    pub side: Side,
    /// What holds its pin.
    pub pin: Pin,
}

/// How the box is built.
#[derive(Clone, Debug, PartialEq)]
pub struct Mounting {
    /// Mid-plane of each role's gears, mm. The first mesh of a reverse that
    /// shares the first speed's driving gear lies in that speed's plane.
    pub planes_mm: Vec<(Role, f64)>,
    /// What carries the shafts.
    pub bearings: ShaftBearings,
    /// Where the idler stands; needed with reverse.
    pub idler: Option<IdlerMounting>,
    /// How reverse is put in.
    pub reverse: ReverseForm,
    /// Hand of the gears on the layshaft, or on the input shaft of an offset
    /// box; of no matter for spur gears. Their mates and the idler have the
    /// other, the driven gear of reverse has this one again.
    pub hand: Hand,
}

/// Which way the power goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flow {
    /// In at the input shaft.
    Drives,
    /// In at the output: the load overruns, the torque is the other way round
    /// and the teeth bear on their other flanks.
    Overruns,
}

/// What the box is driven with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// Size of the input shaft's torque, N m, positive.
    pub input_torque_n_m: f64,
    /// Which way the input turns.
    pub input_turns: Turning,
    /// Which way the power goes.
    pub flow: Flow,
}

impl Drive {
    /// The torque that the input shaft is given from outside, positive
    /// clockwise.
    pub(super) fn signed_n_m(&self) -> f64 {
        let flow = match self.flow {
            Flow::Drives => 1.0,
            Flow::Overruns => -1.0,
        };
        self.input_torque_n_m * self.input_turns.sign() * flow
    }
}

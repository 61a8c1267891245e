//! How much of what a part can bear it bears.

use super::Basis;
use crate::design::forces::{Flow, Support};
use crate::design::motion::State;
use crate::problem::{Problem, Shaft};
use crate::train::{Gear, Role};

/// What is rated.
#[derive(Clone, Debug, PartialEq)]
pub enum Member {
    /// Two gears in mesh: driving gear first.
    Mesh([Gear; 2]),
    /// A shaft, or the idler's pin.
    Shaft(Shaft),
    /// A bearing of a shaft.
    Bearing(Shaft, Support),
    /// The bush of a free gear or of the idler.
    Bush(Gear),
    /// The main shaft's end in the input gear.
    Spigot,
    /// The dogs of a gear; of [`Role::Head`] those of the input gear.
    Dogs(Role),
    /// The sleeve that engages a gear, where it slides on its hub.
    Sleeve(Role),
    /// That hub on the shaft.
    Hub(Role),
    /// What holds gears, all of one piece, on their shaft.
    Joint(Vec<Gear>),
    /// The circlip that takes the thrust of gears of one piece.
    Circlip(Vec<Gear>),
}

impl Member {
    /// Its name in tables.
    pub fn name(&self, problem: &Problem) -> String {
        let shaft = |shaft: Shaft| match shaft {
            Shaft::Layshaft => "layshaft".to_owned(),
            Shaft::Idler => "idler's pin".to_owned(),
            other => format!("{} shaft", other.word()),
        };
        let role = |role: Role| match role {
            Role::Head => "direct",
            other => other.name(problem),
        };
        let gears = |gears: &[Gear]| {
            let names: Vec<_> = gears.iter().map(|gear| gear.name(problem)).collect();
            names.join(" with ")
        };
        match self {
            Self::Mesh([driver, driven]) => {
                format!("{} on {}", driver.name(problem), driven.name(problem))
            }
            Self::Shaft(which) => shaft(*which),
            Self::Bearing(which, support) => format!("{}, {}", shaft(*which), support.word()),
            Self::Bush(gear) => format!("bush of {}", gear.name(problem)),
            Self::Spigot => "spigot".to_owned(),
            Self::Dogs(of) => format!("dogs of {}", role(*of)),
            Self::Sleeve(of) => format!("sleeve of {} on its hub", role(*of)),
            Self::Hub(of) => format!("hub of the sleeve of {}", role(*of)),
            Self::Joint(of) => format!("joint of {}", gears(of)),
            Self::Circlip(of) => format!("circlip of {}", gears(of)),
        }
    }
}

/// What it is rated by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// How far the shafts give at a mesh, one against the other.
    Deflection,
    /// How far they lean there, one against the other.
    Slope,
    /// How far a shaft leans in its bearing.
    BearingSlope,
    /// Bending and torsion together, von Mises, notch included.
    Stress,
    /// How far a shaft twists where torque passes.
    Twist,
    /// Equivalent load over the duty against what lasts the duty.
    Life,
    /// Equivalent load at rest.
    AtRest,
    /// Pressure without slip.
    StillPressure,
    /// Pressure while it slips.
    Pressure,
    /// Speed of slip.
    SlipSpeed,
    /// Pressure times speed.
    PressureSpeed,
    /// Pressure on flanks or sides.
    SidePressure,
    /// Shear.
    Shear,
    /// Torque against what friction grips.
    Grip,
    /// Stress of a hub pressed on, at its hole.
    Burst,
    /// Overlap that play along the shafts takes.
    OverlapLost,
    /// Lean of the gear against the back taper of its dogs.
    JumpOut,
    /// Room for the dogs round their ring.
    Room,
    /// What the detent must hold.
    Detent,
    /// What a hand must pull at the fork, with the torque eased.
    ForkForce,
}

impl What {
    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Deflection => "deflection at the mesh",
            Self::Slope => "slope at the mesh",
            Self::BearingSlope => "slope in the bearing",
            Self::Stress => "bending and torsion",
            Self::Twist => "twist",
            Self::Life => "load over the duty",
            Self::AtRest => "load at rest",
            Self::StillPressure => "pressure without slip",
            Self::Pressure => "pressure while it slips",
            Self::SlipSpeed => "slip speed",
            Self::PressureSpeed => "pressure times speed",
            Self::SidePressure => "pressure",
            Self::Shear => "shear",
            Self::Grip => "torque that slips it",
            Self::Burst => "stress at the pressed hole",
            Self::OverlapLost => "overlap lost to play",
            Self::JumpOut => "lean against back taper",
            Self::Room => "dogs and pockets round the ring",
            Self::Detent => "force on the detent",
            Self::ForkForce => "force at the fork, torque eased",
        }
    }

    /// The unit of value and limit.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Deflection | Self::OverlapLost | Self::Room => "mm",
            Self::Slope | Self::BearingSlope => "mrad",
            Self::Stress | Self::SidePressure | Self::Shear | Self::Burst => "MPa",
            Self::Grip => "N m",
            Self::Twist | Self::JumpOut => "deg",
            Self::Life | Self::AtRest | Self::Detent | Self::ForkForce => "N",
            Self::StillPressure | Self::Pressure => "N/mm²",
            Self::SlipSpeed => "m/s",
            Self::PressureSpeed => "N/mm² m/s",
        }
    }
}

/// When it is so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// In one state, with the power going one way.
    In(State, Flow),
    /// Over the whole duty.
    Duty,
    /// At any time.
    Always,
}

/// What a part bears against what it may.
#[derive(Clone, Debug, PartialEq)]
pub struct Utilisation {
    /// The part.
    pub part: Member,
    /// When.
    pub when: When,
    /// By what it is rated.
    pub what: What,
    /// How much it bears.
    pub value: f64,
    /// The unit of both.
    pub unit: &'static str,
    /// How much it may bear, above 0.
    pub limit: f64,
    /// value / limit: above 1 is too much.
    pub share: f64,
    /// Where the limit comes from.
    pub limit_from: Basis,
}

impl Utilisation {
    pub(super) fn new(
        part: Member,
        when: When,
        what: What,
        (value, limit): (f64, f64),
        limit_from: Basis,
    ) -> Self {
        Self {
            part,
            when,
            what,
            value,
            unit: what.unit(),
            limit,
            share: value / limit,
            limit_from,
        }
    }

    /// Whether it bears more than it may.
    pub fn is_too_much(&self) -> bool {
        self.share > 1.0
    }
}

/// Weakest first; level ones stay in order.
pub(super) fn weakest_first(list: &mut [Utilisation]) {
    list.sort_by(|a, b| b.share.total_cmp(&a.share));
}

/// Of a list, weakest first, the first of each part and matter.
pub(super) fn worst_of_each(list: &[Utilisation]) -> Vec<Utilisation> {
    let mut worst: Vec<Utilisation> = Vec::new();
    for one in list {
        let known = worst
            .iter()
            .any(|w| w.what == one.what && w.part == one.part);
        if !known {
            worst.push(one.clone());
        }
    }
    worst
}

/// What could not be rated.
#[derive(Clone, Debug, PartialEq)]
pub struct Unrated {
    /// The part.
    pub part: Member,
    /// Why, and what to do about it.
    pub why: &'static str,
}

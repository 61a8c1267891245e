//! Why the loads of a box cannot be told.

use crate::design::motion::MotionFault;
use crate::involute::GeometryFault;
use crate::train::Role;
use std::fmt;

/// Why the loads of a box cannot be told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ForceFault {
    /// Set and problem, or set and form of reverse, do not fit.
    Motion(MotionFault),
    /// Two gears cannot mesh at their centre distance.
    Mesh(GeometryFault),
    /// The torque is not a positive number of N m.
    Torque,
    /// The mid-plane of a role is missing, or no number.
    Plane(Role),
    /// Bearings of the other arrangement.
    OtherArrangement,
    /// Two supports of one shaft, or of the pin, are not in the order of z.
    Supports,
    /// Reverse is asked for, and the idler's pin is not told.
    NoPin,
    /// The idler does not reach both its mates off the line of centres.
    IdlerApart,
    /// A helical idler cannot be slid into mesh.
    SlidingHelix,
}

impl fmt::Display for ForceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words = match self {
            Self::Motion(fault) => return fault.fmt(f),
            Self::Mesh(fault) => return fault.fmt(f),
            Self::Plane(role) => return plane(*role, f),
            Self::Torque => "the input torque must be a positive number of N m",
            Self::OtherArrangement => "the bearings are those of the other arrangement of shafts",
            Self::Supports => {
                "two supports of a shaft must be numbers, the one nearer the input \
                               end first"
            }
            Self::NoPin => "reverse needs the side of its idler and what holds its pin",
            Self::IdlerApart => "the idler does not reach both gears off the line of centres",
            Self::SlidingHelix => {
                "a helical idler cannot be slid into mesh; give spur gears or \
                                   reverse in constant mesh"
            }
        };
        f.write_str(words)
    }
}

fn plane(role: Role, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match role {
        Role::Head => f.write_str("the mid-plane of the head is missing or no number"),
        Role::Reverse => f.write_str("the mid-plane of reverse is missing or no number"),
        Role::Speed(place) => {
            let number = place + 1;
            write!(
                f,
                "the mid-plane of speed number {number} is missing or no number"
            )
        }
    }
}

impl std::error::Error for ForceFault {}

impl From<MotionFault> for ForceFault {
    fn from(fault: MotionFault) -> Self {
        Self::Motion(fault)
    }
}

impl From<GeometryFault> for ForceFault {
    fn from(fault: GeometryFault) -> Self {
        Self::Mesh(fault)
    }
}

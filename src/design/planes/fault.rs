//! Why a box has no layout.

use super::given::Gearbox;
use super::part::PartId;
use crate::base::plain;
use crate::train::Role;

/// One reason, whatever the order of the planes.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A figure that is no number, or outside its range.
    Figure(&'static str),
    /// The hole of a gear takes all of it away, up to the roots of its teeth.
    HoleOverRoot {
        /// The gear.
        gear: PartId,
        /// How wide its hole reaches, bush and keyway counted, mm.
        hole_mm: f64,
        /// Its root circle, mm.
        root_mm: f64,
    },
    /// A gear does not go on what it sits on.
    HoleUnderShaft {
        /// The gear.
        gear: PartId,
        /// Its hole, mm.
        hole_mm: f64,
        /// The shaft or pin there, mm.
        shaft_mm: f64,
    },
    /// A head is missing in line, or given in an offset box.
    Head,
    /// A free gear has no sleeve.
    NotServed(Role),
    /// A gear is served by two sleeves, or twice by one.
    ServedTwice(Role),
    /// A sleeve is to serve what has no dog ring, or is not there.
    NoSuchGear(Role),
    /// A sleeve serves no gear or more than two; its place in the list.
    SleeveOf(usize),
    /// Two pairs have one role.
    Twice(Role),
    /// More sleeves than the search can order.
    TooManySleeves,
    /// A dog ring as wide as was asked for stands over the roots of a gear.
    RingOverRoot {
        /// The gear.
        role: Role,
        /// Radius of the ring, mm.
        ring_mm: f64,
        /// Root radius of the gear, mm.
        root_mm: f64,
    },
    /// A dog ring leaves too little metal over the hole of its gear.
    RingTooThin {
        /// The gear.
        role: Role,
        /// What is left, mm; below 0 when the hole is wider than the ring.
        left_mm: f64,
        /// What is asked for, mm.
        least_mm: f64,
    },
    /// Two parts come too near wherever their planes are.
    Touch {
        /// One.
        part: PartId,
        /// The other.
        other: PartId,
        /// What the gap between them lacks, mm.
        short_mm: f64,
    },
    /// Every order of planes has parts that meet; these do in some order, and
    /// without one of these pairs there might be an order.
    NoOrder(Vec<(PartId, PartId)>),
}

impl Fault {
    /// The fault as a sentence.
    pub fn words(&self, gearbox: &Gearbox) -> String {
        let name = |role: &Role| match role {
            Role::Head => "the input gear".to_owned(),
            other => gearbox.name(*other).to_owned(),
        };
        match self {
            Self::Figure(what) => format!("{what} is no number in its range"),
            Self::HoleOverRoot {
                gear,
                hole_mm,
                root_mm,
            } => {
                let on = gear.sits_on(gearbox);
                format!(
                    "the {} has its roots at {} mm and a hole of {} mm for {on}, so nothing is \
                     left of it: {on} must be thinner or the gear have more teeth",
                    gear.name(gearbox),
                    plain(*root_mm, 2),
                    plain(*hole_mm, 2)
                )
            }
            Self::HoleUnderShaft {
                gear,
                hole_mm,
                shaft_mm,
            } => {
                let on = gear.sits_on(gearbox);
                format!(
                    "the {} has a hole of {} mm and does not go on {on} of {} mm: bore it wider, \
                     or {on} must be thinner",
                    gear.name(gearbox),
                    plain(*hole_mm, 2),
                    plain(*shaft_mm, 2)
                )
            }
            Self::Head => "an in-line box has a head pair, an offset box has none".to_owned(),
            Self::NotServed(role) => format!("no sleeve serves {}", name(role)),
            Self::ServedTwice(role) => format!("{} is served by more than one sleeve", name(role)),
            Self::NoSuchGear(role) => format!("a sleeve has no dogs to take at {}", name(role)),
            Self::SleeveOf(place) => {
                format!("sleeve {} must serve one gear or two", place + 1)
            }
            Self::Twice(role) => format!("{} is there twice", name(role)),
            Self::TooManySleeves => "more sleeves than can be put in order".to_owned(),
            Self::RingOverRoot {
                role,
                ring_mm,
                root_mm,
            } => format!(
                "a dog ring of radius {ring_mm:.2} mm stands over the roots of {} at {root_mm:.2} mm",
                name(role)
            ),
            Self::RingTooThin {
                role,
                left_mm,
                least_mm,
            } => format!(
                "the dog ring of {} leaves {left_mm:.2} mm over its hole, {least_mm:.2} mm are asked for",
                name(role)
            ),
            Self::Touch {
                part,
                other,
                short_mm,
            } => format!(
                "the {} and the {} lack {short_mm:.3} mm between them",
                part.name(gearbox),
                other.name(gearbox)
            ),
            Self::NoOrder(pairs) => {
                let pairs: Vec<String> = pairs
                    .iter()
                    .map(|(a, b)| format!("the {} and the {}", a.name(gearbox), b.name(gearbox)))
                    .collect();
                format!(
                    "in every order of the planes something is in the way: {}",
                    pairs.join("; ")
                )
            }
        }
    }
}

//! What is asked of teeth and of the gears they sit on: part of the checked
//! problem.

use super::arrangement::Arrangement;
use super::model::Problem;
use super::role::Role;
use crate::base::{Decimal, Length, Teeth};

/// What is asked of every tooth. Each limit refuses gears where
/// [`Problem::judges`], else it only makes a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a switch of the file by its own name"
)]
pub struct Limits {
    pub(super) allow_undercut: bool,
    pub(super) allow_interference: bool,
    pub(super) allow_binding: bool,
    pub(super) extra_tip_shortening: bool,
    pub(super) min_tip_thickness: Decimal,
    pub(super) min_contact_ratio: Decimal,
    pub(super) min_tip_clearance: Option<Decimal>,
    pub(super) min_wall: Length,
}

impl Limits {
    /// What holds where the file says nothing: no undercut, interference or
    /// binding; tips of 0.2 modules, contact ratio 1.2, walls of 1.5 mm (common
    /// practice, no source).
    pub(super) const USUAL: Self = Self {
        allow_undercut: false,
        allow_interference: false,
        allow_binding: false,
        extra_tip_shortening: false,
        min_tip_thickness: Decimal::from_millionths(200_000),
        min_contact_ratio: Decimal::from_millionths(1_200_000),
        min_tip_clearance: None,
        min_wall: Length::from_mm(Decimal::from_millionths(1_500_000)),
    };

    /// The usual ones; a hard case needs tips of 0.4 modules, or they chip (common
    /// practice, no source).
    pub(super) const fn usual(hard: bool) -> Self {
        if hard {
            Self {
                min_tip_thickness: Decimal::from_millionths(400_000),
                ..Self::USUAL
            }
        } else {
            Self::USUAL
        }
    }

    /// Nothing asked.
    pub(super) const NONE: Self = Self {
        allow_undercut: true,
        allow_interference: true,
        allow_binding: true,
        extra_tip_shortening: false,
        min_tip_thickness: Decimal::from_millionths(0),
        min_contact_ratio: Decimal::from_millionths(0),
        min_tip_clearance: Some(Decimal::from_millionths(-10_000_000)),
        min_wall: Length::from_mm(Decimal::from_millionths(-1_000_000_000)),
    };

    /// Whether roots may be undercut.
    pub const fn allow_undercut(&self) -> bool {
        self.allow_undercut
    }
    /// Whether a tip may run below the mate's working flank.
    pub const fn allow_interference(&self) -> bool {
        self.allow_interference
    }
    /// Whether teeth may need more thinning than is allowed to go in.
    pub const fn allow_binding(&self) -> bool {
        self.allow_binding
    }
    /// Whether blanks may be turned down until tips clear the mate's root.
    pub const fn extra_tip_shortening(&self) -> bool {
        self.extra_tip_shortening
    }
    /// Least normal tip thickness, modules.
    pub const fn min_tip_thickness(&self) -> Decimal {
        self.min_tip_thickness
    }
    /// Least transverse contact ratio.
    pub const fn min_contact_ratio(&self) -> Decimal {
        self.min_contact_ratio
    }
    /// Least gap between a tip and the mate's root, modules; none is the usual
    /// one of the rack.
    pub const fn min_tip_clearance(&self) -> Option<Decimal> {
        self.min_tip_clearance
    }
    /// Least metal between the root circle and the hole.
    pub const fn min_wall(&self) -> Length {
        self.min_wall
    }
}

/// The hole of a gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bore {
    pub(super) diameter: Length,
    pub(super) bush: Length,
    pub(super) keyway: Length,
}

impl Bore {
    /// Diameter of the shaft or pin.
    pub const fn diameter(&self) -> Length {
        self.diameter
    }
    /// Wall of the bush between shaft and gear.
    pub const fn bush(&self) -> Length {
        self.bush
    }
    /// Depth of a keyway or spline beyond the bore.
    pub const fn keyway(&self) -> Length {
        self.keyway
    }
    /// How far the hole reaches from the axis, mm.
    pub fn reach_mm(&self) -> f64 {
        self.diameter.mm() / 2.0 + self.bush.mm() + self.keyway.mm()
    }
}

/// What a gear sits on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shaft {
    /// The input shaft.
    Input,
    /// The layshaft of an in-line box.
    Layshaft,
    /// The main shaft of an in-line box.
    Main,
    /// The output shaft of an offset box.
    Output,
    /// The pin of the reverse idler.
    Idler,
}

impl Shaft {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Input,
        Self::Layshaft,
        Self::Main,
        Self::Output,
        Self::Idler,
    ];

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Input => "input",
            Self::Layshaft => "layshaft",
            Self::Main => "main",
            Self::Output => "output",
            Self::Idler => "idler",
        }
    }
}

/// The holes of a problem's gears, by shaft; none where none is given.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Bores {
    pub(super) by_shaft: [Option<Bore>; 5],
}

impl Bores {
    /// The hole of gears on `shaft`, when it is given.
    pub const fn on(&self, shaft: Shaft) -> Option<Bore> {
        self.by_shaft[shaft as usize]
    }

    /// Whether any hole is given.
    pub fn any(&self) -> bool {
        self.by_shaft.iter().any(Option::is_some)
    }
}

/// What there is to measure gears with.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inspection {
    pub(super) pins_mm: Vec<f64>,
    pub(super) normal_backlash: Option<(Length, Length)>,
}

impl Inspection {
    /// Pins at hand, mm; none where a standard size is to be taken.
    pub fn pins_mm(&self) -> &[f64] {
        &self.pins_mm
    }
    /// Least and most backlash between the flanks to aim at, when given.
    pub const fn normal_backlash(&self) -> Option<(Length, Length)> {
        self.normal_backlash
    }
}

/// What a role's two outer gears must have beyond what all gears share: pairs
/// of equal seatings choose from one list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seating {
    /// Fewest teeth of the driving and of the driven gear.
    pub least: [Teeth; 2],
    /// Their holes.
    pub holes: [Option<Bore>; 2],
    /// Which of them are cut already and so free of what the workshop can make;
    /// neither, where it limits nothing.
    pub made: [bool; 2],
}

impl Problem {
    /// What is asked of every tooth.
    pub const fn limits(&self) -> &Limits {
        &self.limits
    }

    /// What refuses a gear or decides how it is made; gears that are there
    /// already are refused by nothing.
    pub(crate) const fn refusing(&self) -> Limits {
        if self.found {
            Limits {
                extra_tip_shortening: self.limits.extra_tip_shortening,
                allow_interference: !self.limits.extra_tip_shortening,
                ..Limits::NONE
            }
        } else {
            self.limits
        }
    }

    /// The holes of the gears.
    pub const fn bores(&self) -> &Bores {
        &self.bores
    }

    /// What there is to measure gears with.
    pub const fn inspection(&self) -> &Inspection {
        &self.inspection
    }

    /// Whether gears that break a limit are refused; else they are marked.
    pub const fn judges(&self) -> bool {
        self.limits_given || self.gears.closing.shifts()
    }

    /// The shafts of a role's driving and driven gear.
    pub const fn shafts(&self, is_head: bool) -> [Shaft; 2] {
        match (self.arrangement, is_head) {
            (Arrangement::InLine, true) => [Shaft::Input, Shaft::Layshaft],
            (Arrangement::InLine, false) => [Shaft::Layshaft, Shaft::Main],
            (Arrangement::Offset, _) => [Shaft::Input, Shaft::Output],
        }
    }

    /// What the head pair must have.
    pub fn head_seating(&self) -> Seating {
        self.seating(true, self.head.least, self.head_made())
    }

    /// What the pair of each geared speed must have, in file order.
    pub fn speed_seatings(&self) -> impl Iterator<Item = Seating> {
        let roles = self.geared().zip(self.speeds_made());
        roles.map(|(geared, made)| self.seating(false, geared.least, made))
    }

    /// What the outer gears of reverse must have; nothing where none is asked.
    pub fn reverse_seating(&self) -> Seating {
        let least = self.reverse.as_ref().map_or([None; 2], |r| r.least);
        let [driver, _, driven] = self.reverse_made();
        self.seating(false, least, [driver, driven])
    }

    /// What the gears of a role must have; of reverse its outer ones.
    pub fn seating_of(&self, role: Role) -> Seating {
        let own = match role {
            Role::Head => None,
            Role::Speed(place) => {
                let before = self.speeds.iter().take(place);
                let geared = before.filter(|speed| speed.geared.is_some()).count();
                self.speed_seatings().nth(geared)
            }
            Role::Reverse => Some(self.reverse_seating()),
        };
        own.unwrap_or_else(|| self.head_seating())
    }

    fn seating(&self, is_head: bool, least: [Option<Teeth>; 2], made: [bool; 2]) -> Seating {
        let shared = self.gears.min_teeth;
        let limited = self.workshop_limits();
        Seating {
            least: least.map(|own| own.map_or(shared, |own| own.max(shared))),
            holes: self.shafts(is_head).map(|shaft| self.bores.on(shaft)),
            made: made.map(|made| made && limited),
        }
    }
}

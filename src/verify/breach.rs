//! What can be wrong with a set.

use crate::base::{Decimal, Length, Teeth};

/// What gears are for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// The head pair.
    Head,
    /// The pair of a speed, by its name.
    Speed(String),
    /// The reverse gears.
    Reverse,
}

/// A gear by its place in the mesh.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gear {
    /// The driving gear.
    Driver,
    /// The reverse idler.
    Idler,
    /// The driven gear.
    Driven,
}

/// One thing wrong with a set or with a figure said of it.
#[derive(Clone, Debug, PartialEq)]
#[allow(
    missing_docs,
    reason = "each field is named as its variant's text uses it"
)]
pub enum Breach {
    /// The shafts lie at a distance that the problem does not list.
    CentreDistance { centres: Length },
    /// In-line shafts without a head pair.
    HeadMissing,
    /// A head pair on offset shafts.
    HeadUnwanted,
    /// Not one pair per geared speed.
    PairCount { found: usize, wanted: usize },
    /// No reverse gears where reverse is asked for.
    ReverseMissing,
    /// Reverse gears that nobody asked for.
    ReverseUnwanted,
    /// A module that the problem does not list, by its place in the list.
    Module {
        role: Role,
        place: usize,
        listed: usize,
    },
    /// A tooth count outside its limits.
    Teeth {
        role: Role,
        gear: Gear,
        teeth: Teeth,
        min: Teeth,
        max: Teeth,
    },
    /// A pair whose standard centre distance is not the shafts'.
    Centres {
        role: Role,
        standard_mm: f64,
        centres: Length,
        tolerance: Length,
    },
    /// A pair whose backlash no cut brings into range; none when its base
    /// circles overlap.
    Backlash {
        role: Role,
        backlash_mm: Option<f64>,
        min: Length,
        max: Length,
        thinning: Length,
    },
    /// A head ratio out of its range.
    HeadRatio {
        ratio: f64,
        min: Option<Decimal>,
        max: Option<Decimal>,
    },
    /// A ratio out of its tolerance; sizes only.
    Ratio {
        role: Role,
        ratio: f64,
        target: Decimal,
        tolerance_percent: Decimal,
    },
    /// Gears other than those cut already.
    AsCut {
        role: Role,
        found: String,
        cut: String,
    },
    /// The driver of reverse is not the driving gear of the speed that it is to
    /// share it with; modules in mm.
    SharedDriver {
        speed: String,
        teeth: Teeth,
        module_mm: f64,
        shared_teeth: Teeth,
        shared_module_mm: f64,
    },
    /// Driver and driven gear of reverse come too close.
    TipGap { gap_mm: f64, clearance: Length },
    /// The idler has no place off the line of centres.
    IdlerPlace {
        to_driver_mm: f64,
        to_driven_mm: f64,
        centres: Length,
    },
    /// The idler has no clear place; by how much the nearer side fails.
    IdlerRoom { short_mm: f64 },
    /// The idler's pin comes too near a gear that it passes; by how much.
    PinPasses {
        role: Role,
        gear: Gear,
        short_mm: f64,
    },
    /// A tooth count that the dividing head does not divide simply.
    Dividing {
        role: Role,
        gear: Gear,
        teeth: Teeth,
    },
    /// A mesh less safe than the duty asks for, at a root or at a flank.
    Weak {
        role: Role,
        safety: f64,
        least: f64,
        flank: bool,
    },
    /// A gear whose cutter is not owned.
    CutterNotOwned {
        role: Role,
        gear: Gear,
        teeth: Teeth,
    },
    /// Gears not made as the problem asks.
    Making {
        role: Role,
        what: String,
        is: f64,
        limit: f64,
    },
    /// A figure other than what the tooth counts give.
    Figure { name: String, said: f64, found: f64 },
    /// A figure said of something that the set has not, or missing.
    FigureMissing { name: String },
}

impl Breach {
    /// One word for the kind of breach.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::CentreDistance { .. } => "centre_distance",
            Self::HeadMissing => "head_missing",
            Self::HeadUnwanted => "head_unwanted",
            Self::PairCount { .. } => "pair_count",
            Self::ReverseMissing => "reverse_missing",
            Self::ReverseUnwanted => "reverse_unwanted",
            Self::Module { .. } => "module",
            Self::Teeth { .. } => "teeth",
            Self::Centres { .. } => "centres",
            Self::Backlash { .. } => "backlash",
            Self::HeadRatio { .. } => "head_ratio",
            Self::Ratio { .. } => "ratio",
            Self::AsCut { .. } => "as_cut",
            Self::SharedDriver { .. } => "shared_driver",
            Self::TipGap { .. } => "tip_gap",
            Self::IdlerPlace { .. } => "idler_place",
            Self::IdlerRoom { .. } => "idler_room",
            Self::PinPasses { .. } => "pin_passes",
            Self::Dividing { .. } => "dividing",
            Self::Weak { .. } => "weak",
            Self::CutterNotOwned { .. } => "cutter_not_owned",
            Self::Making { .. } => "making",
            Self::Figure { .. } => "figure",
            Self::FigureMissing { .. } => "figure_missing",
        }
    }
}

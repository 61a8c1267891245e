//! Why a rack, a gear or a mesh cannot be made, in words for the bench.

use std::fmt;

/// What is impossible about a rack, a gear or a mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GeometryFault {
    /// A figure lies outside what the formulas hold for.
    OutOfRange {
        /// Which figure, with its unit.
        what: &'static str,
        /// What was given.
        value: f64,
        /// Least valid value.
        least: f64,
        /// Greatest valid value.
        most: f64,
    },
    /// The dedendum does not exceed the addendum: tips would run on roots.
    NoClearance {
        /// Addendum in modules.
        addendum: f64,
        /// Dedendum in modules.
        dedendum: f64,
    },
    /// The tool comes to a point above the depth asked for.
    RackPointed {
        /// Dedendum in modules.
        dedendum: f64,
        /// Depth at which the tool is pointed, in modules.
        most: f64,
    },
    /// The two corner roundings of the tool overlap.
    FilletPastLand {
        /// Fillet radius in modules.
        fillet: f64,
        /// Greatest radius with a full land, in modules.
        most: f64,
    },
    /// The fillet reaches into the flank that the mate's tip needs.
    FilletInFlank {
        /// Fillet radius in modules.
        fillet: f64,
        /// Greatest radius that the clearance allows, in modules.
        most: f64,
    },
    /// The tip lies at or inside the base circle: no involute is left.
    TipInsideBase {
        /// Tip diameter, mm.
        tip_mm: f64,
        /// Base diameter, mm.
        base_mm: f64,
    },
    /// The root circle has no size.
    RootGone {
        /// Root diameter, mm.
        root_mm: f64,
    },
    /// The gears differ in module, helix angle or rack.
    ToothingsDiffer,
    /// The base circles overlap: no line of action exists.
    BasesOverlap {
        /// Centre distance, mm.
        centres_mm: f64,
        /// The centre distance must be greater than this, mm.
        over_mm: f64,
    },
}

impl fmt::Display for GeometryFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::OutOfRange {
                what,
                value,
                least,
                most,
            } => write!(f, "{what} is {value}; give {least} to {most}"),
            Self::NoClearance { addendum, dedendum } => write!(
                f,
                "a dedendum of {dedendum} leaves no clearance under an addendum of {addendum}; \
                 give more, 1.25 is usual for an addendum of 1"
            ),
            Self::RackPointed { dedendum, most } => write!(
                f,
                "a tool of dedendum {dedendum} would end in a point at {most:.4}; \
                 give less dedendum or a smaller pressure angle"
            ),
            Self::FilletPastLand { fillet, most } => write!(
                f,
                "a fillet of {fillet} does not fit on the tip of the tool; \
                 give at most {most:.4}, or leave it out"
            ),
            Self::FilletInFlank { fillet, most } => write!(
                f,
                "a fillet of {fillet} reaches into the working flank, so the gears would foul \
                 each other; give at most {most:.4}, or more dedendum"
            ),
            Self::TipInsideBase { tip_mm, base_mm } => write!(
                f,
                "the tip ({tip_mm:.3} mm) lies inside the base circle ({base_mm:.3} mm), so \
                 nothing of the flank is left; give more teeth or more shift"
            ),
            Self::RootGone { root_mm } => write!(
                f,
                "the root circle would be {root_mm:.3} mm; give more teeth or more shift"
            ),
            Self::ToothingsDiffer => f.write_str(
                "the gears differ in module, pressure angle, helix angle or tooth depth; \
                 gears that mesh share all of them",
            ),
            Self::BasesOverlap {
                centres_mm,
                over_mm,
            } => write!(
                f,
                "at centres of {centres_mm} mm the base circles overlap; give more than \
                 {over_mm:.3} mm, or fewer teeth"
            ),
        }
    }
}

impl std::error::Error for GeometryFault {}

/// `value` if it lies in `[least, most]`.
pub(super) fn within(
    what: &'static str,
    value: f64,
    (least, most): (f64, f64),
) -> Result<f64, GeometryFault> {
    if value >= least && value <= most {
        Ok(value)
    } else {
        Err(GeometryFault::OutOfRange {
            what,
            value,
            least,
            most,
        })
    }
}

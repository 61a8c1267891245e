//! Why a tooth cannot be drawn, for the person who asked for it.

use std::fmt;

/// A tooth that cannot exist, or a wish that cannot be met.
#[derive(Clone, Debug, PartialEq)]
pub enum OutlineFault {
    /// A figure outside its range, or not a number.
    Figure {
        /// The figure in words, with its unit.
        name: &'static str,
        /// What was given.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Most allowed.
        most: f64,
    },
    /// The rounded corners at the tip of the rack's tooth overlap.
    Corners {
        /// The rack's fillet, in modules.
        fillet: f64,
        /// The largest that leaves it a land, in modules; negative when the
        /// rack's tooth is pointed before any rounding.
        largest: f64,
    },
    /// The root circle has no radius left.
    Root {
        /// Root diameter, mm.
        root_mm: f64,
    },
    /// The flanks meet below the tip circle.
    Pointed {
        /// Tip diameter asked for, mm.
        tip_mm: f64,
        /// Diameter where the flanks meet, mm; none when even the base circle
        /// has no tooth left.
        point_mm: Option<f64>,
    },
    /// The fillet reaches the tip: nothing is left that could work.
    Stunted {
        /// Tip diameter, mm.
        tip_mm: f64,
        /// Diameter where the fillet ends, or of the base circle, mm.
        form_mm: f64,
    },
    /// Undercut goes through the whole tooth.
    Severed {
        /// Diameter of the neck, mm.
        neck_mm: f64,
    },
}

impl fmt::Display for OutlineFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Figure {
                name,
                value,
                least,
                most,
            } => write!(f, "{name} is {value}; give a number from {least} to {most}"),
            Self::Corners { fillet, largest } if *largest < 0.0 => write!(
                f,
                "the rack's tooth comes to a point before its full depth, without any \
                 fillet (it has {fillet}); take a smaller dedendum or pressure angle"
            ),
            Self::Corners { fillet, largest } => write!(
                f,
                "a fillet of {fillet} modules does not fit the rack's tip; \
                 take {largest:.5} or less"
            ),
            Self::Root { root_mm } => write!(
                f,
                "the rack cuts past the gear's axis (root diameter {root_mm:.3} mm); \
                 take more teeth, a larger shift or less thinning by depth"
            ),
            Self::Pointed {
                tip_mm,
                point_mm: Some(point_mm),
            } => write!(
                f,
                "the tooth is pointed: its flanks meet at {point_mm:.3} mm diameter, below \
                 the tip at {tip_mm:.3} mm; turn the blank smaller, or take less shift, \
                 less thinning or more teeth"
            ),
            Self::Pointed { point_mm: None, .. } => write!(
                f,
                "no tooth is left on the base circle; take a larger shift or less thinning"
            ),
            Self::Stunted { tip_mm, form_mm } => write!(
                f,
                "no involute is left: it would begin at {form_mm:.3} mm diameter and the \
                 tip is at {tip_mm:.3} mm; take a larger blank or more teeth"
            ),
            Self::Severed { neck_mm } => write!(
                f,
                "undercut goes through the tooth at {neck_mm:.3} mm diameter; \
                 take a larger shift, more teeth or less thinning"
            ),
        }
    }
}

impl std::error::Error for OutlineFault {}

//! The limits of teeth by name.

/// The limit that refuses a gear or a mesh, in the order in which they are
/// asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Refusal {
    /// No form cutter for so few teeth, or none that gives the shift.
    Cutter,
    /// The shifts that close the mesh are outside those allowed.
    Shift,
    /// Too little metal between root and hole.
    Wall,
    /// The root would be undercut.
    Undercut,
    /// The tip would be too thin.
    TipThickness,
    /// A tip would run below the working flank of its mate.
    Interference,
    /// Too few teeth in contact.
    ContactRatio,
    /// Tips would come too close to roots.
    TipClearance,
    /// Teeth would have to be thinned too much to go in.
    Binding,
}

impl Refusal {
    /// All of them, in order.
    pub const ALL: [Self; 9] = [
        Self::Cutter,
        Self::Shift,
        Self::Wall,
        Self::Undercut,
        Self::TipThickness,
        Self::Interference,
        Self::ContactRatio,
        Self::TipClearance,
        Self::Binding,
    ];

    /// Its key in results.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Cutter => "cutter",
            Self::Shift => "shift",
            Self::Wall => "wall",
            Self::Undercut => "undercut",
            Self::TipThickness => "tip_thickness",
            Self::Interference => "interference",
            Self::ContactRatio => "contact_ratio",
            Self::TipClearance => "tip_clearance",
            Self::Binding => "binding",
        }
    }

    /// Its name for people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cutter => "no form cutter",
            Self::Shift => "shift out of range",
            Self::Wall => "thin wall",
            Self::Undercut => "undercut",
            Self::TipThickness => "thin tips",
            Self::Interference => "interference",
            Self::ContactRatio => "contact ratio",
            Self::TipClearance => "tip clearance",
            Self::Binding => "binding",
        }
    }

    /// The key of the problem file that sets the limit.
    pub const fn set_by(self) -> &'static str {
        match self {
            Self::Cutter => "gears.cutting",
            Self::Shift => "gears.profile_shift",
            Self::Wall => "limits.min_wall_mm",
            Self::Undercut => "limits.allow_undercut",
            Self::TipThickness => "limits.min_tip_thickness",
            Self::Interference => "limits.allow_interference",
            Self::ContactRatio => "limits.min_contact_ratio",
            Self::TipClearance => "limits.min_tip_clearance",
            Self::Binding => "limits.allow_binding",
        }
    }
}

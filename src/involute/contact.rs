//! Two gears in mesh: the path of contact, contact ratios, fouling, clearance.
//!
//! Places on the line of action are ways g in mm from the point where it
//! touches the first gear's base circle; the second gear's point is at
//! T = a sin α_wt. A flank's curvature radius at g is g on the first gear and
//! T − g on the second.

use super::closing::{standard_centres_mm, working_angle_rad};
use super::fault::GeometryFault;
use super::{Closing, ShiftedGear, Toothing};

/// A tip may lie below the form point by this and not foul: rounding alone
/// moves it that far.
pub(super) const LAST_BITS_MM: f64 = 1e-9;

/// One of the two gears of a mesh.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Member {
    /// The first gear.
    First,
    /// The second gear.
    Second,
}

impl Member {
    /// Both, in order.
    pub const BOTH: [Self; 2] = [Self::First, Self::Second];

    /// The other one.
    #[must_use]
    pub fn mate(self) -> Self {
        match self {
            Self::First => Self::Second,
            Self::Second => Self::First,
        }
    }

    pub(super) fn index(self) -> usize {
        match self {
            Self::First => 0,
            Self::Second => 1,
        }
    }
}

/// A part of the line of action, mm from the first gear's tangent point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Path {
    /// Where it begins: the foot of the first gear's flank.
    pub from_mm: f64,
    /// Where it ends: the tip of the first gear's flank.
    pub to_mm: f64,
}

impl Path {
    /// Its length, mm; 0 where no contact is left.
    pub fn length_mm(&self) -> f64 {
        (self.to_mm - self.from_mm).max(0.0)
    }
}

/// Two gears on parallel shafts, at any centre distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meshing {
    gears: [ShiftedGear; 2],
    centres_mm: f64,
    standard_centres_mm: f64,
    working_angle_rad: f64,
}

impl Meshing {
    /// `first` and `second` with shafts `centres_mm` apart (to 100 000 mm).
    ///
    /// # Errors
    /// Gears of different toothing; centres so close that the base circles
    /// overlap.
    pub fn new(
        first: ShiftedGear,
        second: ShiftedGear,
        centres_mm: f64,
    ) -> Result<Self, GeometryFault> {
        if first.toothing() != second.toothing() {
            return Err(GeometryFault::ToothingsDiffer);
        }
        let toothing = first.toothing();
        let standard_centres_mm = standard_centres_mm(toothing, [first.teeth(), second.teeth()]);
        Ok(Self {
            gears: [first, second],
            centres_mm,
            standard_centres_mm,
            working_angle_rad: working_angle_rad(toothing, standard_centres_mm, centres_mm)?,
        })
    }

    /// The gears of `closing` when the first takes the shift `first_shift`.
    ///
    /// # Errors
    /// A gear that cannot exist ([`ShiftedGear::new`]).
    pub fn closed(closing: &Closing, first_shift: f64) -> Result<Self, GeometryFault> {
        let [first, second] = closing.gears(first_shift)?;
        Self::new(first, second, closing.centres_mm())
    }

    /// A mesh that is not checked: for figures on the way to a split.
    pub(super) fn plain(closing: &Closing, first_shift: f64) -> Self {
        Self {
            gears: closing.plain_gears(first_shift),
            centres_mm: closing.centres_mm(),
            standard_centres_mm: closing.standard_centres_mm(),
            working_angle_rad: closing.working_angle_rad(),
        }
    }

    /// The same mesh with other gears of the same tooth counts, thinned or
    /// shortened.
    ///
    /// # Errors
    /// As [`Meshing::new`].
    pub fn with_gears(&self, gears: [ShiftedGear; 2]) -> Result<Self, GeometryFault> {
        Self::new(gears[0], gears[1], self.centres_mm)
    }

    /// The gears.
    pub fn gears(&self) -> &[ShiftedGear; 2] {
        &self.gears
    }

    /// One of the gears.
    pub fn gear(&self, member: Member) -> &ShiftedGear {
        &self.gears[member.index()]
    }

    /// Rack, module and helix angle of both.
    pub fn toothing(&self) -> &Toothing {
        self.gears[0].toothing()
    }

    /// Centre distance a, mm.
    pub fn centres_mm(&self) -> f64 {
        self.centres_mm
    }

    /// Centre distance a₀ of the unshifted gears, mm.
    pub fn standard_centres_mm(&self) -> f64 {
        self.standard_centres_mm
    }

    /// Transverse working angle α_wt, radians.
    pub fn working_angle_rad(&self) -> f64 {
        self.working_angle_rad
    }

    /// Working diameter d_w = 2 a z / (z₁ + z₂), mm.
    pub fn working_mm(&self, member: Member) -> f64 {
        self.gear(member).reference_mm() * self.centres_mm / self.standard_centres_mm
    }

    /// Way T = a sin α_wt between the two tangent points, mm.
    pub fn tangent_points_mm(&self) -> f64 {
        self.centres_mm * self.working_angle_rad.sin()
    }

    /// The path from tip circle to tip circle, as if the flanks went on for
    /// ever.
    pub fn nominal_path(&self) -> Path {
        Path {
            from_mm: self.tangent_points_mm() - self.gears[1].tip_length_mm(),
            to_mm: self.gears[0].tip_length_mm(),
        }
    }

    /// The path on which both flanks exist: it begins and ends at the tip of
    /// the mate, the form circle or the base tangent point, whichever comes
    /// first.
    pub fn path(&self) -> Path {
        let tips = self.nominal_path();
        let far_foot = self.tangent_points_mm() - self.gears[1].form_length_mm();
        Path {
            from_mm: tips.from_mm.max(self.gears[0].form_length_mm()),
            to_mm: tips.to_mm.min(far_foot),
        }
    }

    /// Nominal transverse contact ratio ε_α, from tip circle to tip circle
    /// (ISO 21771); may count contact that undercut or a fillet takes away.
    pub fn nominal_contact_ratio(&self) -> f64 {
        let path = self.nominal_path();
        (path.to_mm - path.from_mm) / self.toothing().base_pitch_mm()
    }

    /// True transverse contact ratio, 0 where no contact is left: how many
    /// pairs of teeth carry, on average, in the transverse section.
    pub fn contact_ratio(&self) -> f64 {
        self.path().length_mm() / self.toothing().base_pitch_mm()
    }

    /// Diameters between which a gear's flank really works, mm: from the start
    /// of active profile to the end.
    pub fn active_flank_mm(&self, member: Member) -> (f64, f64) {
        let (path, base) = (self.path(), self.gear(member).base_mm());
        let at = |length: f64| 2.0 * (base / 2.0).hypot(length);
        let far = self.tangent_points_mm();
        match member {
            Member::First => (at(path.from_mm), at(path.to_mm)),
            Member::Second => (at(far - path.to_mm), at(far - path.from_mm)),
        }
    }

    /// How far the mate's tip stays above the form point of this gear, mm along
    /// the line of action. Negative: the mate's tip runs into the fillet, or
    /// where undercut has taken the flank away.
    pub fn root_margin_mm(&self, member: Member) -> f64 {
        let mate_tip = self.gear(member.mate()).tip_length_mm();
        self.tangent_points_mm() - mate_tip - self.gear(member).form_length_mm()
    }

    /// Largest tip diameter of this gear that stays off the mate's fillet, mm.
    pub fn largest_clear_tip_mm(&self, member: Member) -> f64 {
        let foot = self.gear(member.mate()).form_length_mm();
        let length = (self.tangent_points_mm() - foot).max(0.0);
        2.0 * (self.gear(member).base_mm() / 2.0).hypot(length)
    }

    /// The tip shortening that keeps this gear's tip off the mate's fillet,
    /// modules: its own where nothing fouls, else the least more with which the
    /// tip ends at the mate's form point. An idler takes the more negative of
    /// its two meshes'.
    pub fn clear_tip_shortening(&self, member: Member) -> f64 {
        let gear = self.gear(member);
        if self.root_margin_mm(member.mate()) >= -LAST_BITS_MM {
            return gear.tip_shortening();
        }
        let excess = gear.tip_mm() - self.largest_clear_tip_mm(member);
        gear.tip_shortening() - excess / (2.0 * self.toothing().module_mm())
    }

    /// The same mesh with each blank turned down just enough to stay off the
    /// mate's fillet; unchanged where nothing fouls. What was taken off shows
    /// in [`ShiftedGear::tip_shortening`].
    ///
    /// # Errors
    /// A gear of which nothing would be left above its base circle.
    pub fn with_clear_tips(&self) -> Result<Self, GeometryFault> {
        let mut gears = self.gears;
        for member in Member::BOTH {
            let shortening = self.clear_tip_shortening(member);
            gears[member.index()] = self.gear(member).with_tip_shortening(shortening)?;
        }
        self.with_gears(gears)
    }

    /// Clearance between this gear's tip circle and the mate's root circle,
    /// mm; negative where they overlap.
    pub fn tip_clearance_mm(&self, member: Member) -> f64 {
        let mate_root = self.gear(member.mate()).root_mm();
        self.centres_mm - f64::midpoint(self.gear(member).tip_mm(), mate_root)
    }
}

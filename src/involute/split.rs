//! How two gears share the shifts that close their mesh.

use super::bracket::{crossing, part_at_least_zero};
use super::shifted::least_shift;
use super::{Closing, Member, Meshing};
use std::fmt;

/// Limits on the split of Σx.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SplitLimits {
    /// Least and greatest x of either gear.
    pub shift: (f64, f64),
    /// Least x of each gear that keeps the wall above its hole; minus infinity
    /// for none.
    pub least: [f64; 2],
    /// Whether x may fall below x_min.
    pub undercut_allowed: bool,
    /// Whether a tip may run into the mate's fillet.
    pub interference_allowed: bool,
    /// Least normal tip thickness, modules.
    pub tip_thickness: f64,
    /// Least nominal contact ratio ε_α.
    pub contact_ratio: f64,
}

impl SplitLimits {
    /// Shifts of `least` to `most`, no undercut, no interference, tips of 0.2
    /// modules (common practice), contact ratio 1.2.
    pub fn within(least: f64, most: f64) -> Self {
        Self {
            shift: (least, most),
            least: [f64::NEG_INFINITY; 2],
            undercut_allowed: false,
            interference_allowed: false,
            tip_thickness: 0.2,
            contact_ratio: 1.2,
        }
    }
}

/// A limit on the split, in the order in which they are asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SplitLimit {
    /// Least and greatest shift.
    Shift,
    /// Wall between root and hole.
    Wall,
    /// x_min of both gears.
    Undercut,
    /// Tip thickness of both gears.
    TipThickness,
    /// Tips clear of the mate's fillet.
    Interference,
    /// Nominal contact ratio.
    ContactRatio,
}

impl fmt::Display for SplitLimit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Shift => "least and greatest shift",
            Self::Wall => "wall under the teeth",
            Self::Undercut => "undercut",
            Self::TipThickness => "tip thickness",
            Self::Interference => "interference",
            Self::ContactRatio => "contact ratio",
        })
    }
}

/// A legal split.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Split {
    /// Shifts x₁ of the first gear that every limit allows.
    pub legal: (f64, f64),
    /// The x₁ that balances the specific sliding, wherever it lies. None where
    /// no split keeps both ends of the path between the tangent points.
    pub balanced: Option<f64>,
    /// The shift to cut the first gear with: the balanced one, moved into the
    /// legal interval by the least needed.
    pub first: f64,
    /// The shift of the second gear, Σx − x₁.
    pub second: f64,
}

/// No split is legal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoSplit {
    /// The limit that leaves nothing of what the limits before it allow.
    pub limit: SplitLimit,
    /// What those before it allow, x₁ from and to; none before the first.
    pub before: Option<(f64, f64)>,
    /// What it allows on its own, x₁ from and to; none where it allows no
    /// split at all.
    pub alone: Option<(f64, f64)>,
}

impl Closing {
    /// Shares Σx between the gears inside `limits`. Each limit leaves one
    /// interval of x₁; so do all together, or none.
    ///
    /// # Errors
    /// The first limit, in the order of [`SplitLimit`], that leaves nothing.
    pub fn split(&self, limits: &SplitLimits) -> Result<Split, NoSplit> {
        let whole = (f64::NEG_INFINITY, f64::INFINITY);
        let range = self.shift_range(limits);
        let mut legal = narrowed(SplitLimit::Shift, whole, range)?;
        let [first, second] = limits.least;
        let walls = (first, self.shift_sum() - second);
        legal = narrowed(SplitLimit::Wall, legal, Some(walls))?;
        if !limits.undercut_allowed {
            legal = narrowed(SplitLimit::Undercut, legal, Some(self.uncut_range()))?;
        }
        let mut hold = |limit, margin: &dyn Fn(&Meshing) -> f64| {
            let part = self.part_with(range, margin);
            narrowed(limit, legal, part).map(|left| legal = left)
        };
        let thick = limits.tip_thickness * self.toothing().module_mm();
        hold(SplitLimit::TipThickness, &|mesh| {
            least_of(|member| mesh.gear(member).tip_thickness_mm()) - thick
        })?;
        if !limits.interference_allowed {
            hold(SplitLimit::Interference, &|mesh| {
                least_of(|member| mesh.root_margin_mm(member)) + LAST_BITS_MM
            })?;
        }
        hold(SplitLimit::ContactRatio, &|mesh| {
            mesh.nominal_contact_ratio() - limits.contact_ratio
        })?;
        let balanced = self.balanced_first_shift();
        let middle = f64::midpoint(legal.0, legal.1);
        let first = balanced.unwrap_or(middle).max(legal.0).min(legal.1);
        Ok(Split {
            legal,
            balanced,
            first,
            second: self.shift_sum() - first,
        })
    }

    /// The shift of the first gear in [`Closing::split`].
    ///
    /// # Errors
    /// As [`Closing::split`].
    pub fn first_shift(&self, limits: &SplitLimits) -> Result<f64, NoSplit> {
        self.split(limits).map(|split| split.first)
    }

    /// x₁ for which both shifts lie in the limits and both tips at or outside
    /// the reference circles, as the conditions behind need them.
    fn shift_range(&self, limits: &SplitLimits) -> Option<(f64, f64)> {
        let (sum, (least, most)) = (self.shift_sum(), limits.shift);
        let tip = -self.toothing().rack().addendum - self.tip_shortening();
        let from = least.max(sum - most).max(tip);
        let to = most.min(sum - least).min(sum - tip);
        // Limits that meet leave one split, the last bits aside.
        if from <= to {
            Some((from, to))
        } else if from - to < LAST_BITS {
            let middle = f64::midpoint(from, to);
            Some((middle, middle))
        } else {
            None
        }
    }

    fn uncut_range(&self) -> (f64, f64) {
        let [first, second] = self
            .teeth()
            .map(|teeth| least_shift(self.toothing(), teeth));
        (first, self.shift_sum() - second)
    }

    fn part_with(
        &self,
        range: Option<(f64, f64)>,
        margin: &dyn Fn(&Meshing) -> f64,
    ) -> Option<(f64, f64)> {
        part_at_least_zero(|first| margin(&Meshing::plain(self, first)), range?)
    }

    /// The x₁ at which the specific sliding at both ends of the path from tip
    /// to tip is the same: (T − g_A)(T − g_E) z₁² = g_A g_E z₂², which falls
    /// without poles as x₁ grows while both ends lie between the tangent
    /// points. None where they never do.
    pub fn balanced_first_shift(&self) -> Option<f64> {
        let far = Meshing::plain(self, 0.0).tangent_points_mm();
        // Where each end of the path reaches a tangent point: the tip lengths
        // are T there, which fixes the tip diameters.
        let from = self.shift_sum() - self.shift_with_tip_length(1, far);
        let to = self.shift_with_tip_length(0, far);
        if from > to {
            return None;
        }
        let [one, other] = self.teeth().map(f64::from);
        let excess = |first: f64| {
            let path = Meshing::plain(self, first).nominal_path();
            path.from_mm * path.to_mm * other * other
                - (far - path.from_mm) * (far - path.to_mm) * one * one
        };
        Some(crossing(excess, from, to))
    }

    /// The shift of gear `index` whose tip reaches `length_mm` along the base
    /// tangent.
    fn shift_with_tip_length(&self, index: usize, length_mm: f64) -> f64 {
        let gear = &self.plain_gears(0.0)[index];
        let tip_mm = 2.0 * (gear.base_mm() / 2.0).hypot(length_mm);
        let height = (tip_mm - gear.reference_mm()) / (2.0 * self.toothing().module_mm());
        height - self.toothing().rack().addendum - self.tip_shortening()
    }
}

/// Shifts this close are one.
const LAST_BITS: f64 = 1e-12;

/// A tip may lie below the form point by this and not foul: rounding alone
/// moves it that far.
const LAST_BITS_MM: f64 = 1e-9;

fn least_of(of: impl Fn(Member) -> f64) -> f64 {
    of(Member::First).min(of(Member::Second))
}

fn narrowed(
    limit: SplitLimit,
    before: (f64, f64),
    alone: Option<(f64, f64)>,
) -> Result<(f64, f64), NoSplit> {
    let none = NoSplit {
        limit,
        before: before.0.is_finite().then_some(before),
        alone,
    };
    let (from, to) = alone.ok_or(none)?;
    let left = (before.0.max(from), before.1.min(to));
    if left.0 <= left.1 {
        Ok(left)
    } else if left.0 - left.1 < LAST_BITS {
        let middle = f64::midpoint(left.0, left.1);
        Ok((middle, middle))
    } else {
        Err(none)
    }
}

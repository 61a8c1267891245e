//! How two gears share the shifts that close their mesh.

use super::Closing;
use super::undercut::least_shift;
use std::fmt;

/// Limits on the split of Σx.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SplitLimits {
    /// Least and greatest x of either gear.
    pub shift: (f64, f64),
    /// Least x of each gear for the wall between its root and its bore; minus
    /// infinity for none.
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
    /// modules (common practice), contact ratio 1.2; no bores.
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

    /// Whether a limit is waived.
    fn allow(&self, limit: SplitLimit) -> bool {
        match limit {
            SplitLimit::Undercut => self.undercut_allowed,
            SplitLimit::Interference => self.interference_allowed,
            _ => false,
        }
    }
}

/// A limit on the split, in the order in which they are asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SplitLimit {
    /// Least and greatest shift.
    Shift,
    /// The wall between root and bore of both gears.
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
            Self::Wall => "wall above the bore",
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
    /// split at all. A wall that only one gear needs has one end.
    pub alone: Option<(f64, f64)>,
}

impl NoSplit {
    /// Whether tips turned down may make room: only they, or the contact that
    /// they leave, stand in the way.
    pub fn lies_in_tips(&self) -> bool {
        matches!(
            self.limit,
            SplitLimit::Interference | SplitLimit::ContactRatio
        )
    }
}

impl Closing {
    /// Shares Σx between the gears inside `limits`. Each limit leaves one
    /// interval of x₁; so do all together, or none.
    ///
    /// # Errors
    /// The first limit, in the order of [`SplitLimit`], that leaves nothing.
    pub fn split(&self, limits: &SplitLimits) -> Result<Split, NoSplit> {
        let (range, plain) = self.plain_part(limits)?;
        let legal = self.bent_part(limits, range, plain)?;
        let balanced = self.balanced_first_shift();
        let first = moved_into(legal, balanced);
        Ok(Split {
            legal,
            balanced,
            first,
            second: self.shift_sum() - first,
        })
    }

    /// [`Split::first`] of [`Closing::split`], without the legal interval where
    /// it can be done without: most balanced splits need moving by the plain
    /// limits at most.
    ///
    /// # Errors
    /// As [`Closing::split`].
    pub fn first_shift(&self, limits: &SplitLimits) -> Result<f64, NoSplit> {
        let (range, plain) = self.plain_part(limits)?;
        let balanced = self.balanced_first_shift();
        if balanced.is_some() {
            let first = moved_into(plain, balanced);
            let keeps = |limit| self.keeps(limit, limits, first);
            if BENT
                .into_iter()
                .all(|limit| limits.allow(limit) || keeps(limit))
            {
                return Ok(first);
            }
        }
        let legal = self.bent_part(limits, range, plain)?;
        Ok(moved_into(legal, balanced))
    }

    /// What the shifts alone leave, and what is left of it by all limits on
    /// shifts.
    fn plain_part(&self, limits: &SplitLimits) -> Result<(Interval, Interval), NoSplit> {
        let whole = (f64::NEG_INFINITY, f64::INFINITY);
        let range = narrowed(SplitLimit::Shift, whole, self.shift_range(limits))?;
        let mut plain = narrowed(SplitLimit::Wall, range, self.range_above(limits.least))?;
        if !limits.allow(SplitLimit::Undercut) {
            plain = narrowed(SplitLimit::Undercut, plain, self.uncut_range())?;
        }
        Ok((range, plain))
    }

    /// What the limits that bend leave of `plain`. What one of them leaves on
    /// its own is asked only where nothing else is left.
    fn bent_part(
        &self,
        limits: &SplitLimits,
        range: Interval,
        plain: Interval,
    ) -> Result<Interval, NoSplit> {
        let bent = BENT.into_iter().filter(|limit| !limits.allow(*limit));
        bent.into_iter().try_fold(plain, |left, limit| {
            let part = self.part(limit, limits, left);
            part.map_or_else(
                || narrowed(limit, left, self.part(limit, limits, range)),
                Ok,
            )
        })
    }

    /// x₁ for which both shifts lie in the limits and both tips at or outside
    /// the reference circles, as the conditions behind need them.
    fn shift_range(&self, limits: &SplitLimits) -> Option<Interval> {
        let (sum, (least, most)) = (self.shift_sum(), limits.shift);
        let tip = -self.toothing().rack().addendum - self.tip_shortening();
        let from = least.max(sum - most).max(tip);
        let to = most.min(sum - least).min(sum - tip);
        met(from, to)
    }

    fn uncut_range(&self) -> Option<Interval> {
        self.range_above(
            self.teeth()
                .map(|teeth| least_shift(self.toothing(), teeth)),
        )
    }

    /// x₁ for which neither shift falls below its own least.
    fn range_above(&self, [first, second]: [f64; 2]) -> Option<Interval> {
        met(first, self.shift_sum() - second)
    }
}

/// Shifts this close are one.
const LAST_BITS: f64 = 1e-12;

/// x₁ from and to.
type Interval = (f64, f64);

/// The limits that bend, in the order in which they are asked.
const BENT: [SplitLimit; 3] = [
    SplitLimit::TipThickness,
    SplitLimit::Interference,
    SplitLimit::ContactRatio,
];

/// The balanced x₁, moved into what is legal by the least needed; the middle
/// where none balances.
fn moved_into(legal: Interval, balanced: Option<f64>) -> f64 {
    let middle = f64::midpoint(legal.0, legal.1);
    balanced.unwrap_or(middle).max(legal.0).min(legal.1)
}

fn narrowed(
    limit: SplitLimit,
    before: Interval,
    alone: Option<Interval>,
) -> Result<Interval, NoSplit> {
    let none = NoSplit {
        limit,
        before: before.0.is_finite().then_some(before),
        alone,
    };
    let (from, to) = alone.ok_or(none)?;
    met(before.0.max(from), before.1.min(to)).ok_or(none)
}

/// From `from` to `to`, if that is anything. Limits that meet leave one split,
/// the last bits aside.
fn met(from: f64, to: f64) -> Option<Interval> {
    if from <= to {
        Some((from, to))
    } else if from - to < LAST_BITS {
        let middle = f64::midpoint(from, to);
        Some((middle, middle))
    } else {
        None
    }
}

//! A problem less one of its limits: how explanations ask what a limit does.

use super::model::{Closing, Cutting, Problem};
use super::table::{LEAST_TEETH, MOST_TEETH};
use super::teeth::Limits;
use super::{CentreDistances, sizes};
use crate::base::{Decimal, Length, Module, Teeth};
use std::sync::Arc;

/// What limits the gears of a problem, apart from the ratios.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum GearLimit {
    /// Where the shafts lie.
    Centres,
    /// Which modules may be cut.
    Modules,
    /// Fewest teeth on a gear.
    MinTeeth,
    /// Most teeth on a gear.
    MaxTeeth,
    /// When a pair counts as closing the centre distance.
    Closing,
    /// The gap between the tips of the reverse gears.
    TipGap,
    /// The teeth that the idler may have.
    Idler,
    /// What is asked of every tooth.
    Teeth,
    /// The clear place that the idler must have.
    Room,
    /// Counts that the dividing head divides simply.
    Dividing,
    /// Gears whose cutter is owned.
    OwnedCutters,
}

impl GearLimit {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::Centres,
        Self::Modules,
        Self::MinTeeth,
        Self::MaxTeeth,
        Self::Closing,
        Self::TipGap,
        Self::Idler,
        Self::Teeth,
        Self::Room,
        Self::Dividing,
        Self::OwnedCutters,
    ];

    /// The key of the problem file that it is set by.
    pub const fn key(self, problem: &Problem) -> &'static str {
        match self {
            Self::Centres => "centre_distance_mm",
            Self::Modules => "gears.modules_mm",
            Self::MinTeeth => "gears.min_teeth",
            Self::MaxTeeth => "gears.max_teeth",
            Self::Closing => match problem.gears.closing {
                Closing::Tolerance(_) => "gears.centre_tolerance_mm",
                Closing::Backlash { .. } => "gears.backlash_mm",
                Closing::Shift { .. } => "gears.profile_shift",
            },
            Self::TipGap => "reverse.clearance_mm",
            Self::Idler => "reverse.idler_teeth",
            Self::Teeth => "limits",
            Self::Room => "idler.clear_place",
            Self::Dividing => "workshop.only_dividable",
            Self::OwnedCutters => "workshop.only_owned_cutters",
        }
    }

    /// Whether it says anything about `problem`.
    pub fn limits(self, problem: &Problem) -> bool {
        match self {
            Self::TipGap | Self::Idler => problem.reverse.is_some(),
            Self::Teeth => problem.judges(),
            Self::Room => problem.wants_clear_place(),
            Self::Dividing => problem.workshop.only_dividable,
            Self::OwnedCutters => problem.workshop.only_owned_cutters,
            _ => true,
        }
    }
}

/// A hundredth of a millimetre: as fine as shafts are placed.
pub(crate) const HUNDREDTH: i64 = 10_000_000;

impl Problem {
    /// The same problem with one limit as wide as explanations take it:
    ///
    /// - centres: every hundredth of a millimetre, from four fifths of the first
    ///   distance to six fifths of the last;
    /// - modules: also those of the standard series between a third of the
    ///   smallest and three times the largest;
    /// - fewest teeth 5; most teeth as many as fit the shafts, and no fewer;
    /// - closing: any pair closes; with shift, x of -2 to 3;
    /// - tip gap: tips may touch, not overlap;
    /// - idler: 5 to 1000 teeth;
    /// - teeth: any that can be drawn, generated;
    /// - room: the idler may foul anything;
    /// - dividing: any count;
    /// - owned cutters: any cutter.
    #[must_use]
    pub fn without(mut self, limit: GearLimit) -> Self {
        match limit {
            GearLimit::Centres => self.centre_distances = around(&self.centre_distances),
            GearLimit::Modules => self.gears.modules = with_series(&self.gears.modules),
            GearLimit::MinTeeth => self.gears.min_teeth = Teeth::new(LEAST_TEETH),
            GearLimit::MaxTeeth => self.gears.max_teeth = self.most_useful_teeth(),
            GearLimit::Closing => self.gears.closing = any(self.gears.closing),
            GearLimit::TipGap => {
                if let Some(reverse) = &mut self.reverse {
                    reverse.clearance = Length::ZERO;
                }
            }
            GearLimit::Idler => {
                if let Some(reverse) = &mut self.reverse {
                    reverse.idler_min = Teeth::new(LEAST_TEETH);
                    reverse.idler_max = Teeth::new(MOST_TEETH);
                }
            }
            GearLimit::Teeth => {
                self.limits = Limits::NONE;
                let cutting = self.cutters_as();
                Arc::make_mut(&mut self.workshop).cutters_as = Some(cutting);
                self.gears.cutting = Cutting::Generated;
            }
            GearLimit::Room => self = self.anywhere(),
            GearLimit::Dividing => Arc::make_mut(&mut self.workshop).only_dividable = false,
            GearLimit::OwnedCutters => {
                Arc::make_mut(&mut self.workshop).only_owned_cutters = false;
            }
        }
        // Modules are known by their place in the list, which may have moved.
        self.picked = None;
        self
    }

    /// The same problem with these keys marked as made, too.
    #[must_use]
    pub fn keeping(mut self, keys: impl IntoIterator<Item = String>) -> Self {
        self.fixed.extend(keys);
        self
    }

    /// As many teeth as a gear can have whose pair spans the greatest distance
    /// with the smallest module, and never fewer than the limit.
    pub fn most_useful_teeth(&self) -> Teeth {
        let last = self.centre_distances.at(self.centre_distances.len() - 1);
        let finest = self.gears.modules.first().map_or(1.0, |m| m.mm());
        let sum = 2.0 * last.mm() * self.gears.helix_angle_deg.to_radians().cos() / finest;
        #[allow(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at most 1000, and not negative"
        )]
        let fits = sum.min(f64::from(MOST_TEETH)) as u16;
        self.gears.max_teeth.max(Teeth::new(fits))
    }
}

/// The rule of closing as wide as it goes: beyond any distance and any pair, or
/// any shift that a file may ask for.
const fn any(given: Closing) -> Closing {
    match given {
        Closing::Tolerance(_) | Closing::Backlash { .. } => {
            Closing::Tolerance(Length::from_mm(Decimal::whole(1_000_000)))
        }
        Closing::Shift { .. } => Closing::Shift {
            min: Decimal::whole(-2),
            max: Decimal::whole(3),
        },
    }
}

/// Every hundredth from four fifths of the first to six fifths of the last.
fn around(given: &CentreDistances) -> CentreDistances {
    let (first, last) = (given.at(0).steps(), given.at(given.len() - 1).steps());
    let from = (first / 5 * 4).div_euclid(HUNDREDTH).max(1);
    let to = (last / 5 * 6).div_euclid(HUNDREDTH).max(from);
    let count = usize::try_from(to - from + 1).unwrap_or(1);
    CentreDistances::stepped(
        Length::from_steps(from * HUNDREDTH),
        Length::from_steps(HUNDREDTH),
        count,
    )
}

/// The modules, and those of the series near them; ascending, none twice.
fn with_series(given: &[Module]) -> Vec<Module> {
    let mut all = given.to_vec();
    all.extend(sizes::near(given));
    all.sort();
    all.dedup();
    all
}

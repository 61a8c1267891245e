//! The checked problem. Only the checker makes one, so later stages never
//! validate again.

use super::arrangement::Arrangement;
use super::asked::Asked;
use super::duty::{Duty, Shares};
use super::layout::{Layout, ReverseForm};
use super::materials::Materials;
use super::mounting::{IdlerPin, Shafting, Turning};
use super::teeth::{Bores, Inspection, Limits};
use super::workshop::{FurtherPart, Workshop};
use crate::base::{Decimal, Length, Module, Teeth, Window};
use crate::involute::Rack;
use std::sync::Arc;

/// One centre distance or an evenly stepped range of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CentreDistances {
    pub(super) from: Length,
    pub(super) step: Length,
    pub(super) count: usize,
    pub(super) doubt: Length,
}

impl CentreDistances {
    /// Every distance, ascending; `from + i·step` without rounding.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = Length> + '_ {
        (0..self.count).map(|i| self.at(i))
    }

    /// `count` distances from `from` on, `step` apart; at least one is made.
    pub fn stepped(from: Length, step: Length, count: usize) -> Self {
        Self {
            from,
            step,
            count: count.max(1),
            doubt: Length::ZERO,
        }
    }

    /// Only the distance at place `i`.
    #[must_use]
    pub fn only(&self, i: usize) -> Self {
        Self::stepped(self.at(i), Length::ZERO, 1)
    }

    /// How far apart they are; nothing when there is but one.
    pub const fn step(&self) -> Length {
        self.step
    }

    /// How far the one distance may lie either side of what was measured;
    /// nothing when it was not measured.
    pub const fn doubt(&self) -> Length {
        self.doubt
    }

    /// How many distances there are; at least 1.
    pub const fn len(&self) -> usize {
        self.count
    }

    /// Never: there is always one distance.
    pub const fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// The distance `from + i·step`.
    pub fn at(&self, i: usize) -> Length {
        let i = i64::try_from(i).unwrap_or(i64::MAX);
        Length::from_steps(self.from.steps() + i * self.step.steps())
    }
}

/// When a pair of gears counts as closing the centre distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closing {
    /// Its standard centre distance differs from the shafts' by no more.
    Tolerance(Length),
    /// The backlash that the centres alone give lies in a range, helped by
    /// thinning the teeth.
    Backlash {
        /// Least transverse backlash at the working circle.
        min: Length,
        /// Most transverse backlash at the working circle.
        max: Length,
    },
    /// Profile shift closes it exactly.
    Shift {
        /// Least shift of a gear, modules.
        min: Decimal,
        /// Greatest shift of a gear, modules.
        max: Decimal,
    },
}

impl Closing {
    /// Whether profile shift closes the pairs.
    pub const fn shifts(&self) -> bool {
        matches!(self, Self::Shift { .. })
    }
}

/// How teeth are cut; decides what counts as a cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cutting {
    /// Bought form cutters, eight to a module.
    Form,
    /// Hob or rack tool: one a module.
    Generated,
    /// Home-made form cutters: one per module and tooth count.
    OwnForm,
}

/// How wide gears are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaceWidth {
    /// All alike.
    Given(Length),
    /// As wide as the load of each mesh needs, in whole steps.
    Auto {
        /// What widths are multiples of.
        step: Length,
        /// The least; of each module its own where it is not said.
        least: Option<Length>,
        /// The most; of each module its own where it is not said.
        most: Option<Length>,
    },
}

impl FaceWidth {
    /// Least and most width that is taken where the file does not say, modules
    /// (common practice, no source).
    pub const USUAL_MODULES: [f64; 2] = [4.0, 12.0];

    /// The width that volumes are counted in: all widths are multiples of it.
    pub const fn unit(self) -> Length {
        match self {
            Self::Given(width) => width,
            Self::Auto { step, .. } => step,
        }
    }

    /// How many units a width is.
    pub fn units(self, width: Length) -> u64 {
        let unit = self.unit().steps().max(1);
        u64::try_from(width.steps() / unit).unwrap_or(0)
    }
}

/// What all gears share.
#[derive(Clone, Debug, PartialEq)]
pub struct Gears {
    pub(super) modules: Vec<Module>,
    pub(super) rack: Rack,
    pub(super) helix_angle_deg: f64,
    pub(super) min_teeth: Teeth,
    pub(super) max_teeth: Teeth,
    pub(super) closing: Closing,
    pub(super) max_thinning: Length,
    pub(super) face: FaceWidth,
    pub(super) cutting: Cutting,
    pub(super) accuracy_grade: u8,
    pub(super) accuracy_given: bool,
}

impl Gears {
    /// Modules, ascending, no two equal, at least one.
    pub fn modules(&self) -> &[Module] {
        &self.modules
    }
    /// The basic rack, with the pressure angle in the normal section.
    pub const fn rack(&self) -> &Rack {
        &self.rack
    }
    /// Helix angle at the reference circle, degrees, 0 to 45.
    pub const fn helix_angle_deg(&self) -> f64 {
        self.helix_angle_deg
    }
    /// Fewest teeth on a gear.
    pub const fn min_teeth(&self) -> Teeth {
        self.min_teeth
    }
    /// Most teeth on a gear.
    pub const fn max_teeth(&self) -> Teeth {
        self.max_teeth
    }
    /// When a pair closes the centre distance.
    pub const fn closing(&self) -> Closing {
        self.closing
    }
    /// How much each gear's teeth may be thinned by a deeper cut.
    pub const fn max_thinning(&self) -> Length {
        self.max_thinning
    }
    /// How wide gears are.
    pub const fn face(&self) -> FaceWidth {
        self.face
    }
    /// How teeth are cut.
    pub const fn cutting(&self) -> Cutting {
        self.cutting
    }
    /// Accuracy of the teeth, grade of ISO 1328, 4 to 12.
    pub const fn accuracy_grade(&self) -> u8 {
        self.accuracy_grade
    }
    /// Whether the file says how accurate they are.
    pub const fn accuracy_given(&self) -> bool {
        self.accuracy_given
    }
}

/// A pair already cut: its teeth, and its module when it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutPair {
    /// Teeth of the driving gear.
    pub driver: Teeth,
    /// Teeth of the driven gear.
    pub driven: Teeth,
    /// The module; any of the problem's when missing.
    pub module: Option<Module>,
}

/// Reverse gears already cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutTriple {
    /// Teeth of the driving gear.
    pub driver: Teeth,
    /// Teeth of the idler.
    pub idler: Teeth,
    /// Teeth of the driven gear.
    pub driven: Teeth,
    /// The module; any of the problem's when missing.
    pub module: Option<Module>,
}

/// The head pair (input shaft to layshaft) of an in-line box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Head {
    pub(super) min: Option<Decimal>,
    pub(super) max: Option<Decimal>,
    pub(super) least: [Option<Teeth>; 2],
    pub(super) cut: Option<CutPair>,
}

impl Head {
    /// Least ratio wanted.
    pub const fn min(&self) -> Option<Decimal> {
        self.min
    }
    /// Greatest ratio wanted.
    pub const fn max(&self) -> Option<Decimal> {
        self.max
    }
    /// The ratios allowed.
    pub fn window(&self) -> Window {
        Window::between(self.min, self.max)
    }
    /// The pair, when it is cut already.
    pub const fn cut(&self) -> Option<CutPair> {
        self.cut
    }
}

/// What a geared speed must do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Geared {
    pub(super) target: Decimal,
    pub(super) asked: Asked,
    pub(super) tolerance_percent: Decimal,
    pub(super) least: [Option<Teeth>; 2],
    pub(super) cut: Option<CutPair>,
}

impl Geared {
    /// Wanted ratio, input speed ÷ output speed.
    pub const fn target(&self) -> Decimal {
        self.target
    }
    /// In which words it was given.
    pub const fn asked(&self) -> Asked {
        self.asked
    }
    /// Allowed deviation, percent of the target.
    pub const fn tolerance_percent(&self) -> Decimal {
        self.tolerance_percent
    }
    /// The ratios allowed.
    pub fn window(&self) -> Window {
        Window::around(self.target, self.tolerance_percent)
    }
    /// The pair, when it is cut already.
    pub const fn cut(&self) -> Option<CutPair> {
        self.cut
    }
}

/// One forward speed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Speed {
    pub(super) name: String,
    pub(super) geared: Option<Geared>,
}

impl Speed {
    /// Its name, unique in the problem.
    pub fn name(&self) -> &str {
        &self.name
    }
    /// What its pair must do; none for the direct speed, which has no pair.
    pub const fn geared(&self) -> Option<&Geared> {
        self.geared.as_ref()
    }
}

/// The reverse speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reverse {
    pub(super) target: Decimal,
    pub(super) asked: Asked,
    pub(super) tolerance_percent: Decimal,
    pub(super) idler_min: Teeth,
    pub(super) idler_max: Teeth,
    pub(super) clearance: Length,
    pub(super) least: [Option<Teeth>; 2],
    pub(super) cut: Option<CutTriple>,
    pub(super) form: ReverseForm,
}

impl Reverse {
    /// Wanted size of the ratio, positive.
    pub const fn target(&self) -> Decimal {
        self.target
    }
    /// In which words it was given.
    pub const fn asked(&self) -> Asked {
        self.asked
    }
    /// Allowed deviation, percent of the target.
    pub const fn tolerance_percent(&self) -> Decimal {
        self.tolerance_percent
    }
    /// The sizes of ratio allowed.
    pub fn window(&self) -> Window {
        Window::around(self.target, self.tolerance_percent)
    }
    /// Fewest teeth on the idler.
    pub const fn idler_min(&self) -> Teeth {
        self.idler_min
    }
    /// Most teeth on the idler.
    pub const fn idler_max(&self) -> Teeth {
        self.idler_max
    }
    /// Least gap between the tips of the driving and the driven gear.
    pub const fn clearance(&self) -> Length {
        self.clearance
    }
    /// The gears, when they are cut already.
    pub const fn cut(&self) -> Option<CutTriple> {
        self.cut
    }
}

/// What a set is measured by; smaller is better in each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// The largest error over the geared forward speeds.
    WorstError,
    /// Volume of all blanks.
    BlankVolume,
    /// Number of distinct cutters.
    DistinctCutters,
    /// Number of distinct diameters of bar that the blanks are cut from.
    Bars,
    /// Number of distinct blanks.
    Blanks,
    /// Number of distinct set-ups: a cutter with a tooth count to divide.
    Setups,
    /// Money for the cutters and bars that are not at hand.
    Cost,
    /// How far the least safety of the teeth is below the most that is told, in
    /// hundredths.
    LeastSafety,
}

impl Measure {
    /// All measures: the usual ones, then those of the workshop.
    pub const ALL: [Self; 8] = [
        Self::WorstError,
        Self::BlankVolume,
        Self::DistinctCutters,
        Self::Bars,
        Self::Blanks,
        Self::Setups,
        Self::Cost,
        Self::LeastSafety,
    ];

    /// Those that depend on the workshop.
    pub const OF_WORKSHOP: [Self; 4] = [Self::Bars, Self::Blanks, Self::Setups, Self::Cost];

    /// Those that sets are measured by where the file does not say, in order.
    pub const USUAL: [Self; 3] = [Self::WorstError, Self::BlankVolume, Self::DistinctCutters];

    /// Whether it counts what gears need that may be shared: cutters, bars,
    /// blanks, set-ups, purchases.
    pub const fn is_of_needs(self) -> bool {
        !matches!(
            self,
            Self::WorstError | Self::BlankVolume | Self::LeastSafety
        )
    }

    /// The word for it in files and flags.
    pub const fn word(self) -> &'static str {
        match self {
            Self::WorstError => "worst_error",
            Self::BlankVolume => "blank_volume",
            Self::DistinctCutters => "distinct_cutters",
            Self::Bars => "bars",
            Self::Blanks => "blanks",
            Self::Setups => "setups",
            Self::Cost => "cost",
            Self::LeastSafety => "least_safety",
        }
    }

    /// The key under which results carry it.
    pub const fn key(self) -> &'static str {
        match self {
            Self::WorstError => "worst_error_percent",
            Self::BlankVolume => "blank_volume_mm3",
            Self::DistinctCutters => "distinct_cutters",
            Self::Bars => "distinct_bars",
            Self::Blanks => "distinct_blanks",
            Self::Setups => "distinct_setups",
            Self::Cost => "cost",
            Self::LeastSafety => "least_safety",
        }
    }
}

/// The same measures with that of strength behind all others: it breaks ties last,
/// wherever it was named.
pub(super) fn safety_last(mut measures: Vec<Measure>) -> Vec<Measure> {
    measures.sort_by_key(|measure| *measure == Measure::LeastSafety);
    measures
}

/// What ranks the sets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ranking {
    /// Distance from the ideal over all chosen measures.
    Balanced,
    /// One measure first.
    By(Measure),
}

impl Ranking {
    /// All rankings.
    pub const ALL: [Self; 9] = [
        Self::Balanced,
        Self::By(Measure::WorstError),
        Self::By(Measure::BlankVolume),
        Self::By(Measure::DistinctCutters),
        Self::By(Measure::Bars),
        Self::By(Measure::Blanks),
        Self::By(Measure::Setups),
        Self::By(Measure::Cost),
        Self::By(Measure::LeastSafety),
    ];

    /// Those by the usual measures.
    pub const USUAL: [Self; 4] = [
        Self::Balanced,
        Self::By(Measure::WorstError),
        Self::By(Measure::BlankVolume),
        Self::By(Measure::DistinctCutters),
    ];

    /// The word for it in files and flags.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Balanced => "balanced",
            Self::By(measure) => measure.word(),
        }
    }
}

/// A pair of a picked set: module and teeth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PickedPair {
    /// Its module.
    pub module: Module,
    /// Teeth of the driving gear.
    pub driver: Teeth,
    /// Teeth of the driven gear.
    pub driven: Teeth,
}

/// The set that a person settled on, kept whole so that it can be found again
/// whatever the ranking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picked {
    /// Its mark.
    pub mark: String,
    /// Its centre distance.
    pub centre_distance: Length,
    /// Its head pair; none on offset shafts.
    pub head: Option<PickedPair>,
    /// Its pairs, one per geared speed, in file order.
    pub pairs: Vec<PickedPair>,
    /// Its reverse: driver and driven, and the idler's teeth.
    pub reverse: Option<(PickedPair, Teeth)>,
}

/// A problem that has passed every check.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    pub(super) title: String,
    pub(super) arrangement: Arrangement,
    pub(super) centre_distances: CentreDistances,
    pub(super) gears: Gears,
    pub(super) limits: Limits,
    pub(super) limits_given: bool,
    pub(super) bores: Bores,
    pub(super) shafting: Shafting,
    pub(super) duty: Option<Duty>,
    pub(super) shares: Shares,
    /// Shared, as the workshop is.
    pub(super) materials: Arc<Materials>,
    pub(super) input_turns: Turning,
    pub(super) input_rpm: Option<f64>,
    pub(super) road_way_mm: Option<f64>,
    pub(super) idler_pin: Option<IdlerPin>,
    pub(super) layout: Layout,
    pub(super) inspection: Inspection,
    /// Shared: problems are copied for every change that is tried.
    pub(super) workshop: Arc<Workshop>,
    pub(super) further_parts: Vec<FurtherPart>,
    pub(super) head: Head,
    pub(super) speeds: Vec<Speed>,
    pub(super) reverse: Option<Reverse>,
    pub(super) ranking: Ranking,
    pub(super) measures: Vec<Measure>,
    pub(super) fixed: Vec<String>,
    pub(super) picked: Option<Picked>,
    pub(super) inches: bool,
    /// Whether its gears are there and only looked at.
    pub(super) found: bool,
}

impl Problem {
    /// Its title; may be empty.
    pub fn title(&self) -> &str {
        &self.title
    }
    /// How the shafts lie.
    pub const fn arrangement(&self) -> Arrangement {
        self.arrangement
    }
    /// The centre distances to try.
    pub const fn centre_distances(&self) -> &CentreDistances {
        &self.centre_distances
    }
    /// What all gears share.
    pub const fn gears(&self) -> &Gears {
        &self.gears
    }
    /// The head pair; none on offset shafts.
    pub const fn head(&self) -> Option<&Head> {
        match self.arrangement {
            Arrangement::InLine => Some(&self.head),
            Arrangement::Offset => None,
        }
    }
    /// Forward speeds in file order.
    pub fn speeds(&self) -> &[Speed] {
        &self.speeds
    }
    /// What the geared speeds must do, in file order.
    pub fn geared(&self) -> impl Iterator<Item = &Geared> {
        self.speeds.iter().filter_map(Speed::geared)
    }
    /// The reverse speed, when one is asked for.
    pub const fn reverse(&self) -> Option<&Reverse> {
        self.reverse.as_ref()
    }
    /// What ranks the sets.
    pub const fn ranking(&self) -> Ranking {
        self.ranking
    }
    /// The measures of the front, in order; at least one, none twice.
    pub fn measures(&self) -> &[Measure] {
        &self.measures
    }
    /// Keys of what is already made and may not be proposed for change, in
    /// one spelling: lengths in mm, modules for diametral pitches.
    pub fn fixed(&self) -> &[String] {
        &self.fixed
    }
    /// Whether the key, or an object or list that it lies in, is fixed.
    pub fn is_fixed(&self, key: &str) -> bool {
        self.fixed.iter().any(|fixed| {
            let rest = key.strip_prefix(fixed.as_str());
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        })
    }
    /// The set settled on, if any.
    pub const fn picked(&self) -> Option<&Picked> {
        self.picked.as_ref()
    }
    /// Whether some length was written in inches or as a diametral pitch.
    pub const fn inches(&self) -> bool {
        self.inches
    }

    /// The same problem at other centre distances, which must be positive and at
    /// most 10 m.
    #[must_use]
    pub fn at(mut self, centre_distances: CentreDistances) -> Self {
        self.centre_distances = centre_distances;
        self
    }

    /// The same problem, its gears taken as they are: no limit refuses them or
    /// says how they are made, all limits still mark them.
    #[must_use]
    pub const fn found(mut self) -> Self {
        self.found = true;
        self
    }

    /// Whether the gears are taken as they are ([`Problem::found`]).
    pub const fn is_found(&self) -> bool {
        self.found
    }

    /// The same problem ranked and measured otherwise.
    #[must_use]
    pub fn ranked(mut self, ranking: Ranking, measures: Vec<Measure>) -> Self {
        self.ranking = ranking;
        if !measures.is_empty() {
            self.measures = safety_last(measures);
        }
        self
    }

    /// Whether sets are measured or ranked by the strength of their teeth.
    pub fn measures_safety(&self) -> bool {
        let safety = Measure::LeastSafety;
        self.measures.contains(&safety) || self.ranking == Ranking::By(safety)
    }
}

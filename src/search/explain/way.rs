//! Ways out: changes that let sets in.

use super::trial::{Edits, Trials, number};
use crate::base::Decimal;
use crate::problem::{Measure, Problem, Ranking};
use crate::search::{Request, Status, solve};
use crate::train::Set;
use num_bigint::BigUint;
use serde_json::json;

/// What a step changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// A role's tolerance, percent. Roles by place: geared speeds in file order,
    /// then reverse.
    Tolerance(usize),
    /// The tolerance of all that give none of their own, percent.
    DefaultTolerance,
    /// A role's target ratio.
    Target(usize),
    /// Least ratio of the head pair.
    HeadMin,
    /// Greatest ratio of the head pair.
    HeadMax,
    /// Most backlash, mm.
    BacklashMax,
    /// Least backlash, mm.
    BacklashMin,
    /// How much each gear may be thinned, mm.
    Thinning,
    /// A range of backlash in place of a tolerance of the centres; its most, mm.
    BacklashInstead,
    /// Gap between the tips of the reverse gears, mm.
    TipGap,
    /// Fewest teeth of the idler.
    IdlerMin,
    /// Most teeth of the idler.
    IdlerMax,
    /// Fewest teeth on a gear.
    MinTeeth,
    /// Most teeth on a gear.
    MaxTeeth,
    /// A module more, mm.
    Module,
    /// A diametral pitch more.
    Pitch,
    /// Helix angle of all gears, degrees.
    Helix,
    /// Distance between the shafts, mm.
    Centres,
    /// The same, by turning one shaft in an eccentric bush: the case stays.
    Bush,
    /// Generated teeth and a range of shift in place of the rule of closing; its
    /// most, modules.
    ShiftInstead,
    /// Greatest shift, modules.
    ShiftMax,
    /// Least shift, modules.
    ShiftMin,
    /// A hob or rack tool in place of form cutters.
    Cutting,
    /// Least wall between root and hole, mm.
    Wall,
    /// Least contact ratio.
    ContactRatio,
    /// Least tip thickness, modules.
    TipThickness,
    /// Undercut roots.
    Undercut,
    /// Blanks turned down until tips clear the mate's root.
    TipsTurnedDown,
    /// Fewest teeth on a gear of one role.
    RoleTeeth,
    /// Metal between the hole of the idler's pin and a bearing bore, mm.
    PinWall,
    /// Diameter of the idler's pin, mm.
    Pin,
    /// Gap around the idler, mm.
    IdlerGap,
    /// The wall that holds the idler's pin.
    HeldIn,
    /// Tooth counts that need more than a simple setting of the dividing head.
    AnyDividing,
    /// Gears whose cutters are still to be bought or made.
    AnyCutter,
    /// Least safety of roots, and of flanks where these have none of their own.
    LeastSafety,
    /// Least safety of flanks.
    FlankSafety,
    /// Face width of every gear, mm.
    FaceWidth,
    /// Most face width where widths follow from the load, mm.
    MostWidth,
    /// Torque on the input shaft, N m.
    Torque,
    /// Power at the input shaft, W.
    Power,
    /// What all gears are made of; its figure is the endurance limit of roots, MPa.
    Material,
}

impl Axis {
    /// Whether more of it may make teeth weaker that there are already: looser
    /// teeth are cut thinner, and other limits split shifts otherwise.
    pub(super) const fn may_weaken(self) -> bool {
        matches!(
            self,
            Self::BacklashMax
                | Self::BacklashMin
                | Self::BacklashInstead
                | Self::Thinning
                | Self::ShiftInstead
                | Self::ShiftMax
                | Self::ShiftMin
                | Self::Cutting
                | Self::Wall
                | Self::ContactRatio
                | Self::TipThickness
                | Self::Undercut
                | Self::TipsTurnedDown
        )
    }
}

/// One limit set otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it changes.
    pub axis: Axis,
    /// Keys to set, and to what.
    pub edits: Edits,
    /// The figure as it is; none where there is no single one.
    pub now: Option<Decimal>,
    /// The figure that it becomes.
    pub to: Decimal,
}

impl Step {
    /// A step that sets one key to its figure.
    pub(super) fn of(axis: Axis, key: &str, now: Option<Decimal>, to: Decimal) -> Self {
        let edits = vec![(key.to_owned(), number(to))];
        Self {
            axis,
            edits,
            now,
            to,
        }
    }

    /// A step that sets one key to a number of teeth.
    pub(super) fn teeth(axis: Axis, key: &str, now: u32, to: u32) -> Self {
        Self {
            axis,
            edits: vec![(key.to_owned(), json!(to))],
            now: Some(Decimal::whole(now.into())),
            to: Decimal::whole(to.into()),
        }
    }
}

/// One or two steps that together let sets in.
#[derive(Clone, Debug)]
pub struct Way {
    /// The steps.
    pub steps: Vec<Step>,
    /// The problem with them.
    pub problem: Problem,
    /// How many sets it has, exactly.
    pub sets: BigUint,
    /// The set with the least worst error; of those level the one with least
    /// metal, then with fewest cutters.
    pub best: Set,
}

impl Way {
    /// Solves the problem with the steps; none where that has no set, or when
    /// stopped before it was solved.
    pub(super) fn tried(trials: &Trials<'_>, steps: Vec<Step>, threads: usize) -> Option<Self> {
        let edits: Edits = steps.iter().flat_map(|s| s.edits.clone()).collect();
        let problem = trials.with(&edits)?;
        let problem = problem.ranked(Ranking::By(Measure::WorstError), Measure::USUAL.to_vec());
        let request = Request {
            top: 0,
            trains: 0,
            threads,
        };
        let mut outcome = solve(&problem, request, trials.control);
        if outcome.front.is_empty() || outcome.status != Status::Proven {
            return None;
        }
        Some(Self {
            steps,
            problem,
            sets: outcome.counts.sets,
            best: outcome.front.swap_remove(0),
        })
    }
}

//! What comes nearest, for a problem that has no set.
//!
//! In: a checked [`Problem`]. Out: [`Nearest`], plain figures for a person to
//! see which demand is out of reach: the tooth sums next to the centre
//! distances, the nearest ratio of each speed on its own, and which speeds no
//! head ratio serves together. It says what is, not what to change.

mod choices;
mod reverse;
mod sums;
mod together;

use crate::base::Length;
use crate::mesh::Fit;
use crate::problem::Problem;
use crate::train::Pair;
use choices::Reachable;
use serde::{Serialize, Serializer};
use sums::Closings;

/// The nearest misses of a problem.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Nearest {
    /// How many centre distances stand behind the figures.
    pub distances: Distances,
    /// Pairs that close a centre distance, over all of them.
    pub closing_pairs: u64,
    /// Of one centre distance: the three tooth sums of each module whose own
    /// centre distance is next below it, and the three at or above it. Of a
    /// range: the sums that close nowhere, the three of each module that come
    /// nearest to some distance, by how near they come.
    pub sums: Vec<SumAt>,
    /// The head pair; none on offset shafts.
    pub head: Option<HeadMiss>,
    /// Each geared speed on its own, in file order.
    pub speeds: Vec<SpeedMiss>,
    /// Reverse on its own, when it is asked for.
    pub reverse: Option<ReverseMiss>,
    /// Which speeds are missing together, fewest first; at most 20 cases.
    pub together: Vec<Together>,
    /// Cases beyond those 20.
    pub together_left_out: usize,
}

/// How many centre distances there are, and how many were looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Distances {
    /// All of the problem.
    pub total: usize,
    /// Those at which some pair closes.
    pub closing: usize,
    /// Those of the closing ones that the ratios were looked up at, evenly
    /// spread; all of them unless there are many. Of all distances where only
    /// reverse is asked for on offset shafts, which needs no pair.
    pub looked_at: usize,
}

/// A tooth sum of a module at a centre distance.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SumAt {
    /// Module, mm.
    pub module_mm: f64,
    /// Teeth of both gears together.
    pub tooth_sum: u32,
    /// Distance that such a pair is made for, mm.
    pub standard_centre_distance_mm: f64,
    /// Distance between the shafts, mm.
    pub centre_distance_mm: f64,
    /// Transverse backlash there, mm; negative when the teeth bind, none when
    /// the base circles overlap.
    pub backlash_mm: Option<f64>,
    /// Sum of the shifts that would close it, modules, where the problem gives
    /// shift; none when the gears do not go in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shift_sum: Option<f64>,
    /// How the pair sits by the problem's rule.
    #[serde(serialize_with = "fit_word")]
    pub fit: Fit,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde asks for a reference"
)]
const fn is_zero(count: &u64) -> bool {
    *count == 0
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde asks for a reference"
)]
fn fit_word<S: Serializer>(fit: &Fit, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(match fit {
        Fit::Loose => "loose",
        Fit::Closes => "closes",
        Fit::Binds => "binds",
    })
}

/// A pair by its teeth.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PairTeeth {
    /// Module, mm.
    pub module_mm: f64,
    /// Teeth of the driving gear.
    pub driver_teeth: u32,
    /// Teeth of the driven gear.
    pub driven_teeth: u32,
}

impl PairTeeth {
    fn of(problem: &Problem, pair: Pair) -> Self {
        Self {
            module_mm: pair.module.of(problem).mm(),
            driver_teeth: pair.driver.get(),
            driven_teeth: pair.driven.get(),
        }
    }
}

/// What the head pair can do.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HeadMiss {
    /// Pairs that close and are the one cut already, if one is.
    pub closing: u64,
    /// Those of them in the range of ratios asked for.
    pub in_range: u64,
    /// When none is in range, the one nearest to it, with its ratio and the
    /// centre distance (mm) it closes.
    pub nearest: Option<(PairTeeth, f64, f64)>,
}

/// The nearest that a speed can come to its target.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpeedMiss {
    /// Its name.
    pub name: String,
    /// Ratio asked for.
    pub target: f64,
    /// Deviation allowed, percent.
    pub tolerance_percent: f64,
    /// Pairs it may use, over the distances looked at; of a pair that is cut
    /// already, whether it closes.
    pub pairs: u64,
    /// Whether some head and pair are within tolerance.
    pub within: bool,
    /// The nearest ratio; none when no head or no pair is left.
    pub nearest: Option<SpeedAt>,
}

/// A ratio and the teeth that give it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SpeedAt {
    /// Distance between the shafts, mm.
    pub centre_distance_mm: f64,
    /// The head pair; none on offset shafts.
    pub head: Option<PairTeeth>,
    /// The speed's own pair; of reverse, its driving and driven gear.
    pub pair: PairTeeth,
    /// Of reverse: the smallest idler that has a place.
    pub idler_teeth: Option<u32>,
    /// Size of the ratio.
    pub ratio: f64,
    /// 100 (ratio / target − 1).
    pub error_percent: f64,
}

/// The nearest that reverse can come to its target.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReverseMiss {
    /// Size of ratio asked for.
    pub target: f64,
    /// Deviation allowed, percent.
    pub tolerance_percent: f64,
    /// Driving and driven gears of one module that some head brings within
    /// tolerance, over the distances looked at; where the driver is the gear of
    /// a speed, those that some pair of that speed has.
    pub in_tolerance: u64,
    /// Those whose tips come closer than the clearance.
    pub refused_by_tips: u64,
    /// The widest gap between the tips of those, mm.
    pub widest_gap_refused_mm: Option<f64>,
    /// Those whose tips clear but for which no idler within its limits has a
    /// place.
    pub refused_by_idler: u64,
    /// Those that would have a place, were it not for the limits of the teeth.
    #[serde(skip_serializing_if = "is_zero")]
    pub refused_by_limits: u64,
    /// Whether any is left.
    pub within: bool,
    /// The nearest ratio whose gears all have a place.
    pub nearest: Option<SpeedAt>,
}

/// Head ratios under which the same speeds are missing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Together {
    /// Names of the speeds that have no pair within tolerance; reverse last,
    /// as "reverse".
    pub missing: Vec<String>,
    /// How many head ratios these are, counted at each distance looked at.
    pub head_ratios: u64,
    /// The lowest of them; 1 on offset shafts.
    pub lowest_head_ratio: f64,
    /// The highest of them.
    pub highest_head_ratio: f64,
}

/// The nearest misses of `problem`.
pub fn nearest(problem: &Problem) -> Nearest {
    let closings = Closings::new(problem);
    let looked_at = closings.some(problem, most_looked_at(problem));
    let mut misses = Misses::new(problem);
    for &place in &looked_at {
        misses.look(problem.centre_distances().at(place));
    }
    let (together, together_left_out) = misses.together.into_cases(problem);
    Nearest {
        distances: Distances {
            total: problem.centre_distances().len(),
            closing: closings.distances(),
            looked_at: looked_at.len(),
        },
        closing_pairs: closings.pairs(),
        sums: closings.next_sums(problem),
        head: misses.head,
        speeds: misses.speeds,
        reverse: misses.reverse,
        together,
        together_left_out,
    }
}

/// How many distances to look up ratios at. The driving and driven gears of
/// reverse are all looked at, so that the work grows with their number.
fn most_looked_at(problem: &Problem) -> usize {
    let gears = problem.gears();
    let counts = (gears.max_teeth().get() + 1 - gears.min_teeth().get()) as usize;
    let gearings = if problem.reverse().is_some() {
        counts * counts
    } else {
        counts
    };
    (2_000_000 / (gearings * gears.modules().len())).clamp(1, 200)
}

/// The misses found so far.
struct Misses<'a> {
    problem: &'a Problem,
    head: Option<HeadMiss>,
    speeds: Vec<SpeedMiss>,
    reverse: Option<ReverseMiss>,
    together: together::Patterns,
}

impl<'a> Misses<'a> {
    fn new(problem: &'a Problem) -> Self {
        let head = HeadMiss {
            closing: 0,
            in_range: 0,
            nearest: None,
        };
        Self {
            problem,
            head: problem.head().map(|_| head),
            speeds: choices::unmet(problem),
            reverse: problem.reverse().map(reverse::unmet),
            together: together::Patterns::default(),
        }
    }

    fn look(&mut self, centres: Length) {
        let here = Reachable::new(self.problem, centres);
        if let Some(head) = &mut self.head {
            here.note_heads(head);
        }
        for (r, miss) in self.speeds.iter_mut().enumerate() {
            here.note_speed(r, miss);
        }
        let gearings = self.reverse.as_mut().map(|miss| reverse::note(&here, miss));
        self.together.note(&here, gearings.as_deref());
    }
}

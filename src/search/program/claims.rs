//! What a front says about the sets that are not on it.

use crate::problem::{Measure, Problem};
use crate::train::{Figures, Set};

/// The measures of a set, exactly comparable; those not chosen are 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Values {
    /// Bits of the worst error: doubles that are not negative sort by their bits.
    pub(super) error: u64,
    /// Σ OD², µm².
    pub(super) volume: u64,
    pub(super) cutters: u32,
}

impl Values {
    pub(super) fn of(problem: &Problem, set: &Set) -> Self {
        let figures = Figures::of(problem, set);
        let chosen = |measure| problem.measures().contains(&measure);
        let one_of = |measure, value| if chosen(measure) { value } else { 0 };
        Self {
            error: one_of(Measure::WorstError, figures.worst_error.to_bits()),
            volume: one_of(Measure::BlankVolume, figures.blank_um2),
            cutters: if chosen(Measure::DistinctCutters) {
                figures.distinct_cutters
            } else {
                0
            },
        }
    }

    /// Whether no measure is greater than the other's.
    pub(super) const fn as_good_as(&self, other: &Self) -> bool {
        self.error <= other.error && self.volume <= other.volume && self.cutters <= other.cutters
    }
}

/// "No set has less error and less metal than this"; no limit where none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step {
    /// Bits of an error.
    pub(super) error_below: Option<u64>,
    /// Σ OD², µm².
    pub(super) volume_below: Option<u64>,
}

impl Step {
    const NO_SET: Self = Self {
        error_below: None,
        volume_below: None,
    };
}

/// The claims about sets with at most so many cutters; about all where none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Level {
    pub(super) cutters: Option<u32>,
    pub(super) steps: Vec<Step>,
}

/// The claims that together say: every set is matched or beaten in the chosen
/// measures by a point of `front`.
///
/// For each cutter count K of the front, the points of at most K cutters that
/// matter make a staircase: error rises, metal falls. Left of a step's end no
/// set may have less metal than the step; below the first step there may be no
/// set at all. The claims of K are made for at most K' − 1 cutters, K' being
/// the next count of the front, and of the last count for all sets: that says
/// as much about K, and leaves no count between out.
///
/// Take any set, with c cutters. Were c less than the least count, the first
/// level would be false. Else let K be the greatest count of the front up to c.
/// Its error is not below the first step of K; let s be the last step not above
/// its error. Then its metal is not below that of s, so s matches or beats it.
pub(super) fn claims(problem: &Problem, front: &[Values]) -> Vec<Level> {
    let mut counts: Vec<u32> = front.iter().map(|values| values.cutters).collect();
    counts.sort_unstable();
    counts.dedup();
    let Some(&fewest) = counts.first() else {
        return vec![Level {
            cutters: None,
            steps: vec![Step::NO_SET],
        }];
    };
    let fewer = fewest.checked_sub(1).map(|fewer| Level {
        cutters: Some(fewer),
        steps: vec![Step::NO_SET],
    });
    let level = |(i, &count): (usize, &u32)| Level {
        cutters: counts.get(i + 1).map(|next| next - 1),
        steps: steps(problem, &stair(front, count)),
    };
    let levels = counts.iter().enumerate().map(level);
    fewer
        .into_iter()
        .chain(levels)
        .filter(|level| !level.steps.is_empty())
        .collect()
}

/// Error and metal of the points that matter with at most `cutters` cutters:
/// rising error, falling metal.
fn stair(front: &[Values], cutters: u32) -> Vec<(u64, u64)> {
    let within = front.iter().filter(|values| values.cutters <= cutters);
    let mut all: Vec<_> = within.map(|v| (v.error, v.volume)).collect();
    all.sort_unstable();
    let mut stair: Vec<(u64, u64)> = Vec::new();
    for point in all {
        if stair.last().is_none_or(|last| point.1 < last.1) {
            stair.push(point);
        }
    }
    stair
}

fn steps(problem: &Problem, stair: &[(u64, u64)]) -> Vec<Step> {
    let chosen = |measure| problem.measures().contains(&measure);
    let mut steps = Vec::new();
    // No error is below 0.
    if let Some(&(least, _)) = stair.first().filter(|first| first.0 > 0)
        && chosen(Measure::WorstError)
    {
        steps.push(Step {
            error_below: Some(least),
            volume_below: None,
        });
    }
    if chosen(Measure::BlankVolume) {
        let ends = stair.iter().skip(1).map(|next| Some(next.0)).chain([None]);
        steps.extend(stair.iter().zip(ends).map(|(step, end)| Step {
            error_below: end,
            volume_below: Some(step.1),
        }));
    }
    steps
}

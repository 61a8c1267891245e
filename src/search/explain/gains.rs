//! What binds a problem that has sets: what one step of each limit would gain.

use super::gears;
use super::places::next_centres;
use super::ratios::asked;
use super::stronger;
use super::trial::Trials;
use super::way::{Axis, Step};
use crate::base::{Decimal, Length};
use crate::problem::{Measure, Problem, Ranking};
use crate::search::{Control, Request, Status, solve};
use crate::train::Figures;
use num_bigint::BigUint;

/// The least of each measure on its own, and how many sets there are.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// Exact number of sets.
    pub sets: BigUint,
    /// Least worst error, as a fraction.
    pub worst_error: f64,
    /// Least Σ OD² of the blanks, µm².
    pub blank_um2: u64,
    /// The width that volumes are counted in: a step may change it.
    pub unit: Length,
    /// Fewest cutters.
    pub distinct_cutters: u32,
}

/// One step of a limit, and what it would buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Gain {
    /// The step.
    pub step: Step,
    /// What the problem reaches with it.
    pub reach: Reach,
}

/// What a problem reaches; none when it has no set, or when stopped before it
/// was known.
pub(super) fn reach(problem: &Problem, threads: usize, control: &Control) -> Option<Reach> {
    let all = Measure::USUAL.to_vec();
    let problem = problem.clone().ranked(Ranking::Balanced, all);
    let request = Request {
        top: 0,
        trains: 0,
        threads,
    };
    let outcome = solve(&problem, request, control);
    if outcome.status != Status::Proven {
        return None;
    }
    let figures: Vec<Figures> = outcome
        .front
        .iter()
        .map(|set| Figures::of(&problem, set))
        .collect();
    let error = figures
        .iter()
        .map(|f| f.worst_error)
        .min_by(f64::total_cmp)?;
    Some(Reach {
        sets: outcome.counts.sets,
        worst_error: error,
        blank_um2: figures.iter().map(|f| f.blank_um2).min()?,
        unit: problem.gears().face().unit(),
        distinct_cutters: figures.iter().map(|f| f.distinct_cutters).min()?,
    })
}

/// One step of each limit: a tolerance by 1 %, a head range by 0.1, teeth by
/// one, tip gap by 0.1 mm, backlash by 0.01 mm, the next modules, the distance
/// by half a module; where strength is asked for also a tenth less of it and a
/// millimetre more of width.
pub(super) fn steps(trials: &Trials<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    for (role, of) in asked(trials.problem).iter().enumerate() {
        let to = Decimal::from_millionths(of.tolerance.millionths() + Decimal::SCALE);
        let axis = Axis::Tolerance(role);
        if to < Decimal::whole(100) {
            steps.push(Step::of(axis, &of.tolerance_key, Some(of.tolerance), to));
        }
    }
    steps.extend(head_steps(trials));
    for list in gears::rising(trials) {
        let Some(first) = list.steps.first() else {
            continue;
        };
        let place = match first.axis {
            Axis::TipGap => list.steps.len().min(10) - 1,
            Axis::BacklashInstead | Axis::ShiftInstead => continue,
            _ => 0,
        };
        steps.push(list.steps[place].clone());
    }
    steps.extend(gears::modules(trials).into_iter().take(2));
    steps.extend(next_centres(trials));
    steps.extend(stronger::gains(trials));
    steps.retain(|step| step.edits.iter().all(|(key, _)| trials.may_change(key)));
    steps
}

fn head_steps(trials: &Trials<'_>) -> Vec<Step> {
    let tenth = Decimal::SCALE / 10;
    let Some(head) = trials.problem.head() else {
        return Vec::new();
    };
    let ends = [
        (Axis::HeadMin, "head.ratio.min", head.min(), -tenth),
        (Axis::HeadMax, "head.ratio.max", head.max(), tenth),
    ];
    ends.into_iter()
        .filter_map(|(axis, key, now, by)| {
            let to = Decimal::from_millionths(now?.millionths() + by);
            (to > Decimal::whole(0)).then(|| Step::of(axis, key, now, to))
        })
        .collect()
}

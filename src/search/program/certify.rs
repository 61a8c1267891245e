//! The certificate of a front.

use super::bounds::{Fitting, Look};
use super::choice::{Verdict, settle};
use super::claims::{Level, Values, claims};
use super::gearing::Idlers;
use super::options::{Costs, Lists};
use super::points::is_a_set;
use super::stage::{Head, Stage, heads_at};
use crate::base::Length;
use crate::problem::Problem;
use crate::search::Control;
use crate::train::Set;
use rayon::prelude::*;

/// Steps of progress that a centre distance is worth.
const STEPS: u64 = 1000;

/// What was found of a front. A claim is about one head pair (or, on offset
/// shafts, one centre distance), and where reverse shares its driver about one
/// such gear: no set with them lies below a step of the front.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Certificate {
    /// Settled by sums of least values.
    pub by_bounds: u64,
    /// Settled by an integer program.
    pub by_programs: u64,
    /// Not settled: somebody stopped it, or a program was too hard.
    pub open: u64,
    /// Found false, points of the front that are none among them.
    pub refuted: u64,
    /// Why, when one is: the first in set order.
    pub objection: Option<Objection>,
}

/// Why a front is not the front.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Objection {
    /// This point of it is not a set of the problem.
    NotASet(Set),
    /// Another point of it is as good as this one in every measure.
    Beaten(Set),
    /// No point of it is as good as this set.
    Missing(Set),
}

impl Certificate {
    /// How many claims there are.
    pub const fn claims(&self) -> u64 {
        self.by_bounds + self.by_programs + self.open + self.refuted
    }

    /// Whether the front is proved whole.
    pub const fn holds(&self) -> bool {
        self.open == 0 && self.refuted == 0
    }

    fn add(mut self, other: Self) -> Self {
        self.by_bounds += other.by_bounds;
        self.by_programs += other.by_programs;
        self.open += other.open;
        self.refuted += other.refuted;
        self.objection = match (self.objection, other.objection) {
            (Some(x), Some(y)) => Some(x.min(y)),
            (x, y) => x.or(y),
        };
        self
    }

    fn refuting(objection: Objection) -> Self {
        Self {
            refuted: 1,
            objection: Some(objection),
            ..Self::default()
        }
    }
}

/// Proves, or refutes, that `front` is the front of `problem` in its chosen
/// measures: that every point is a set, that none beats another, and that every
/// set there is has a point as good as it. Runs in the current thread pool; the
/// numbers do not depend on it. Strength and gears that the idler's pin passes are
/// not known to it.
pub fn certify(problem: &Problem, front: &[Set], control: &Control) -> Certificate {
    let values: Vec<Values> = front.iter().map(|set| Values::of(problem, set)).collect();
    let levels = claims(problem, &values);
    let inquiry = Inquiry {
        problem,
        costs: Costs::new(problem, Idlers::Lightest),
        claims: levels.iter().map(|level| level.steps.len() as u64).sum(),
        levels,
        control,
    };
    let distances: Vec<Length> = problem.centre_distances().iter().collect();
    control.expect(STEPS * distances.len() as u64);
    let at = distances.par_iter().map(|&centres| inquiry.at(centres));
    let points = front.par_iter().zip(&values).map(|(set, own)| {
        let others = values.iter().filter(|other| other.as_good_as(own));
        if !is_a_set(problem, set) {
            Certificate::refuting(Objection::NotASet(set.clone()))
        } else if others.count() > 1 {
            Certificate::refuting(Objection::Beaten(set.clone()))
        } else {
            Certificate::default()
        }
    });
    at.chain(points)
        .reduce(Certificate::default, Certificate::add)
}

/// What is asked, of every centre distance alike.
struct Inquiry<'a> {
    problem: &'a Problem,
    costs: Costs,
    levels: Vec<Level>,
    /// Number of steps over all levels.
    claims: u64,
    control: &'a Control,
}

impl Inquiry<'_> {
    fn at(&self, centres: Length) -> Certificate {
        let heads = heads_at(self.problem, &self.costs, centres);
        if heads.is_empty() || self.control.stopped() {
            self.control.advance(STEPS);
            // No head, no set: the claims count once.
            let mut all = Certificate::default();
            match heads.len() {
                0 => all.by_bounds = self.claims,
                some => all.open = self.claims * some as u64,
            }
            return all;
        }
        let lists = Lists::new(self.problem, &self.costs, centres);
        let groups: Vec<&[Head]> = heads.chunk_by(|x, y| x.ratio == y.ratio).collect();
        let count = groups.len() as u64;
        let about = groups.par_iter().enumerate().map(|(i, heads)| {
            let found = self.of_ratio(&lists, heads);
            let i = i as u64;
            self.control
                .advance(STEPS * (i + 1) / count - STEPS * i / count);
            found
        });
        about.reduce(Certificate::default, Certificate::add)
    }

    /// The claims about heads of one exact ratio.
    fn of_ratio(&self, lists: &Lists, heads: &[Head]) -> Certificate {
        let stages = Stage::all(self.problem, lists, heads);
        let about = stages.iter().map(|stage| self.of_stage(stage, heads));
        about.fold(Certificate::default(), Certificate::add)
    }

    fn of_stage(&self, stage: &Stage, heads: &[Head]) -> Certificate {
        let mut found = Certificate::default();
        for head in &stage.heads {
            for level in &self.levels {
                self.of_head(stage, head, level, &mut found);
            }
        }
        // What holds for a head holds for those that it replaces.
        let replaced = (heads.len() - stage.heads.len()) as u64 * self.claims;
        if found.open + found.refuted > 0 {
            found.open += replaced;
        } else {
            found.by_bounds += replaced;
        }
        found
    }

    fn of_head(&self, stage: &Stage, head: &Head, level: &Level, found: &mut Certificate) {
        let steps = level.steps.len() as u64;
        if self.control.stopped() {
            found.open += steps;
            return;
        }
        let Some(fitting) = Fitting::new(stage, head, level.cutters) else {
            found.by_bounds += steps;
            return;
        };
        for &step in &level.steps {
            let verdict = match fitting.look(step) {
                Look::Holds => Verdict::ByBounds,
                Look::Fails(chosen) => Verdict::Fails(chosen),
                Look::Unsettled => settle(&fitting, step, self.control),
            };
            match verdict {
                Verdict::ByBounds => found.by_bounds += 1,
                Verdict::ByProgram => found.by_programs += 1,
                Verdict::Open => found.open += 1,
                Verdict::Fails(chosen) => {
                    let missing = Objection::Missing(stage.set(head, &chosen));
                    *found = std::mem::take(found).add(Certificate::refuting(missing));
                }
            }
        }
    }
}

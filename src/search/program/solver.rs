//! The solver crate, behind one type: no other file names it.

use crate::search::Control;
use ::microlp::{Error, Solution, SolveOptions, SolveOutcome, TerminationReason};
use good_lp::{Expression, SolverModel, microlp, variable, variables};

/// Nodes of its tree that the solver looks at between two looks at the clock.
const SLICE: u64 = 500;

/// The same for programs that have few nodes to spend.
const FINE_SLICE: u64 = 100;

/// Slices after which a program is left open. A limit in nodes, not in time,
/// so that the same programs are left open on every machine.
const MOST_SLICES: usize = 400;

/// A program whose unknowns are yes or no, or counts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Program {
    /// Per unknown its weight in a sum to be made least, and the most it may be.
    unknowns: Vec<(f64, i32)>,
    rows: Vec<Row>,
}

/// A weighted sum of unknowns and what it must be.
#[derive(Clone, Debug)]
struct Row {
    terms: Vec<(usize, f64)>,
    limit: f64,
    exactly: bool,
}

/// What the solver says. Its yes is a yes within its tolerances only.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Answer {
    /// Nothing satisfies the rows.
    None,
    /// This does, and of all that do it has the least weight.
    Found(Vec<bool>),
    /// It was stopped, or gave up.
    Open,
}

/// What the solver says of counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Counts {
    /// The best that it found.
    pub(crate) found: Option<Vec<u64>>,
    /// Whether it says that there is nothing better.
    pub(crate) proved: bool,
}

impl Program {
    /// A new unknown; its number.
    pub(crate) fn unknown(&mut self, weight: f64) -> usize {
        self.count(weight, 1)
    }

    /// A new unknown that is a count, from 0 to `most`; its number.
    pub(crate) fn count(&mut self, weight: f64, most: i32) -> usize {
        self.unknowns.push((weight, most));
        self.unknowns.len() - 1
    }

    /// What is to be made least from now on: a weight for each unknown.
    pub(crate) fn weigh(&mut self, weights: impl Iterator<Item = f64>) {
        for (unknown, weight) in self.unknowns.iter_mut().zip(weights) {
            unknown.0 = weight;
        }
    }

    /// The sum of `terms` must be `limit`.
    pub(crate) fn exactly(&mut self, limit: f64, terms: Vec<(usize, f64)>) {
        self.rows.push(Row {
            terms,
            limit,
            exactly: true,
        });
    }

    /// The sum of `terms` must not pass `limit`.
    pub(crate) fn at_most(&mut self, limit: f64, terms: Vec<(usize, f64)>) {
        self.rows.push(Row {
            terms,
            limit,
            exactly: false,
        });
    }

    /// Forbids that all of `unknowns` are yes at once.
    pub(super) fn forbid(&mut self, unknowns: &[usize]) {
        let all = u32::try_from(unknowns.len()).map_or(f64::MAX, f64::from);
        let terms = unknowns.iter().map(|&unknown| (unknown, 1.0)).collect();
        self.at_most(all - 1.0, terms);
    }

    /// Asks the solver, a slice of its tree at a time.
    pub(super) fn solve(&self, control: &Control) -> Answer {
        match self.ended(SLICE, MOST_SLICES, control) {
            Ok(found) if found.termination_reason() == TerminationReason::ProvenOptimal => {
                Answer::Found(found.iter().map(|(_, value)| value > 0.5).collect())
            }
            Err(Some(Error::Infeasible)) => Answer::None,
            Ok(_) | Err(_) => Answer::Open,
        }
    }

    /// The same for counts, in some `nodes` of the tree, a hundred at a time.
    pub(crate) fn solve_counts(&self, nodes: u64, control: &Control) -> Counts {
        let slices = usize::try_from(nodes.div_ceil(FINE_SLICE)).unwrap_or(usize::MAX);
        match self.ended(FINE_SLICE, slices, control) {
            Ok(found) => Counts {
                proved: found.termination_reason() == TerminationReason::ProvenOptimal,
                found: Some(found.iter().map(|(_, value)| nearest(value)).collect()),
            },
            Err(why) => Counts {
                proved: matches!(why, Some(Error::Infeasible)),
                found: None,
            },
        }
    }

    /// The best that the solver has when it ends or is stopped; no error where
    /// it was stopped without anything.
    fn ended(
        &self,
        slice: u64,
        slices: usize,
        control: &Control,
    ) -> Result<Solution, Option<Error>> {
        let mut options = SolveOptions::default();
        options.node_limit = Some(slice);
        let mut outcome = self.model(true).as_inner().solve_with(options)?;
        for done in 1..=slices {
            control.add_nodes(slice);
            let proved =
                |found: &Solution| found.termination_reason() == TerminationReason::ProvenOptimal;
            if done == slices || control.stopped() || outcome.solution().is_some_and(proved) {
                break;
            }
            outcome = outcome.resume()?;
        }
        match outcome {
            SolveOutcome::Solution(found) => Ok(found),
            SolveOutcome::Interrupted(_) => Err(None),
        }
    }

    /// The least sum of weights if unknowns need not be whole; none where the
    /// solver finds no end.
    pub(crate) fn least_in_parts(&self) -> Option<f64> {
        let found = self.model(false).solve().ok()?;
        let places = found.into_inner();
        let values = places.iter().map(|(_, value)| value);
        let weights = self.unknowns.iter().map(|(weight, _)| weight);
        Some(
            values
                .zip(weights)
                .map(|(value, weight)| value * weight)
                .sum(),
        )
    }

    fn model(&self, whole: bool) -> good_lp::solvers::microlp::MicroLpProblem {
        let mut unknowns = variables!();
        let all: Vec<_> = self
            .unknowns
            .iter()
            .map(|&(_, most)| {
                let counted = variable().min(0).max(most);
                unknowns.add(match (whole, most) {
                    (false, _) => counted,
                    (true, 1) => variable().binary(),
                    (true, _) => counted.integer(),
                })
            })
            .collect();
        let sum = |terms: &[(usize, f64)]| {
            let mut sum = Expression::with_capacity(terms.len());
            for &(unknown, factor) in terms {
                sum.add_mul(factor, all[unknown]);
            }
            sum
        };
        let weights = self.unknowns.iter().map(|(weight, _)| *weight);
        let weights: Vec<_> = weights.enumerate().collect();
        let mut model = unknowns.minimise(sum(&weights)).using(microlp);
        for row in &self.rows {
            let sum = sum(&row.terms);
            model.add_constraint(if row.exactly {
                sum.eq(row.limit)
            } else {
                sum.leq(row.limit)
            });
        }
        model
    }
}

/// The nearest count.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the solver's values lie within the limits of a count"
)]
fn nearest(value: f64) -> u64 {
    value.round().max(0.0) as u64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(program: &Program) -> Answer {
        program.solve(&Control::default())
    }

    #[test]
    fn the_least_weight_is_found_and_forbidding_it_finds_the_next() {
        let mut program = Program::default();
        let unknowns: Vec<usize> = [3.0, 1.0, 2.0].map(|w| program.unknown(w)).to_vec();
        program.exactly(1.0, unknowns.iter().map(|&x| (x, 1.0)).collect());
        assert_eq!(answer(&program), Answer::Found(vec![false, true, false]));
        program.forbid(&unknowns[1..2]);
        assert_eq!(answer(&program), Answer::Found(vec![false, false, true]));
        program.forbid(&unknowns[2..]);
        program.forbid(&unknowns[..1]);
        assert_eq!(answer(&program), Answer::None);
    }

    #[test]
    fn a_stopped_solver_leaves_its_program_open() {
        // Ten and a half of 21: the relaxation never tells, only the whole tree.
        let mut program = Program::default();
        let x: Vec<usize> = (0..21).map(|_| program.unknown(0.0)).collect();
        program.exactly(10.5, x.iter().map(|&x| (x, 1.0)).collect());
        let control = Control::default();
        control.interrupt();
        assert_eq!(program.solve(&control), Answer::Open);
    }
}

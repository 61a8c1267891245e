//! The solver crate, behind one type: no other file names it.

use crate::search::Control;
use ::microlp::{Error, SolveOptions, SolveOutcome, TerminationReason};
use good_lp::{Expression, SolverModel, microlp, variable, variables};

/// Nodes of its tree that the solver looks at between two looks at the clock.
const SLICE: u64 = 500;

/// Slices after which a program is left open. A limit in nodes, not in time,
/// so that the same programs are left open on every machine.
const MOST_SLICES: usize = 400;

/// A program whose unknowns are all yes or no.
#[derive(Clone, Debug, Default)]
pub(super) struct Program {
    /// Per unknown its weight in a sum to be made least.
    weights: Vec<f64>,
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

impl Program {
    /// A new unknown; its number.
    pub(super) fn unknown(&mut self, weight: f64) -> usize {
        self.weights.push(weight);
        self.weights.len() - 1
    }

    /// The sum of `terms` must be `limit`.
    pub(super) fn exactly(&mut self, limit: f64, terms: Vec<(usize, f64)>) {
        self.rows.push(Row {
            terms,
            limit,
            exactly: true,
        });
    }

    /// The sum of `terms` must not pass `limit`.
    pub(super) fn at_most(&mut self, limit: f64, terms: Vec<(usize, f64)>) {
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
        let mut options = SolveOptions::default();
        options.node_limit = Some(SLICE);
        let mut outcome = self.model().as_inner().solve_with(options);
        for _ in 0..MOST_SLICES {
            control.add_nodes(SLICE);
            let stopped = match outcome {
                Err(Error::Infeasible) => return Answer::None,
                Err(_) => return Answer::Open,
                Ok(SolveOutcome::Solution(found))
                    if found.termination_reason() == TerminationReason::ProvenOptimal =>
                {
                    return Answer::Found(found.iter().map(|(_, value)| value > 0.5).collect());
                }
                Ok(stopped) => stopped,
            };
            if control.stopped() {
                break;
            }
            outcome = stopped.resume();
        }
        Answer::Open
    }

    fn model(&self) -> good_lp::solvers::microlp::MicroLpProblem {
        let mut unknowns = variables!();
        let all: Vec<_> = self
            .weights
            .iter()
            .map(|_| unknowns.add(variable().binary()))
            .collect();
        let sum = |terms: &[(usize, f64)]| {
            let mut sum = Expression::with_capacity(terms.len());
            for &(unknown, factor) in terms {
                sum.add_mul(factor, all[unknown]);
            }
            sum
        };
        let weights: Vec<_> = self.weights.iter().copied().enumerate().collect();
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

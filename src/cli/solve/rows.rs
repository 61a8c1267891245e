//! Which sets a screen lists, and in which order.

use crate::base::SCORE_STEPS;
use crate::export::Answer;
use crate::problem::{Measure, Ranking};
use crate::train::{Figures, Set};

/// How many further forward trains are shown below the unbeaten sets.
pub(super) const WORTH_A_LOOK: usize = 5;

/// A line of the list: a set, and how many other unbeaten sets share its
/// forward train.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row<'a> {
    pub(super) set: &'a Set,
    pub(super) others: usize,
}

/// The unbeaten sets, best first, one line a forward train.
pub(super) fn unbeaten<'a>(answer: &Answer<'a>) -> Vec<Row<'a>> {
    let mut rows: Vec<Row<'a>> = Vec::new();
    for set in by_ranking(answer) {
        match rows.iter_mut().find(|row| row.set.same_train(set)) {
            Some(row) => row.others += 1,
            None => rows.push(Row { set, others: 0 }),
        }
    }
    rows
}

/// The best forward trains that no unbeaten set has.
pub(super) fn worth_a_look<'a>(answer: &Answer<'a>) -> Vec<Row<'a>> {
    let new = |set: &&Set| {
        !answer
            .outcome
            .front
            .iter()
            .any(|other| other.same_train(set))
    };
    let others = answer.outcome.trains.iter().filter(new).take(WORTH_A_LOOK);
    others.map(|set| Row { set, others: 0 }).collect()
}

/// The ranked list.
pub(super) fn every<'a>(answer: &Answer<'a>) -> Vec<Row<'a>> {
    answer
        .listed()
        .iter()
        .map(|set| Row { set, others: 0 })
        .collect()
}

/// The front by the problem's ranking.
fn by_ranking<'a>(answer: &Answer<'a>) -> Vec<&'a Set> {
    let problem = answer.problem;
    let figures = |set| (Figures::of(problem, set), set);
    let mut front: Vec<_> = answer.outcome.front.iter().map(figures).collect();
    let spans: Vec<_> = problem
        .measures()
        .iter()
        .map(|&m| (m, span(&front, m)))
        .collect();
    front.sort_by_cached_key(|(figures, set)| {
        let first = match problem.ranking() {
            Ranking::Balanced => score(figures, &spans),
            Ranking::By(measure) => exact(figures, measure),
        };
        let rest: Vec<u64> = problem
            .measures()
            .iter()
            .map(|&m| exact(figures, m))
            .collect();
        (first, rest, *set)
    });
    front.into_iter().map(|(_, set)| set).collect()
}

/// A measure as a whole number that orders as the measure does.
fn exact(figures: &Figures, measure: Measure) -> u64 {
    match measure {
        Measure::WorstError => figures.worst_error.to_bits(),
        Measure::BlankVolume => figures.blank_um2,
        Measure::DistinctCutters => u64::from(figures.distinct_cutters),
    }
}

#[allow(clippy::cast_precision_loss, reason = "a score needs no more digits")]
fn real(figures: &Figures, measure: Measure) -> f64 {
    match measure {
        Measure::WorstError => figures.worst_error,
        Measure::BlankVolume => figures.blank_um2 as f64,
        Measure::DistinctCutters => f64::from(figures.distinct_cutters),
    }
}

fn span(front: &[(Figures, &Set)], measure: Measure) -> (f64, f64) {
    let all = || front.iter().map(|(figures, _)| real(figures, measure));
    (
        all().fold(f64::INFINITY, f64::min),
        all().fold(0.0, f64::max),
    )
}

/// Distance from the ideal, √Σ((x − min)/(max − min))², in the steps in which
/// scores are compared.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a score is between 0 and √3"
)]
fn score(figures: &Figures, spans: &[(Measure, (f64, f64))]) -> u64 {
    let part = |&(measure, (min, max)): &(Measure, (f64, f64))| {
        if max > min {
            ((real(figures, measure) - min) / (max - min)).powi(2)
        } else {
            0.0
        }
    };
    (spans.iter().map(part).sum::<f64>().sqrt() * SCORE_STEPS).round() as u64
}

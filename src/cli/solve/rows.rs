//! Which sets a screen lists, and in which order.

use crate::export::Answer;
use crate::problem::{Measure, Ranking};
use crate::stock::exact;
use crate::train::{Figures, Set, hunting_pairs};
use std::cmp::Reverse;

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
    for &place in &answer.outcome.front_order {
        let set = &answer.outcome.front[place];
        match rows.iter_mut().find(|row| row.set.same_train(set)) {
            Some(row) => row.others += 1,
            None => rows.push(Row { set, others: 0 }),
        }
    }
    rows
}

/// The best forward trains that no unbeaten set has.
pub(super) fn worth_a_look<'a>(answer: &Answer<'a>) -> Ranked<'a> {
    let new = |set: &&Set| {
        !answer
            .outcome
            .front
            .iter()
            .any(|other| other.same_train(set))
    };
    let others = answer.outcome.trains.iter().filter(new).take(WORTH_A_LOOK);
    let mut measures = answer.problem.measures().to_vec();
    measures.extend(Measure::USUAL);
    hunting_first(answer, others, &measures)
}

/// The ranked list.
pub(super) fn every<'a>(answer: &Answer<'a>) -> Ranked<'a> {
    let mut measures = answer.problem.measures().to_vec();
    if let Ranking::By(measure) = answer.problem.ranking() {
        measures.push(measure);
    }
    hunting_first(answer, answer.listed().iter(), &measures)
}

/// Ranked sets as a screen shows them.
#[derive(Debug, Default)]
pub(super) struct Ranked<'a> {
    pub(super) rows: Vec<Row<'a>>,
    /// Whether hunting teeth moved any of them.
    pub(super) moved: bool,
}

/// Of neighbours that are level in `measures`, all that ranks them before set
/// order, those with more hunting pairs first. Only a screen does so: ranks
/// and files keep the project's order.
fn hunting_first<'a>(
    answer: &Answer<'a>,
    sets: impl Iterator<Item = &'a Set>,
    measures: &[Measure],
) -> Ranked<'a> {
    let key = |set| {
        let figures = Figures::of(answer.problem, set);
        let value = |measure: &Measure| exact(answer.problem, set, &figures, *measure);
        measures.iter().map(value).collect::<Vec<u64>>()
    };
    let mut keyed: Vec<_> = sets.map(|set| (key(set), set)).collect();
    let mut moved = false;
    for level in keyed.chunk_by_mut(|a, b| a.0 == b.0) {
        let hunting = |(_, set): &(_, &Set)| Reverse(hunting_pairs(set));
        moved |= !level.is_sorted_by_key(hunting);
        level.sort_by_key(hunting);
    }
    let row = |(_, set)| Row { set, others: 0 };
    Ranked {
        rows: keyed.into_iter().map(row).collect(),
        moved,
    }
}

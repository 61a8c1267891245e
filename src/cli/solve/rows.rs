//! Which sets a screen lists, and in which order.

use crate::export::Answer;
use crate::train::Set;

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

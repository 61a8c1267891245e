//! One problem at many centre distances: what each of them buys.

use super::control::{Control, ONE_SEARCH};
use super::count::Counts;
use super::meter::EXTRAS;
use super::share::share;
use super::solve::{Request, Status, solve};
use super::store::{Store, Values};
use crate::base::Length;
use crate::problem::{CentreDistances, Problem};
use crate::train::{Figures, Set};

/// What one centre distance offers.
#[derive(Clone, Debug)]
pub struct Row {
    /// The distance.
    pub centre_distance: Length,
    /// Exact counts.
    pub counts: Counts,
    /// Sets that reach the least of worst error, blank volume and cutters, in
    /// that order, each the best of its kind in the other two.
    pub least: Option<[Set; 3]>,
    /// The first set by the problem's ranking over this distance's own front.
    pub best: Option<Set>,
    /// Whether some unbeaten set of all distances together lies here.
    pub unbeaten: bool,
    values: Vec<Values>,
}

/// Solves the problem at every distance; rows ascend. When stopped, only the
/// distances that were finished are there, and `unbeaten` is among those.
///
/// The front in all three measures is exact at each distance, whatever measures
/// the problem names.
pub fn sweep(
    problem: &Problem,
    distances: &CentreDistances,
    threads: usize,
    control: &Control,
) -> Vec<Row> {
    control.expect(ONE_SEARCH * distances.len() as u64);
    let parts = share(threads, distances.len(), Vec::new, |rows, place| {
        if !control.stopped() {
            rows.extend(row(problem, distances, place, control));
        }
        control.advance(ONE_SEARCH);
    });
    let mut rows: Vec<Row> = parts.into_iter().flatten().collect();
    rows.sort_by_key(|row| row.centre_distance);
    mark_unbeaten(&mut rows);
    rows
}

/// The row of one distance; none when stopped before it was finished.
fn row(
    problem: &Problem,
    distances: &CentreDistances,
    place: usize,
    control: &Control,
) -> Option<Row> {
    let here = problem.clone().at(distances.only(place));
    let request = Request {
        top: 1,
        trains: 0,
        threads: 1,
    };
    let outcome = solve(&here, request, control);
    if outcome.status != Status::Proven || control.stopped() {
        return None;
    }
    let values: Vec<Values> = outcome.front.iter().map(|set| values(&here, set)).collect();
    let least = |key: fn(&Values) -> (u64, u64, u64)| {
        let places = 0..outcome.front.len();
        let first = places.min_by_key(|&i| key(&values[i]))?;
        Some(outcome.front[first].clone())
    };
    let least = [
        least(|v| (v.error, v.volume, u64::from(v.cutters))),
        least(|v| (v.volume, v.error, u64::from(v.cutters))),
        least(|v| (u64::from(v.cutters), v.error, v.volume)),
    ];
    Some(Row {
        centre_distance: distances.at(place),
        counts: outcome.counts,
        least: match least {
            [Some(error), Some(volume), Some(cutters)] => Some([error, volume, cutters]),
            _ => None,
        },
        best: outcome.sets.into_iter().next(),
        unbeaten: false,
        values,
    })
}

fn values(problem: &Problem, set: &Set) -> Values {
    let figures = Figures::of(problem, set);
    Values {
        error: figures.worst_error.to_bits(),
        volume: figures.blank_um2,
        cutters: figures.distinct_cutters,
        extras: [0; EXTRAS],
    }
}

fn mark_unbeaten(rows: &mut [Row]) {
    let all = || rows.iter().flat_map(|row| row.values.iter().copied());
    let most = all().map(|v| v.cutters as usize).max().unwrap_or(0);
    let mut store = Store::new(most);
    for values in all() {
        store.offer_values(values);
    }
    for row in rows {
        row.unbeaten = row.values.iter().any(|&values| store.holds(values));
    }
}

//! Which tooth sums close which centre distances, and which nearly do.

use super::SumAt;
use crate::base::first_that;
use crate::involute::Pairing;
use crate::mesh::{Fit, fit, shift_sum};
use crate::problem::Problem;
use crate::train::ModuleId;
use std::ops::Range;

/// Sums named on each side of the one centre distance, or of a module's
/// nearest in a range.
const NAMED: usize = 3;

/// A tooth sum of a module with the centre distances that it closes.
struct Closing {
    module: ModuleId,
    tooth_sum: u32,
    /// Places in the problem's list. Wider centres are looser, so that a sum
    /// binds before and is loose behind them.
    places: Range<usize>,
}

/// Every tooth sum of every module.
pub(super) struct Closings {
    all: Vec<Closing>,
    /// Drivers that split a sum into legal gears, by sum − 2 · fewest teeth.
    splits: Vec<u64>,
    least_sum: u32,
    /// Places that some sum closes: runs, ascending, apart from each other.
    runs: Vec<Range<usize>>,
}

impl Closings {
    pub(super) fn new(problem: &Problem) -> Self {
        let gears = problem.gears();
        let (min, max) = (gears.min_teeth().get(), gears.max_teeth().get());
        let sums = 2 * min..=2 * max;
        let modules = (0..gears.modules().len()).map(ModuleId::new);
        let all: Vec<_> = modules
            .flat_map(|module| sums.clone().map(move |sum| (module, sum)))
            .map(|(module, tooth_sum)| {
                let places = closed(problem, module, tooth_sum);
                Closing {
                    module,
                    tooth_sum,
                    places,
                }
            })
            .collect();
        let split =
            |sum: u32| u64::from((sum - min).min(max) - sum.saturating_sub(max).max(min)) + 1;
        let runs = runs(all.iter().map(|closing| closing.places.clone()));
        Self {
            all,
            splits: sums.map(split).collect(),
            least_sum: 2 * min,
            runs,
        }
    }

    /// Pairs that close, over all distances.
    pub(super) fn pairs(&self) -> u64 {
        let splits = |c: &Closing| self.splits[(c.tooth_sum - self.least_sum) as usize];
        self.all
            .iter()
            .map(|closing| splits(closing) * closing.places.len() as u64)
            .sum()
    }

    /// Number of distances that some pair closes.
    pub(super) fn distances(&self) -> usize {
        self.runs.iter().map(ExactSizeIterator::len).sum()
    }

    /// At most `most` of the distances that have sets if any have, evenly
    /// spread: those that some pair closes, or all where no pair is needed.
    pub(super) fn some(&self, problem: &Problem, most: usize) -> Vec<usize> {
        if problem.head().is_none() && problem.geared().next().is_none() {
            let total = problem.centre_distances().len();
            let count = total.min(most);
            return (0..count).map(|i| i * total / count).collect();
        }
        let total = self.distances();
        let count = total.min(most);
        let mut every = self.runs.iter().cloned().flatten();
        let mut next = 0;
        let picked = (0..count).filter_map(|i| {
            let wanted = i * total / count;
            let place = every.nth(wanted - next);
            next = wanted + 1;
            place
        });
        picked.collect()
    }

    /// See [`super::Nearest::sums`].
    pub(super) fn next_sums(&self, problem: &Problem) -> Vec<SumAt> {
        let modules = (0..problem.gears().modules().len()).map(ModuleId::new);
        let of_module = |module| {
            let own = self
                .all
                .iter()
                .filter(move |closing| closing.module == module);
            if problem.centre_distances().len() == 1 {
                around(own.map(|closing| at_nearest(problem, closing)))
            } else {
                let open = own.filter(|closing| closing.places.is_empty());
                least_gaps(open.map(|closing| at_nearest(problem, closing)))
            }
        };
        let mut sums: Vec<_> = modules.flat_map(of_module).collect();
        if problem.centre_distances().len() > 1 {
            sums.sort_by(|x, y| gap(x).abs().total_cmp(&gap(y).abs()));
        }
        sums
    }
}

/// How far the standard centre distance lies above the shafts', mm.
fn gap(sum: &SumAt) -> f64 {
    sum.standard_centre_distance_mm - sum.centre_distance_mm
}

fn around(sums: impl Iterator<Item = SumAt>) -> Vec<SumAt> {
    let sums: Vec<_> = sums.collect();
    let above = sums.partition_point(|sum| gap(sum) < 0.0);
    sums[above.saturating_sub(NAMED)..(above + NAMED).min(sums.len())].to_vec()
}

fn least_gaps(sums: impl Iterator<Item = SumAt>) -> Vec<SumAt> {
    let mut sums: Vec<_> = sums.collect();
    sums.sort_by(|x, y| gap(x).abs().total_cmp(&gap(y).abs()));
    sums.truncate(NAMED);
    sums
}

/// Places of the distances that a tooth sum closes.
fn closed(problem: &Problem, module: ModuleId, tooth_sum: u32) -> Range<usize> {
    let distances = problem.centre_distances();
    let fit_at = |place| fit(problem.gears(), module, tooth_sum, distances.at(place));
    let start = first_that(0..distances.len(), |place| fit_at(place) != Fit::Binds);
    start..first_that(start..distances.len(), |place| fit_at(place) == Fit::Loose)
}

/// The union of ranges as runs that are apart.
fn runs(ranges: impl Iterator<Item = Range<usize>>) -> Vec<Range<usize>> {
    let mut ranges: Vec<_> = ranges.filter(|range| !range.is_empty()).collect();
    ranges.sort_by_key(|range| range.start);
    let mut runs: Vec<Range<usize>> = Vec::new();
    for range in ranges {
        match runs.last_mut() {
            Some(last) if range.start <= last.end => last.end = last.end.max(range.end),
            _ => runs.push(range),
        }
    }
    runs
}

/// A tooth sum at the distance of the problem nearest to its own.
fn at_nearest(problem: &Problem, closing: &Closing) -> SumAt {
    let gears = problem.gears();
    let distances = problem.centre_distances();
    let module = closing.module.of(problem);
    let helix_rad = gears.helix_angle_deg().to_radians();
    let pairing = Pairing::new(gears.rack(), module.mm(), closing.tooth_sum, helix_rad);
    let standard = pairing.standard_centres_mm;
    let above = first_that(0..distances.len(), |place| {
        distances.at(place).mm() >= standard
    });
    let beside = [above.saturating_sub(1), above.min(distances.len() - 1)];
    let off = |place: usize| (distances.at(place).mm() - standard).abs();
    let place = if off(beside[0]) < off(beside[1]) {
        beside[0]
    } else {
        beside[1]
    };
    let centres = distances.at(place);
    SumAt {
        module_mm: module.mm(),
        tooth_sum: closing.tooth_sum,
        standard_centre_distance_mm: standard,
        centre_distance_mm: centres.mm(),
        backlash_mm: pairing.backlash_mm(centres.mm()),
        shift_sum: if gears.closing().shifts() {
            shift_sum(gears, module, closing.tooth_sum, centres.mm())
        } else {
            None
        },
        fit: fit(gears, closing.module, closing.tooth_sum, centres),
    }
}

//! Everything there is to choose from, over all centre distances.

use super::gearing::{Gearing, Idlers, Made, Taken};
use super::options::{Costs, Lists};
use super::stage::{Head, behind, heads_at};
use crate::base::Length;
use crate::problem::{Measure, Problem};
use std::collections::BTreeMap;

/// Gears that a role may take at one centre distance, with the heads (by place)
/// behind which they do, and the error (its bits) that they make there.
pub(super) struct Candidate {
    pub(super) gearing: Gearing,
    pub(super) behind: Vec<(usize, u64)>,
}

/// All that is to be chosen from.
pub(super) struct Choices {
    /// Heads of all centre distances; on offset shafts the distances alone.
    pub(super) heads: Vec<(Length, Head)>,
    /// Per role, speeds in file order and then reverse.
    pub(super) roles: Vec<Vec<Candidate>>,
    /// The numbers of their cutters.
    pub(super) costs: Costs,
}

impl Choices {
    /// All that matters where `measure` is to be least.
    pub(super) fn new(problem: &Problem, measure: Measure) -> Self {
        let costs = Costs::new(problem, idlers_for(measure));
        let count = problem.geared().count() + usize::from(problem.reverse().is_some());
        let mut all = Self {
            heads: Vec::new(),
            roles: (0..count).map(|_| Vec::new()).collect(),
            costs,
        };
        for centres in problem.centre_distances().iter() {
            let heads = heads_at(problem, &all.costs, centres);
            let lists = Lists::new(problem, &all.costs, centres);
            all.add(problem, &lists, &heads);
        }
        all
    }

    fn add(&mut self, problem: &Problem, lists: &Lists, heads: &[Head]) {
        let centres = lists.centres;
        let first = self.heads.len();
        self.heads.extend(heads.iter().map(|&head| (centres, head)));
        let speeds = problem.geared().zip(&lists.speeds);
        let mut wanted: Vec<_> = speeds
            .map(|(speed, list)| (speed.window(), list, Some(speed.target())))
            .collect();
        if let (Some(reverse), Some(list)) = (problem.reverse(), &lists.reverses) {
            wanted.push((reverse.window(), list, None));
        }
        for (role, (window, list, target)) in self.roles.iter_mut().zip(wanted) {
            let mut found: BTreeMap<Taken, Candidate> = BTreeMap::new();
            for (place, head) in (first..).zip(heads) {
                for &gearing in behind(head.ratio, list, window) {
                    let ratio = head.ratio.then(gearing.ratio);
                    let error = target.map_or(0, |target| ratio.error(target).to_bits());
                    let candidate = found.entry(gearing.teeth).or_insert_with(|| Candidate {
                        gearing,
                        behind: Vec::new(),
                    });
                    candidate.behind.push((place, error));
                }
            }
            role.extend(found.into_values());
        }
    }

    /// How many heads and candidates there are.
    pub(super) fn count(&self) -> usize {
        self.heads.len() + self.roles.iter().map(Vec::len).sum::<usize>()
    }

    /// The gears of each head, then those of each candidate of each role.
    pub(super) fn made(&self) -> Vec<Vec<Made>> {
        let heads = self.heads.iter().map(|(_, head)| head.made);
        let roles = self.roles.iter().map(|role| {
            let made = role.iter().map(|candidate| candidate.gearing.made);
            made.collect()
        });
        std::iter::once(heads.collect()).chain(roles).collect()
    }

    pub(super) fn volumes(&self) -> impl Iterator<Item = u64> + '_ {
        let heads = self.heads.iter().map(|(_, head)| head.volume);
        heads.chain(self.roles.iter().flatten().map(|c| c.gearing.volume))
    }
}

/// Idlers that may be of use in making `measure` least, and then the metal.
const fn idlers_for(measure: Measure) -> Idlers {
    match measure {
        Measure::WorstError
        | Measure::BlankVolume
        | Measure::DistinctCutters
        | Measure::LeastSafety => Idlers::Lightest,
        // A piece that is no thicker is cut from whatever holds the other.
        Measure::Cost => Idlers::Smallest,
        Measure::Bars | Measure::Blanks | Measure::Setups => Idlers::All,
    }
}

//! Everything there is to choose from, over all centre distances.

use super::options::{Costs, Cutters, Gearing, Lists, Taken};
use super::stage::{Head, behind, heads_at};
use crate::base::Length;
use crate::problem::Problem;
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
}

impl Choices {
    pub(super) fn new(problem: &Problem) -> Self {
        let costs = Costs::new(problem);
        let count = problem.geared().count() + usize::from(problem.reverse().is_some());
        let mut all = Self {
            heads: Vec::new(),
            roles: (0..count).map(|_| Vec::new()).collect(),
        };
        for centres in problem.centre_distances().iter() {
            let heads = heads_at(problem, &costs, centres);
            let lists = Lists::new(problem, &costs, centres);
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

    fn cutters(&self) -> impl Iterator<Item = u32> + '_ {
        let heads = self.heads.iter().map(|(_, head)| head.cutters);
        let roles = self.roles.iter().flatten().map(|c| c.gearing.cutters);
        heads.chain(roles).flat_map(|c| c.beyond(&Cutters::NONE))
    }

    pub(super) fn unknowns(&self) -> usize {
        let mut cutters: Vec<u32> = self.cutters().collect();
        cutters.sort_unstable();
        cutters.dedup();
        let candidates: usize = self.roles.iter().map(Vec::len).sum();
        self.heads.len() + candidates + cutters.len()
    }

    pub(super) fn volumes(&self) -> impl Iterator<Item = u64> + '_ {
        let heads = self.heads.iter().map(|(_, head)| head.volume);
        heads.chain(self.roles.iter().flatten().map(|c| c.gearing.volume))
    }
}

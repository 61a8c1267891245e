//! Heads of one centre distance grouped: by ratio, by the gear that a speed and
//! reverse share, by the room that reverse gears leave beside the idler's pin.

use super::count::product;
use super::mask::Mask;
use super::passing::{Beside, WIDE, added, kinds};
use super::reverses::Run;
use super::space::{Head, HeadGroup, Space, Speed, head_ratio};
use crate::base::{Ratio, Teeth};
use crate::problem::Problem;
use crate::train::ModuleId;
use num_bigint::BigUint;
use std::ops::Range;
use std::sync::OnceLock;

/// A gear as its module and teeth.
pub(super) type GearId = (ModuleId, Teeth);

/// What one gear leaves to choose where it drives both a speed and reverse.
/// Whatever the gear is, behind a head and it the roles are independent again.
struct Shared {
    /// The speed's role.
    role: usize,
    /// The speed's pairs with that driver, in its list.
    pairs: Range<usize>,
    driver: GearId,
}

/// Heads of one ratio that share all windows.
struct Behind {
    heads: Range<usize>,
    /// Their ratio, and its place among the ratios of all heads.
    at: (Ratio, u32),
    /// Their tip radii on either axis, where the idler's pin passes them.
    tips: Option<Beside>,
}

impl<M: Mask> Space<M> {
    /// `head_tips` are of the heads, where the idler's pin passes them.
    pub(super) fn group_all(&mut self, problem: &Problem, head_tips: Option<&[Beside]>) {
        let shared = problem.shared_speed().map(|role| self.shared(role));
        let same = |x: &Head<M>, y: &Head<M>| head_ratio(x) == head_ratio(y);
        let runs: Vec<usize> = self.heads.chunk_by(same).map(<[_]>::len).collect();
        let gears: Vec<Option<&Shared>> = match &shared {
            None => vec![None],
            Some(gears) => gears.iter().map(Some).collect(),
        };
        let mut start = 0;
        for (place, length) in (0..).zip(runs) {
            let heads = start..start + length;
            start = heads.end;
            let ratio = head_ratio(&self.heads[heads.start]);
            // Where the pin passes heads, each leaves reverse gears of its own.
            let (step, tips) = match head_tips {
                None => (length, None),
                Some(tips) => (1, Some(tips)),
            };
            for first in heads.step_by(step) {
                let tips = tips.map(|tips| tips.get(first).copied().unwrap_or([0.0; 2]));
                for gear in &gears {
                    let behind = Behind {
                        heads: first..first + step,
                        at: (ratio, place),
                        tips,
                    };
                    self.group(problem, &behind, *gear);
                }
            }
        }
        for list in &mut self.lists {
            list.settle();
        }
    }

    /// The gears that the speed of a role and reverse may share.
    fn shared(&self, role: usize) -> Vec<Shared> {
        let runs = self.lists[self.roles[role].list].by_driver();
        runs.filter_map(|(driver, pairs)| {
            let has = self.reverses.as_ref()?.has_driver(driver);
            has.then_some(Shared {
                role,
                pairs,
                driver,
            })
        })
        .collect()
    }

    /// Adds the groups of some heads of one ratio and, where there is one, a shared
    /// gear: one, or one for each kind of reverse gears beside the pin; none when
    /// some role has no option.
    fn group(&mut self, problem: &Problem, behind: &Behind, shared: Option<&Shared>) {
        let (ratio, _) = behind.at;
        let mut windows = Vec::with_capacity(self.roles.len());
        for (r, role) in self.roles.iter().enumerate() {
            let list = &self.lists[role.list];
            let own = shared.filter(|shared| shared.role == r);
            let among = own.map_or(0..list.offered(), |shared| shared.pairs.clone());
            windows.push(list.window(&among, ratio, role.window));
        }
        if windows.iter().any(Range::is_empty) {
            return;
        }
        let run = match (&self.reverses, problem.reverse()) {
            (Some(reverses), Some(wanted)) => {
                let driver = shared.map(|shared| shared.driver);
                reverses.behind(driver, behind.at, wanted.window())
            }
            _ => Run::default(),
        };
        let Some(tips) = behind.tips else {
            let trains = self.trains(&windows, behind, WIDE);
            return self.add_group(behind, &windows, (WIDE, run), trains);
        };
        let reverses = self.reverses.iter();
        let beside = reverses.flat_map(|reverses| reverses.passing(&run, tips));
        let kinds = kinds(&self.tips(&windows), beside);
        for (kind, added) in kinds.iter().zip(added(&kinds)) {
            let count = |room| self.trains(&windows, behind, room);
            let trains = added.map_or(BigUint::ZERO, |added| {
                count(added.within) - added.known.map_or(BigUint::ZERO, count)
            });
            let reverses = self.reverses.as_ref();
            let run = reverses.map_or_else(Run::default, |own| own.those(kind.reverses.clone()));
            self.add_group(behind, &windows, (kind.room, run), trains);
        }
    }

    /// Adds one group, unless a role has no option in it.
    fn add_group(
        &mut self,
        behind: &Behind,
        windows: &[Range<usize>],
        (room, reverse): (Beside, Run),
        trains: BigUint,
    ) {
        let reverses = self.reverses.as_ref();
        let reverse_count = reverses.map_or(1, |reverses| reverses.count(&reverse));
        let (ratio, place) = behind.at;
        if reverse_count == 0 {
            return;
        }
        let mut own = Vec::with_capacity(windows.len());
        for (role, window) in self.roles.iter().zip(windows) {
            let window = self.lists[role.list].holding(window, place, room);
            if window.is_empty() {
                return;
            }
            own.push(window);
        }
        self.groups.push(HeadGroup {
            ratio,
            heads: behind.heads.clone(),
            windows: own,
            reverse,
            reverse_count,
            trains,
            steps: OnceLock::new(),
            leading: OnceLock::new(),
            choices: OnceLock::new(),
        });
    }

    /// How many forward trains some heads have beside so much room for the pin.
    fn trains(&self, windows: &[Range<usize>], behind: &Behind, room: Beside) -> BigUint {
        let (_, place) = behind.at;
        let roles = self.roles.iter().zip(windows);
        let serving =
            roles.map(|(role, window)| self.lists[role.list].serving(window, place, room));
        product(serving.chain([behind.heads.len()]))
    }

    /// What the pin passes of windows.
    fn tips(&self, windows: &[Range<usize>]) -> Vec<Beside> {
        let roles = self.roles.iter().zip(windows);
        let of_role = |(role, window): (&Speed, &Range<usize>)| {
            self.lists[role.list].tips[window.clone()].iter().copied()
        };
        roles.flat_map(of_role).collect()
    }
}

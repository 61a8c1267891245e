//! Pairs, reverse gears, sets, in the order the project ranks ties by.

use crate::base::{Length, Module, Teeth};
use crate::problem::{Arrangement, Picked, PickedPair, Problem};

/// A module as its place in the problem's ascending list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ModuleId(u8);

impl ModuleId {
    /// The module at `index`, below 64.
    #[allow(
        clippy::cast_possible_truncation,
        reason = "at most 64 modules pass the checks"
    )]
    pub const fn new(index: usize) -> Self {
        Self(index as u8)
    }

    /// The place in the list.
    pub const fn index(self) -> usize {
        self.0 as usize
    }

    /// The module it stands for.
    pub fn of(self, problem: &Problem) -> Module {
        problem.gears().modules()[self.index()]
    }
}

/// Two gears in mesh. The derived order is the project's: module, driver,
/// driven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pair {
    /// The module of both.
    pub module: ModuleId,
    /// Teeth of the driving gear.
    pub driver: Teeth,
    /// Teeth of the driven gear.
    pub driven: Teeth,
}

/// Driver, idler and driven gear of reverse, ordered in that order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ReverseGears {
    /// The module of all three.
    pub module: ModuleId,
    /// Teeth of the driving gear (layshaft, or input shaft of an offset box).
    pub driver: Teeth,
    /// Teeth of the idler.
    pub idler: Teeth,
    /// Teeth of the driven gear (main, or output shaft).
    pub driven: Teeth,
}

/// Whether a picked set has a pair for each role of the problem, and no other.
fn same_meshes(problem: &Problem, picked: &Picked) -> bool {
    picked.head.is_some() == (problem.arrangement() == Arrangement::InLine)
        && picked.pairs.len() == problem.geared().count()
        && picked.reverse.is_some() == problem.reverse().is_some()
}

/// One choice of every gear. The derived order is *set order*: centre
/// distance, head, speeds in file order, reverse, all ascending.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Set {
    /// Distance between the shafts.
    pub centre_distance: Length,
    /// The pair from input shaft to layshaft; none on offset shafts.
    pub head: Option<Pair>,
    /// One pair per geared speed, in file order.
    pub pairs: Vec<Pair>,
    /// The reverse gears, when reverse is asked for.
    pub reverse: Option<ReverseGears>,
}

impl Set {
    /// The set that the file has as picked; none where one of its modules is no
    /// longer listed, or where it has other meshes than the problem: all that
    /// follows takes it that roles and gears go together. Whether its teeth fit
    /// the problem is not looked at.
    pub fn picked(problem: &Problem, picked: &Picked) -> Option<Self> {
        if !same_meshes(problem, picked) {
            return None;
        }
        let listed = problem.gears().modules();
        let module = |pair: &PickedPair| {
            let place = listed.iter().position(|module| *module == pair.module)?;
            Some(ModuleId::new(place))
        };
        let pair = |pair: &PickedPair| {
            Some(Pair {
                module: module(pair)?,
                driver: pair.driver,
                driven: pair.driven,
            })
        };
        let reverse = |(outer, idler): &(PickedPair, Teeth)| {
            Some(ReverseGears {
                module: module(outer)?,
                driver: outer.driver,
                idler: *idler,
                driven: outer.driven,
            })
        };
        Some(Self {
            centre_distance: picked.centre_distance,
            head: match &picked.head {
                Some(head) => Some(pair(head)?),
                None => None,
            },
            pairs: picked.pairs.iter().map(pair).collect::<Option<_>>()?,
            reverse: match &picked.reverse {
                Some(gears) => Some(reverse(gears)?),
                None => None,
            },
        })
    }

    /// Whether both have the same centre distance, head and speed pairs.
    pub fn same_train(&self, other: &Self) -> bool {
        (self.centre_distance, self.head, &self.pairs)
            == (other.centre_distance, other.head, &other.pairs)
    }

    /// The same without reverse.
    #[must_use]
    pub fn train(&self) -> Self {
        Self {
            reverse: None,
            ..self.clone()
        }
    }

    /// The place in [`Set::gears`] of the one that is no gear of its own: the
    /// driver of reverse, where the driving gear of a speed serves as it.
    pub fn shared_place(&self, problem: &Problem) -> Option<usize> {
        problem.shared_speed()?;
        self.reverse?;
        self.gears().count().checked_sub(3)
    }

    /// Every gear of the set with its module: head, speeds, reverse, driver
    /// before driven.
    pub fn gears(&self) -> impl Iterator<Item = (ModuleId, Teeth)> + '_ {
        let pairs = self.head.iter().chain(&self.pairs);
        let reverse = self.reverse.iter();
        pairs
            .flat_map(|p| [(p.module, p.driver), (p.module, p.driven)])
            .chain(reverse.flat_map(|r| {
                [
                    (r.module, r.driver),
                    (r.module, r.idler),
                    (r.module, r.driven),
                ]
            }))
    }
}

//! One head ratio: what every role may take behind it.

use super::gearing::{Cutters, Gearing, Made, Taken};
use super::options::{Costs, Lists, head_pairs};
use crate::base::{Length, Ratio, Teeth, Window};
use crate::problem::Problem;
use crate::train::{ModuleId, Pair, Set};

/// A head pair, or the lack of one on offset shafts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Head {
    pub(super) pair: Option<Pair>,
    pub(super) ratio: Ratio,
    pub(super) volume: u64,
    pub(super) cutters: Cutters,
    pub(super) made: Made,
}

/// What a role takes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    pub(super) teeth: Taken,
    /// Bits of the error behind the head; 0 for reverse.
    pub(super) error: u64,
    pub(super) volume: u64,
    pub(super) cutters: Cutters,
}

impl Choice {
    /// Whether it serves wherever the other does: no more error, no more
    /// metal, no cutter that the other (or `owned`) does not need. Any set with
    /// the other then stays within every limit with this one in its place.
    pub(super) fn replaces(&self, other: &Self, owned: &Cutters) -> bool {
        self.error <= other.error
            && self.volume <= other.volume
            && self.cutters.within(&other.cutters, owned)
    }
}

/// The heads of one exact ratio at one centre distance, and what fits them;
/// where reverse shares its driver, with one such gear.
#[derive(Debug)]
pub(super) struct Stage {
    pub(super) centres: Length,
    /// Heads that no other head of the ratio replaces. The same exact ratio
    /// lets every role take the same, so what is proved for the head that
    /// replaces another, by no more metal and no other cutter, holds for it.
    pub(super) heads: Vec<Head>,
    /// Per role, speeds in file order and then reverse: its choices by rising
    /// error, less those that another replaces.
    pub(super) roles: Vec<Vec<Choice>>,
}

/// The head pairs of a centre distance by rising ratio; on offset shafts one
/// head that is none.
pub(super) fn heads_at(problem: &Problem, costs: &Costs, centres: Length) -> Vec<Head> {
    let Some(wanted) = problem.head() else {
        return vec![Head {
            pair: None,
            ratio: Ratio::ONE,
            volume: 0,
            cutters: Cutters::NONE,
            made: Made::NONE,
        }];
    };
    let all = head_pairs(problem, costs, centres).into_iter();
    let fitting = all.filter(|gearing| wanted.window().contains(gearing.ratio));
    fitting.map(|gearing| head(&gearing)).collect()
}

fn head(gearing: &Gearing) -> Head {
    let pair = match gearing.teeth {
        Taken::Pair(pair) => Some(pair),
        Taken::Reverse(_) => None,
    };
    Head {
        pair,
        ratio: gearing.ratio,
        volume: gearing.volume,
        cutters: gearing.cutters,
        made: gearing.made,
    }
}

/// A speed, by its place, and the gear that drives both it and reverse.
type Shared = (usize, (ModuleId, Teeth));

impl Stage {
    /// Of heads of one ratio, at least one. Every set with one of them belongs to
    /// just one stage: where reverse shares the driving gear of a speed there is
    /// one for each such gear, else one in all.
    pub(super) fn all(problem: &Problem, lists: &Lists, heads: &[Head]) -> Vec<Self> {
        let ratio = heads.first().map_or(Ratio::ONE, |head| head.ratio);
        let shared = problem.shared_speed();
        let speed = shared.and_then(|place| problem.geared().nth(place));
        let list = shared.and_then(|place| lists.speeds.get(place));
        let fitting = speed.zip(list).map_or(&[][..], |(wanted, list)| {
            behind(ratio, list, wanted.window())
        });
        let mut drivers: Vec<_> = fitting.iter().map(|g| g.teeth.driver()).collect();
        drivers.sort_unstable();
        drivers.dedup();
        let stage = |shared| Self::new(problem, lists, heads, shared);
        match shared {
            // With no gear for the speed one stage says so.
            Some(place) if !drivers.is_empty() => drivers
                .into_iter()
                .map(|driver| stage(Some((place, driver))))
                .collect(),
            _ => vec![stage(None)],
        }
    }

    fn new(problem: &Problem, lists: &Lists, heads: &[Head], shared: Option<Shared>) -> Self {
        let ratio = heads.first().map_or(Ratio::ONE, |head| head.ratio);
        let driven_by = |g: &&Gearing| shared.is_none_or(|(_, driver)| g.teeth.driver() == driver);
        let speeds = problem.geared().zip(&lists.speeds);
        let mut roles: Vec<Vec<Choice>> = speeds
            .enumerate()
            .map(|(place, (wanted, list))| {
                let error = |g: &Gearing| ratio.then(g.ratio).error(wanted.target()).to_bits();
                let free = shared.is_none_or(|(sharing, _)| sharing != place);
                let all = behind(ratio, list, wanted.window()).iter();
                leading(all.filter(|g| free || driven_by(g)), error)
            })
            .collect();
        if let (Some(wanted), Some(list)) = (problem.reverse(), &lists.reverses) {
            let all = behind(ratio, list, wanted.window()).iter();
            roles.push(leading(all.filter(driven_by), |_| 0));
        }
        Self {
            centres: lists.centres,
            heads: leading_heads(heads),
            roles,
        }
    }

    /// The set of a head and one choice a role.
    pub(super) fn set(&self, head: &Head, chosen: &[Choice]) -> Set {
        let mut set = Set {
            centre_distance: self.centres,
            head: head.pair,
            pairs: Vec::new(),
            reverse: None,
        };
        for choice in chosen {
            match choice.teeth {
                Taken::Pair(pair) => set.pairs.push(pair),
                Taken::Reverse(gears) => set.reverse = Some(gears),
            }
        }
        set
    }
}

/// The run of `list` whose ratio behind `head` lies in the window.
pub(super) fn behind(head: Ratio, list: &[Gearing], window: Window) -> &[Gearing] {
    let start = list.partition_point(|g| window.is_above(head.then(g.ratio)));
    let rest = &list[start..];
    &rest[..rest.partition_point(|g| !window.is_below(head.then(g.ratio)))]
}

/// The choices that no other replaces, by rising error.
fn leading<'a>(
    list: impl Iterator<Item = &'a Gearing>,
    error: impl Fn(&Gearing) -> u64,
) -> Vec<Choice> {
    let mut all: Vec<Choice> = list
        .map(|gearing| Choice {
            teeth: gearing.teeth,
            error: error(gearing),
            volume: gearing.volume,
            cutters: gearing.cutters,
        })
        .collect();
    // Whatever replaces a choice now stands before it.
    all.sort_unstable_by_key(|c| (c.error, c.volume, c.cutters.ids().len(), c.teeth));
    let mut kept: Vec<Choice> = Vec::new();
    for choice in all {
        if !kept.iter().any(|k| k.replaces(&choice, &Cutters::NONE)) {
            kept.push(choice);
        }
    }
    kept
}

fn leading_heads(heads: &[Head]) -> Vec<Head> {
    let mut all = heads.to_vec();
    all.sort_unstable_by_key(|h| (h.volume, h.cutters.ids().len(), h.pair));
    let mut kept: Vec<Head> = Vec::new();
    for head in all {
        if !kept
            .iter()
            .any(|k| k.cutters.within(&head.cutters, &Cutters::NONE))
        {
            kept.push(head);
        }
    }
    kept
}

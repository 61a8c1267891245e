//! Which limits together shut every set out.

use super::view::{Offer, Ratios, Roles, View, Wanted};
use crate::base::Length;
use crate::problem::{GearLimit, Problem};
use crate::search::Control;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Limits that together admit no set, while dropping any one of them admits
/// one.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Clash {
    /// Roles by place: geared speeds in file order, then reverse, then the
    /// range of the head ratio.
    pub roles: Vec<usize>,
    /// Limits of the gears.
    pub gears: Vec<GearLimit>,
}

/// The clashes of a problem.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Clashes {
    /// With the gears as they are: the smallest groups of roles that no head
    /// serves together. One empty group: no pair closes, whatever is asked.
    pub roles: Vec<Vec<usize>>,
    /// Whether these are all; false when there are more than are kept.
    pub roles_complete: bool,
    /// Irreducible clashes, with the limits of the gears, fewest limits first.
    pub limits: Vec<Clash>,
    /// Whether these are all; false when it was stopped or grew too large.
    pub complete: bool,
}

/// Memory for offers that were looked at.
const MOST_SEEN_BYTES: usize = 16 << 20;
/// Groups of roles for which a clash is filtered out first.
const MOST_FILTERED: usize = 3;
/// More clashes than this are not told.
const MOST_GROUPS: usize = 64;
/// More groups of roles than this are not kept, far beyond what a person reads;
/// the smallest are.
const MOST_HITTING: usize = 256;
/// Distances looked at between two looks at the clock.
const CHUNK: usize = 64;

/// Groups of roles that some head leaves without gears; none contains another.
/// One empty group: some head serves all roles. No group: there is no head.
type Blocked = Vec<Roles>;

/// The clashes of a problem without sets, those of the roles always, those with
/// limits of the gears as far as `work` allows.
pub(super) fn clashes(problem: &Problem, work: u64, control: &Control) -> Clashes {
    let wanted = Wanted::of(problem);
    let mut known = Known {
        problem,
        wanted: &wanted,
        limits: GearLimit::ALL
            .into_iter()
            .filter(|limit| limit.limits(problem))
            .collect(),
        of: BTreeMap::new(),
        work: 0,
        most_work: work,
    };
    known.explore(control);
    let all = known.all();
    let Some(own) = known.of.get(&all) else {
        return Clashes::default();
    };
    let (mut limits, whole) = known.irreducible();
    let all_tried = known.of.len() == 1 << known.limits.len();
    let all_told = whole && limits.len() <= MOST_GROUPS;
    limits.truncate(MOST_GROUPS);
    let own = hitting(own);
    Clashes {
        roles: own.groups.into_iter().map(places).collect(),
        roles_complete: own.whole,
        limits,
        complete: all_tried && all_told,
    }
}

/// What is known of each choice of gear limits that are kept.
struct Known<'a> {
    problem: &'a Problem,
    wanted: &'a Wanted,
    limits: Vec<GearLimit>,
    /// By kept limits, as bits: there are more than eight of them.
    of: BTreeMap<u16, Blocked>,
    work: u64,
    most_work: u64,
}

impl Known<'_> {
    fn all(&self) -> u16 {
        u16::try_from((1_u32 << self.limits.len()) - 1).unwrap_or(u16::MAX)
    }

    /// First one irreducible clash for each of some groups of roles, by leaving
    /// out one limit after another; then every choice of limits, most limits
    /// first, as far as the work allows.
    fn explore(&mut self, control: &Control) {
        let all = self.all();
        self.learn(all, control);
        let groups = self.of.get(&all).map(|own| hitting(own).groups);
        for roles in groups.into_iter().flatten().take(MOST_FILTERED) {
            let mut kept = all;
            for i in 0..self.limits.len() {
                let less = kept & !(1 << i);
                self.learn(less, control);
                if self.clash(less, roles) == Some(true) {
                    kept = less;
                }
            }
        }
        let mut order: Vec<u16> = (0..=all).collect();
        order.sort_by_key(|kept| std::cmp::Reverse(kept.count_ones()));
        for kept in order {
            self.learn(kept, control);
        }
    }

    /// Looks at a choice of limits, unless it is known or follows: what has a
    /// set with some limits has one with fewer.
    fn learn(&mut self, kept: u16, control: &Control) {
        if self.of.contains_key(&kept) {
            return;
        }
        let open = self
            .of
            .iter()
            .any(|(more, b)| more & kept == kept && serves(b));
        let found = if open {
            Some(vec![0])
        } else if kept == self.all() || self.work < self.most_work {
            self.look(kept, control)
        } else {
            None
        };
        if let Some(found) = found {
            self.of.insert(kept, found);
        }
    }

    /// Whether roles clash with only these limits kept; none when not known.
    fn clash(&self, kept: u16, roles: Roles) -> Option<bool> {
        let free = |blocked: &Blocked| blocked.iter().any(|group| group & roles == 0);
        // Fewer limits never shut out what more of them admit.
        if self
            .of
            .iter()
            .any(|(more, b)| more & kept == kept && free(b))
        {
            return Some(false);
        }
        self.of.get(&kept).map(|_| true)
    }

    /// Looks at every distance until some head serves all roles; none when
    /// stopped before.
    fn look(&mut self, kept: u16, control: &Control) -> Option<Blocked> {
        let dropped = self.limits.iter().enumerate();
        let dropped = dropped.filter(|(i, _)| kept & 1 << i == 0);
        let eased = dropped.fold(self.problem.clone(), |p, (_, &limit)| p.without(limit));
        let ratios = Ratios::of(&eased);
        let mut seen = Seen::default();
        let mut found: Blocked = Vec::new();
        for chunk in outwards(&eased, self.problem).chunks(CHUNK) {
            let tired = self.work > self.most_work && kept != self.all();
            if control.stopped() || tired {
                return None;
            }
            let offers: Vec<Offer> = chunk
                .par_iter()
                .flat_map_iter(|&a| Offer::all(&eased, &ratios, a))
                .collect();
            self.work += chunk.len() as u64 * offer_work(&eased);
            let new: Vec<Offer> = offers.into_iter().filter_map(|o| seen.add(o)).collect();
            let parts: Vec<(Blocked, u64)> = new
                .par_iter()
                .map(|offer| self.blocked(&View::of(&eased, &ratios, offer)))
                .collect();
            for (part, work) in parts {
                self.work += work;
                for roles in part {
                    keep(&mut found, roles);
                }
            }
            if serves(&found) {
                break;
            }
        }
        Some(found)
    }

    /// The groups at one distance, and the work of finding them.
    fn blocked(&self, view: &View) -> (Blocked, u64) {
        let mut found = Vec::new();
        for &head in &view.heads {
            keep(&mut found, view.blocked(self.wanted, head));
            if serves(&found) {
                break;
            }
        }
        (found, (view.heads.len() * self.wanted.count() * 16) as u64)
    }

    /// Every group of roles and gear limits that clashes and lets go of nothing;
    /// whether none was left out of those choices of limits that are known.
    fn irreducible(&self) -> (Vec<Clash>, bool) {
        let mut all: Vec<(Roles, u16)> = Vec::new();
        let mut whole = true;
        for (&kept, blocked) in &self.of {
            if serves(blocked) {
                continue;
            }
            let found = hitting(blocked);
            whole &= found.whole;
            for roles in found.groups {
                if self.lets_go(kept, roles) == Some(false) {
                    all.push((roles, kept));
                }
            }
        }
        all.sort_by_key(|(roles, kept)| (roles.count_ones() + kept.count_ones(), *roles, *kept));
        all.dedup();
        let named = |(roles, kept): (Roles, u16)| Clash {
            roles: places(roles),
            gears: self
                .limits
                .iter()
                .enumerate()
                .filter(|(i, _)| kept & 1 << i != 0)
                .map(|(_, &limit)| limit)
                .collect(),
        };
        (all.into_iter().map(named).collect(), whole)
    }

    /// Whether the roles clash with one gear limit less too; none when that is
    /// not known of every limit.
    fn lets_go(&self, kept: u16, roles: Roles) -> Option<bool> {
        let mut all_known = true;
        for i in 0..self.limits.len() {
            if kept & 1 << i != 0 {
                match self.clash(kept & !(1 << i), roles) {
                    Some(true) => return Some(true),
                    Some(false) => {}
                    None => all_known = false,
                }
            }
        }
        all_known.then_some(false)
    }
}

/// Offers that were looked at, as far as memory allows.
#[derive(Debug, Default)]
struct Seen {
    offers: BTreeSet<Offer>,
    bytes: usize,
}

impl Seen {
    /// The offer, unless it was there before.
    fn add(&mut self, offer: Offer) -> Option<Offer> {
        if self.offers.contains(&offer) {
            return None;
        }
        if self.bytes < MOST_SEEN_BYTES {
            self.bytes += offer.size();
            self.offers.insert(offer.clone());
        }
        Some(offer)
    }
}

/// The distances, those nearest to the given ones first: they are likeliest to
/// have a set.
fn outwards(eased: &Problem, given: &Problem) -> Vec<Length> {
    let given = given.centre_distances();
    let middle = i64::midpoint(given.at(0).steps(), given.at(given.len() - 1).steps());
    let mut all: Vec<Length> = eased.centre_distances().iter().collect();
    all.sort_by_key(|a| (a.steps() - middle).abs());
    all
}

/// About how many steps it takes to see what a distance offers.
fn offer_work(problem: &Problem) -> u64 {
    let gears = problem.gears();
    let counts = u64::from(gears.max_teeth().get() - gears.min_teeth().get()) + 1;
    let modules = gears.modules().len() as u64;
    let outer = counts * counts / 4;
    if !problem.judges() {
        let reverse = problem.reverse().map_or(0, |_| outer);
        return 50 + modules * (20 + counts + reverse);
    }
    // Under limits a pair is worked out, not looked up, and so is each idler.
    let idlers = problem.reverse().map_or(0, |r| {
        u64::from(r.idler_max().get() - r.idler_min().get()) + 1
    });
    50 + modules * (1500 * counts + idlers * (300 * counts + 15 * outer))
}

fn serves(blocked: &[Roles]) -> bool {
    blocked.first() == Some(&0)
}

/// Adds a group unless it holds one that is there; drops those that hold it.
fn keep(found: &mut Blocked, roles: Roles) {
    if found.iter().any(|&other| within(other, roles)) {
        return;
    }
    found.retain(|&other| !within(roles, other));
    found.push(roles);
}

const fn within(group: Roles, other: Roles) -> bool {
    group & !other == 0
}

/// Groups of roles, and whether they are all there are.
#[derive(Debug)]
struct Hitting {
    groups: Vec<Roles>,
    whole: bool,
}

/// The smallest groups of roles that share a role with every one of `blocked`,
/// none containing another, ascending by size. Of nothing: the empty group.
fn hitting(blocked: &[Roles]) -> Hitting {
    let mut found = Hitting {
        groups: vec![0],
        whole: true,
    };
    for &must in blocked {
        let mut next: Vec<Roles> = Vec::new();
        for group in found.groups {
            if group & must != 0 {
                keep(&mut next, group);
                continue;
            }
            for role in places(must) {
                keep(&mut next, group | 1 << role);
            }
        }
        next.sort_by_key(|group| (group.count_ones(), *group));
        found.whole &= next.len() <= MOST_HITTING;
        next.truncate(MOST_HITTING);
        found.groups = next;
    }
    found
}

fn places(roles: Roles) -> Vec<usize> {
    (0..128).filter(|role| roles & (1 << role) != 0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn smallest_groups_that_meet_every_other() {
        // {0, 1}, {1, 2}: 1 alone, or 0 with 2.
        let found = hitting(&[0b011, 0b110]);
        assert!(found.whole);
        assert_eq!(found.groups, [0b010, 0b101]);
        assert_eq!(hitting(&[]).groups, [0]);
        assert_eq!(hitting(&[0b1, 0b10]).groups, [0b11]);
    }

    #[test]
    fn groups_left_out_are_admitted() {
        // Nine disjoint pairs: one of each, 512 groups.
        let pairs: Vec<Roles> = (0..9).map(|i| 0b11 << (2 * i)).collect();
        let found = hitting(&pairs);
        assert!(!found.whole && found.groups.len() == MOST_HITTING);
        assert!(
            found
                .groups
                .iter()
                .all(|group| pairs.iter().all(|pair| pair & group != 0))
        );
        assert!(hitting(&pairs[..8]).whole);
    }

    #[test]
    fn only_groups_that_hold_no_other_are_kept() {
        let mut found = vec![];
        for roles in [0b111, 0b011, 0b110, 0b011] {
            keep(&mut found, roles);
        }
        assert_eq!(found, [0b011, 0b110]);
        keep(&mut found, 0);
        assert!(serves(&found));
    }
}

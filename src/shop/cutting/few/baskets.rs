//! What may be bought: some new bars that have room for the pieces, as far as
//! room says.
//!
//! Pieces down to some thickness, of one material or of any, must find room on
//! the bars that yield them. What such pieces can use of a bar at most is not
//! all of it, but the longest sum of their lengths that it holds.

use super::bench::{Bench, Kind};
use super::hauls::longest;
use crate::stock::Material;

/// Partial baskets looked at, at most.
const MOST_STEPS: usize = 500_000;
/// Baskets listed, at most.
const MOST: usize = 20_000;

/// New bars.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Basket {
    /// Money for them, and how many they are.
    pub(super) cost: (u64, usize),
    /// Bars of each kind; of those owned, all.
    pub(super) bars: Vec<usize>,
}

/// Baskets within a cost, cheapest first, then fewest bars; those that are ruled
/// out by room are not among them. None where there are too many.
pub(super) fn baskets(bench: &Bench, least: u64, most: (u64, usize)) -> Option<Vec<Basket>> {
    let mut list = List {
        kinds: &bench.kinds,
        least,
        most,
        claims: claims(bench),
        bars: vec![0; bench.kinds.len()],
        found: Vec::new(),
        steps: 0,
    };
    list.extend(0, (0, 0));
    let listed = list.steps < MOST_STEPS && list.found.len() < MOST;
    list.found.sort_by_key(|basket| basket.cost);
    listed.then_some(list.found)
}

/// Pieces that must find room.
#[derive(Debug)]
struct Claim {
    need: u64,
    /// What they can use of a bar of each kind.
    usable: Vec<u64>,
}

fn claims(bench: &Bench) -> Vec<Vec<Claim>> {
    let mut sides: Vec<Option<Material>> = vec![None];
    sides.extend(bench.pieces.iter().map(|one| one.piece.material));
    sides.sort_unstable();
    sides.dedup();
    let mut due: Vec<Vec<Claim>> = Vec::new();
    due.resize_with(bench.kinds.len() + 1, Vec::new);
    for side in sides {
        let of_side = |at: &usize| {
            let one = bench.pieces.get(*at);
            side.is_none() || one.is_some_and(|one| one.piece.material == side)
        };
        let members: Vec<usize> = (0..bench.pieces.len()).filter(of_side).collect();
        // Down to each piece of the side.
        for count in 1..=members.len() {
            let claim = claim(bench, members.get(..count).unwrap_or_default());
            let last = claim.usable.iter().rposition(|room| *room > 0);
            if let Some(due) = due.get_mut(last.map_or(0, |last| last + 1)) {
                due.push(claim);
            }
        }
    }
    due
}

fn claim(bench: &Bench, members: &[usize]) -> Claim {
    let need = |at: &usize| bench.pieces.get(*at).map_or(0, |one| one.need);
    let usable = |kind: &Kind| {
        let needs = members.iter().map(|at| kind.yields(*at).then(|| need(at)));
        let needs: Vec<Option<u64>> = needs.collect();
        longest(kind.room, &needs)
    };
    Claim {
        need: members.iter().map(need).sum(),
        usable: bench.kinds.iter().map(usable).collect(),
    }
}

struct List<'a> {
    kinds: &'a [Kind],
    least: u64,
    most: (u64, usize),
    /// Those that no kind from each on can serve.
    claims: Vec<Vec<Claim>>,
    bars: Vec<usize>,
    found: Vec<Basket>,
    steps: usize,
}

impl List<'_> {
    /// Chooses how many bars of a kind, and of all behind it.
    fn extend(&mut self, at: usize, cost: (u64, usize)) {
        self.steps += 1;
        if self.steps >= MOST_STEPS || self.found.len() >= MOST || !self.has_room(at) {
            return;
        }
        let Some(kind) = self.kinds.get(at) else {
            if cost.0 >= self.least {
                self.found.push(Basket {
                    cost,
                    bars: self.bars.clone(),
                });
            }
            return;
        };
        // All that is owned is there in any case.
        let (fewest, price) = if kind.is_new() {
            (0, kind.rod.price_millionths)
        } else {
            (kind.copies, 0)
        };
        for count in fewest..=kind.copies {
            let money = whole(count).saturating_mul(price);
            let new = if kind.is_new() { count } else { 0 };
            let cost = (cost.0.saturating_add(money), cost.1 + new);
            if cost > self.most || self.least == self.most.0 && cost.1 > self.most.1 {
                break;
            }
            self.put(at, count);
            self.extend(at + 1, cost);
        }
        self.put(at, 0);
    }

    fn put(&mut self, at: usize, count: usize) {
        if let Some(bars) = self.bars.get_mut(at) {
            *bars = count;
        }
    }

    /// Whether each claim that no kind from `at` on can serve is served.
    fn has_room(&self, at: usize) -> bool {
        let mut due = self.claims.get(at).into_iter().flatten();
        due.all(|claim| {
            let rooms = claim.usable.iter().zip(&self.bars);
            let rooms = rooms.map(|(room, bars)| room.saturating_mul(whole(*bars)));
            claim.need <= rooms.fold(0, u64::saturating_add)
        })
    }
}

fn whole(count: usize) -> u64 {
    u64::try_from(count).unwrap_or(u64::MAX)
}

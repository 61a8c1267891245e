//! Few pieces: every plan that may be the best, piece by piece.
//!
//! In: pieces in groups, bars that may matter, the best plan so far. Out: a plan
//! that is no worse, and what is proved of it. What may be bought is listed,
//! cheapest first; for each such basket it is asked whether the pieces can be
//! cut from it and from the rack, and with how little metal. A bound on metal is
//! brought up first; then plans are sought that come near it, then plans that
//! come less near: the first that are found hold the best. Limits count steps,
//! so that plans are the same on every machine.

mod baskets;
mod bench;
mod bound;
mod hauls;
mod placing;
mod worths;

use super::groups::{Groups, Sources};
use super::plan::Cost;
use super::staged::Best;
use crate::search::Control;
use baskets::{Basket, baskets};
use bench::{Bar, Bench};
use bound::Bound;
use placing::{NODES_A_ROUND, Placing};
use worths::{State, raise};

/// Partial plans looked at for all baskets.
const NODES: u64 = 4_000_000;
/// Times that worths are moved for a basket, at most.
const ROUNDS: u64 = 2_000;
/// Plans are sought within the whole way from the bound to the best plan divided
/// by this, then by a quarter of it, and so on.
const NEAREST: i64 = 1 << 16;
/// What one such search leaves to those behind it, of all nodes left: one over
/// this.
const SHARE: u64 = 2;

/// Improves and proves the best plan.
pub(super) fn improve(best: &mut Best<'_>, groups: &Groups, sources: &Sources, control: &Control) {
    let bench = Bench::new(groups, sources, best.stock);
    let known = best.cost().map(|(money, bars, _)| (money, bars));
    let most = known.unwrap_or_else(|| bench.one_bar_each());
    // Where there are too many, those for the money of the best plan are left.
    let within = |least| baskets(&bench, least, most);
    let all = within(best.money_at_least());
    let has_all = all.is_some();
    let Some(list) = all.or_else(|| within(most.0)) else {
        return;
    };
    let mut few = Few {
        start: Bound::new(&bench),
        bench: &bench,
        control,
        nodes: NODES,
    };
    let mut open: Vec<(u64, usize)> = Vec::new();
    for basket in &list {
        if best.cost().is_some_and(|cost| bought(cost) < basket.cost) {
            break;
        }
        if !few.settle(best, basket) {
            open.push(basket.cost);
        }
    }
    report(best, &open, has_all);
}

/// Money and new bars.
const fn bought((money, bars, _): Cost) -> (u64, usize) {
    (money, bars)
}

/// What is proved where all baskets are settled but those of these costs; of
/// less money than the best plan's only where all baskets were listed.
fn report(best: &mut Best<'_>, open: &[(u64, usize)], has_all: bool) {
    let Some((money, bars)) = best.cost().map(bought) else {
        return;
    };
    if has_all {
        let least = open.iter().map(|(money, _)| *money).min();
        best.money_is_at_least(least.map_or(money, |least| least.min(money)));
    }
    if !open.iter().any(|open| open.0 == money && open.1 < bars) {
        best.bars_are_least();
        if !open.contains(&(money, bars)) {
            best.metal_is_least();
        }
    }
}

struct Few<'a> {
    bench: &'a Bench,
    /// The bound that each basket starts from.
    start: Bound,
    control: &'a Control,
    nodes: u64,
}

impl Few<'_> {
    /// Looks for better plans with a basket; whether none is left to be found.
    fn settle(&mut self, best: &mut Best<'_>, basket: &Basket) -> bool {
        let bars = self.bench.whole_bars(&basket.bars);
        let mut bound = self.start.with_bars(self.bench, &basket.bars);
        let most = self.better(best, basket);
        let state = State {
            first: 0,
            bars: &bars,
        };
        let rounds = ROUNDS.min(self.nodes / NODES_A_ROUND);
        let (root, rounds) = raise(&mut bound, state, most, rounds, self.control);
        self.nodes -= rounds * NODES_A_ROUND;
        // Below this there is nothing.
        let mut least = root;
        let (mut near, mut complete) = (NEAREST, true);
        while near > 0 && least <= self.better(best, basket) && self.nodes > SHARE {
            let far = root.saturating_add((self.better(best, basket) - root) / near);
            complete &= self.search(best, basket, &bars, &mut bound, far);
            if complete {
                least = far.saturating_add(1);
            }
            near /= 4;
        }
        least > self.better(best, basket)
    }

    /// Looks for plans with a basket that are charged no more than `far`;
    /// whether it saw them all.
    fn search(
        &mut self,
        best: &mut Best<'_>,
        basket: &Basket,
        bars: &[Bar],
        bound: &mut Bound,
        far: i64,
    ) -> bool {
        let nodes = self.nodes / SHARE;
        let few = &*self;
        let mut offer = |way| {
            best.offer(way);
            few.better(best, basket)
        };
        let placing = Placing::new(few.bench, bound, far, nodes, few.control, &mut offer);
        let (complete, left) = placing.run(bars);
        self.nodes -= nodes - left;
        complete
    }

    /// What a plan with a basket that is better than the best is charged at most.
    fn better(&self, best: &Best<'_>, basket: &Basket) -> i64 {
        let ceiling = self.start.ceiling();
        let Some(cost) = best.cost() else {
            return ceiling;
        };
        match basket.cost.cmp(&bought(cost)) {
            std::cmp::Ordering::Less => ceiling,
            std::cmp::Ordering::Equal => {
                let less = cost.2.checked_sub(1);
                let units = less.map(|less| less / self.bench.metal_unit);
                units.map_or(-1, |units| self.start.charged(units).min(ceiling))
            }
            std::cmp::Ordering::Greater => -1,
        }
    }
}

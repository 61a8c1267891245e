//! Pieces placed one by one on given bars, in every way that bounds leave open.
//!
//! Thickest first. Of all best plans the search keeps the one whose pieces
//! stand in bars of the lowest numbers, first piece first:
//!
//! - of two bars that are alike in what is left, the one with the lower number;
//! - of two equal lengths in a row the second in no bar of a lower number,
//!   unless that bar did not suit the first.

use super::bench::{Bar, Bench, Kind};
use super::bound::Bound;
use super::worths::{State, raise};
use crate::search::Control;
use crate::stock::Opened;

/// Nodes between two looks whether to stop.
const LOOK: u64 = 1024;

/// A bar for the next piece, and what a plan with it is charged at least.
#[derive(Clone, Copy, Debug)]
struct Step {
    bar: usize,
    least: i64,
}

/// Nodes behind a state that are looked at before its bounds are brought up.
const QUOTA: u64 = 8_000;
/// Times that worths are moved then, at most.
const ROUNDS: u64 = 100;
/// Nodes that take as long as moving worths once.
pub(super) const NODES_A_ROUND: u64 = 100;

/// The search.
pub(super) struct Placing<'a> {
    bench: &'a Bench,
    bound: &'a mut Bound,
    /// What plans may be charged for metal.
    most: i64,
    /// Partial plans to look at.
    nodes: u64,
    /// The same, before bounds are brought up.
    quota: u64,
    control: &'a Control,
    /// Takes a plan; what better ones may be charged.
    offer: &'a mut dyn FnMut(Vec<Opened>) -> i64,
}

impl<'a> Placing<'a> {
    /// A search for plans that are charged no more than `most`, among no more
    /// than so many partial plans. `offer` takes a plan, and says what better
    /// ones may be charged.
    pub(super) fn new(
        bench: &'a Bench,
        bound: &'a mut Bound,
        most: i64,
        nodes: u64,
        control: &'a Control,
        offer: &'a mut dyn FnMut(Vec<Opened>) -> i64,
    ) -> Self {
        Self {
            bench,
            bound,
            most,
            nodes,
            quota: 0,
            control,
            offer,
        }
    }

    /// Looks at all plans from whole bars; whether none was left out, and how
    /// many nodes it did not need.
    pub(super) fn run(mut self, bars: &[Bar]) -> (bool, u64) {
        self.settle(&mut bars.to_vec(), &mut Vec::new(), 0);
        (self.nodes > 0, self.nodes)
    }

    /// Settles all plans behind a state: at once where they are few, or else
    /// with bounds that are brought up for it.
    fn settle(&mut self, bars: &mut [Bar], path: &mut Vec<usize>, spent: i64) {
        self.quota = QUOTA;
        self.place(bars, path, spent);
        if self.quota > 0 || self.nodes == 0 {
            return;
        }
        let first = path.len();
        let kept = self.bound.worths.clone();
        let most = self.most - spent;
        let state = State { first, bars };
        let (least, rounds) = raise(self.bound, state, most, ROUNDS, self.control);
        self.nodes = self.nodes.saturating_sub(rounds * NODES_A_ROUND);
        if least <= most {
            for step in self.steps(bars, path, spent) {
                if self.nodes > 0 && step.least <= self.most {
                    self.with(step.bar, bars, path, spent, Self::settle);
                }
            }
        }
        self.bound.worths = kept;
        self.bound.weigh(first);
    }

    /// Goes on with the next piece in a bar.
    fn with(
        &mut self,
        number: usize,
        bars: &mut [Bar],
        path: &mut Vec<usize>,
        spent: i64,
        go_on: impl FnOnce(&mut Self, &mut [Bar], &mut Vec<usize>, i64),
    ) {
        let first = path.len();
        let need = self.bench.pieces.get(first).map_or(0, |one| one.need);
        let Some(bar) = bars.get_mut(number) else {
            return;
        };
        bar.left -= need;
        let spent = spent + self.bound.charge(bar.kind, first);
        path.push(number);
        go_on(self, bars, path, spent);
        path.pop();
        if let Some(bar) = bars.get_mut(number) {
            bar.left += need;
        }
    }

    /// Places the next piece, and all behind it.
    fn place(&mut self, bars: &mut [Bar], path: &mut Vec<usize>, spent: i64) {
        let first = path.len();
        if first == self.bench.pieces.len() {
            let way = self.opened(bars, path);
            self.most = (self.offer)(way).min(self.most);
            return;
        }
        for step in self.steps(bars, path, spent) {
            if step.least <= self.most && self.counts() {
                self.with(step.bar, bars, path, spent, Self::place);
            }
        }
    }

    /// One more node, where any is left.
    fn counts(&mut self) -> bool {
        self.nodes = self.nodes.saturating_sub(1);
        self.quota = self.quota.saturating_sub(1);
        if self.nodes.is_multiple_of(LOOK) && self.control.stopped() {
            self.nodes = 0;
        }
        self.nodes > 0 && self.quota > 0
    }

    /// All that the next piece may come from, the most promising first.
    fn steps(&self, bars: &[Bar], path: &[usize], spent: i64) -> Vec<Step> {
        let first = path.len();
        let Some(one) = self.bench.pieces.get(first) else {
            return Vec::new();
        };
        let rest = spent + self.bound.rest(first + 1, bars);
        let mut seen: Vec<(usize, u64)> = Vec::with_capacity(bars.len());
        let mut steps = Vec::with_capacity(bars.len());
        for (number, bar) in bars.iter().enumerate() {
            let Some(kind) = self.bench.kinds.get(bar.kind) else {
                continue;
            };
            let state = (kind.alike, bar.left);
            if bar.left < one.need
                || !kind.yields(first)
                || seen.contains(&state)
                || self.passed(path, number, kind)
            {
                continue;
            }
            seen.push(state);
            let haul = |left| self.bound.haul(bar.kind, first + 1, left);
            let lost = haul(bar.left - one.need) - haul(bar.left);
            let least = rest + lost + self.bound.charge(bar.kind, first);
            if least <= self.most {
                steps.push(Step { bar: number, least });
            }
        }
        steps.sort_by_key(|step| step.least);
        steps
    }

    /// Whether the piece before has the same length and stands in a later bar
    /// that it could have changed for this one.
    fn passed(&self, path: &[usize], number: usize, kind: &Kind) -> bool {
        let later = path.last().is_some_and(|last| number < *last);
        let Some(before) = path.len().checked_sub(1).filter(|_| later) else {
            return false;
        };
        let pieces = &self.bench.pieces;
        let pair = pieces.get(before).zip(pieces.get(path.len()));
        let alike = pair.is_some_and(|(before, one)| {
            (before.need, before.piece.material) == (one.need, one.piece.material)
        });
        alike && kind.yields(before)
    }

    /// The plan at hand.
    fn opened(&self, bars: &[Bar], path: &[usize]) -> Vec<Opened> {
        let mut way = Vec::new();
        for (number, bar) in bars.iter().enumerate() {
            let placed = path.iter().zip(&self.bench.pieces);
            let of = placed.filter(|(at, _)| **at == number);
            let pieces: Vec<usize> = of.map(|(_, one)| one.place).collect();
            if let (Some(kind), false) = (self.bench.kinds.get(bar.kind), pieces.is_empty()) {
                way.push(Opened {
                    source: kind.source,
                    pieces,
                });
            }
        }
        way
    }
}

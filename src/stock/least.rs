//! The least money for bars, by a search that leaves nothing out.
//!
//! Pieces are placed thickest first, so that a bar that is thick enough for
//! one is thick enough for all that follow: then only what is left of it
//! counts. Of all cheapest plans the search looks for the one whose pieces
//! stand in bars of the lowest numbers, first piece first; each rule that leaves
//! a branch out leaves this one in:
//!
//! - two bars that are alike in what is left: the one with the lower number;
//! - two equal pieces in a row: the second in no bar of a lower number, unless
//!   that bar was too thin for the first;
//! - all pieces to come of one length: the first bar that takes one.

use super::rooms::{Offer, least_for};
use super::sides::{Side, Sizes, Wanted, has, is_of, named, offers, ordered, worth};
use super::types::{Material, Opened, Piece, Rod, Source, Stock};
use crate::base::Length;

/// How far a search that may be stopped came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// No money gets the pieces.
    Impossible,
    /// This much, in millionths, and no less.
    Money(u64),
    /// Stopped: it costs at least so much, and at most so much where a way was
    /// found; in millionths.
    Between(u64, Option<u64>),
}

/// The least money that gets all pieces, in millionths; nothing where no money
/// does. Exact, and so without a limit on work: some dozens of pieces of many
/// lengths are better asked of [`least_money_within`].
pub fn least_money(pieces: &[Piece], stock: &Stock) -> Option<u64> {
    match least_money_within(pieces, stock, u64::MAX) {
        Least::Money(money) => Some(money),
        Least::Impossible | Least::Between(..) => None,
    }
}

/// The same, but no more than `steps` partial plans are looked at.
pub fn least_money_within(pieces: &[Piece], stock: &Stock, steps: u64) -> Least {
    cheapest(pieces, stock, steps).0
}

/// The same, with the cheapest way that was found; no bars where none was.
pub fn cheapest(pieces: &[Piece], stock: &Stock, steps: u64) -> (Least, Vec<Opened>) {
    let wanted = ordered(pieces, stock);
    let mut search = Search::new(&wanted, stock, steps);
    let Some(bound) = search.bound(0) else {
        return (Least::Impossible, Vec::new());
    };
    search.enough = bound;
    search.place(0, 0, None);
    let least = match (search.best, search.steps) {
        (Some(best), _) if best <= bound => Least::Money(best),
        (best, 0) => Least::Between(bound, best),
        (None, _) => Least::Impossible,
        (Some(best), _) => Least::Money(best),
    };
    (least, search.way)
}

/// A bar that is on the rack or was bought.
#[derive(Clone, Copy, Debug)]
struct Open {
    source: Source,
    diameter: Length,
    material: Material,
    left: i64,
}

impl Open {
    fn takes(&self, wanted: &Wanted) -> bool {
        self.left >= wanted.need && self.suits(wanted)
    }

    fn suits(&self, wanted: &Wanted) -> bool {
        let named = wanted.piece.material;
        self.diameter >= wanted.piece.diameter && named.is_none_or(|m| m == self.material)
    }
}

struct Search<'a> {
    wanted: &'a [Wanted],
    /// Bars worth opening, per piece.
    worth: Vec<Vec<(usize, Rod)>>,
    /// What is sold at the threshold of each piece, per side.
    sides: Vec<(Side, Vec<Option<Offer>>)>,
    /// From this piece on all are alike but for their diameter.
    alike_from: usize,
    materials_matter: bool,
    stock: &'a Stock,
    bars: Vec<Open>,
    /// The bar of each piece that is placed.
    path: Vec<usize>,
    best: Option<u64>,
    way: Vec<Opened>,
    enough: u64,
    steps: u64,
}

impl<'a> Search<'a> {
    fn new(wanted: &'a [Wanted], stock: &'a Stock, steps: u64) -> Self {
        let materials = named(wanted);
        let all_named = wanted.iter().all(|w| w.piece.material.is_some());
        let mut sides = materials.clone();
        if materials.len() != 1 || !all_named {
            sides.push(None);
        }
        let with_offers = |side: Side| (side, offers(wanted, stock, side));
        let bars = stock.rack().iter().enumerate().flat_map(|(place, rod)| {
            let open = Open {
                source: Source::Rack(place),
                diameter: rod.diameter,
                material: rod.material,
                left: stock.room(rod),
            };
            // More than there are pieces are never opened.
            std::iter::repeat_n(open, rod.count.min(wanted.len()))
        });
        let mut bars: Vec<Open> = bars.collect();
        bars.retain(|bar| wanted.iter().any(|w| bar.takes(w)));
        Self {
            wanted,
            worth: worth(wanted, stock),
            sides: sides.into_iter().map(with_offers).collect(),
            alike_from: alike_from(wanted),
            materials_matter: !materials.is_empty(),
            stock,
            bars,
            path: Vec::new(),
            best: None,
            way: Vec::new(),
            enough: 0,
            steps,
        }
    }

    /// Money that the pieces from `first` on cost at least; nothing where no
    /// money gets them.
    fn bound(&self, first: usize) -> Option<u64> {
        let mut apart: u64 = 0;
        let mut together = 0;
        for (side, offers) in &self.sides {
            let money = self.bound_of(first, *side, offers)?;
            if side.is_some() {
                apart = apart.saturating_add(money);
            } else {
                together = money;
            }
        }
        Some(apart.max(together))
    }

    fn bound_of(&self, first: usize, side: Side, offers: &[Option<Offer>]) -> Option<u64> {
        let mut sizes = Sizes::NONE;
        let mut demand = 0;
        let coming = self.wanted.iter().zip(offers).skip(first);
        let coming = coming.filter(|(w, _)| is_of(side, &w.piece));
        least_for(coming.map(|(w, offer)| {
            sizes = sizes.and(w.need);
            demand += w.need;
            let thick = |bar: &&Open| bar.diameter >= w.piece.diameter && has(side, bar.material);
            let bars = self.bars.iter().filter(thick);
            let room: i64 = bars.map(|bar| sizes.usable(bar.left)).sum();
            (demand - room, *offer)
        }))
    }

    /// Places the pieces from `first` on in every way that may cost less than
    /// the best known; `before` is the bar of the piece before.
    fn place(&mut self, first: usize, spent: u64, before: Option<usize>) {
        let Some(&wanted) = self.wanted.get(first) else {
            if self.best.is_none_or(|best| spent < best) {
                self.best = Some(spent);
                self.way = self.opened();
            }
            return;
        };
        let Some(bound) = self.bound(first) else {
            return;
        };
        let least = spent.saturating_add(bound);
        if self.steps == 0 || self.best.is_some_and(|best| least >= best) {
            return;
        }
        self.steps -= 1;
        for bar in self.bars_for(first, before) {
            self.take(bar, -wanted.need);
            self.enter(first, spent, bar);
            self.take(bar, wanted.need);
            if self.done() {
                return;
            }
        }
        if first >= self.alike_from && self.bars.iter().any(|bar| bar.takes(&wanted)) {
            return;
        }
        self.buy(first, spent);
    }

    /// Goes on behind a piece that was placed.
    fn enter(&mut self, first: usize, spent: u64, bar: usize) {
        self.path.push(bar);
        self.place(first + 1, spent, Some(bar));
        self.path.pop();
    }

    /// The plan at hand.
    fn opened(&self) -> Vec<Opened> {
        let of = |(place, bar): (usize, &Open)| {
            let placed = self.path.iter().zip(self.wanted);
            let pieces = placed.filter(|(at, _)| **at == place);
            Opened {
                source: bar.source,
                pieces: pieces.map(|(_, wanted)| wanted.place).collect(),
            }
        };
        let opened = self.bars.iter().enumerate().map(of);
        opened.filter(|opened| !opened.pieces.is_empty()).collect()
    }

    /// Opens a new bar for a piece.
    fn buy(&mut self, first: usize, spent: u64) {
        let Some(kinds) = self.worth.get(first).cloned() else {
            return;
        };
        let Some(need) = self.wanted.get(first).map(|w| w.need) else {
            return;
        };
        for (place, rod) in kinds {
            let bar = self.bars.len();
            self.bars.push(Open {
                source: Source::Bar(place),
                diameter: rod.diameter,
                material: rod.material,
                left: self.stock.room(&rod) - need,
            });
            let spent = spent.saturating_add(rod.price_millionths);
            self.enter(first, spent, bar);
            self.bars.pop();
            if self.done() {
                return;
            }
        }
    }

    fn take(&mut self, bar: usize, change: i64) {
        if let Some(bar) = self.bars.get_mut(bar) {
            bar.left += change;
        }
    }

    fn done(&self) -> bool {
        self.best.is_some_and(|best| best <= self.enough)
    }

    /// The bars to try for a piece, the fullest first.
    fn bars_for(&self, first: usize, before: Option<usize>) -> Vec<usize> {
        let Some(wanted) = self.wanted.get(first) else {
            return Vec::new();
        };
        let last = first.checked_sub(1).and_then(|i| self.wanted.get(i));
        let equal = last.filter(|last| {
            (last.need, last.piece.material) == (wanted.need, wanted.piece.material)
        });
        let mut bars: Vec<usize> = Vec::new();
        for (place, bar) in self.bars.iter().enumerate() {
            let passed = before.is_some_and(|before| place < before)
                && equal.is_some_and(|last| bar.suits(last));
            let same = |&other: &usize| {
                let other = self.bars.get(other);
                let same = |o: &Open| {
                    o.left == bar.left && (!self.materials_matter || o.material == bar.material)
                };
                other.is_some_and(same)
            };
            if bar.takes(wanted) && !passed && !bars.iter().any(same) {
                bars.push(place);
                if first >= self.alike_from {
                    return bars;
                }
            }
        }
        bars.sort_by_key(|&place| self.bars.get(place).map(|bar| bar.left));
        bars
    }
}

/// The first piece from which on all have one length and one material.
fn alike_from(wanted: &[Wanted]) -> usize {
    let key = |w: &Wanted| (w.need, w.piece.material);
    let Some(last) = wanted.last() else {
        return 0;
    };
    let tail = wanted.iter().rev().take_while(|w| key(w) == key(last));
    wanted.len() - tail.count()
}

//! Few pieces: which group goes to which bar, by integer program.
//!
//! An unknown counts the pieces of a group that come from one bar; one says
//! whether a new bar is bought. Equal new bars are used in order, so that no
//! plan is looked at twice. Opened offcuts are not counted: they cost nothing,
//! and counting them is what makes such programs slow.

use super::groups::{Groups, Sources, Supply, counted};
use super::plan::{Cost, cost};
use super::staged::Best;
use crate::search::{Control, Program};
use crate::stock::{Opened, Source, Stock};

/// Nodes of the solver's tree for each stage, times unknowns: a node of a large
/// program takes longer.
const WORK: u64 = 500_000;
/// Room counts in whole units: half a unit keeps out what is one too many.
const HALF: f64 = 0.5;
/// Money and bars count in few units, of which half would weaken bounds.
const ROUNDING: f64 = 1e-3;

/// One bar of the program.
#[derive(Debug)]
struct Slot {
    source: Source,
    price: u64,
    /// D² in mm².
    square: f64,
    counts: Vec<Share>,
    /// Whether it is bought; nothing for the rack.
    bought: Option<usize>,
}

/// Pieces of one group from one bar.
#[derive(Debug)]
struct Share {
    group: usize,
    unknown: usize,
    /// As many as there is room for.
    most: i32,
    /// What one takes, in units.
    need: f64,
}

struct Model<'a> {
    groups: &'a Groups,
    coin: u64,
    program: Program,
    slots: Vec<Slot>,
    unknowns: usize,
}

/// Improves and proves the best way, stage by stage.
pub(super) fn improve(best: &mut Best<'_>, groups: &Groups, sources: &Sources, control: &Control) {
    let mut model = Model::new(groups, sources, best.stock);
    if !best.money_is_proved() && model.least_money(best, control) && sources.complete {
        let money = best.money().unwrap_or(0);
        best.money_is(money);
    }
    let Some(money) = best.money() else {
        return;
    };
    model.hold_money(money);
    if model.fewest_bars(best, control) && sources.complete {
        best.bars_are_least();
    }
    let Some((_, bars, _)) = best.cost() else {
        return;
    };
    model.hold_bars(bars);
    if model.least_metal(best, control) && sources.complete && best.bars_proved() {
        best.metal_is_least();
    }
}

impl<'a> Model<'a> {
    fn new(groups: &'a Groups, sources: &Sources, stock: &Stock) -> Self {
        let mut model = Self {
            groups,
            coin: sources.coin,
            program: Program::default(),
            slots: Vec::new(),
            unknowns: 0,
        };
        for supply in &sources.all {
            let mut before = None;
            for _ in 0..supply.copies {
                let slot = model.slot(supply, stock);
                if let (Some(before), Some(bought)) = (before, slot.bought) {
                    let in_order = vec![(bought, 1.0), (before, -1.0)];
                    model.program.at_most(0.0, in_order);
                }
                before = slot.bought;
                model.slots.push(slot);
            }
        }
        model.cut_all();
        model
    }

    fn unknown(&mut self, most: i32) -> usize {
        self.unknowns += 1;
        self.program.count(0.0, most)
    }

    fn slot(&mut self, supply: &Supply, stock: &Stock) -> Slot {
        let groups = self.groups;
        let mut counts = Vec::new();
        for (place, group) in groups.all.iter().enumerate() {
            if stock.yields(&supply.rod, &group.piece) {
                let most = group.places.len().min(times(supply.room, group.need));
                let most = i32::try_from(most).unwrap_or(i32::MAX);
                counts.push(Share {
                    group: place,
                    unknown: self.unknown(most),
                    most,
                    need: groups.units(group.need),
                });
            }
        }
        let bought = matches!(supply.source, Source::Bar(_)).then(|| self.unknown(1));
        self.fill(&counts, groups.units(supply.room), bought);
        Slot {
            source: supply.source,
            price: supply.rod.price_millionths,
            square: supply.rod.diameter.mm() * supply.rod.diameter.mm(),
            counts,
            bought,
        }
    }

    /// A bar has room for its pieces, once it is there.
    fn fill(&mut self, counts: &[Share], room: f64, bought: Option<usize>) {
        let terms = counts.iter().map(|share| (share.unknown, share.need));
        let mut terms: Vec<(usize, f64)> = terms.collect();
        let Some(bought) = bought else {
            self.program.at_most(room + HALF, terms);
            return;
        };
        terms.push((bought, -room));
        self.program.at_most(HALF, terms);
        for share in counts {
            let one = vec![(share.unknown, 1.0), (bought, -f64::from(share.most))];
            self.program.at_most(0.0, one);
        }
    }

    /// Every piece is cut once.
    fn cut_all(&mut self) {
        for (place, group) in self.groups.all.iter().enumerate() {
            let of = self.slots.iter().flat_map(|slot| &slot.counts);
            let of = of.filter(|share| share.group == place);
            let terms = of.map(|share| (share.unknown, 1.0)).collect();
            let count = u64::try_from(group.places.len()).unwrap_or(u64::MAX);
            self.program.exactly(counted(count), terms);
        }
    }

    fn money_terms(&self) -> Vec<(usize, f64)> {
        let bought = self.slots.iter();
        let term = |slot: &Slot| Some((slot.bought?, counted(slot.price / self.coin)));
        bought.filter_map(term).collect()
    }

    fn hold_money(&mut self, money: u64) {
        let terms = self.money_terms();
        if !terms.is_empty() {
            self.program
                .at_most(counted(money / self.coin) + ROUNDING, terms);
        }
    }

    fn hold_bars(&mut self, bars: usize) {
        let bought = self.slots.iter().filter_map(|slot| slot.bought);
        let terms: Vec<(usize, f64)> = bought.map(|bought| (bought, 1.0)).collect();
        if !terms.is_empty() {
            let bars = counted(u64::try_from(bars).unwrap_or(u64::MAX));
            self.program.at_most(bars + ROUNDING, terms);
        }
    }

    fn least_money(&mut self, best: &mut Best<'_>, control: &Control) -> bool {
        let terms = self.money_terms();
        if let Some(money) = best.money() {
            self.hold_money(money);
        }
        let least = counted(best.money_at_least().div_ceil(self.coin));
        let negative = terms
            .iter()
            .map(|&(unknown, price)| (unknown, -price))
            .collect();
        self.program.at_most(-least, negative);
        self.stage(&terms, best, control, |cost| (cost.0, 0, 0))
    }

    fn fewest_bars(&mut self, best: &mut Best<'_>, control: &Control) -> bool {
        if best.bars_are_needed() {
            return true;
        }
        let bought = self.slots.iter().filter_map(|slot| slot.bought);
        let terms: Vec<(usize, f64)> = bought.map(|bought| (bought, 1.0)).collect();
        self.stage(&terms, best, control, |cost| (cost.0, cost.1, 0))
    }

    fn least_metal(&mut self, best: &mut Best<'_>, control: &Control) -> bool {
        let mut terms = Vec::new();
        for slot in &self.slots {
            let weight = |share: &Share| (share.unknown, slot.square * share.need);
            terms.extend(slot.counts.iter().map(weight));
        }
        let largest = terms.iter().map(|(_, weight)| *weight).fold(1.0, f64::max);
        for term in &mut terms {
            term.1 *= 1000.0 / largest;
        }
        self.stage(&terms, best, control, |cost| cost)
    }

    /// Makes a sum least; whether the best way now has it at its least. The
    /// solver's answer counts once it is a way in whole numbers, and proves
    /// something only if no better way was known.
    fn stage(
        &mut self,
        terms: &[(usize, f64)],
        best: &mut Best<'_>,
        control: &Control,
        of: impl Fn(Cost) -> Cost,
    ) -> bool {
        let mut weights = vec![0.0; self.unknowns];
        for &(unknown, weight) in terms {
            if let Some(place) = weights.get_mut(unknown) {
                *place = weight;
            }
        }
        self.program.weigh(weights.into_iter());
        let unknowns = u64::try_from(self.unknowns).unwrap_or(u64::MAX).max(1);
        let counts = self.program.solve_counts(WORK / unknowns, control);
        let Some(way) = counts.found.and_then(|found| self.way(&found)) else {
            return false;
        };
        let found = cost(best.pieces, best.stock, &way);
        let known = best.cost();
        best.offer(way);
        counts.proved
            && match (found, known) {
                (Some(found), Some(known)) => of(found) <= of(known),
                (found, _) => found.is_some(),
            }
    }

    /// The pieces of each bar, as the counts say.
    fn way(&self, counts: &[u64]) -> Option<Vec<Opened>> {
        let mut left: Vec<_> = self.groups.all.iter().map(|g| g.places.iter()).collect();
        let mut way = Vec::new();
        for slot in &self.slots {
            let mut pieces = Vec::new();
            for share in &slot.counts {
                for _ in 0..*counts.get(share.unknown)? {
                    pieces.push(*left.get_mut(share.group)?.next()?);
                }
            }
            if !pieces.is_empty() {
                way.push(Opened {
                    source: slot.source,
                    pieces,
                });
            }
        }
        Some(way)
    }
}

/// How many times a need goes into a room.
pub(super) fn times(room: i64, need: i64) -> usize {
    let times = room.checked_div(need).unwrap_or(0);
    usize::try_from(times).unwrap_or(0)
}

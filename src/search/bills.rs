//! What choices of gears bring that costs money, or what bars they need, without
//! all else.

use super::mask::{Bits, Mask};
use super::meter::Slot;
use super::purse::{Purse, Size};
use super::reverses::Piece;
use super::space::{Head, HeadGroup, Space};
use crate::problem::Measure;
use crate::train::ReverseGears;
use std::collections::BTreeMap;

/// No more cutters than that pass the checks where money counts.
pub(super) type Things = Bits<8>;

/// How bills are summed.
#[derive(Clone, Copy)]
enum Prices<'a> {
    /// As money; the bits of sizes begin there.
    Money(&'a Purse, usize),
    /// As distinct sizes of bar, which stand in place of the cutters.
    Bars,
}

/// Things to pay for once, cutters or bars, and a size for each slot that a
/// choice fills.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Bill {
    pub(super) things: Things,
    pub(super) sizes: [Size; 3],
}

/// Choices of one bill.
#[derive(Clone, Debug)]
pub(super) struct Offer {
    pub(super) bill: Bill,
    pub(super) count: u64,
    /// Places in the role's window.
    pub(super) places: Vec<u32>,
    /// Some reverse gears, where it is the reverse.
    pub(super) gears: Option<ReverseGears>,
}

/// A role, or the reverse, with all that may be chosen for it.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// Its first slot.
    pub(super) slot: usize,
    pub(super) offers: Vec<Offer>,
}

/// The bills of everything in a space.
pub(super) struct Bills<'a, M> {
    pub(super) space: &'a Space<M>,
    prices: Prices<'a>,
    /// Per role, of each option in its list.
    roles: Vec<Vec<Bill>>,
    /// Distinct ones of reverse pieces.
    reverse: Vec<Bill>,
    /// Per class of pieces, the place among these.
    pub(super) of_class: Vec<usize>,
}

/// Whether bills tell a measure.
pub(super) const fn tells(measure: Measure) -> bool {
    matches!(measure, Measure::Cost | Measure::Bars)
}

impl<'a, M: Mask> Bills<'a, M> {
    /// Of a measure; none where bills do not tell it.
    pub(super) fn of(space: &'a Space<M>, measure: Measure) -> Option<Self> {
        let prices = match measure {
            Measure::Cost => {
                let (purse, from) = space.meter.purse()?;
                Prices::Money(purse, from)
            }
            Measure::Bars => Prices::Bars,
            _ => return None,
        };
        let mut bills = Self {
            space,
            prices,
            roles: Vec::with_capacity(space.roles.len()),
            reverse: Vec::new(),
            of_class: Vec::new(),
        };
        for (r, role) in space.roles.iter().enumerate() {
            let options = space.lists[role.list].options.iter();
            let slot = Slot::speed(r);
            let own = options.map(|option| bills.bill(&option.mask, slot, 2));
            bills.roles.push(own.collect());
        }
        bills.list_reverse();
        Some(bills)
    }

    fn list_reverse(&mut self) {
        let Some(reverses) = &self.space.reverses else {
            return;
        };
        let slot = Slot::reverse(self.space.roles.len());
        let mut of_class: Vec<Option<Bill>> = vec![None; reverses.classes];
        for piece in reverses.all() {
            let known = &mut of_class[piece.class as usize];
            if known.is_none() {
                *known = Some(self.bill(&piece.mask, slot, 3));
            }
        }
        let of_class: Vec<Bill> = of_class.into_iter().flatten().collect();
        self.reverse.clone_from(&of_class);
        self.reverse.sort_unstable();
        self.reverse.dedup();
        let place = |bill| self.reverse.partition_point(|known| known < bill);
        self.of_class = of_class.iter().map(place).collect();
    }

    fn bill(&self, mask: &M, slot: Slot, seats: usize) -> Bill {
        let mut bill = Bill {
            things: Things::EMPTY,
            sizes: [0; 3],
        };
        match self.prices {
            Prices::Money(purse, from) => {
                let charged = |cutter: &usize| mask.has(*cutter) && purse.charges(*cutter);
                let cutters = (0..purse.cutters()).filter(charged);
                bill.things = cutters.fold(Things::EMPTY, Things::with);
                for (seat, size) in bill.sizes.iter_mut().take(seats).enumerate() {
                    *size = purse.size(mask, from, slot.place() + seat);
                }
            }
            Prices::Bars => {
                let words = mask.coarse();
                let has = |bar: &usize| words[bar / 64] & (1 << (bar % 64)) != 0;
                let bars = (0..64 * words.len()).filter(has);
                bill.things = bars.fold(Things::EMPTY, Things::with);
            }
        }
        bill
    }

    /// What things cost.
    pub(super) fn of_things(&self, things: &Things) -> u64 {
        match self.prices {
            Prices::Money(purse, _) => purse.cutter_money(things),
            Prices::Bars => u64::from(things.count()),
        }
    }

    /// What pieces of these sizes cost, one for each slot.
    pub(super) fn of_sizes(&self, sizes: impl Iterator<Item = Size>) -> u64 {
        match self.prices {
            Prices::Money(purse, _) => purse.bars_for(sizes),
            Prices::Bars => 0,
        }
    }

    /// How many slots there are.
    pub(super) fn slots(&self) -> usize {
        Slot::reverse(self.space.roles.len()).place() + 3
    }

    /// The bill of a head.
    pub(super) fn head(&self, head: &Head<M>) -> Bill {
        self.bill(&head.mask, Slot::HEAD, 2)
    }

    /// Of each bill of reverse pieces, whether an offer left has it.
    pub(super) fn reverse_among(&self, left: Option<(&Part, &[u32])>) -> Vec<bool> {
        let mut among = vec![false; self.reverse.len()];
        for (part, &at) in left
            .iter()
            .flat_map(|(part, own)| own.iter().map(|at| (*part, at)))
        {
            let bill = &part.offers[at as usize].bill;
            among[self.reverse.partition_point(|known| known < bill)] = true;
        }
        among
    }

    pub(super) const fn has_reverse(&self) -> bool {
        self.space.reverses.is_some()
    }

    /// The roles of a group.
    pub(super) fn forward(&self, group: &HeadGroup<M>) -> Vec<Part> {
        let roles = 0..self.roles.len();
        roles.map(|r| self.role(group, r)).collect()
    }

    /// The roles of a group, then its reverse.
    pub(super) fn parts(&self, group: &HeadGroup<M>) -> Vec<Part> {
        let mut parts = self.forward(group);
        parts.extend(self.reverse(group));
        parts
    }

    fn role(&self, group: &HeadGroup<M>, r: usize) -> Part {
        let mut by_bill: BTreeMap<Bill, Vec<u32>> = BTreeMap::new();
        for (place, bill) in (0..).zip(&self.roles[r][group.windows[r].clone()]) {
            by_bill.entry(*bill).or_default().push(place);
        }
        let offer = |(bill, places): (Bill, Vec<u32>)| Offer {
            bill,
            count: places.len() as u64,
            places,
            gears: None,
        };
        Part {
            slot: Slot::speed(r).place(),
            offers: by_bill.into_iter().map(offer).collect(),
        }
    }

    fn reverse(&self, group: &HeadGroup<M>) -> Option<Part> {
        let reverses = self.space.reverses.as_ref()?;
        let mut counts: Vec<(u64, Option<&Piece<M>>)> = vec![(0, None); self.reverse.len()];
        for piece in self.space.pieces(group) {
            let (count, some) = &mut counts[self.of_class[piece.class as usize]];
            *count += u64::from(piece.idler_max.get() + 1 - piece.idler_min.get());
            *some = Some(piece);
        }
        let offer = |(bill, (count, piece)): (&Bill, (u64, Option<&Piece<M>>))| {
            let piece = piece?;
            Some(Offer {
                bill: *bill,
                count,
                places: Vec::new(),
                gears: Some(reverses.gears(piece, piece.idler_min)),
            })
        };
        Some(Part {
            slot: Slot::reverse(self.roles.len()).place(),
            offers: self.reverse.iter().zip(counts).filter_map(offer).collect(),
        })
    }
}

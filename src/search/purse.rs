//! Money: what the cutters and bars cost that a choice of gears needs.

use super::gears::GearTable;
use super::mask::Mask;
use super::meter::ones;
use crate::base::Length;
use crate::problem::{Problem, WhichCutter, Workshop};
use crate::stock::{Material, NO_BAR, Piece, Stock, least_money};
use crate::train::{Cutter, Role, Seat, rough_length};
use std::collections::BTreeMap;
use std::sync::Mutex;

/// A piece of bar: the place of the least diameter that holds it, and the place
/// of its length.
type Place = (u16, u8);

/// How thick a bar a piece needs: how many diameters do not hold it, and one
/// more; 0 where there is no piece.
pub(super) type Size = u16;

/// Prices, and the seats that masks tell pieces of.
#[derive(Debug)]
pub(super) struct Purse {
    /// Diameters of everything that gears may be cut from, ascending.
    diameters: Vec<Length>,
    material: Option<Material>,
    stock: Stock,
    /// Length of the piece in each slot, as its place among `lengths`; none
    /// where the slot has no piece of its own.
    slots: Vec<Option<u8>>,
    lengths: Vec<Length>,
    cutters: Vec<CutterPrice>,
    /// Per module, the price of its set of eight form cutters; nothing at all
    /// where none has one.
    sets: Vec<Option<u64>>,
    known: Mutex<BTreeMap<Vec<Place>, u64>>,
}

#[derive(Clone, Copy, Debug)]
struct CutterPrice {
    price: u64,
    /// The module, for one of the eight form cutters.
    of_set: Option<usize>,
}

impl Purse {
    /// For the gears of a table.
    pub(super) fn new(
        problem: &Problem,
        gears: &GearTable,
        slots: &[Option<(Role, Seat)>],
    ) -> Self {
        let workshop = problem.workshop();
        let length = |slot: &Option<(Role, Seat)>| {
            slot.map(|(role, seat)| {
                rough_length(problem, role, seat, problem.gears().face().unit())
            })
        };
        let of_slots: Vec<Option<Length>> = slots.iter().map(length).collect();
        let mut lengths: Vec<Length> = of_slots.iter().flatten().copied().collect();
        lengths.sort_unstable();
        lengths.dedup();
        let place = |length| lengths.partition_point(|known| *known < length);
        let slots = of_slots
            .into_iter()
            .map(|length| length.map(|length| small(place(length))))
            .collect();
        let mut stock = Stock::of(problem);
        let material = workshop.gear_material().map(|name| stock.material(name));
        let set = |module: &_| Some(millionths(workshop.form_set_price(*module)?));
        let mut sets: Vec<Option<u64>> = problem.gears().modules().iter().map(set).collect();
        if sets.iter().all(Option::is_none) {
            sets.clear();
        }
        Self {
            diameters: diameters(&stock, material),
            material,
            stock,
            slots,
            cutters: gears
                .all_cutters()
                .iter()
                .map(|cutter| CutterPrice::of(problem, workshop, *cutter))
                .collect(),
            sets,
            known: Mutex::new(BTreeMap::new()),
            lengths,
        }
    }

    /// How many bits of a mask tell the pieces.
    pub(super) fn bits(&self) -> usize {
        self.slots.len() * self.bits_a_slot()
    }

    /// One for each diameter that does not hold the piece, and one that says
    /// that there is a piece: a larger piece has all bits of a smaller one.
    const fn bits_a_slot(&self) -> usize {
        self.diameters.len() + 1
    }

    /// The bits of a piece of bar of `rough_um` in a slot.
    pub(super) fn bits_of(&self, slot: usize, rough_um: u64) -> std::ops::Range<usize> {
        let from = slot * self.bits_a_slot();
        let has_piece = self.slots.get(slot).is_some_and(Option::is_some);
        let rough = Length::from_um(rough_um);
        let class = self.diameters.partition_point(|&held| held < rough);
        from..from + if has_piece { class + 1 } else { 0 }
    }

    /// The size of the piece in a slot; the bits of all pieces start at `from`.
    pub(super) fn size<M: Mask>(&self, mask: &M, from: usize, slot: usize) -> Size {
        let start = from + slot * self.bits_a_slot();
        let bits = ones(mask.fine(), start..start + self.bits_a_slot());
        Size::try_from(bits).unwrap_or(Size::MAX)
    }

    /// What a choice of gears costs, millionths; the bits of its pieces start at
    /// `from`.
    pub(super) fn cost<M: Mask>(&self, mask: &M, from: usize) -> u64 {
        let sizes = (0..self.slots.len()).map(|slot| self.size(mask, from, slot));
        Self::sum(self.cutter_money(mask), self.bars_for(sizes))
    }

    /// Money for cutters and bars together.
    pub(super) fn sum(cutters: u64, bars: u64) -> u64 {
        cutters.saturating_add(bars).min(NO_BAR)
    }

    /// Money for the bars that pieces of these sizes need, one for each slot.
    pub(super) fn bars_for(&self, sizes: impl Iterator<Item = Size>) -> u64 {
        let mut pieces = Vec::with_capacity(self.slots.len());
        for (length, size) in self.slots.iter().zip(sizes) {
            if let (Some(length), Some(class)) = (*length, size.checked_sub(1)) {
                pieces.push((class, length));
            }
        }
        pieces.sort_unstable();
        self.bar_money(pieces)
    }

    /// How many cutters there are.
    pub(super) const fn cutters(&self) -> usize {
        self.cutters.len()
    }

    /// Whether a cutter must be paid for.
    pub(super) fn charges(&self, cutter: usize) -> bool {
        self.cutters.get(cutter).is_some_and(|own| own.price > 0)
    }

    /// For each module the cheaper of its cutters one by one and its set of eight.
    pub(super) fn cutter_money<M: Mask>(&self, mask: &M) -> u64 {
        let mut singly = vec![0_u64; self.sets.len()];
        let mut total = 0_u64;
        for (number, cutter) in self.cutters.iter().enumerate() {
            if cutter.price == 0 || !mask.has(number) {
                continue;
            }
            match cutter.of_set.and_then(|module| singly.get_mut(module)) {
                Some(sum) => *sum += cutter.price,
                None => total += cutter.price,
            }
        }
        for (sum, set) in singly.iter().zip(&self.sets) {
            total += set.map_or(*sum, |set| set.min(*sum));
        }
        total
    }

    fn bar_money(&self, pieces: Vec<Place>) -> u64 {
        let Ok(mut known) = self.known.lock() else {
            return self.least(&pieces);
        };
        if let Some(money) = known.get(&pieces) {
            return *money;
        }
        let money = self.least(&pieces);
        known.insert(pieces, money);
        money
    }

    fn least(&self, pieces: &[Place]) -> u64 {
        let piece = |&(class, length): &Place| {
            Some(Piece {
                diameter: *self.diameters.get(usize::from(class))?,
                length: *self.lengths.get(usize::from(length))?,
                material: self.material,
            })
        };
        let pieces: Option<Vec<Piece>> = pieces.iter().map(piece).collect();
        let money = pieces.and_then(|pieces| least_money(&pieces, &self.stock));
        money.unwrap_or(NO_BAR)
    }
}

impl CutterPrice {
    fn of(problem: &Problem, workshop: &Workshop, cutter: Cutter) -> Self {
        let (module, which) = cutter.in_workshop(problem);
        let listed = problem.gears().modules().iter();
        Self {
            price: millionths(workshop.cutter_price(module, which)),
            of_set: matches!(which, WhichCutter::Form(_))
                .then(|| listed.take_while(|other| **other < module).count()),
        }
    }
}

/// The diameters of what is owned and sold of a material, ascending.
fn diameters(stock: &Stock, material: Option<Material>) -> Vec<Length> {
    let rods = stock.rack().iter().chain(stock.bars());
    let alike = rods.filter(|rod| material.is_none_or(|named| named == rod.material));
    let mut diameters: Vec<Length> = alike.map(|rod| rod.diameter).collect();
    diameters.sort_unstable();
    diameters.dedup();
    diameters
}

fn millionths(money: crate::base::Decimal) -> u64 {
    u64::try_from(money.millionths()).unwrap_or(0)
}

fn small(place: usize) -> u8 {
    u8::try_from(place).unwrap_or(u8::MAX)
}

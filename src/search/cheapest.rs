//! What the cheapest sets cost, before any of them is ranked: money, or how many
//! sizes of bar.
//!
//! Depth first under each head. Of what is still open, each seat takes the
//! smallest piece of any choice left, and only the things that all choices left
//! share are bought: costs never fall when a piece grows or a thing is added, so
//! that no set below costs less. Choices that bring this bound up to the limit
//! are dropped until nothing changes; then the part with the fewest choices left
//! is decided, cheapest first. Choices of one bill are one.
//!
//! The limit is what the last of so many cheapest sets found costs: all that cost
//! less are met, and so every cost that one of them has.

use super::bills::{Bill, Bills, Part, Things};
use super::control::Control;
use super::ladder::{EXAMPLES, Ladder, Rung};
use super::mask::Mask;
use super::purse::{Purse, Size};
use super::quest::Among;
use super::reverses::Piece;
use super::share::share;
use super::sorting::places_by;
use super::space::{Head, HeadGroup, Space};
use crate::problem::Measure;
use crate::train::Set;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};

/// Offers of a part that are looked through each time something was decided.
const MANY: usize = 256;

/// Adds the sets of a centre distance that cost less than `limit`.
pub(super) fn climb<M: Mask>(
    space: &Space<M>,
    measure: Measure,
    ladder: &mut Ladder,
    (limit, among): (u64, Among),
    threads: usize,
    control: &Control,
) {
    let Some(bills) = Bills::of(space, measure) else {
        return;
    };
    let limit = AtomicU64::new(limit.min(ladder.limit()));
    let bounds = space
        .groups
        .iter()
        .map(|group| forward_bound(&bills, group));
    let bounds: Vec<u64> = bounds.collect();
    let order = places_by(bounds.iter().copied());
    control.expect(order.len() as u64);
    let found = share(
        threads,
        order.len(),
        || Ladder::new(usize::try_from(ladder.room).unwrap_or(usize::MAX)),
        |own, i| {
            let hopeful = bounds[order[i]] < limit.load(Ordering::Relaxed);
            if hopeful && !control.stopped() {
                hunt_group(
                    &bills,
                    &space.groups[order[i]],
                    own,
                    (&limit, among),
                    control,
                );
            }
            control.advance(1);
        },
    );
    for part in found {
        ladder.merge(part);
    }
}

/// Money that the speeds of a group cost at least.
fn forward_bound<M: Mask>(bills: &Bills<'_, M>, group: &HeadGroup<M>) -> u64 {
    let parts = bills.forward(group);
    let mut sizes = vec![0; bills.slots()];
    let mut things = Things::EMPTY;
    for part in &parts {
        let least = lower(part.offers.iter().map(|offer| &offer.bill));
        lay(part.slot, &least, &mut sizes);
        things = things.union(least.things);
    }
    let bars = bills.of_sizes(sizes.into_iter());
    Purse::sum(bills.of_things(&things), bars)
}

/// The least size of each seat, and the things that all share.
fn lower<'a>(bills: impl Iterator<Item = &'a Bill>) -> Bill {
    let least = bills.copied().reduce(|one, other| Bill {
        things: one.things.common(other.things),
        sizes: std::array::from_fn(|seat| one.sizes[seat].min(other.sizes[seat])),
    });
    least.unwrap_or(Bill {
        things: Things::EMPTY,
        sizes: [0; 3],
    })
}

/// Puts the sizes of a bill in its slots.
fn lay(slot: usize, bill: &Bill, sizes: &mut [Size]) {
    for (own, size) in sizes[slot..].iter_mut().zip(bill.sizes) {
        *own = (*own).max(size);
    }
}

fn hunt_group<M: Mask>(
    bills: &Bills<'_, M>,
    group: &HeadGroup<M>,
    ladder: &mut Ladder,
    (limit, among): (&AtomicU64, Among),
    control: &Control,
) {
    let mut heads: BTreeMap<Bill, Vec<usize>> = BTreeMap::new();
    for head in group.heads.clone() {
        heads
            .entry(bills.head(&bills.space.heads[head]))
            .or_default()
            .push(head);
    }
    let parts = bills.parts(group);
    for (bill, heads) in heads {
        let mut hunt = Hunt {
            bills,
            group,
            heads: &heads,
            head: bill,
            parts: &parts,
            decided: parts.len() - usize::from(among == Among::Trains && bills.has_reverse()),
            limit,
            ladder,
            control,
            nodes: 0,
        };
        let mut left = all(&parts);
        if hunt.narrow(&mut left, usize::MAX).is_some() {
            hunt.step(left);
        }
        control.add_nodes(hunt.nodes);
    }
}

/// What may be chosen under a head for so much money.
pub(super) struct Affordable<'a> {
    /// Of each role, the places in its window, ascending.
    pub(super) places: Vec<Vec<u32>>,
    of_class: &'a [usize],
    /// Of each bill of reverse pieces, whether it is.
    reverse: Vec<bool>,
}

impl Affordable<'_> {
    /// Whether a reverse piece is among it.
    pub(super) fn holds<M>(&self, piece: &Piece<M>) -> bool {
        self.reverse[self.of_class[piece.class as usize]]
    }
}

/// What may be chosen under a head in sets that cost no more than `most`, or a
/// little more; none where there is no such set.
pub(super) fn affordable<'a, M: Mask>(
    bills: &'a Bills<'_, M>,
    group: &HeadGroup<M>,
    head: &Head<M>,
    most: u64,
) -> Option<Affordable<'a>> {
    let parts = bills.parts(group);
    let limit = AtomicU64::new(most.saturating_add(1));
    let hunt = Hunt {
        bills,
        group,
        heads: &[],
        head: bills.head(head),
        parts: &parts,
        decided: parts.len(),
        limit: &limit,
        ladder: &mut Ladder::new(0),
        control: &Control::default(),
        nodes: 0,
    };
    let mut left = all(&parts);
    hunt.narrow(&mut left, usize::MAX)?;
    let roles = bills.space.roles.len();
    let places = parts[..roles].iter().zip(&left).map(|(part, own)| {
        let offers = own.offers.iter().map(|&at| &part.offers[at as usize]);
        let mut places: Vec<u32> = offers.flat_map(|offer| &offer.places).copied().collect();
        places.sort_unstable();
        places
    });
    Some(Affordable {
        places: places.collect(),
        of_class: &bills.of_class,
        reverse: bills.reverse_among(
            parts
                .get(roles)
                .zip(left.get(roles).map(|own| &own.offers[..])),
        ),
    })
}

fn all(parts: &[Part]) -> Left {
    let all = |part: &Part| {
        let offers = (0..).zip(&part.offers).map(|(at, _)| at).collect();
        Own::of(part, offers)
    };
    parts.iter().map(all).collect()
}

/// Of each part, what is left of it.
type Left = Vec<Own>;

/// Offers left of a part.
#[derive(Clone)]
struct Own {
    /// Their places.
    offers: Vec<u32>,
    /// The least of each seat, and what all of them share.
    least: Bill,
}

impl Own {
    fn of(part: &Part, offers: Vec<u32>) -> Self {
        let bills = offers.iter().map(|&at| &part.offers[at as usize].bill);
        Self {
            least: lower(bills),
            offers,
        }
    }

    const fn is_open(&self) -> bool {
        self.offers.len() > 1
    }
}

/// Costs and needs that nothing under a partial choice is below.
struct Floor {
    things: Things,
    sizes: Vec<Size>,
    /// What the sizes cost.
    of_sizes: u64,
}

struct Hunt<'a, 'b, M> {
    bills: &'a Bills<'b, M>,
    group: &'a HeadGroup<M>,
    /// Heads of one bill.
    heads: &'a [usize],
    head: Bill,
    parts: &'a [Part],
    /// How many of the parts must be decided: of a train, only its least reverse
    /// counts.
    decided: usize,
    limit: &'a AtomicU64,
    ladder: &'a mut Ladder,
    control: &'a Control,
    nodes: u64,
}

impl<M: Mask> Hunt<'_, '_, M> {
    fn limit(&self) -> u64 {
        self.limit.load(Ordering::Relaxed)
    }

    fn step(&mut self, mut left: Left) {
        self.nodes += 1;
        if self.nodes.is_multiple_of(64) && self.control.stopped() {
            return;
        }
        let Some(floor) = self.narrow(&mut left, MANY) else {
            return;
        };
        let open = left[..self.decided].iter().enumerate();
        let open = open.filter(|(_, own)| own.is_open());
        let Some((part, own)) = open.min_by_key(|(_, own)| own.offers.len()) else {
            self.record(&floor, &left);
            return;
        };
        let ways = own.offers.iter();
        let mut ways: Vec<(u64, u32)> = ways.map(|&at| (self.with(&floor, part, at), at)).collect();
        ways.sort_unstable();
        for (money, at) in ways {
            if money < self.limit() {
                let mut next = left.clone();
                next[part] = Own::of(&self.parts[part], vec![at]);
                self.step(next);
            }
        }
    }

    /// Drops what brings money up to the limit; none where nothing is left. A part
    /// of more than `many` offers waits until it is the last that is open.
    fn narrow(&self, left: &mut Left, many: usize) -> Option<Floor> {
        loop {
            let floor = self.floor(left);
            if self.money(&floor) >= self.limit() {
                return None;
            }
            let last = left.iter().filter(|own| own.is_open()).count() == 1;
            let mut changed = false;
            for (part, own) in left.iter_mut().enumerate() {
                if own.is_open() && (last || own.offers.len() <= many) {
                    changed |= self.thin(&floor, part, own);
                }
                if own.offers.is_empty() {
                    return None;
                }
            }
            if !changed {
                return Some(floor);
            }
        }
    }

    fn floor(&self, left: &Left) -> Floor {
        let mut sizes = vec![0; self.bills.slots()];
        lay(0, &self.head, &mut sizes);
        let mut things = self.head.things;
        for (part, own) in self.parts.iter().zip(left) {
            lay(part.slot, &own.least, &mut sizes);
            things = things.union(own.least.things);
        }
        Floor {
            things,
            of_sizes: self.bills.of_sizes(sizes.iter().copied()),
            sizes,
        }
    }

    fn money(&self, floor: &Floor) -> u64 {
        Purse::sum(self.bills.of_things(&floor.things), floor.of_sizes)
    }

    /// Keeps the offers of a part that stay below the limit; whether any did not.
    fn thin(&self, floor: &Floor, part: usize, own: &mut Own) -> bool {
        let limit = self.limit();
        let before = own.offers.len();
        let mut known: BTreeMap<[Size; 3], u64> = BTreeMap::new();
        own.offers.retain(|&at| {
            let bill = &self.parts[part].offers[at as usize].bill;
            let things = floor.things.union(bill.things);
            let things = self.bills.of_things(&things);
            Purse::sum(things, floor.of_sizes) < limit && {
                let of_sizes = known.entry(bill.sizes);
                let of_sizes = *of_sizes.or_insert_with(|| self.sizes_with(floor, part, bill));
                Purse::sum(things, of_sizes) < limit
            }
        });
        let changed = own.offers.len() < before;
        if changed {
            *own = Own::of(&self.parts[part], std::mem::take(&mut own.offers));
        }
        changed
    }

    /// What sizes cost where a part takes a bill.
    fn sizes_with(&self, floor: &Floor, part: usize, bill: &Bill) -> u64 {
        let mut sizes = floor.sizes.clone();
        lay(self.parts[part].slot, bill, &mut sizes);
        self.bills.of_sizes(sizes.into_iter())
    }

    /// Money where a part takes one of its offers.
    fn with(&self, floor: &Floor, part: usize, at: u32) -> u64 {
        let bill = &self.parts[part].offers[at as usize].bill;
        let things = floor.things.union(bill.things);
        let things = self.bills.of_things(&things);
        Purse::sum(things, self.sizes_with(floor, part, bill))
    }

    /// All is decided but, of a train, its reverse.
    fn record(&mut self, floor: &Floor, left: &Left) {
        let reverse = left.get(self.decided).map(|own| {
            let ways = own
                .offers
                .iter()
                .map(|&at| (self.with(floor, self.decided, at), at));
            ways.min().unwrap_or((u64::MAX, 0))
        });
        let (money, last) =
            reverse.map_or((self.money(floor), None), |(money, at)| (money, Some(at)));
        let chosen = left[..self.decided]
            .iter()
            .filter_map(|own| own.offers.first())
            .copied();
        let chosen: Vec<u32> = chosen.chain(last).collect();
        let counts = chosen.iter().zip(self.parts).take(self.decided);
        let counts = counts.map(|(&at, part)| part.offers[at as usize].count);
        let rung = Rung {
            count: counts.fold(self.heads.len() as u64, u64::saturating_mul),
            examples: self.examples(&chosen),
        };
        self.ladder.add(money, rung);
        self.limit.fetch_min(self.ladder.limit(), Ordering::Relaxed);
    }

    /// Some sets of a choice of offers.
    fn examples(&self, chosen: &[u32]) -> Vec<Set> {
        let space = self.bills.space;
        let offer = |part: usize| &self.parts[part].offers[chosen[part] as usize];
        let example = |number: usize| {
            let mut rest = number;
            let mut digit = |radix: usize| {
                let own = rest % radix;
                rest /= radix;
                own
            };
            let pair = |r: usize| {
                let places = &offer(r).places;
                let place = places[digit(places.len())];
                space.window(self.group, r)[place as usize].pair
            };
            let pairs = (0..space.roles.len()).map(pair).collect();
            let head = self.heads[digit(self.heads.len())];
            (rest == 0).then(|| Set {
                centre_distance: space.centres,
                head: space.heads[head].pair,
                pairs,
                reverse: space
                    .reverses
                    .as_ref()
                    .and_then(|_| offer(space.roles.len()).gears),
            })
        };
        (0..EXAMPLES).map_while(example).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_take_the_least_of_each_seat_and_what_all_share() {
        let bill = |cutters: &[usize], sizes| Bill {
            things: cutters.iter().fold(Things::EMPTY, |all, &c| all.with(c)),
            sizes,
        };
        let bills = [bill(&[1, 2], [5, 9, 0]), bill(&[2, 3], [7, 4, 0])];
        let mut sizes = [3, 0, 0, 0];
        let least = lower(bills.iter());
        assert_eq!(least, bill(&[2], [5, 4, 0]));
        lay(1, &least, &mut sizes);
        assert_eq!(sizes, [3, 5, 4, 0]);
        assert_eq!(lower([].iter()), bill(&[], [0; 3]));
    }
}

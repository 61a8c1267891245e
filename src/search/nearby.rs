//! Good sets found quickly: from known sets by changing one thing at a time.
//!
//! Proves nothing. It gives the exact ranking a limit to start from: N real
//! sets, of which the N-th best is at least that good.

use super::best::Entry;
use super::mask::Mask;
use super::quest::{Among, Quest};
use super::reverses::Piece;
use super::scale::Key;
use super::sorting::sort_by_numbers;
use super::space::{HeadGroup, Space};
use super::store::Values;
use crate::train::{Pair, ReverseGears, Set};
use std::collections::{BTreeMap, BTreeSet};

/// Tries after which a full pool is good enough: these, and one more for so
/// many places.
const ENOUGH_TRIES: usize = 256;
const ROOM_PER_TRY: usize = 64;

/// A set as places in a space.
#[derive(Clone, Debug)]
struct Spot {
    group: usize,
    head: usize,
    places: Vec<u32>,
    reverse: Option<ReverseGears>,
}

/// The best sets (or trains) met, without repeats.
#[derive(Debug)]
pub(super) struct Pool {
    room: usize,
    among: Among,
    entries: BTreeSet<Entry>,
    /// The best of those that nobody looked around of yet, kept apart: to find
    /// them among all would take longer than to look.
    fresh: BTreeSet<Entry>,
    /// How many of them there is time for.
    tries: usize,
    /// The entry of each forward train, where only one a train may stand.
    of_train: BTreeMap<Set, Entry>,
}

impl Pool {
    pub(super) fn new(room: usize, among: Among) -> Self {
        Self {
            room,
            among,
            entries: BTreeSet::new(),
            fresh: BTreeSet::new(),
            tries: 0,
            of_train: BTreeMap::new(),
        }
    }

    /// The key of the last place, once all places are taken.
    pub(super) fn ceiling(&self) -> Option<Key> {
        let last = self.entries.last()?;
        (self.entries.len() >= self.room).then_some(last.key)
    }

    fn admits(&self, key: &Key) -> bool {
        self.ceiling().is_none_or(|last| *key < last)
    }

    fn offer(&mut self, entry: Entry) {
        if self.among == Among::Trains {
            let train = entry.set.train();
            match self.of_train.get(&train) {
                Some(known) if *known <= entry => return,
                Some(known) => {
                    self.entries.remove(known);
                    self.fresh.remove(known);
                }
                None => {}
            }
            self.of_train.insert(train, entry.clone());
        }
        if self.entries.insert(entry.clone()) {
            self.fresh.insert(entry);
            if self.fresh.len() > self.tries {
                self.fresh.pop_last();
            }
        }
        if self.entries.len() > self.room
            && let Some(last) = self.entries.pop_last()
        {
            self.fresh.remove(&last);
        }
    }
}

/// What one role, or the reverse, brings to a set.
#[derive(Clone, Copy)]
struct Part<M> {
    error: u64,
    volume: u64,
    mask: M,
}

impl<M: Mask> Part<M> {
    const NONE: Self = Self {
        error: 0,
        volume: 0,
        mask: M::EMPTY,
    };

    fn and(self, other: Self) -> Self {
        Self {
            error: self.error.max(other.error),
            volume: self.volume + other.volume,
            mask: self.mask.union(other.mask),
        }
    }

    fn values(self, space: &Space<M>) -> Values {
        space.values(self.error, self.volume, self.mask)
    }
}

/// Fills `pool` from `starts`, those of them at the quest's centre distance,
/// changing one thing at a time in the best sets first, `tries` times.
pub(super) fn look_nearby<M: Mask>(
    quest: &Quest<'_, M>,
    starts: &[Set],
    tries: usize,
    pool: &mut Pool,
) {
    let mut search = Nearby {
        quest,
        pieces: BTreeMap::new(),
        done: BTreeSet::new(),
    };
    let here = starts
        .iter()
        .filter(|set| set.centre_distance == quest.space.centres);
    let mut begin: Vec<Entry> = here.filter_map(|set| search.entry(set)).collect();
    begin.sort();
    begin.truncate(tries);
    // What another distance left is of no use at this one.
    pool.fresh.clear();
    pool.tries = tries;
    for entry in &begin {
        search.expand(&entry.set, pool);
    }
    // Once the pool is full, the last of many tries lower its ceiling less than
    // they cost.
    let enough = ENOUGH_TRIES + pool.room / ROOM_PER_TRY;
    for done in 0..tries {
        if done >= enough && pool.ceiling().is_some() {
            break;
        }
        let Some(next) = pool.fresh.pop_first() else {
            break;
        };
        search.expand(&next.set, pool);
    }
}

/// The values of a set of the quest's centre distance.
pub(super) fn values_of<M: Mask>(quest: &Quest<'_, M>, set: &Set) -> Option<Values> {
    let search = Nearby {
        quest,
        pieces: BTreeMap::new(),
        done: BTreeSet::new(),
    };
    search.entry(set).map(|entry| entry.values)
}

struct Nearby<'a, 'q, M> {
    quest: &'a Quest<'q, M>,
    /// Reverse pieces by volume, per group.
    pieces: BTreeMap<usize, Vec<Piece<M>>>,
    done: BTreeSet<Set>,
}

impl<M: Mask> Nearby<'_, '_, M> {
    fn entry(&self, set: &Set) -> Option<Entry> {
        let spot = find(self.quest.space, set)?;
        let parts = self.parts(&spot);
        let whole = parts.iter().fold(Part::NONE, |sum, &part| sum.and(part));
        let values = whole.values(self.quest.space);
        Some(Entry {
            key: self.quest.scale.key(values),
            set: set.clone(),
            values,
        })
    }

    fn part(&self, group: &HeadGroup<M>, r: usize, place: u32) -> Part<M> {
        let option = &self.quest.space.window(group, r)[place as usize];
        let target = self.quest.space.roles[r].target;
        Part {
            error: group.ratio.then(option.ratio).error(target).to_bits(),
            volume: option.volume,
            mask: option.mask,
        }
    }

    /// The parts of a set: its roles, its head, its reverse.
    fn parts(&self, spot: &Spot) -> Vec<Part<M>> {
        let space = self.quest.space;
        let group = &space.groups[spot.group];
        let head = &space.heads[spot.head];
        let roles = spot.places.iter().enumerate();
        let mut parts: Vec<_> = roles
            .map(|(r, &place)| self.part(group, r, place))
            .collect();
        parts.push(Part {
            error: 0,
            volume: head.volume,
            mask: head.mask,
        });
        parts.push(self.reverse_part(group, spot.reverse));
        parts
    }

    fn reverse_part(&self, group: &HeadGroup<M>, gears: Option<ReverseGears>) -> Part<M> {
        let (Some(gears), Some(reverses)) = (gears, &self.quest.space.reverses) else {
            return Part::NONE;
        };
        let Some(piece) = self.quest.space.piece_of(group, gears) else {
            return Part::NONE;
        };
        let volume = reverses
            .idlers(piece)
            .find(|&(idler, _)| idler == gears.idler);
        Part {
            error: 0,
            volume: volume.map_or(0, |(_, v)| v),
            mask: piece.mask,
        }
    }

    /// Offers every set that differs from `set` in one thing.
    fn expand(&mut self, set: &Set, pool: &mut Pool) {
        if !self.done.insert(set.clone()) {
            return;
        }
        let Some(spot) = find(self.quest.space, set) else {
            return;
        };
        let parts = self.parts(&spot);
        let without = |skip: usize| {
            let others = parts.iter().enumerate().filter(|&(i, _)| i != skip);
            others.fold(Part::NONE, |sum, (_, &part)| sum.and(part))
        };
        let group = &self.quest.space.groups[spot.group];
        for r in 0..spot.places.len() {
            let others = without(r);
            for (place, _) in (0_u32..).zip(self.quest.space.window(group, r)) {
                let whole = others.and(self.part(group, r, place));
                let mut places = spot.places.clone();
                places[r] = place;
                self.offer(
                    whole,
                    &Spot {
                        places,
                        ..spot.clone()
                    },
                    pool,
                );
            }
        }
        let others = without(spot.places.len());
        for head in group.heads.clone() {
            let h = &self.quest.space.heads[head];
            let whole = others.and(Part {
                error: 0,
                volume: h.volume,
                mask: h.mask,
            });
            self.offer(
                whole,
                &Spot {
                    head,
                    ..spot.clone()
                },
                pool,
            );
        }
        if self.quest.space.reverses.is_some() {
            self.change_reverse(&spot, without(parts.len() - 1), pool);
        }
    }

    fn change_reverse(&mut self, spot: &Spot, others: Part<M>, pool: &mut Pool) {
        let space = self.quest.space;
        let Some(reverses) = &space.reverses else {
            return;
        };
        let group = &space.groups[spot.group];
        let trains = self.quest.among == Among::Trains;
        let pieces = self.pieces.remove(&spot.group);
        let pieces = pieces.unwrap_or_else(|| self.pieces_of(group));
        // Of the many sizes that money tells apart, those that the same cutters cut
        // are enough.
        let own = others.and(self.reverse_part(group, spot.reverse)).mask;
        let few = space.meter.tells_seats();
        let near = |piece: &&Piece<M>| !few || piece.mask.without_fine().within(&own);
        for piece in pieces.iter().filter(near) {
            let least = Part {
                volume: others.volume + piece.volume,
                ..others
            };
            if !pool.admits(&self.quest.scale.key(least.values(space))) {
                break;
            }
            let most = if trains { 1 } else { usize::MAX };
            for (idler, volume) in reverses.idlers(piece).take(most) {
                let whole = others.and(Part {
                    error: 0,
                    volume,
                    mask: piece.mask,
                });
                if !pool.admits(&self.quest.scale.key(whole.values(space))) {
                    break;
                }
                let reverse = Some(reverses.gears(piece, idler));
                self.offer(
                    whole,
                    &Spot {
                        reverse,
                        ..spot.clone()
                    },
                    pool,
                );
            }
        }
        self.pieces.insert(spot.group, pieces);
    }

    fn pieces_of(&self, group: &HeadGroup<M>) -> Vec<Piece<M>> {
        if self.quest.among == Among::Trains {
            // Of a train only its best reverse counts, and that is among these.
            return self.quest.space.leading_pieces(group).to_vec();
        }
        let mut pieces: Vec<_> = self.quest.space.pieces(group).copied().collect();
        sort_by_numbers(&mut pieces, Piece::in_order);
        pieces
    }

    fn listed_before(&self, spot: &Spot) -> bool {
        let group = &self.quest.space.groups[spot.group];
        let head = self.quest.space.heads[spot.head].mask;
        let roles = spot.places.iter().enumerate();
        let mask_of =
            |(r, &place): (usize, &u32)| self.quest.space.window(group, r)[place as usize].mask;
        let train = roles.map(mask_of).fold(head, Mask::union);
        self.quest.listed_before(group, train)
    }

    fn offer(&self, whole: Part<M>, spot: &Spot, pool: &mut Pool) {
        let values = whole.values(self.quest.space);
        let key = self.quest.scale.key(values);
        let space = self.quest.space;
        let group = &space.groups[spot.group];
        let asked = self.quest.asks_for(&values);
        if asked && pool.admits(&key) && !self.listed_before(spot) {
            let places = spot.places.iter().enumerate();
            let pair = |(r, &place): (usize, &u32)| space.window(group, r)[place as usize].pair;
            let set = Set {
                centre_distance: space.centres,
                head: space.heads[spot.head].pair,
                pairs: places.map(pair).collect(),
                reverse: spot.reverse,
            };
            pool.offer(Entry { key, set, values });
        }
    }
}

/// Where a set stands in a space.
fn find<M: Mask>(space: &Space<M>, set: &Set) -> Option<Spot> {
    let head = space.heads.iter().position(|head| head.pair == set.head)?;
    let mut groups = space.groups.iter().enumerate();
    let (group, places) = groups.find_map(|(g, group)| {
        let has = |gears| space.piece_of(group, gears).is_some();
        let holds = group.heads.contains(&head) && set.reverse.is_none_or(has);
        let places = || places(space, group, set);
        Some((g, holds.then(places).flatten()?))
    })?;
    Some(Spot {
        group,
        head,
        places,
        reverse: set.reverse,
    })
}

/// The places of a set's pairs in the windows of a group; none when one is in
/// none of them.
fn places<M: Mask>(space: &Space<M>, group: &HeadGroup<M>, set: &Set) -> Option<Vec<u32>> {
    let of_role = |(r, pair): (usize, &Pair)| {
        let window = space.window(group, r);
        let place = window.iter().position(|option| option.pair == *pair)?;
        u32::try_from(place).ok()
    };
    set.pairs.iter().enumerate().map(of_role).collect()
}

//! The first sets in set order that have given values.
//!
//! Heads, then roles in file order, then reverse gears, each ascending, so that
//! the first hit is the first in set order. A partial choice is dropped when the
//! values can no longer be met exactly.

use super::control::Control;
use super::head::{Choice, Choices};
use super::mask::Mask;
use super::space::{Head, HeadGroup, Space};
use super::store::Values;
use crate::problem::Measure;
use crate::train::{Pair, ReverseGears, Set};

/// The values a set must have, in the measures that matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Wanted {
    error: Option<u64>,
    volume: Option<u64>,
    cutters: Option<u32>,
}

impl Wanted {
    pub(super) fn new(values: Values, measures: &[Measure]) -> Self {
        let has = |measure| measures.contains(&measure);
        Self {
            error: has(Measure::WorstError).then_some(values.error),
            volume: has(Measure::BlankVolume).then_some(values.volume),
            cutters: has(Measure::DistinctCutters).then_some(values.cutters),
        }
    }
}

/// The first `count` sets of a centre distance with the wanted values that come
/// before `before` in set order; all that were found when stopped.
pub(super) fn first_sets<M: Mask>(
    space: &Space<M>,
    wanted: Wanted,
    count: usize,
    before: Option<&Set>,
    control: &Control,
) -> Vec<Set> {
    let mut order: Vec<(Option<Pair>, usize, usize)> = Vec::with_capacity(space.heads.len());
    for (g, group) in space.groups.iter().enumerate() {
        order.extend(group.heads.clone().map(|h| (space.heads[h].pair, g, h)));
    }
    order.sort_unstable();
    let mut found = Vec::new();
    for (pair, g, h) in order {
        let late = before.is_some_and(|set| (space.centres, pair) > (set.centre_distance, set.head));
        if found.len() >= count || late || control.stopped() {
            break;
        }
        let (group, head) = (&space.groups[g], &space.heads[h]);
        if may_hold(space, group, head, wanted) {
            let room = count - found.len();
            found.extend(Trail::follow(space, group, head, wanted, room, before, control));
        }
    }
    found
}

/// A quick look whether a head can have the wanted values at all.
fn may_hold<M: Mask>(space: &Space<M>, group: &HeadGroup, head: &Head<M>, wanted: Wanted) -> bool {
    let few = wanted.cutters.is_none_or(|k| head.mask.count() <= k);
    let small = wanted.volume.is_none_or(|volume| {
        let roles = space.roles.iter().zip(&group.windows);
        let least: u64 = roles.map(|(r, w)| space.lists[r.list].least_volume(w)).sum();
        head.volume + least + space.least_reverse(group) <= volume
    });
    few && small
}

/// One way through the reverse of a head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Way<M> {
    volume: u64,
    gears: ReverseGears,
    mask: M,
}

/// What the roles from some step on can still do.
#[derive(Clone, Copy, Debug, Default)]
struct Ahead {
    least: u64,
    most: u64,
    /// Whether one of them can have the wanted error itself.
    hits: bool,
}

/// A walk under one head.
struct Trail<'a, M> {
    space: &'a Space<M>,
    group: &'a HeadGroup,
    head: &'a Head<M>,
    wanted: Wanted,
    roles: Vec<Vec<(Choice<M>, bool)>>,
    ahead: Vec<Ahead>,
    ways: Vec<Way<M>>,
    places: Vec<u32>,
    found: Vec<Set>,
    room: usize,
    before: Option<&'a Set>,
    control: &'a Control,
    nodes: u64,
}

impl<'a, M: Mask> Trail<'a, M> {
    fn follow(
        space: &'a Space<M>,
        group: &'a HeadGroup,
        head: &'a Head<M>,
        wanted: Wanted,
        room: usize,
        before: Option<&'a Set>,
        control: &'a Control,
    ) -> Vec<Set> {
        let fits = |mask: M| wanted.cutters.is_none_or(|k| head.mask.union(mask).count() <= k);
        let Some(choices) = Choices::new(space, group, fits) else { return Vec::new() };
        let mut roles = Vec::with_capacity(choices.roles.len());
        for (r, role) in choices.roles.iter().enumerate() {
            let window = space.window(group, r);
            let mut kept: Vec<_> = role
                .iter()
                .map(|&choice| (choice, choices.levels[choice.level as usize]))
                .filter(|&(_, error)| wanted.error.is_none_or(|limit| error <= limit))
                .map(|(choice, error)| (choice, Some(error) == wanted.error))
                .collect();
            kept.sort_unstable_by_key(|(choice, _)| window[choice.place as usize].pair);
            if kept.is_empty() {
                return Vec::new();
            }
            roles.push(kept);
        }
        let hits_alone = wanted.error.is_none_or(|error| error == choices.levels[0]);
        let mut trail = Self {
            places: vec![0; roles.len()],
            ahead: Vec::new(),
            ways: Vec::new(),
            found: Vec::new(),
            nodes: 0,
            space,
            group,
            head,
            wanted,
            roles,
            room,
            before,
            control,
        };
        trail.look_ahead();
        trail.step(0, head.volume, head.mask, hits_alone && trail.roles.is_empty());
        control.add_nodes(trail.nodes);
        trail.found
    }

    /// Fills `ways` and `ahead`, from the last role back.
    fn look_ahead(&mut self) {
        let forward: u64 =
            self.roles.iter().map(|r| r.iter().map(|(c, _)| c.volume).min().unwrap_or(0)).sum();
        let limit = self.wanted.volume.map(|v| v.saturating_sub(self.head.volume + forward));
        self.ways = self.ways_up_to(limit);
        let volumes = || self.ways.iter().map(|w| w.volume);
        let mut ahead = Ahead {
            least: volumes().min().unwrap_or(0),
            most: volumes().max().unwrap_or(0),
            hits: self.wanted.error.is_none(),
        };
        let mut all = vec![ahead];
        for role in self.roles.iter().rev() {
            let volumes = || role.iter().map(|(c, _)| c.volume);
            ahead.least += volumes().min().unwrap_or(0);
            ahead.most += volumes().max().unwrap_or(0);
            ahead.hits |= role.iter().any(|&(_, hit)| hit);
            all.push(ahead);
        }
        all.reverse();
        self.ahead = all;
    }

    /// The reverse gearings up to a volume: by volume where it matters, so that
    /// those of one volume stand together, else in set order.
    fn ways_up_to(&self, limit: Option<u64>) -> Vec<Way<M>> {
        let Some(reverses) = &self.space.reverses else { return Vec::new() };
        let mut ways = Vec::new();
        for piece in self.space.pieces(self.group) {
            let mask = piece.mask.union(self.head.mask);
            if self.wanted.cutters.is_some_and(|k| mask.count() > k) {
                continue;
            }
            let idlers = reverses.idlers(piece);
            let small = idlers.take_while(|&(_, volume)| limit.is_none_or(|limit| volume <= limit));
            ways.extend(small.map(|(idler, volume)| Way {
                volume,
                gears: reverses.gears(piece, idler),
                mask: piece.mask,
            }));
        }
        match limit {
            Some(_) => ways.sort_unstable_by_key(|w| (w.volume, w.gears)),
            None => ways.sort_unstable_by_key(|w| w.gears),
        }
        ways
    }

    fn step(&mut self, depth: usize, volume: u64, mask: M, hit: bool) {
        let ahead = self.ahead[depth];
        let volume_fits = self.wanted.volume.is_none_or(|wanted| {
            volume + ahead.least <= wanted && wanted <= volume + ahead.most
        });
        let cutters_fit = self.wanted.cutters.is_none_or(|k| mask.count() <= k);
        if !volume_fits || !cutters_fit || !(hit || ahead.hits) {
            return;
        }
        if depth == self.roles.len() {
            self.end(volume, mask);
            return;
        }
        for i in 0..self.roles[depth].len() {
            self.nodes += 1;
            let stop = self.nodes.is_multiple_of(4096) && self.control.stopped();
            if self.found.len() >= self.room || stop {
                return;
            }
            let (choice, hits) = self.roles[depth][i];
            self.places[depth] = choice.place;
            self.step(depth + 1, volume + choice.volume, mask.union(choice.mask), hit || hits);
        }
    }

    fn end(&mut self, volume: u64, mask: M) {
        if self.space.reverses.is_none() {
            self.take(mask, None);
            return;
        }
        let run = match self.wanted.volume {
            Some(wanted) => {
                let rest = wanted - volume;
                let start = self.ways.partition_point(|w| w.volume < rest);
                start..start + self.ways[start..].partition_point(|w| w.volume == rest)
            }
            None => 0..self.ways.len(),
        };
        for i in run {
            if self.found.len() >= self.room {
                return;
            }
            let way = self.ways[i];
            self.take(mask.union(way.mask), Some(way.gears));
        }
    }

    fn take(&mut self, mask: M, reverse: Option<ReverseGears>) {
        if self.wanted.cutters.is_some_and(|k| mask.count() != k) {
            return;
        }
        let pair = |(r, &place): (usize, &u32)| self.space.window(self.group, r)[place as usize].pair;
        let set = Set {
            centre_distance: self.space.centres,
            head: self.head.pair,
            pairs: self.places.iter().enumerate().map(pair).collect(),
            reverse,
        };
        if self.before.is_none_or(|before| set < *before) {
            self.found.push(set);
        } else {
            // Later sets only come later.
            self.room = self.found.len();
        }
    }
}

//! The first sets in set order that have given values.
//!
//! Heads, then roles in file order, then reverse gears, each ascending, so that
//! the first hit is the first in set order. A partial choice is dropped unless
//! it can be completed within the wanted values. Sets within them that do not
//! have them exactly rank before those that do, so there are few of them.

use super::control::Control;
use super::head::{Choice, Choices};
use super::mask::Mask;
use super::meter::{EXTRAS, place_of};
use super::outlook::{Completion, Limits, Outlook};
use super::sorting::{of_pair, of_reverse, sort_by_numbers};
use super::space::{Head, HeadGroup, Space};
use super::store::{Values, volume_at};
use crate::problem::Measure;
use crate::train::{Pair, ReverseGears, Set};

/// The values a set must have, in the measures that matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Wanted {
    error: Option<u64>,
    volume: Option<u64>,
    cutters: Option<u32>,
    extras: [Option<u64>; EXTRAS],
}

impl Wanted {
    pub(super) fn new(values: Values, measures: &[Measure]) -> Self {
        let has = |measure| measures.contains(&measure);
        let mut extras = [None; EXTRAS];
        for place in measures.iter().filter_map(|&m| place_of(m)) {
            extras[place] = Some(values.extras[place]);
        }
        Self {
            extras,
            error: has(Measure::WorstError).then_some(values.error),
            volume: has(Measure::BlankVolume).then_some(values.volume),
            cutters: has(Measure::DistinctCutters).then_some(values.cutters),
        }
    }

    /// Whether values as good as `floor` are good enough.
    pub(super) fn above(self, floor: Values) -> bool {
        self.error.is_none_or(|error| floor.error <= error)
            && self.volume.is_none_or(|volume| floor.volume <= volume)
            && self.cutters.is_none_or(|cutters| floor.cutters <= cutters)
    }

    /// Whether a choice may be part of such a set, as far as needs go.
    fn admits<M: Mask>(self, space: &Space<M>, mask: M) -> bool {
        let few = self.cutters.is_none_or(|k| mask.count() <= k);
        few && (!self.wants_extras() || self.holds(space, mask, |own, wanted| own <= wanted))
    }

    fn wants_extras(self) -> bool {
        self.extras != [None; EXTRAS]
    }

    /// Whether every wanted extra holds against a choice's own.
    fn holds<M: Mask>(self, space: &Space<M>, mask: M, test: fn(u64, u64) -> bool) -> bool {
        let own = space.meter.extras(&mask);
        let mut each = self.extras.iter().zip(own);
        each.all(|(wanted, own)| wanted.is_none_or(|wanted| test(own, wanted)))
    }

    /// Whether some of these completions of a choice is within the values.
    fn completes<M: Mask>(
        self,
        space: &Space<M>,
        ends: &[Completion<M>],
        (volume, mask): (u64, M),
    ) -> bool {
        ends.iter().any(|end| {
            self.volume
                .is_none_or(|wanted| volume + end.volume <= wanted)
                && self.admits(space, mask.union(end.mask))
        })
    }

    /// The greatest volume of a set with this many cutters.
    fn most_volume(self, cutters: u32) -> u64 {
        match self.cutters {
            Some(wanted) if cutters > wanted => 0,
            _ => self.volume.unwrap_or(u64::MAX),
        }
    }

    /// The limits that [`Wanted::most_volume`] is part of.
    fn limits(self, most: &dyn Fn(u64, u32) -> u64) -> Limits<'_> {
        Limits {
            most,
            most_extras: self.extras.map(|wanted| wanted.unwrap_or(u64::MAX)),
            volume_counts: self.volume.is_some(),
            needs_count: self.cutters.is_some() || self.wants_extras(),
            tell_cutters: true,
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
    for same in order.chunk_by(|x, y| x.0 == y.0) {
        let pair = same[0].0;
        let late =
            before.is_some_and(|set| (space.centres, pair) > (set.centre_distance, set.head));
        if found.len() >= count || late || control.stopped() {
            break;
        }
        let room = count - found.len();
        let mut of_head = Vec::new();
        for &(_, g, h) in same {
            let (group, head) = (&space.groups[g], &space.heads[h]);
            if may_hold(space, group, head, wanted) {
                of_head.extend(Trail::follow(
                    space, group, head, wanted, room, before, control,
                ));
            }
        }
        if same.len() > 1 {
            // Where gears are shared, each group of a head is in set order, but
            // they run through each other.
            of_head.sort_unstable();
            of_head.truncate(room);
        }
        found.extend(of_head);
    }
    found
}

/// A quick look whether a head can have the wanted values at all.
fn may_hold<M: Mask>(
    space: &Space<M>,
    group: &HeadGroup<M>,
    head: &Head<M>,
    wanted: Wanted,
) -> bool {
    let few = wanted.admits(space, head.mask);
    let error = wanted.error.unwrap_or(u64::MAX);
    // The worst error of a set is that of some pair of it.
    let met = wanted
        .error
        .is_none_or(|error| space.may_have_error(group, error));
    let small = head
        .volume
        .checked_add(volume_at(space.steps(group), error));
    let small = small.is_some_and(|least| wanted.volume.is_none_or(|volume| least <= volume));
    few && small && met
}

/// One way through the reverse of a head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Way<M> {
    volume: u64,
    gears: ReverseGears,
    mask: M,
}

/// A walk under one head.
struct Trail<'a, M> {
    space: &'a Space<M>,
    group: &'a HeadGroup<M>,
    head: &'a Head<M>,
    wanted: Wanted,
    /// Per role its choices in set order, each with its error.
    roles: Vec<Vec<(Choice<M>, u64)>>,
    outlook: Outlook<M>,
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
        group: &'a HeadGroup<M>,
        head: &'a Head<M>,
        wanted: Wanted,
        room: usize,
        before: Option<&'a Set>,
        control: &'a Control,
    ) -> Vec<Set> {
        let fits = |mask: M| wanted.admits(space, head.mask.union(mask));
        let Some(mut choices) = space.choices(group, &fits) else {
            return Vec::new();
        };
        let Some(least_reverse) = space.least_fitting_reverse(group, &fits) else {
            return Vec::new();
        };
        let more = |choices: &Choices<M>| match wanted.error {
            Some(_) => choices.more_at_last(),
            None => 0,
        };
        let least = |choices: &Choices<M>| {
            head.volume + choices.least_volume() + least_reverse + more(choices)
        };
        if !choices.limit_errors(wanted.error.unwrap_or(u64::MAX))
            || wanted
                .error
                .is_some_and(|error| choices.levels.last() != Some(&error))
            || wanted.volume.is_some_and(|volume| least(&choices) > volume)
        {
            return Vec::new();
        }
        let order: Vec<usize> = (0..choices.roles.len()).collect();
        let outlook = Outlook::new(
            space,
            head,
            &choices,
            &order,
            space.leading_pieces(group),
            &wanted.limits(&|_, cutters| wanted.most_volume(cutters)),
            control,
        );
        if !wanted.completes(space, outlook.from(0), (head.volume, head.mask)) {
            return Vec::new();
        }
        let roles = choices.roles.iter().enumerate().map(|(r, role)| {
            let window = space.window(group, r);
            let level = |choice: &Choice<M>| choices.levels[choice.level as usize];
            let mut all: Vec<_> = role.iter().map(|choice| (*choice, level(choice))).collect();
            sort_by_numbers(&mut all, |(choice, _)| {
                [of_pair(window[choice.place as usize].pair), 0, 0, 0]
            });
            all
        });
        let mut trail = Self {
            roles: roles.collect(),
            places: vec![0; choices.roles.len()],
            ways: Vec::new(),
            found: Vec::new(),
            nodes: 0,
            outlook,
            space,
            group,
            head,
            wanted,
            room,
            before,
            control,
        };
        trail.ways = trail.ways_up_to(trail.most_reverse(&choices));
        trail.step(0, head.volume, head.mask, choices.levels[0]);
        control.add_nodes(trail.nodes);
        trail.found
    }

    /// The greatest volume that leaves room for the least of all roles.
    fn most_reverse(&self, choices: &Choices<M>) -> Option<u64> {
        let forward = self.head.volume + choices.least_volume();
        self.wanted
            .volume
            .map(|volume| volume.saturating_sub(forward))
    }

    /// Whether a partial choice can be completed within the wanted values.
    fn hopeful(&self, depth: usize, volume: u64, mask: M) -> bool {
        let ends = self.outlook.from(depth);
        self.wanted.completes(self.space, ends, (volume, mask))
    }

    /// The reverse gearings up to a volume: by volume where it matters, so that
    /// those of one volume stand together, else in set order.
    fn ways_up_to(&self, limit: Option<u64>) -> Vec<Way<M>> {
        let Some(reverses) = &self.space.reverses else {
            return Vec::new();
        };
        let mut ways = Vec::new();
        for piece in self.space.pieces(self.group) {
            let mask = piece.mask.union(self.head.mask);
            if !self.wanted.admits(self.space, mask) {
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
        sort_by_numbers(&mut ways, |way| {
            let volume = limit.map_or(0, |_| way.volume);
            let [first, second] = of_reverse(way.gears);
            [volume, first, second, 0]
        });
        ways
    }

    fn step(&mut self, depth: usize, volume: u64, mask: M, error: u64) {
        if depth == self.roles.len() {
            if self.wanted.error.is_none_or(|wanted| wanted == error) {
                self.end(volume, mask);
            }
            return;
        }
        for i in 0..self.roles[depth].len() {
            self.nodes += 1;
            let stop = self.nodes.is_multiple_of(4096) && self.control.stopped();
            if self.found.len() >= self.room || stop {
                return;
            }
            let (choice, own) = self.roles[depth][i];
            let (volume, mask) = (volume + choice.volume, mask.union(choice.mask));
            if self.hopeful(depth + 1, volume, mask) {
                self.places[depth] = choice.place;
                self.step(depth + 1, volume, mask, error.max(own));
            }
        }
    }

    fn end(&mut self, volume: u64, mask: M) {
        if self.space.reverses.is_none() {
            if self.wanted.volume.is_none_or(|wanted| wanted == volume) {
                self.take(mask, None);
            }
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
        let exact = self.wanted.cutters.is_none_or(|k| mask.count() == k);
        let alike = |own, wanted| own == wanted;
        if !exact || (self.wanted.wants_extras() && !self.wanted.holds(self.space, mask, alike)) {
            return;
        }
        let pair =
            |(r, &place): (usize, &u32)| self.space.window(self.group, r)[place as usize].pair;
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

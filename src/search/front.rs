//! The exact front: every unbeaten combination of worst error, blank volume
//! and number of cutters.
//!
//! First each head is swept by error with cutters ignored: every step is a real
//! set, and the steps together are the front in error and volume alone. Then
//! come passes with a rising limit on the cutters. A pass has nothing to find
//! once its staircase lies on that cutter-free front, and neither has any later
//! one. Inside a pass a head's roles are merged one by one; a partial choice is
//! dropped when, at no error it may still end at, the least volume of the
//! missing roles brings it under the staircase.

use super::control::Control;
use super::head::{Choice, Choices};
use super::mask::Mask;
use super::rest::{Rest, State};
use super::reverses::Piece;
use super::share::share;
use super::sorting::{places_by, places_by_mask, places_by_numbers, sort_by_numbers};
use super::space::{Head, HeadGroup, Space};
use super::store::{Step, Store, volume_at};
use super::terms::Within;
use crate::train::Set;

/// How far [`front`] got at one centre distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reach {
    /// Everything is proved.
    Proven,
    /// Stopped: sets with fewer than this many cutters are settled.
    Stopped { least_open_cutters: u32 },
}

impl Reach {
    /// The least number of cutters that is not settled, if any.
    pub(super) const fn open(self) -> Option<u32> {
        match self {
            Self::Proven => None,
            Self::Stopped { least_open_cutters } => Some(least_open_cutters),
        }
    }
}

/// Adds the sets of `space` that are unbeaten within its terms to `store`.
/// `whole` is a front that these terms leave a part of: nothing within them
/// reaches below it.
pub(super) fn front<M: Mask>(
    space: &Within<'_, M>,
    store: &mut Store,
    whole: Option<&Store>,
    threads: usize,
    control: &Control,
) -> Reach {
    let order = promising(space);
    let most = store_limit(space);
    let stopped_at = |cutters| Reach::Stopped {
        least_open_cutters: cutters,
    };
    let ideal = if space.terms.limit() {
        // What the terms leave of the cutter-free front is not known before.
        let reached =
            whole.is_some_and(|whole| !below(whole.stair(u32::MAX), store.stair(u32::MAX)));
        if !reached && !pass(space, &order, store, u32::MAX, threads, control) {
            return stopped_at(1);
        }
        store.stair(u32::MAX).to_vec()
    } else {
        seed(space, store, threads, control);
        ideal(space)
    };
    if control.stopped() {
        return stopped_at(1);
    }
    for cutters in 1..=most {
        if control.stopped() {
            return stopped_at(cutters);
        }
        if !below(&ideal, store.stair(cutters)) {
            // At most `cutters` cutters reach the cutter-free front already.
            break;
        }
        if whole.is_some_and(|whole| !below(whole.stair(cutters), store.stair(cutters))) {
            continue;
        }
        let finished = pass(space, &order, store, cutters, threads, control);
        if !finished {
            return stopped_at(cutters);
        }
    }
    Reach::Proven
}

fn store_limit<M>(space: &Space<M>) -> u32 {
    u32::try_from(2 + 2 * space.roles.len() + 3).unwrap_or(u32::MAX)
}

/// Whether some step of `lower` lies under `stair`.
fn below(lower: &[Step], stair: &[Step]) -> bool {
    lower
        .iter()
        .any(|step| step.volume < volume_at(stair, step.error))
}

/// The front in error and volume alone.
fn ideal<M: Mask>(space: &Space<M>) -> Vec<Step> {
    let mut all: Vec<Step> = Vec::new();
    for group in &space.groups {
        let heads = &space.heads[group.heads.clone()];
        let least = heads.iter().map(|head| head.volume).min().unwrap_or(0);
        let steps = space.steps(group).iter();
        all.extend(steps.map(|s| Step {
            volume: s.volume + least,
            ..*s
        }));
    }
    sort_by_numbers(&mut all, |s| [s.error, s.volume, 0, 0]);
    let mut front: Vec<Step> = Vec::new();
    for step in all {
        if front.last().is_none_or(|last| step.volume < last.volume) {
            front.push(step);
        }
    }
    front
}

/// Groups by the least volume they reach: the early ones tighten the staircases
/// for the rest.
fn promising<M: Mask>(space: &Space<M>) -> Vec<usize> {
    let least = |group| space.steps(group).last().map_or(u64::MAX, |s| s.volume);
    places_by(space.groups.iter().map(least))
}

/// Offers the sets that sweeping each group by error meets.
fn seed<M: Mask>(space: &Within<'_, M>, store: &mut Store, threads: usize, control: &Control) {
    let count = space.groups.len();
    control.expect(count as u64);
    let found = share(
        threads,
        count,
        || store.clone(),
        |store, g| {
            if !control.stopped() || store.stair(u32::MAX).is_empty() {
                seed_group(space, &space.groups[g], store);
            }
            control.advance(1);
        },
    );
    for part in found {
        store.merge(part);
    }
}

fn seed_group<M: Mask>(space: &Within<'_, M>, group: &HeadGroup<M>, store: &mut Store) {
    let Some(choices) = space.choices(group, &|_| true) else {
        return;
    };
    let steps = space.steps_from(group, &choices);
    for h in leading_heads(space, group) {
        let head = &space.heads[h];
        for step in steps {
            let volume = step.volume + head.volume;
            if volume < store.cap(step.error, head.mask.count().max(1)) {
                offer_least(space, group, head, &choices, step, store);
            }
        }
    }
}

/// Heads of a group that no other head of it beats in volume and cutters.
fn leading_heads<M: Mask>(space: &Space<M>, group: &HeadGroup<M>) -> Vec<usize> {
    let beats = |x: &Head<M>, y: &Head<M>| x.volume <= y.volume && x.mask.within(&y.mask);
    let order = places_by_numbers(&space.heads[group.heads.clone()], |head| {
        [head.volume, u64::from(head.mask.count()), 0, 0]
    });
    let mut leading: Vec<usize> = Vec::new();
    for h in order.iter().map(|&at| group.heads.start + at as usize) {
        if !leading
            .iter()
            .any(|&l| beats(&space.heads[l], &space.heads[h]))
        {
            leading.push(h);
        }
    }
    leading
}

/// Offers the set of least volume up to an error.
fn offer_least<M: Mask>(
    space: &Within<'_, M>,
    group: &HeadGroup<M>,
    head: &Head<M>,
    choices: &Choices<M>,
    step: &Step,
    store: &mut Store,
) {
    let mut mask = head.mask;
    let mut places = Vec::with_capacity(choices.roles.len());
    for role in &choices.roles {
        let fits = |c: &&Choice<M>| choices.levels[c.level as usize] <= step.error;
        let Some(first) = role.iter().find(fits) else {
            return;
        };
        let level_first = role
            .iter()
            .filter(fits)
            .take_while(|c| c.volume == first.volume)
            .min_by_key(|c| mask.union(c.mask).count())
            .unwrap_or(first);
        mask = mask.union(level_first.mask);
        places.push(level_first.place);
    }
    let least = space.least_reverse(group);
    let piece = space
        .leading_pieces(group)
        .iter()
        .take_while(|p| p.volume == least);
    let piece = piece.min_by_key(|p| mask.union(p.mask).count());
    let mask = piece.map_or(mask, |p| mask.union(p.mask));
    let volume = step.volume + head.volume;
    let values = space.values(step.error, volume, mask);
    store.offer(values, || build(space, group, head, &places, piece));
}

/// The set that a head, a place in each window and a reverse piece stand for.
pub(super) fn build<M: Mask>(
    space: &Space<M>,
    group: &HeadGroup<M>,
    head: &Head<M>,
    places: &[u32],
    piece: Option<&Piece<M>>,
) -> Set {
    let pair = |(r, &place): (usize, &u32)| space.window(group, r)[place as usize].pair;
    Set {
        centre_distance: space.centres,
        head: head.pair,
        pairs: places.iter().enumerate().map(pair).collect(),
        reverse: piece.and_then(|p| Some(space.reverses.as_ref()?.gears(p, p.idler_min))),
    }
}

/// Finds every unbeaten set of at most `cutters` cutters; false when stopped.
fn pass<M: Mask>(
    space: &Within<'_, M>,
    order: &[usize],
    store: &mut Store,
    cutters: u32,
    threads: usize,
    control: &Control,
) -> bool {
    control.expect(order.len() as u64);
    let found = share(
        threads,
        order.len(),
        || store.clone(),
        |store, i| {
            if !control.stopped() {
                pass_group(space, &space.groups[order[i]], store, cutters, control);
            }
            control.advance(1);
        },
    );
    for part in found {
        store.merge(part);
    }
    !control.stopped()
}

fn pass_group<M: Mask>(
    space: &Within<'_, M>,
    group: &HeadGroup<M>,
    store: &mut Store,
    cutters: u32,
    control: &Control,
) {
    for h in leading_heads(space, group) {
        let head = &space.heads[h];
        let stair = store.stair(cutters);
        let hopeful = space.fits(head.mask, cutters)
            && space
                .steps(group)
                .iter()
                .any(|s| s.volume + head.volume < volume_at(stair, s.error));
        if hopeful {
            merge_head(space, group, head, store, cutters, control);
        }
    }
}

fn merge_head<M: Mask>(
    space: &Within<'_, M>,
    group: &HeadGroup<M>,
    head: &Head<M>,
    store: &mut Store,
    cutters: u32,
    control: &Control,
) {
    let fits = |mask: M| space.fits(head.mask.union(mask), cutters);
    let Some(least_reverse) = space.least_fitting_reverse(group, &fits) else {
        return;
    };
    let Some(mut choices) = space.choices(group, &fits) else {
        return;
    };
    let least: Vec<Vec<u64>> = (0..choices.roles.len())
        .map(|r| choices.least_up_to(r))
        .collect();
    let stair = store.stair(cutters);
    let caps: Vec<u64> = choices
        .levels
        .iter()
        .map(|&e| volume_at(stair, e))
        .collect();
    // Room left at each level when every role takes its least.
    let base: Vec<u64> = (0..caps.len())
        .map(|t| least.iter().map(|l| l[t]).sum::<u64>() + head.volume + least_reverse)
        .collect();
    if !base.iter().zip(&caps).any(|(b, cap)| b < cap) {
        return;
    }
    trim(&mut choices, head, &least, &base, &caps);
    if choices.roles.iter().any(Vec::is_empty) {
        return;
    }
    let order = choices.short_first();
    let start = State {
        mask: head.mask,
        level: 0,
        volume: head.volume,
        parent: 0,
        place: 0,
        piece: 0,
    };
    let pieces = space.reverses.as_ref();
    let pieces = pieces.map(|_| space.leading_pieces(group));
    let thin_from = |depth: usize, layer: &[State<M>], room: &[u64]| {
        let coming = order[depth..].iter();
        let rest = Rest {
            roles: coming.map(|&r| &choices.roles[r][..]).collect(),
            pieces,
            least_reverse,
        };
        rest.thin(layer, room, &caps, &|mask| space.fits(mask, cutters))
    };
    // The least still to add at each level.
    let mut missing: Vec<u64> = base.iter().map(|base| base - head.volume).collect();
    let room_now = room(&caps, &|t| missing[t]);
    let mut layers = vec![thin_from(0, &[start], &room_now)];
    for (depth, &r) in order.iter().enumerate() {
        for (missing, own) in missing.iter_mut().zip(&least[r]) {
            *missing -= own;
        }
        let room = room(&caps, &|t| missing[t]);
        let role = &choices.roles[r];
        let layer = grow(space, &layers[depth], role, &room, cutters, control);
        let layer = thin_from(depth + 1, &layer, &room);
        if layer.is_empty() || control.stopped() {
            return;
        }
        layers.push(layer);
    }
    finish(
        space, group, head, store, cutters, &choices, &order, &layers, pieces,
    );
}

/// Per level, the volume below which a partial choice may still end under the
/// cap at this level or a later one, `missing` being the least still to add.
fn room(caps: &[u64], missing: &dyn Fn(usize) -> u64) -> Vec<u64> {
    let mut room = vec![0; caps.len()];
    let mut best = 0;
    for t in (0..caps.len()).rev() {
        best = best.max(caps[t].saturating_sub(missing(t)));
        room[t] = best;
    }
    room
}

/// Drops choices that cannot end under the caps even when all others take
/// their least, then those that another choice of the role beats.
fn trim<M: Mask>(
    choices: &mut Choices<M>,
    head: &Head<M>,
    least: &[Vec<u64>],
    base: &[u64],
    caps: &[u64],
) {
    for (role, own) in choices.roles.iter_mut().zip(least) {
        let room = room(caps, &|t| base[t] - own[t]);
        let mut kept: Vec<Choice<M>> = Vec::new();
        for choice in role.iter() {
            let mask = head.mask.union(choice.mask);
            let beaten = |k: &Choice<M>| k.level <= choice.level && k.mask.within(&mask);
            if choice.volume < room[choice.level as usize] && !kept.iter().any(beaten) {
                kept.push(Choice { mask, ..*choice });
            }
        }
        *role = kept;
    }
}

fn grow<M: Mask>(
    space: &Within<'_, M>,
    layer: &[State<M>],
    role: &[Choice<M>],
    room: &[u64],
    cutters: u32,
    control: &Control,
) -> Vec<State<M>> {
    let mut grown = Vec::new();
    for (parent, state) in (0_u32..).zip(layer) {
        if parent.is_multiple_of(256) && control.stopped() {
            return Vec::new();
        }
        for choice in role {
            let volume = state.volume + choice.volume;
            // Choices come by rising volume, and room shrinks with the level.
            if volume >= room[state.level as usize] {
                break;
            }
            let level = state.level.max(choice.level);
            let mask = state.mask.union(choice.mask);
            if volume < room[level as usize] && space.fits(mask, cutters) {
                grown.push(State {
                    mask,
                    level,
                    volume,
                    parent,
                    place: choice.place,
                    piece: state.piece,
                });
            }
        }
    }
    control.add_nodes(grown.len() as u64);
    let order = places_by_mask(&grown, |s| &s.mask, |s| [u64::from(s.level), s.volume]);
    let mut kept: Vec<State<M>> = Vec::new();
    for state in order.iter().map(|&at| grown[at as usize]) {
        let beaten = kept
            .last()
            .is_some_and(|k| k.mask == state.mask && k.volume <= state.volume);
        if !beaten {
            kept.push(state);
        }
    }
    kept
}

#[allow(
    clippy::too_many_arguments,
    reason = "the last step needs all that the merge made"
)]
fn finish<M: Mask>(
    space: &Within<'_, M>,
    group: &HeadGroup<M>,
    head: &Head<M>,
    store: &mut Store,
    cutters: u32,
    choices: &Choices<M>,
    order: &[usize],
    layers: &[Vec<State<M>>],
    pieces: Option<&[Piece<M>]>,
) {
    let places = |mut at: usize| {
        let mut places = vec![0; order.len()];
        for depth in (0..order.len()).rev() {
            let state = &layers[depth + 1][at];
            places[order[depth]] = state.place;
            at = state.parent as usize;
        }
        places
    };
    for (at, state) in layers[order.len()].iter().enumerate() {
        let error = choices.levels[state.level as usize];
        let piece = pieces.map(|pieces| &pieces[state.piece as usize]);
        let volume = state.volume + piece.map_or(0, |piece| piece.volume);
        let mask = piece.map_or(state.mask, |piece| state.mask.union(piece.mask));
        if volume < store.cap(error, cutters) {
            let values = space.values(error, volume, mask);
            store.offer(values, || build(space, group, head, &places(at), piece));
        }
    }
}

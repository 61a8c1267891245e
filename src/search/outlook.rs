//! What the roles still to be chosen can bring, known before they are chosen.
//!
//! For each step of a walk under one head, the unbeaten ways to complete the
//! choice from there on: error, volume and cutters together, not each at its
//! least. A walk that asks first whether some completion is still good enough
//! never turns into a dead end, so its work is bounded by what it finds.

use super::control::Control;
use super::head::{Choice, Choices};
use super::mask::Mask;
use super::meter::{EXTRAS, Extras};
use super::reverses::Piece;
use super::sorting::{places_by_mask, places_by_numbers};
use super::space::{Head, Space};

/// How many of the best completions each new one is held against. Keeping a
/// beaten completion is only a waste, never wrong.
const RIVALS: usize = 256;

/// Which sets a walk can use at all.
pub(super) struct Limits<'a> {
    /// The greatest volume of a set worth having with this error (bits) and
    /// this many cutters; it must not rise with either. Asked once for each error
    /// and number, so that a call is cheaper than an outlook for each kind of limit.
    pub(super) most: &'a dyn Fn(u64, u32) -> u64,
    /// The most of each extra that a set worth having may need.
    pub(super) most_extras: Extras,
    /// Whether a smaller volume is ever better.
    pub(super) volume_counts: bool,
    /// Whether fewer cutters, or fewer of what comes in few kinds, are ever better.
    pub(super) needs_count: bool,
    /// Whether completions may tell cutters too; without, there are fewer of them,
    /// and each promises a little more.
    pub(super) tell_cutters: bool,
}

/// One way to complete a choice.
#[derive(Clone, Copy, Debug)]
pub(super) struct Completion<M> {
    /// Bits of the worst error in it.
    pub(super) error: u64,
    pub(super) volume: u64,
    pub(super) mask: M,
}

/// Completions from each step on; the last entry is the reverse alone.
#[derive(Debug)]
pub(super) struct Outlook<M> {
    tables: Vec<Vec<Completion<M>>>,
}

impl<M: Mask> Outlook<M> {
    /// The outlook of a walk that takes the roles of `choices` in `order`, then one
    /// of the reverse `pieces`.
    #[allow(
        clippy::too_many_arguments,
        reason = "all that a walk is made of, each in one place"
    )]
    pub(super) fn new(
        space: &Space<M>,
        head: &Head<M>,
        choices: &Choices<M>,
        order: &[usize],
        pieces: &[Piece<M>],
        limits: &Limits<'_>,
        control: &Control,
    ) -> Self {
        let most = Most::new(&choices.levels, order.len(), limits);
        let builder = Builder {
            space,
            pieces,
            head,
            choices,
            order,
            limits,
            most,
        };
        let mut tables = vec![builder.reverses()];
        for depth in (0..order.len()).rev() {
            // A search that must stop has no use for completions.
            let table = if control.stopped() {
                Vec::new()
            } else {
                builder.before(&tables[tables.len() - 1], depth)
            };
            tables.push(table);
        }
        tables.reverse();
        Self { tables }
    }

    /// The completions of steps `depth` on.
    pub(super) fn from(&self, depth: usize) -> &[Completion<M>] {
        &self.tables[depth]
    }
}

struct Builder<'a, M> {
    space: &'a Space<M>,
    pieces: &'a [Piece<M>],
    head: &'a Head<M>,
    choices: &'a Choices<M>,
    order: &'a [usize],
    limits: &'a Limits<'a>,
    most: Most,
}

/// The volumes that are too much for a set: a row of levels for each number of
/// cutters, equal rows kept once.
struct Most {
    rows: Vec<Vec<u64>>,
    row_of: Vec<usize>,
}

impl Most {
    fn new(levels: &[u64], roles: usize, limits: &Limits<'_>) -> Self {
        let mut most = Self {
            rows: Vec::new(),
            row_of: Vec::new(),
        };
        let most_cutters = u32::try_from(2 * roles + 5).unwrap_or(u32::MAX);
        for cutters in 0..=most_cutters {
            let of_level = |&error: &u64| (limits.most)(error, cutters).saturating_add(1);
            let row: Vec<u64> = levels.iter().map(of_level).collect();
            if most.rows.last() != Some(&row) {
                most.rows.push(row);
            }
            most.row_of.push(most.rows.len() - 1);
        }
        most
    }

    /// What volumes of each level leave, there or at a later level.
    fn less(&self, volumes: &[u64]) -> Rooms<'_> {
        let of_row = |most: &Vec<u64>| {
            let mut room = vec![0; volumes.len()];
            let mut best = 0;
            for t in (0..volumes.len()).rev() {
                best = most[t].saturating_sub(volumes[t]).max(best);
                room[t] = best;
            }
            room
        };
        Rooms {
            rows: self.rows.iter().map(of_row).collect(),
            row_of: &self.row_of,
        }
    }
}

impl<M: Mask> Builder<'_, M> {
    fn completion(&self, error: u64, volume: u64, mask: M) -> Completion<M> {
        Completion {
            error,
            volume: if self.limits.volume_counts { volume } else { 0 },
            mask: self.told(mask),
        }
    }

    /// What of a mask completions tell: what comes in many kinds would leave every
    /// way unbeaten.
    fn told(&self, mask: M) -> M {
        if !self.limits.needs_count {
            M::EMPTY
        } else if self.limits.tell_cutters {
            mask.without_fine()
        } else {
            mask.only_coarse()
        }
    }

    /// Whether a completion leaves the extras within their limits.
    fn affords(&self, mask: &M) -> bool {
        if !M::HOLDS_MORE || self.limits.most_extras == [u64::MAX; EXTRAS] {
            return true;
        }
        let extras = self.space.meter.extras(mask);
        let mut each = extras.iter().zip(&self.limits.most_extras);
        each.all(|(own, most)| own <= most)
    }

    /// Ways to choose the reverse.
    fn reverses(&self) -> Vec<Completion<M>> {
        if self.space.reverses.is_none() {
            return vec![self.completion(0, 0, self.head.mask)];
        }
        let rooms = self.rooms(self.order.len());
        let pieces = self.pieces.iter();
        let all = pieces
            .map(|p| self.completion(0, p.volume, p.mask.union(self.head.mask)))
            .filter(|c| rooms.admits(0, c) && self.affords(&c.mask));
        unbeaten(&all.collect::<Vec<_>>())
    }

    /// Ways to complete from `depth` on, from those from the next step on.
    fn before(&self, after: &[Completion<M>], depth: usize) -> Vec<Completion<M>> {
        let rooms = self.rooms(depth);
        let levels = &self.choices.levels;
        let mut all = Vec::new();
        for choice in self.leading(depth) {
            for end in after {
                let error = end.error.max(levels[choice.level as usize]);
                let mask = end.mask.union(choice.mask);
                let way = self.completion(error, end.volume + choice.volume, mask);
                let level = levels.partition_point(|&level| level < error);
                if rooms.admits(level, &way) && self.affords(&way.mask) {
                    all.push(way);
                }
            }
        }
        unbeaten(&all)
    }

    /// The choices of a step that no other choice of it beats.
    fn leading(&self, depth: usize) -> Vec<Choice<M>> {
        let mut kept: Vec<Choice<M>> = Vec::new();
        for choice in &self.choices.roles[self.order[depth]] {
            let mask = self.told(choice.mask.union(self.head.mask));
            let beats = |k: &Choice<M>| k.level <= choice.level && k.mask.within(&mask);
            if !kept.iter().any(beats) {
                kept.push(Choice { mask, ..*choice });
            }
        }
        kept
    }

    /// Room for the completion of steps `depth` on when the steps before it
    /// take their least.
    fn rooms(&self, depth: usize) -> Rooms<'_> {
        let levels = &self.choices.levels;
        let mut before = vec![self.head.volume; levels.len()];
        for &r in &self.order[..depth] {
            for (sum, least) in before.iter_mut().zip(self.choices.least_up_to(r)) {
                *sum = sum.saturating_add(least);
            }
        }
        self.most.less(&before)
    }
}

/// Per number of cutters and level, the volume that is too much for a
/// completion.
struct Rooms<'a> {
    rows: Vec<Vec<u64>>,
    row_of: &'a [usize],
}

impl Rooms<'_> {
    fn admits<M: Mask>(&self, level: usize, way: &Completion<M>) -> bool {
        way.volume < self.rows[self.row_of[way.mask.count() as usize]][level]
    }
}

/// Drops completions that another one beats.
fn unbeaten<M: Mask>(all: &[Completion<M>]) -> Vec<Completion<M>> {
    let mut single: Vec<Completion<M>> = Vec::new();
    for at in places_by_mask(all, |c| &c.mask, |c| [c.error, c.volume]) {
        let way = all[at as usize];
        let beats = |l: &Completion<M>| l.mask == way.mask && l.volume <= way.volume;
        if !single.last().is_some_and(beats) {
            single.push(way);
        }
    }
    let order = places_by_numbers(&single, |c| {
        [c.volume, c.error, u64::from(c.mask.count()), 0]
    });
    let mut kept: Vec<Completion<M>> = Vec::new();
    for way in order.iter().map(|&at| single[at as usize]) {
        let rivals = &kept[..kept.len().min(RIVALS)];
        if !rivals
            .iter()
            .any(|k| k.error <= way.error && k.mask.within(&way.mask))
        {
            kept.push(way);
        }
    }
    kept
}

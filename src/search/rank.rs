//! The true best N sets by a ranking.
//!
//! Depth-first under each head, roles in turn, options by rising volume; a
//! partial choice is dropped when the best key it can still reach is no better
//! than the N-th best found. That settles which value vectors are among the
//! best N. Which sets stand for the last of them, when more share its values
//! than there is room for, is left to [`super::order`], which goes by set order.

use super::best::{Best, Entry};
use super::cheapest::affordable;
use super::head::{Choice, Choices};
use super::mask::Mask;
use super::meter::EXTRAS;
use super::outlook::{Limits, Outlook};
use super::quest::{Among, Partial, Quest};
use super::reverses::Piece;
use super::scale::Key;
use super::share::share;
use super::sorting::sort_by_numbers;
use super::space::{Head, HeadGroup};
use crate::problem::Measure;
use crate::train::{ReverseGears, Set};
use std::sync::atomic::{AtomicU64, Ordering};

/// Improves `best` by the sets of one centre distance.
pub(super) fn rank<M: Mask>(quest: &Quest<'_, M>, best: &mut Best, threads: usize) {
    let order = promising(quest);
    let shared = AtomicU64::new(best.last_primary());
    quest.control.expect(order.len() as u64);
    let found = share(
        threads,
        order.len(),
        || best.emptied(),
        |found, i| {
            let (key, g, h) = &order[i];
            quest.control.advance(1);
            let hopeful = key.primary() <= shared.load(Ordering::Relaxed)
                && best.admits(key, quest.ties())
                && found.admits(key, quest.ties());
            if hopeful && !quest.control.stopped() {
                let (group, head) = (&quest.space.groups[*g], &quest.space.heads[*h]);
                Walk::over(quest, found, &shared, group, head);
            }
        },
    );
    for part in found {
        best.merge(part);
    }
}

/// Heads by the best key they can reach.
fn promising<M: Mask>(quest: &Quest<'_, M>) -> Vec<(Key, usize, usize)> {
    let space = quest.space;
    let mut order = Vec::with_capacity(space.heads.len());
    for (g, group) in space.groups.iter().enumerate() {
        if quest.control.stopped() {
            break;
        }
        for h in group.heads.clone() {
            let head = &space.heads[h];
            let least = space.steps(group).iter().map(|step| {
                quest.key(Partial {
                    error: step.error,
                    volume: step.volume + head.volume,
                    mask: head.mask,
                })
            });
            order.extend(least.min().map(|key| (key, g, h)));
        }
    }
    order.sort_unstable();
    order
}

/// A walk through all choices under one head.
struct Walk<'a, 'q, M> {
    quest: &'a Quest<'q, M>,
    best: &'a mut Best,
    /// The best N-th figure of any thread.
    shared: &'a AtomicU64,
    group: &'a HeadGroup<M>,
    head: &'a Head<M>,
    /// Bits of the errors behind the choices' levels.
    levels: Vec<u64>,
    /// The choices of each step of the walk, by rising volume.
    steps: Vec<Vec<Choice<M>>>,
    /// Which role of the problem each step is.
    roles: Vec<usize>,
    /// Least worst error and least volume still to come from step `d` on; one
    /// entry for the reverse and one for the end.
    rest: Vec<(u64, u64)>,
    outlook: Outlook<M>,
    /// What everything from step `d` on needs in any case.
    floors: Vec<M>,
    pieces: Vec<Piece<M>>,
    places: Vec<u32>,
    nodes: u64,
}

impl<'a, 'q, M: Mask> Walk<'a, 'q, M> {
    fn over(
        quest: &'a Quest<'q, M>,
        best: &'a mut Best,
        shared: &'a AtomicU64,
        group: &'a HeadGroup<M>,
        head: &'a Head<M>,
    ) {
        let Some(Offered {
            mut choices,
            pieces: own,
        }) = offered(quest, group, head)
        else {
            return;
        };
        if !choices.limit_errors(most_error(quest, best, head, &choices)) {
            return;
        }
        let roles = choices.short_first();
        let steps: Vec<_> = roles.iter().map(|&r| choices.roles[r].clone()).collect();
        let start = Partial {
            error: choices.levels[0],
            volume: head.volume,
            mask: head.mask,
        };
        let leading = own.as_deref();
        let leading = leading.unwrap_or_else(|| quest.space.leading_pieces(group));
        let outlook = outlook(quest, best, head, &choices, &roles, leading);
        let mut walk = Self {
            outlook,
            floors: vec![M::EMPTY; roles.len() + 1],
            rest: rest(quest, group, &choices, &steps),
            pieces: Vec::new(),
            places: vec![0; roles.len()],
            levels: choices.levels,
            nodes: 0,
            quest,
            best,
            shared,
            group,
            head,
            steps,
            roles,
        };
        if walk.hopeful(0, start) {
            walk.choose_pieces(start, own);
            walk.lay_floors();
            walk.step(0, start);
        }
        quest.control.add_nodes(walk.nodes);
    }

    /// Keeps the reverse pieces that can stand in the list at all.
    fn choose_pieces(&mut self, start: Partial<M>, own: Option<Vec<Piece<M>>>) {
        let end = self.steps.len() + 1;
        let forward = self.rest[0].1 - self.rest[self.steps.len()].1;
        let hopeful = |piece: &&Piece<M>| {
            let mask = start.mask.union(piece.mask);
            let volume = start.volume + forward + piece.volume;
            self.quest.fits(mask)
                && self.worth(
                    end,
                    Partial {
                        volume,
                        mask,
                        ..start
                    },
                )
        };
        let mut pieces: Vec<_> = if let Some(own) = own {
            own.iter().filter(hopeful).copied().collect()
        } else {
            let all = self.quest.space.pieces(self.group);
            all.filter(hopeful).copied().collect()
        };
        sort_by_numbers(&mut pieces, Piece::in_order);
        self.pieces = pieces;
    }

    /// Notes what every way to go on needs; cutters alone are seldom shared by
    /// all.
    fn lay_floors(&mut self) {
        if !M::HOLDS_MORE {
            return;
        }
        let common = |masks: &mut dyn Iterator<Item = M>| {
            let common = masks.reduce(Mask::common);
            common.unwrap_or(M::EMPTY)
        };
        let mut floor = common(&mut self.pieces.iter().map(|piece| piece.mask));
        self.floors[self.steps.len()] = floor;
        for (depth, step) in self.steps.iter().enumerate().rev() {
            floor = floor.union(common(&mut step.iter().map(|choice| choice.mask)));
            self.floors[depth] = floor;
        }
    }

    /// Whether a partial choice is worth going on with when everything from
    /// step `depth` on takes its least.
    fn worth(&self, depth: usize, at: Partial<M>) -> bool {
        let (error, volume) = self.rest[depth];
        let reach = Partial {
            error: at.error.max(error),
            volume: at.volume + volume,
            ..at
        };
        let key = self.quest.key(reach);
        key.primary() <= self.shared.load(Ordering::Relaxed)
            && self.best.admits(&key, self.quest.ties())
    }

    /// Whether some completion from step `depth` on is good enough.
    fn hopeful(&self, depth: usize, at: Partial<M>) -> bool {
        let level = self.shared.load(Ordering::Relaxed);
        self.outlook.from(depth).iter().any(|end| {
            let mask = at.mask.union(end.mask);
            let whole = Partial {
                error: at.error.max(end.error),
                volume: at.volume + end.volume,
                mask,
            };
            let key = self.quest.key(whole);
            key.primary() <= level
                && self.best.admits(&key, self.quest.ties())
                && self.quest.fits(mask)
        })
    }

    fn step(&mut self, depth: usize, at: Partial<M>) {
        if depth == self.steps.len() {
            self.end(at);
            return;
        }
        for i in 0..self.steps[depth].len() {
            let choice = self.steps[depth][i];
            self.nodes += 1;
            if self.nodes.is_multiple_of(4096) && self.quest.control.stopped() {
                return;
            }
            let volume = at.volume + choice.volume;
            let least_error = at.error.max(self.rest[depth].0);
            // By rising volume: too much at any error means the rest is too.
            if !self.worth(
                depth + 1,
                Partial {
                    error: least_error,
                    volume,
                    ..at
                },
            ) {
                return;
            }
            let error = at.error.max(self.levels[choice.level as usize]);
            let next = Partial {
                error,
                volume,
                mask: at.mask.union(choice.mask),
            };
            if self.worth(depth + 1, next)
                && self.quest.fits(next.mask.union(self.floors[depth + 1]))
                && self.hopeful(depth + 1, next)
            {
                self.places[self.roles[depth]] = choice.place;
                self.step(depth + 1, next);
            }
        }
    }

    /// All roles are chosen; the reverse is left.
    fn end(&mut self, at: Partial<M>) {
        let Some(reverses) = self.quest.space.reverses.as_ref() else {
            self.take(at, None);
            return;
        };
        if self.quest.listed_before(self.group, at.mask) {
            return;
        }
        let mut own: Option<(Key, ReverseGears, Partial<M>)> = None;
        for p in 0..self.pieces.len() {
            let piece = self.pieces[p];
            // By rising volume: too much with no further cutter means the rest is too.
            let volume = at.volume + piece.volume;
            if !self.rivals(own.as_ref(), Partial { volume, ..at }) {
                break;
            }
            let mask = at.mask.union(piece.mask);
            if !self.quest.fits(mask) {
                continue;
            }
            for (idler, volume) in reverses.idlers(&piece) {
                self.nodes += 1;
                let next = Partial {
                    volume: at.volume + volume,
                    mask,
                    ..at
                };
                if !self.rivals(own.as_ref(), next) {
                    break;
                }
                let gears = reverses.gears(&piece, idler);
                match self.quest.among {
                    Among::Sets => self.take(next, Some(gears)),
                    Among::Trains => {
                        let key = self.quest.scale.key(next.values(self.quest.space));
                        if own.is_none_or(|(k, g, _)| (key, gears) < (k, g)) {
                            own = Some((key, gears, next));
                        }
                    }
                }
            }
        }
        if let Some((_, gears, next)) = own {
            self.take(next, Some(gears));
        }
    }

    /// Whether a whole set is worth having, and as good as the best of its train
    /// so far, where only one a train may stand.
    fn rivals(&self, own: Option<&(Key, ReverseGears, Partial<M>)>, at: Partial<M>) -> bool {
        self.worth(self.steps.len() + 1, at)
            && own.is_none_or(|(key, ..)| self.quest.scale.key(at.values(self.quest.space)) <= *key)
    }

    fn take(&mut self, at: Partial<M>, reverse: Option<ReverseGears>) {
        let values = at.values(self.quest.space);
        if !self.quest.asks_for(&values) {
            return;
        }
        let key = self.quest.scale.key(values);
        let pair = |(r, &place): (usize, &u32)| {
            self.quest.space.window(self.group, r)[place as usize].pair
        };
        let set = Set {
            centre_distance: self.quest.space.centres,
            head: self.head.pair,
            pairs: self.places.iter().enumerate().map(pair).collect(),
            reverse,
        };
        self.best.offer(Entry { key, set, values });
        self.shared
            .fetch_min(self.best.last_primary(), Ordering::Relaxed);
    }
}

/// What a head offers that fits.
struct Offered<M> {
    choices: Choices<M>,
    /// The reverse pieces, where that is told at once.
    pieces: Option<Vec<Piece<M>>>,
}

fn offered<M: Mask>(
    quest: &Quest<'_, M>,
    group: &HeadGroup<M>,
    head: &Head<M>,
) -> Option<Offered<M>> {
    let affordable = match quest.bills {
        Some(bills) => Some(affordable(bills, group, head, quest.most())?),
        None => None,
    };
    let fits = |mask: M| quest.fits(head.mask.union(mask));
    let mut choices = quest.space.choices(group, &fits)?;
    let pieces = affordable.map(|affordable| {
        choices.keep_places(&affordable.places);
        let pieces = quest.space.pieces(group);
        let own = pieces.filter(|piece| affordable.holds(piece)).copied();
        own.collect()
    });
    Some(Offered { choices, pieces })
}

fn rest<M: Mask>(
    quest: &Quest<'_, M>,
    group: &HeadGroup<M>,
    choices: &Choices<M>,
    steps: &[Vec<Choice<M>>],
) -> Vec<(u64, u64)> {
    let mut rest = vec![(0, 0), (0, quest.space.least_reverse(group))];
    for step in steps.iter().rev() {
        let (error, volume) = rest[rest.len() - 1];
        let level = step.iter().map(|c| c.level).min().unwrap_or(0);
        let least = step.first().map_or(0, |c| c.volume);
        rest.push((error.max(choices.levels[level as usize]), volume + least));
    }
    rest.reverse();
    rest
}

/// The outlook under a head for what is still worth having.
fn outlook<M: Mask>(
    quest: &Quest<'_, M>,
    best: &Best,
    head: &Head<M>,
    choices: &Choices<M>,
    roles: &[usize],
    pieces: &[Piece<M>],
) -> Outlook<M> {
    let limit = best.limit();
    let most = |error: u64, cutters: u32| {
        let (cutters, fits) = match quest.exact_cutters() {
            Some(wanted) => (wanted, cutters <= wanted),
            None => (cutters, true),
        };
        match limit {
            _ if !fits => 0,
            Some(limit) => quest
                .scale
                .most_volume(error, cutters, quest.exactly, &limit),
            None => u64::MAX,
        }
    };
    let limits = Limits {
        most: &most,
        most_extras: match quest.bills {
            Some(_) => quest.terms.most(),
            // What is kept out must be met, for the next level to be known.
            None => [u64::MAX; EXTRAS],
        },
        volume_counts: quest.scale.counts(Measure::BlankVolume),
        needs_count: quest.scale.counts_needs(),
        // Sizes of bar are what kept the choices few.
        tell_cutters: !matches!(quest.exactly, Some((Measure::Bars, _))),
    };
    Outlook::new(
        quest.space,
        head,
        choices,
        roles,
        pieces,
        &limits,
        quest.control,
    )
}

/// The largest error (bits) that a set under this head worth having can have.
fn most_error<M: Mask>(
    quest: &Quest<'_, M>,
    best: &Best,
    head: &Head<M>,
    choices: &Choices<M>,
) -> u64 {
    let Some(limit) = best.limit() else {
        return u64::MAX;
    };
    let cutters = quest.exact_cutters().unwrap_or(head.mask.count());
    let most = |error| {
        quest
            .scale
            .most_volume(error, cutters, quest.exactly, &limit)
    };
    let worth = |&error: &u64| most(error) > 0;
    let after = choices.levels.partition_point(worth);
    after.checked_sub(1).map_or(0, |last| choices.levels[last])
}

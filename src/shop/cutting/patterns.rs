//! Many pieces of few lengths: how often a bar is cut in which way.
//!
//! A pattern is a way to cut one bar on which no further piece has room. A
//! program counts how often each is used; pieces too many are left out. The
//! least sum in parts, rounded up, is given to it as a bound: with a kerf it
//! finds no end without.

use super::groups::{Groups, Sources, counted};
use super::staged::Best;
use crate::search::{Control, Program};
use crate::stock::{Opened, Source};

/// Patterns above which the program is not asked.
const MOST: usize = 4000;
/// Nodes of the solver's tree for each stage.
const NODES: u64 = 4000;
/// What a sum in parts may be off, of itself.
const SLACK: f64 = 1e-6;
/// What a sum of whole numbers may be over its limit for rounding alone. Where a
/// sum is bounded from below, nothing is: the solver ends when it meets the
/// bound, and not when it only comes near.
const ROUNDING: f64 = 1e-6;

/// A way to cut one bar.
#[derive(Debug)]
struct Pattern {
    supply: usize,
    /// Pieces of each group, as far as any is cut.
    counts: Vec<usize>,
}

/// Improves and proves the best way as far as patterns can.
pub(super) fn improve(best: &mut Best<'_>, groups: &Groups, control: &Control) {
    let sources = Sources::of(groups, best.stock, None);
    let Some(patterns) = all_patterns(groups, &sources) else {
        return;
    };
    let mut model = Model::new(groups, &sources, &patterns);
    let coin = counted(sources.coin);
    let price = |pattern: &Pattern| price(&sources, pattern) / coin;
    if !best.money_is_proved() {
        let Some(least) = model.bounded(&price) else {
            return;
        };
        best.money_is_at_least(least.saturating_mul(sources.coin));
        if !best.money_is_proved() && model.settles(best, control) {
            let money = best.money().unwrap_or(0);
            best.money_is(money);
        }
    }
    let Some((money, bars, _)) = best.cost() else {
        return;
    };
    model.hold(&price, counted(money / sources.coin));
    let Some(least) = model.bounded(&|pattern| bought(&sources, pattern)) else {
        return;
    };
    if u64::try_from(bars).is_ok_and(|bars| bars == least) || model.settles(best, control) {
        best.bars_are_least();
        // From bars of one diameter all plans take the same metal.
        let mut diameters = sources.all.iter().map(|supply| supply.rod.diameter);
        let first = diameters.next();
        if diameters.all(|diameter| Some(diameter) == first) {
            best.metal_is_least();
        }
    }
}

fn price(sources: &Sources, pattern: &Pattern) -> f64 {
    let supply = sources.all.get(pattern.supply);
    supply.map_or(0.0, |supply| counted(supply.rod.price_millionths))
}

fn bought(sources: &Sources, pattern: &Pattern) -> f64 {
    let supply = sources.all.get(pattern.supply);
    let bar = supply.is_some_and(|supply| matches!(supply.source, Source::Bar(_)));
    if bar { 1.0 } else { 0.0 }
}

struct Model<'a> {
    groups: &'a Groups,
    sources: &'a Sources,
    patterns: &'a [Pattern],
    program: Program,
}

impl<'a> Model<'a> {
    fn new(groups: &'a Groups, sources: &'a Sources, patterns: &'a [Pattern]) -> Self {
        let mut model = Self {
            groups,
            sources,
            patterns,
            program: Program::default(),
        };
        for pattern in patterns {
            let used = pattern
                .counts
                .iter()
                .zip(&groups.all)
                .filter(|(count, _)| **count > 0);
            let most = used
                .map(|(count, group)| group.places.len().div_ceil(*count))
                .max();
            let most = i32::try_from(most.unwrap_or(0)).unwrap_or(i32::MAX);
            model.program.count(0.0, most);
        }
        for (place, group) in groups.all.iter().enumerate() {
            let cut = |pattern: &Pattern| -amount(pattern.counts.get(place).copied().unwrap_or(0));
            model.at_most(&cut, -amount(group.places.len()));
        }
        for (place, supply) in sources.all.iter().enumerate() {
            if matches!(supply.source, Source::Rack(_)) {
                let of = |pattern: &Pattern| amount(usize::from(pattern.supply == place));
                model.at_most(&of, amount(supply.copies));
            }
        }
        model
    }

    fn at_most(&mut self, of: &dyn Fn(&Pattern) -> f64, limit: f64) {
        let terms = self.patterns.iter().map(of).enumerate();
        let terms: Vec<(usize, f64)> = terms.filter(|(_, factor)| factor.abs() > 0.0).collect();
        if !terms.is_empty() {
            self.program.at_most(limit, terms);
        }
    }

    /// The sum must not pass `most`.
    fn hold(&mut self, of: &dyn Fn(&Pattern) -> f64, most: f64) {
        self.at_most(of, most + ROUNDING);
    }

    /// Makes a sum least from now on; the whole number that it cannot be under.
    fn bounded(&mut self, of: &dyn Fn(&Pattern) -> f64) -> Option<u64> {
        self.program.weigh(self.patterns.iter().map(of));
        let parts = self.program.least_in_parts()?;
        let least = (parts - SLACK * parts.abs().max(1.0)).ceil().max(0.0);
        self.at_most(&|pattern| -of(pattern), -least);
        Some(whole(least))
    }

    /// Whether the solver settles the sum, and finds nothing but what is no
    /// better than the best way known by then.
    fn settles(&self, best: &mut Best<'_>, control: &Control) -> bool {
        let counts = self.program.solve_counts(NODES, control);
        let way = counts.found.map(|found| self.way(&found));
        way.is_some_and(|way| best.offer(way)) && counts.proved
    }

    /// The pieces of each bar; pieces too many left out.
    fn way(&self, counts: &[u64]) -> Vec<Opened> {
        let mut left: Vec<_> = self.groups.all.iter().map(|g| g.places.iter()).collect();
        let mut way = Vec::new();
        for (pattern, count) in self.patterns.iter().zip(counts) {
            for _ in 0..*count {
                let cut = left.iter_mut().zip(&pattern.counts);
                let pieces: Vec<usize> = cut
                    .flat_map(|(left, count)| left.take(*count))
                    .copied()
                    .collect();
                let source = self
                    .sources
                    .all
                    .get(pattern.supply)
                    .map(|supply| supply.source);
                if let (Some(source), false) = (source, pieces.is_empty()) {
                    way.push(Opened { source, pieces });
                }
            }
        }
        way
    }
}

/// Every pattern of every bar; none where there are too many.
fn all_patterns(groups: &Groups, sources: &Sources) -> Option<Vec<Pattern>> {
    let mut patterns = Vec::new();
    for (place, supply) in sources.all.iter().enumerate() {
        let fits: Vec<(i64, usize)> = groups
            .all
            .iter()
            .map(|group| {
                let fits = supply.rod.suits(&group.piece);
                (group.need, if fits { group.places.len() } else { 0 })
            })
            .collect();
        let mut list = List {
            fits: &fits,
            counts: vec![0; fits.len()],
            found: Vec::new(),
        };
        list.extend(0, supply.room);
        patterns.extend(list.found.into_iter().map(|counts| Pattern {
            supply: place,
            counts,
        }));
        if patterns.len() > MOST {
            return None;
        }
    }
    Some(patterns)
}

/// Lists the patterns of one bar.
struct List<'a> {
    /// What a piece of each group takes, and how many there are.
    fits: &'a [(i64, usize)],
    counts: Vec<usize>,
    found: Vec<Vec<usize>>,
}

impl List<'_> {
    fn extend(&mut self, group: usize, room: i64) {
        if self.found.len() > MOST {
            return;
        }
        let Some(&(need, count)) = self.fits.get(group) else {
            if self.is_full(room) {
                self.found.push(self.counts.clone());
            }
            return;
        };
        for taken in (0..=count.min(times(room, need))).rev() {
            let used = need * i64::try_from(taken).unwrap_or(0);
            if let Some(place) = self.counts.get_mut(group) {
                *place = taken;
            }
            self.extend(group + 1, room - used);
        }
    }

    fn is_full(&self, room: i64) -> bool {
        let groups = self.fits.iter().zip(&self.counts);
        groups
            .filter(|((_, count), taken)| *taken < count)
            .all(|((need, _), _)| *need > room)
            && self.counts.iter().any(|taken| *taken > 0)
    }
}

fn amount(count: usize) -> f64 {
    counted(u64::try_from(count).unwrap_or(u64::MAX))
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number, not negative"
)]
const fn whole(value: f64) -> u64 {
    value as u64
}

/// How many times a need goes into a room.
fn times(room: i64, need: i64) -> usize {
    let times = room.checked_div(need).unwrap_or(0);
    usize::try_from(times).unwrap_or(0)
}

//! What the pairs of one centre distance can do, speed by speed.

use super::{HeadMiss, PairTeeth, SpeedAt, SpeedMiss};
use crate::base::{Decimal, Length, Ratio, Teeth, Window};
use crate::mesh::{MadePair, Pairs};
use crate::problem::{CutPair, Problem};
use crate::search::space::matches_cut;
use crate::train::Pair;

/// A ratio with the first gears, in set order, that make it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice {
    pub(super) ratio: Ratio,
    pub(super) pair: Pair,
    /// Of reverse, the smallest idler that has a place.
    pub(super) idler: Option<Teeth>,
}

/// A head ratio: of in-line shafts with a pair that makes it.
#[derive(Clone, Copy, Debug)]
pub(super) struct HeadRatio {
    pub(super) ratio: Ratio,
    pub(super) pair: Option<Pair>,
}

/// What one centre distance can do.
pub(super) struct Reachable<'a> {
    pub(super) problem: &'a Problem,
    pub(super) centres: Length,
    /// Every pair that closes, in set order.
    pairs: Pairs,
    /// Head ratios in range, ascending, none twice.
    pub(super) heads: Vec<HeadRatio>,
    /// Per geared speed its choices, ascending by ratio, no ratio twice.
    pub(super) speeds: Vec<Vec<Choice>>,
}

impl<'a> Reachable<'a> {
    pub(super) fn new(problem: &'a Problem, centres: Length) -> Self {
        let pairs = Pairs::at(problem, centres);
        let speeds = problem
            .geared()
            .zip(problem.speed_seatings())
            .map(|(wanted, seating)| by_ratio(as_cut(problem, pairs.of(&seating), wanted.cut())));
        let speeds = speeds.collect();
        let heads = heads(problem, pairs.of(&problem.head_seating()));
        Self {
            problem,
            centres,
            pairs,
            heads,
            speeds,
        }
    }

    /// The speed whose driving gear drives reverse too, by its place, and its
    /// pairs in set order; none where reverse has a driver of its own.
    pub(super) fn shared(&self) -> Option<(usize, Vec<Pair>)> {
        let place = self.problem.shared_speed()?;
        let mut roles = self.problem.geared().zip(self.problem.speed_seatings());
        let (wanted, seating) = roles.nth(place)?;
        let own = as_cut(self.problem, self.pairs.of(&seating), wanted.cut());
        Some((place, own.collect()))
    }

    pub(super) fn note_heads(&self, miss: &mut HeadMiss) {
        let Some(wanted) = self.problem.head() else {
            return;
        };
        let window = wanted.window();
        let own = self.pairs.of(&self.problem.head_seating());
        for pair in as_cut(self.problem, own, wanted.cut()) {
            miss.closing += 1;
            let ratio = ratio_of(pair);
            if window.contains(ratio) {
                miss.in_range += 1;
                miss.nearest = None;
            } else if miss.in_range == 0 {
                let off = |ratio| beyond(ratio, wanted.min(), wanted.max());
                let ratio = ratio.to_f64();
                if miss
                    .nearest
                    .is_none_or(|(_, nearest, _)| off(ratio) < off(nearest))
                {
                    let teeth = PairTeeth::of(self.problem, pair);
                    miss.nearest = Some((teeth, ratio, self.centres.mm()));
                }
            }
        }
    }

    pub(super) fn note_speed(&self, place: usize, miss: &mut SpeedMiss) {
        let mut roles = self.problem.geared().zip(self.problem.speed_seatings());
        let Some((wanted, seating)) = roles.nth(place) else {
            return;
        };
        let own = self.pairs.of(&seating);
        miss.pairs += as_cut(self.problem, own, wanted.cut()).count() as u64;
        for head in &self.heads {
            for choice in beside(&self.speeds[place], head.ratio, wanted.target()) {
                miss.within |= wanted.window().contains(head.ratio.then(choice.ratio));
                self.keep_nearer(&mut miss.nearest, wanted.target(), head, choice);
            }
        }
    }

    /// Replaces `nearest` by a choice that comes nearer.
    pub(super) fn keep_nearer(
        &self,
        nearest: &mut Option<SpeedAt>,
        target: Decimal,
        head: &HeadRatio,
        choice: &Choice,
    ) {
        let ratio = head.ratio.then(choice.ratio);
        let error_percent = 100.0 * ratio.deviation(target);
        if nearest.is_none_or(|nearest| error_percent.abs() < nearest.error_percent.abs()) {
            *nearest = Some(SpeedAt {
                centre_distance_mm: self.centres.mm(),
                head: head.pair.map(|pair| PairTeeth::of(self.problem, pair)),
                pair: PairTeeth::of(self.problem, choice.pair),
                idler_teeth: choice.idler.map(Teeth::get),
                ratio: ratio.to_f64(),
                error_percent,
            });
        }
    }
}

/// Each geared speed with nothing found yet.
pub(super) fn unmet(problem: &Problem) -> Vec<SpeedMiss> {
    let geared = problem
        .speeds()
        .iter()
        .filter_map(|speed| Some((speed, speed.geared()?)));
    geared
        .map(|(speed, wanted)| SpeedMiss {
            name: speed.name().to_owned(),
            target: wanted.target().to_f64(),
            tolerance_percent: wanted.tolerance_percent().to_f64(),
            pairs: 0,
            within: false,
            nearest: None,
        })
        .collect()
}

fn ratio_of(pair: Pair) -> Ratio {
    Ratio::of(pair.driven.get(), pair.driver.get())
}

/// How far a ratio lies outside a range.
fn beyond(ratio: f64, min: Option<Decimal>, max: Option<Decimal>) -> f64 {
    let below = min.map_or(0.0, |min| min.to_f64() - ratio);
    let above = max.map_or(0.0, |max| ratio - max.to_f64());
    below.max(above).max(0.0)
}

/// The pairs that are the one cut already; all where none is.
fn as_cut<'a>(
    problem: &'a Problem,
    pairs: &'a [MadePair],
    cut: Option<CutPair>,
) -> impl Iterator<Item = Pair> + 'a {
    let fits = move |pair: &Pair| matches_cut(problem, *pair, cut);
    pairs.iter().map(|made| made.pair).filter(fits)
}

/// The distinct ratios of pairs given in set order, ascending.
pub(super) fn by_ratio(pairs: impl Iterator<Item = Pair>) -> Vec<Choice> {
    let choice = |pair| Choice {
        ratio: ratio_of(pair),
        pair,
        idler: None,
    };
    sorted(pairs.map(choice).collect())
}

/// Ascending by ratio; of equal ratios only the first.
pub(super) fn sorted(mut choices: Vec<Choice>) -> Vec<Choice> {
    choices.sort_by_key(|choice| choice.ratio);
    choices.dedup_by(|x, y| x.ratio == y.ratio);
    choices
}

fn heads(problem: &Problem, pairs: &[MadePair]) -> Vec<HeadRatio> {
    let Some(wanted) = problem.head() else {
        return vec![HeadRatio {
            ratio: Ratio::ONE,
            pair: None,
        }];
    };
    let window = wanted.window();
    let fitting = as_cut(problem, pairs, wanted.cut()).filter(|&p| window.contains(ratio_of(p)));
    let choices = by_ratio(fitting).into_iter();
    choices
        .map(|c| HeadRatio {
            ratio: c.ratio,
            pair: Some(c.pair),
        })
        .collect()
}

/// The choices on either side of `target` behind a head.
pub(super) fn beside(choices: &[Choice], head: Ratio, target: Decimal) -> &[Choice] {
    let exactly = Window::between(Some(target), Some(target));
    let above = choices.partition_point(|choice| exactly.is_above(head.then(choice.ratio)));
    &choices[above.saturating_sub(1)..(above + 1).min(choices.len())]
}

//! Worths of pieces that bring a bound up.
//!
//! A piece that no best haul takes is worth too little, one that several take is
//! worth too much: worths are moved so, in steps that shrink when they bring
//! nothing (the subgradient method with the step of Polyak, and with a part of
//! the moves before in each move; common practice, no source). The best worths
//! are kept.

use super::bench::Bar;
use super::bound::Bound;
use crate::search::Control;

/// Rounds without a better bound after which steps are halved: as many where
/// there are many rounds, and a share of few.
const PATIENCE: u64 = 30;
const PATIENCE_SHARE: u64 = 12;
/// Steps so much shorter than the first end it.
const SHORTEST: f64 = 1e-4;
/// What a move keeps of the moves before it: alike bars all take the same
/// pieces, now these, now those, and only the mean of that points upwards.
const KEPT: f64 = 0.9;
/// Where the moves before cancel out, a move is as long as if so much of its
/// square were left.
const LEFT: f64 = 0.2;
/// The rise that is hoped for is at most so much of what all is worth.
const HOPE: f64 = 0.25;
/// Worths that are larger than any charge by far rise without end.
const ENDLESS: i64 = 1 << 56;

/// Where a search stands: pieces from `first` on are to be cut from bars of
/// which so much is left.
#[derive(Clone, Copy, Debug)]
pub(super) struct State<'a> {
    pub(super) first: usize,
    pub(super) bars: &'a [Bar],
}

/// Brings the bound up, until plans that are charged no more than `most` are
/// ruled out or it comes no higher; what it then is, and how often worths were
/// moved.
pub(super) fn raise(
    bound: &mut Bound,
    state: State<'_>,
    most: i64,
    rounds: u64,
    control: &Control,
) -> (i64, u64) {
    let first = state.first;
    let mut least = bound.rest(first, state.bars);
    let mut kept = bound.worths.clone();
    let mut moves = Moves::new(bound);
    let patience = PATIENCE.min(rounds / PATIENCE_SHARE);
    let (mut share, mut vain, mut round) = (1.0, 0, 0);
    while round < rounds && least <= most && share > SHORTEST && !control.stopped() {
        round += 1;
        let rise = whole_f64(most.saturating_sub(least)).min(whole_f64(bound.size()) * HOPE);
        if !moves.step(bound, state, share * rise.max(1.0)) {
            break;
        }
        bound.weigh(first);
        let now = bound.rest(first, state.bars);
        vain += 1;
        if now > least {
            (least, vain) = (now, 0);
            kept.clone_from(&bound.worths);
        }
        if vain == patience {
            (share, vain) = (share / 2.0, 0);
        }
    }
    bound.worths = kept;
    bound.weigh(first);
    (least, round)
}

/// How worths are moved.
struct Moves {
    /// How often each piece is taken.
    times: Vec<i64>,
    /// The mean of the moves so far, the last ones most.
    mean: Vec<f64>,
}

impl Moves {
    fn new(bound: &Bound) -> Self {
        Self {
            times: vec![0; bound.worths.len()],
            mean: vec![0.0; bound.worths.len()],
        }
    }

    /// Moves all worths so that, if the bound were straight, it would rise by so
    /// much; whether there is anywhere to move.
    fn step(&mut self, bound: &mut Bound, state: State<'_>, rise: f64) -> bool {
        bound.taken(state.first, state.bars, &mut self.times);
        let slope = |times: i64| 1.0 - whole_f64(times);
        let (mut square, mut square_of_mean) = (0.0, 0.0);
        let pieces = self.times.iter().zip(&mut self.mean).skip(state.first);
        for (times, mean) in pieces {
            *mean = *mean * KEPT + slope(*times) * (1.0 - KEPT);
            square += slope(*times).powi(2);
            square_of_mean += mean.powi(2);
        }
        if square <= 0.0 {
            return false;
        }
        let length = rise / f64::max(square_of_mean, square * LEFT);
        let pieces = bound.worths.iter_mut().zip(&self.mean).skip(state.first);
        let mut ends = true;
        for (worth, mean) in pieces {
            *worth += nearest(length * mean);
            ends &= worth.abs() < ENDLESS;
        }
        ends
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "worths are found in doubles; bounds count in whole numbers"
)]
const fn whole_f64(whole: i64) -> f64 {
    whole as f64
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "a cast of a double ends at the limits of whole numbers; steps are far within"
)]
fn nearest(value: f64) -> i64 {
    value.round() as i64
}

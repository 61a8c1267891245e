//! The field behind the unbeaten sets: error and metal of all sets, or of a
//! sample where there are too many to draw.
//!
//! Behind one head the roles are independent, so that a set drawn evenly is a
//! group of heads drawn by its number of sets, then one choice of each role. The
//! draws come from a fixed seed: the same problem gives the same field.

use super::control::Control;
use super::count::Counts;
use super::gears::GearTable;
use super::mask::Nothing;
use super::space::{HeadGroup, Space};
use crate::problem::{Measure, Problem, Ranking};
use num_bigint::BigUint;
use num_bigint::ToBigUint;

/// Where a set stands in the field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FieldPoint {
    /// Its worst error, as a fraction.
    pub worst_error: f64,
    /// Σ OD² · width of its blanks ([`Figures::blank_um2`](crate::train::Figures)).
    pub blank_um2: u64,
}

/// All sets, or a sample of them.
#[derive(Clone, Debug, Default)]
pub struct Field {
    /// How many sets there are.
    pub counts: Counts,
    /// Those drawn, in no order that means anything.
    pub points: Vec<FieldPoint>,
}

impl Field {
    /// Whether every set is there.
    pub fn is_whole(&self) -> bool {
        self.points.len().to_biguint() == Some(self.counts.sets.clone())
    }
}

/// Draws `most` sets evenly from all of `problem`, or takes all where there are
/// no more. Whoever stops it gets an empty field.
pub fn field(problem: &Problem, most: usize, control: &Control) -> Field {
    let problem = &problem
        .clone()
        .ranked(Ranking::Balanced, Measure::USUAL.to_vec());
    let gears = GearTable::new(problem);
    let distances = problem.centre_distances();
    let arrange = |place| Space::<Nothing>::new(problem, &gears, distances.at(place));
    let mut field = Field::default();
    let mut weights = Vec::new();
    for place in 0..distances.len() {
        if control.stopped() {
            return Field::default();
        }
        let counts = super::count::survey(&arrange(place)).counts;
        weights.push(rough(&counts.sets));
        field.counts.sets += counts.sets;
        field.counts.trains += counts.trains;
    }
    let whole = most
        .to_biguint()
        .is_some_and(|most| field.counts.sets <= most);
    let mut draw = Draw(1);
    let shares = if whole {
        vec![0; weights.len()]
    } else {
        shares(&weights, most)
    };
    for (place, &share) in shares.iter().enumerate() {
        if control.stopped() {
            return Field::default();
        }
        if weights[place] <= 0.0 || (share == 0 && !whole) {
            continue;
        }
        let space = arrange(place);
        if whole {
            field.points.extend(every(&space));
        } else {
            field.points.extend(some(&space, share, &mut draw));
        }
    }
    field
}

/// Near enough to draw by.
fn rough(count: &BigUint) -> f64 {
    let digits = count.to_string();
    digits.parse().unwrap_or(f64::MAX)
}

/// `most` shared out by weight, to the last one.
fn shares(weights: &[f64], most: usize) -> Vec<usize> {
    let all: f64 = weights.iter().sum();
    let mut passed = 0.0;
    let mut given = 0;
    let share = |weight: &f64| {
        passed += weight / all;
        let upto = whole_below(passed, most);
        let own = upto - given;
        given = upto;
        own
    };
    weights.iter().map(share).collect()
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a share of a number of points, far below 2^52"
)]
fn whole_below(share: f64, most: usize) -> usize {
    ((share * most as f64).round() as usize).min(most)
}

/// How many choices a group has in each place: heads, roles, reverse.
fn choices(space: &Space<Nothing>, group: &HeadGroup<Nothing>) -> Vec<u64> {
    let roles = (0..space.roles.len()).map(|r| space.window(group, r).len() as u64);
    let heads = std::iter::once(group.heads.len() as u64);
    heads.chain(roles).chain([group.reverse_count]).collect()
}

/// The set that takes these choices.
fn point(space: &Space<Nothing>, group: &HeadGroup<Nothing>, chosen: &[u64]) -> Option<FieldPoint> {
    let place = |at: usize| usize::try_from(*chosen.get(at)?).ok();
    let head = space.heads.get(group.heads.start + place(0)?)?;
    let mut blank_um2 = head.volume;
    let mut worst_error = 0.0_f64;
    for (r, role) in space.roles.iter().enumerate() {
        let option = space.window(group, r).get(place(r + 1)?)?;
        worst_error = worst_error.max(group.ratio.then(option.ratio).error(role.target));
        blank_um2 += option.volume;
    }
    blank_um2 += space.reverse_volume(group, *chosen.last()?);
    Some(FieldPoint {
        worst_error,
        blank_um2,
    })
}

/// Every set of a centre distance.
fn every(space: &Space<Nothing>) -> Vec<FieldPoint> {
    let mut points = Vec::new();
    for group in &space.groups {
        let choices = choices(space, group);
        let all: u64 = choices.iter().product();
        for number in 0..all {
            let mut rest = number;
            let digit = |radix: &u64| {
                let own = rest % radix;
                rest /= radix;
                own
            };
            let chosen: Vec<u64> = choices.iter().map(digit).collect();
            points.extend(point(space, group, &chosen));
        }
    }
    points
}

/// `share` sets of a centre distance, drawn evenly.
#[allow(clippy::cast_precision_loss, reason = "weights to draw by")]
fn some(space: &Space<Nothing>, share: usize, draw: &mut Draw) -> Vec<FieldPoint> {
    let groups: Vec<Vec<u64>> = space
        .groups
        .iter()
        .map(|group| choices(space, group))
        .collect();
    let weight = |choices: &Vec<u64>| choices.iter().map(|count| *count as f64).product();
    let weights: Vec<f64> = groups.iter().map(weight).collect();
    let mut sums = Vec::with_capacity(weights.len());
    let mut sum = 0.0;
    for weight in weights {
        sum += weight;
        sums.push(sum);
    }
    let one = |_| {
        let at = draw.share() * sum;
        let place = sums.partition_point(|sum| *sum <= at).min(sums.len() - 1);
        let chosen: Vec<u64> = groups[place]
            .iter()
            .map(|count| draw.below(*count))
            .collect();
        point(space, &space.groups[place], &chosen)
    };
    (0..share).filter_map(one).collect()
}

/// Numbers drawn by splitmix64 (Steele, Lea, Flood 2014): the same everywhere.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 on, below 1.
    #[allow(clippy::cast_precision_loss, reason = "53 bits fit a double")]
    fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A whole number below `count`, which is above 0.
    fn below(&mut self, count: u64) -> u64 {
        // The high half of a wide product: even to one in 2^64.
        let wide = u128::from(self.next()) * u128::from(count.max(1));
        u64::try_from(wide >> 64).unwrap_or(0)
    }
}

//! The exact number of sets and of forward trains at one centre distance, and
//! the least error and volume any of them has.

use super::mask::Mask;
use super::space::{HeadGroup, Space};
use num_bigint::BigUint;

/// Exact counts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Feasible sets.
    pub sets: BigUint,
    /// Distinct (centre distance, head, speeds) among them.
    pub trains: BigUint,
}

/// What a count finds on its way.
#[derive(Clone, Debug)]
pub(super) struct Survey {
    pub(super) counts: Counts,
    /// Bits of the least worst error of any set.
    pub(super) least_error: u64,
    /// Least Σ OD² of any set, µm².
    pub(super) least_volume: u64,
}

impl Survey {
    pub(super) fn nothing() -> Self {
        Self {
            counts: Counts::default(),
            least_error: u64::MAX,
            least_volume: u64::MAX,
        }
    }

    pub(super) fn add(&mut self, other: &Self) {
        self.counts.sets += &other.counts.sets;
        self.counts.trains += &other.counts.trains;
        self.least_error = self.least_error.min(other.least_error);
        self.least_volume = self.least_volume.min(other.least_volume);
    }
}

/// Counts the sets of one centre distance: per head the product of its windows.
/// Each least is reached by a set of its own, since the roles are independent
/// once the head is chosen.
pub(super) fn survey<M: Mask>(space: &Space<M>) -> Survey {
    let mut survey = Survey::nothing();
    for group in &space.groups {
        let windows = group.windows.iter().map(ExactSizeIterator::len);
        let trains = product(windows.chain([group.heads.len()]));
        survey.counts.sets += trains * group.reverse_count;
        survey.counts.trains += &group.trains;
        survey.least_error = survey.least_error.min(least_error(space, group));
        survey.least_volume = survey.least_volume.min(least_volume(space, group));
    }
    survey
}

/// The product of a few numbers.
pub(super) fn product(factors: impl Iterator<Item = usize>) -> BigUint {
    let mut small = 1_u64;
    let mut big = BigUint::from(1_u32);
    for factor in factors.map(|factor| factor as u64) {
        small = small.checked_mul(factor).unwrap_or_else(|| {
            big *= small;
            factor
        });
    }
    big * small
}

/// The largest of the roles' least errors. A window is sorted by ratio, so the
/// least error is on one side of the target or the other.
fn least_error<M: Mask>(space: &Space<M>, group: &HeadGroup<M>) -> u64 {
    let of_role = |(r, role): (usize, &super::space::Speed)| {
        let window = space.window(group, r);
        let deviation = |i: usize| group.ratio.then(window[i].ratio).deviation(role.target);
        let above = window.partition_point(|o| {
            group
                .ratio
                .then(o.ratio)
                .deviation(role.target)
                .is_sign_negative()
        });
        let sides = above
            .checked_sub(1)
            .into_iter()
            .chain((above < window.len()).then_some(above));
        sides
            .map(|i| deviation(i).abs().to_bits())
            .min()
            .unwrap_or(u64::MAX)
    };
    space
        .roles
        .iter()
        .enumerate()
        .map(of_role)
        .max()
        .unwrap_or(0)
}

fn least_volume<M: Mask>(space: &Space<M>, group: &HeadGroup<M>) -> u64 {
    let heads = space.heads[group.heads.clone()]
        .iter()
        .map(|head| head.volume);
    let roles = space.roles.iter().zip(&group.windows);
    let speeds: u64 = roles
        .map(|(r, run)| space.lists[r.list].least_volume(run))
        .sum();
    heads.min().unwrap_or(0) + speeds + space.least_reverse(group)
}

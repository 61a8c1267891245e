//! One head's choices, with errors as levels.
//!
//! Under a fixed head the roles no longer depend on each other but through the
//! measures. Errors are renumbered to levels: the distinct errors that the
//! worst error of a set with this head can be.

use super::mask::Mask;
use super::space::{HeadGroup, Space};
use super::store::Step;

/// One option of one role under a head.
#[derive(Clone, Copy, Debug)]
pub(super) struct Choice<M> {
    /// Place of its error among the levels.
    pub(super) level: u32,
    pub(super) volume: u64,
    pub(super) mask: M,
    /// Place in the role's window.
    pub(super) place: u32,
}

/// The choices of all roles under one head ratio.
#[derive(Debug)]
pub(super) struct Choices<M> {
    /// Bits of the errors that can be the worst, ascending, at least one.
    pub(super) levels: Vec<u64>,
    /// Per role, its choices by rising volume.
    pub(super) roles: Vec<Vec<Choice<M>>>,
}

impl<M: Mask> Choices<M> {
    /// The choices of `group` among the options that `keep` admits; none when a
    /// role has no option left.
    pub(super) fn new(
        space: &Space<M>,
        group: &HeadGroup<M>,
        keep: impl Fn(M) -> bool,
    ) -> Option<Self> {
        let mut errors = Vec::with_capacity(space.roles.len());
        let mut floor = 0_u64;
        for (r, role) in space.roles.iter().enumerate() {
            let mut least = u64::MAX;
            let mut of_role = Vec::new();
            for (place, option) in (0_u32..).zip(space.window(group, r)) {
                if !keep(option.mask) {
                    continue;
                }
                let error = group.ratio.then(option.ratio).error(role.target).to_bits();
                least = least.min(error);
                of_role.push((error, place));
            }
            if of_role.is_empty() {
                return None;
            }
            floor = floor.max(least);
            errors.push(of_role);
        }
        let mut levels: Vec<u64> = errors
            .iter()
            .flatten()
            .map(|&(error, _)| error.max(floor))
            .collect();
        levels.push(floor);
        levels.sort_unstable();
        levels.dedup();
        let roles = errors
            .iter()
            .enumerate()
            .map(|(r, of_role)| role_choices(space, group, r, of_role, &levels))
            .collect();
        Some(Self { levels, roles })
    }

    /// Drops choices and levels whose error is above `most` (bits); false when
    /// a role has none left.
    pub(super) fn limit_errors(&mut self, most: u64) -> bool {
        let kept = self.levels.partition_point(|&level| level <= most);
        self.levels.truncate(kept);
        for role in &mut self.roles {
            role.retain(|choice| (choice.level as usize) < kept);
        }
        kept > 0 && !self.roles.iter().any(Vec::is_empty)
    }

    /// The least volume of all roles together, whatever their errors.
    pub(super) fn least_volume(&self) -> u64 {
        self.roles
            .iter()
            .filter_map(|role| role.first())
            .map(|choice| choice.volume)
            .sum()
    }

    /// Per level, the least volume of role `r` up to that level.
    pub(super) fn least_up_to(&self, r: usize) -> Vec<u64> {
        let mut least = vec![u64::MAX; self.levels.len()];
        for choice in &self.roles[r] {
            let slot = &mut least[choice.level as usize];
            *slot = choice.volume.min(*slot);
        }
        let mut so_far = u64::MAX;
        for slot in &mut least {
            so_far = so_far.min(*slot);
            *slot = so_far;
        }
        least
    }

    /// Per level, the least volume of all roles together.
    pub(super) fn least_total(&self) -> Vec<u64> {
        let mut total = vec![0; self.levels.len()];
        for r in 0..self.roles.len() {
            for (sum, least) in total.iter_mut().zip(self.least_up_to(r)) {
                *sum += least;
            }
        }
        total
    }

    /// The levels at which the total drops, as steps.
    pub(super) fn steps(&self, total: &[u64]) -> Vec<Step> {
        let mut steps: Vec<Step> = Vec::new();
        for (&error, &volume) in self.levels.iter().zip(total) {
            if steps.last().is_none_or(|last| volume < last.volume) {
                steps.push(Step { error, volume });
            }
        }
        steps
    }
}

fn role_choices<M: Mask>(
    space: &Space<M>,
    group: &HeadGroup<M>,
    r: usize,
    of_role: &[(u64, u32)],
    levels: &[u64],
) -> Vec<Choice<M>> {
    let window = space.window(group, r);
    let mut choices: Vec<_> = of_role
        .iter()
        .map(|&(error, place)| {
            let option = &window[place as usize];
            let level = levels.partition_point(|&level| level < error);
            Choice {
                level: u32::try_from(level).unwrap_or(u32::MAX),
                volume: option.volume,
                mask: option.mask,
                place,
            }
        })
        .collect();
    choices.sort_unstable_by_key(|c| (c.volume, c.level, c.place));
    choices
}

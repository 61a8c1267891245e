//! One head's choices, with errors as levels.
//!
//! Under a fixed head the roles no longer depend on each other but through the
//! measures. Errors are renumbered to levels: the distinct errors that the
//! worst error of a set with this head can be.

use super::mask::Mask;
use super::sorting::{places_by, sort_by_numbers};
use super::space::{HeadGroup, PairOption, Space, Speed};
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
    /// All choices of `group`.
    pub(super) fn new(space: &Space<M>, group: &HeadGroup<M>) -> Self {
        let errors_of = |(r, role): (usize, &Speed)| -> Vec<u64> {
            let error = |o: &PairOption<M>| group.ratio.then(o.ratio).error(role.target);
            let window = space.window(group, r).iter();
            window.map(|option| error(option).to_bits()).collect()
        };
        let errors: Vec<Vec<u64>> = space.roles.iter().enumerate().map(errors_of).collect();
        // No set has a worst error below the largest of the roles' least ones.
        let least = errors.iter().filter_map(|of_role| of_role.iter().min());
        let floor = least.max().copied().unwrap_or(0);
        let mut levels: Vec<u64> = errors.iter().flatten().map(|e| *e.max(&floor)).collect();
        levels.push(floor);
        levels.sort_unstable();
        levels.dedup();
        let role = |(r, of_role): (usize, &Vec<u64>)| {
            role_choices(space.window(group, r), of_role, &levels)
        };
        let roles = errors.iter().enumerate().map(role).collect();
        Self { levels, roles }
    }

    /// The choices that `keep` admits, with no level that none of them has;
    /// none when a role has no choice left.
    pub(super) fn kept(&self, keep: &dyn Fn(M) -> bool) -> Option<Self> {
        let mut roles = Vec::with_capacity(self.roles.len());
        let mut used = vec![false; self.levels.len()];
        let mut floor = 0;
        for role in &self.roles {
            let admitted = role.iter().filter(|choice| keep(choice.mask));
            let kept: Vec<Choice<M>> = admitted.copied().collect();
            floor = floor.max(kept.iter().map(|choice| choice.level).min()?);
            for choice in &kept {
                used[choice.level as usize] = true;
            }
            roles.push(kept);
        }
        let (levels, place) = used_levels(&self.levels, &used, floor as usize);
        for choice in roles.iter_mut().flatten() {
            choice.level = place[choice.level as usize];
        }
        Some(Self { levels, roles })
    }

    /// Drops the choices whose place is none of these, ascending, of their role.
    pub(super) fn keep_places(&mut self, places: &[Vec<u32>]) {
        for (role, places) in self.roles.iter_mut().zip(places) {
            role.retain(|choice| places.binary_search(&choice.place).is_ok());
        }
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

    /// The roles, that of the fewest choices first.
    pub(super) fn short_first(&self) -> Vec<usize> {
        places_by(self.roles.iter().map(|role| role.len() as u64))
    }

    /// The least volume of all roles together, whatever their errors.
    pub(super) fn least_volume(&self) -> u64 {
        self.roles
            .iter()
            .filter_map(|role| role.first())
            .map(|choice| choice.volume)
            .sum()
    }

    /// The least by which the volume of all roles rises where one of them has the
    /// error of the last level; nothing where none has.
    pub(super) fn more_at_last(&self) -> u64 {
        let last = self.levels.len().saturating_sub(1);
        let more = |role: &Vec<Choice<M>>| {
            let first = role.iter().find(|choice| choice.level as usize == last)?;
            Some(first.volume - role.first()?.volume)
        };
        self.roles.iter().filter_map(more).min().unwrap_or(0)
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

/// The used ones of `levels` from `floor` on, itself always, and where each of all
/// is among them.
fn used_levels(levels: &[u64], used: &[bool], floor: usize) -> (Vec<u64>, Vec<u32>) {
    let mut kept = Vec::new();
    let mut place = vec![0_u32; levels.len()];
    for level in floor..levels.len() {
        if used[level] || level == floor {
            place[level] = u32::try_from(kept.len()).unwrap_or(u32::MAX);
            kept.push(levels[level]);
        }
    }
    (kept, place)
}

fn role_choices<M: Mask>(
    window: &[PairOption<M>],
    errors: &[u64],
    levels: &[u64],
) -> Vec<Choice<M>> {
    let choice = |(place, (option, error)): (u32, (&PairOption<M>, &u64))| Choice {
        level: u32::try_from(levels.partition_point(|level| level < error)).unwrap_or(u32::MAX),
        volume: option.volume,
        mask: option.mask,
        place,
    };
    let mut choices: Vec<_> = (0..).zip(window.iter().zip(errors)).map(choice).collect();
    sort_by_numbers(&mut choices, |c| {
        [c.volume, u64::from(c.level), u64::from(c.place), 0]
    });
    choices
}

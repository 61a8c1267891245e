//! Claims that fall to sums of least values.

use super::claims::Step;
use super::stage::{Choice, Head, Stage};

/// What the roles of a stage may take behind one head within a number of
/// cutters, with the least metal up to each error.
#[derive(Debug)]
pub(super) struct Fitting<'a> {
    pub(super) head: &'a Head,
    /// Cutters left for the roles; no limit where none.
    pub(super) spare: Option<usize>,
    /// Per role its choices by rising error.
    roles: Vec<Vec<Choice>>,
    /// Per role and choice, the least metal of it and all before.
    least: Vec<Vec<u64>>,
}

/// What sums of least values say of a claim.
#[derive(Debug)]
pub(super) enum Look {
    /// It holds: some role has nothing to take, or all least values together
    /// are too much metal.
    Holds,
    /// Nothing binds the roles together, and the least of each is a set that
    /// the claim denies.
    Fails(Vec<Choice>),
    /// They do not settle it.
    Unsettled,
}

impl<'a> Fitting<'a> {
    /// None when the head alone needs too many cutters.
    pub(super) fn new(stage: &Stage, head: &'a Head, cutters: Option<u32>) -> Option<Self> {
        let own = head.cutters.ids().len();
        let spare = match cutters {
            None => None,
            Some(most) => Some((most as usize).checked_sub(own)?),
        };
        let fits = |choice: &&Choice| {
            spare.is_none_or(|spare| choice.cutters.beyond(&head.cutters).count() <= spare)
        };
        let roles: Vec<Vec<Choice>> = stage
            .roles
            .iter()
            .map(|role| role.iter().filter(fits).copied().collect())
            .collect();
        let least = roles.iter().map(|role| least_so_far(role)).collect();
        Some(Self {
            head,
            spare,
            roles,
            least,
        })
    }

    pub(super) fn look(&self, step: Step) -> Look {
        let ends = self.roles.iter().map(|role| within(role, step));
        let mut volume = self.head.volume;
        for (end, least) in ends.zip(&self.least) {
            let Some(last) = end.checked_sub(1) else {
                return Look::Holds;
            };
            volume += least[last];
        }
        if step.volume_below.is_some_and(|limit| volume >= limit) {
            return Look::Holds;
        }
        if self.spare.is_some() {
            return Look::Unsettled;
        }
        let least = |role: &Vec<Choice>| {
            let allowed = &role[..within(role, step)];
            allowed.iter().min_by_key(|choice| choice.volume).copied()
        };
        Look::Fails(self.roles.iter().filter_map(least).collect())
    }

    /// The choices of each role that a claim leaves.
    pub(super) fn allowed(&self, step: Step) -> impl Iterator<Item = &[Choice]> {
        self.roles
            .iter()
            .map(move |role| &role[..within(role, step)])
    }
}

/// How many choices of a role, by rising error, lie below the step's error.
fn within(role: &[Choice], step: Step) -> usize {
    step.error_below.map_or(role.len(), |limit| {
        role.partition_point(|choice| choice.error < limit)
    })
}

fn least_so_far(role: &[Choice]) -> Vec<u64> {
    let mut least = u64::MAX;
    role.iter()
        .map(|choice| {
            least = least.min(choice.volume);
            least
        })
        .collect()
}

//! The least changes of what is asked of the ratios.

use super::trial::{Trials, hundredths};
use super::view::{Ratios, View, Wanted};
use super::way::{Axis, Step};
use crate::base::{Decimal, Ratio, Window};
use crate::problem::{Head, Problem};
use crate::search::Control;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

/// The widest tolerance proposed for all speeds at once, hundredths of a percent.
const MOST_TOLERANCE: i64 = 5000;

/// What a role asks, and the keys that say so.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    pub(super) target: Decimal,
    pub(super) tolerance: Decimal,
    pub(super) target_key: String,
    pub(super) tolerance_key: String,
}

/// What each role asks: geared speeds in file order, then reverse.
pub(super) fn asked(problem: &Problem) -> Vec<Asked> {
    let speeds = problem.speeds().iter().enumerate();
    let mut all: Vec<Asked> = speeds
        .filter_map(|(i, speed)| {
            let geared = speed.geared()?;
            Some(Asked {
                target: geared.target(),
                tolerance: geared.tolerance_percent(),
                target_key: format!("speeds[{i}].ratio"),
                tolerance_key: format!("speeds[{i}].tolerance_percent"),
            })
        })
        .collect();
    all.extend(problem.reverse().map(|reverse| Asked {
        target: reverse.target(),
        tolerance: reverse.tolerance_percent(),
        target_key: "reverse.ratio".to_owned(),
        tolerance_key: "reverse.tolerance_percent".to_owned(),
    }));
    all
}

/// The least that would serve, over all heads and distances of a problem.
/// Tolerances in hundredths of a percent, ratios in thousandths.
#[derive(Clone, Debug, Default)]
pub(super) struct Least {
    /// Per role, where it alone is without gears: the least tolerance.
    pub(super) tolerance: BTreeMap<usize, i64>,
    /// And how far the nearest target lies off (millionths), and that target.
    target: BTreeMap<usize, (i64, i64)>,
    /// Head ratios that serve all roles: the greatest below the range, rounded
    /// down, and the least above it, rounded up.
    head_below: Option<i64>,
    head_above: Option<i64>,
    /// Per two roles that alone are without gears: how much both tolerances
    /// grow together at the least, the larger growth, and both tolerances.
    two: BTreeMap<(usize, usize), (i64, i64, i64, i64)>,
    /// Where more are: how much all their tolerances grow together at the least,
    /// and these by role.
    many: Option<(i64, Vec<(usize, i64)>)>,
}

impl Least {
    /// Of every head at every distance; none when stopped before.
    pub(super) fn of(problem: &Problem, control: &Control) -> Option<Self> {
        let wanted = Wanted::of(problem);
        let asked = asked(problem);
        let distances = problem.centre_distances();
        let ratios = Ratios::of(problem);
        let one = |i| {
            if control.stopped() {
                return Self::default();
            }
            let views = View::all(problem, &ratios, distances.at(i));
            let each = views.iter().map(|view| Self::at(view, &wanted, &asked));
            each.fold(Self::default(), Self::merge)
        };
        let least = (0..distances.len())
            .into_par_iter()
            .map(one)
            .reduce(Self::default, Self::merge);
        (!control.stopped()).then_some(least)
    }

    fn at(view: &View, wanted: &Wanted, asked: &[Asked]) -> Self {
        let mut least = Self::default();
        for &head in &view.heads {
            let blocked = view.blocked(wanted, head);
            let roles: Vec<usize> = (0..=asked.len())
                .filter(|role| blocked & (1 << role) != 0)
                .collect();
            match roles[..] {
                [role] if role == asked.len() => least.note_head(wanted, head),
                [role] => least.note_role(view, wanted, asked, role, head),
                [one, other] if other < asked.len() => {
                    let of = |role| least_tolerance(view, wanted, asked, role, head);
                    if let (Some(x), Some(y)) = (of(one), of(other)) {
                        let grown = [(one, x), (other, y)]
                            .map(|(role, t)| t - in_hundredths(asked[role].tolerance));
                        let worth = (grown[0] + grown[1], grown[0].max(grown[1]), x, y);
                        keep_least(&mut least.two, (one, other), worth);
                    }
                }
                [_, _, ..] if !roles.contains(&asked.len()) => {
                    let of = |&role: &usize| {
                        Some((role, least_tolerance(view, wanted, asked, role, head)?))
                    };
                    let all: Option<Vec<_>> = roles.iter().map(of).collect();
                    least.keep_many(all.map(|all| (growth(asked, &all), all)));
                }
                _ => {}
            }
        }
        least
    }

    fn keep_many(&mut self, many: Option<(i64, Vec<(usize, i64)>)>) {
        self.many = match (self.many.take(), many) {
            (Some(x), Some(y)) => Some(x.min(y)),
            (x, y) => x.or(y),
        };
    }

    fn note_role(
        &mut self,
        view: &View,
        wanted: &Wanted,
        asked: &[Asked],
        role: usize,
        head: Ratio,
    ) {
        let of = &asked[role];
        if let Some(tolerance) = least_tolerance(view, wanted, asked, role, head) {
            keep_least(&mut self.tolerance, role, tolerance);
        }
        for ratio in view.beside(wanted, role, head) {
            if let Some(target) = nearest_target(of, ratio) {
                let off = (target * 1000 - of.target.millionths()).abs();
                keep_least(&mut self.target, role, (off, target));
            }
        }
    }

    fn note_head(&mut self, wanted: &Wanted, ratio: Ratio) {
        let (n, d) = (ratio.numerator, ratio.denominator);
        let down = i64::try_from(1000 * n / d).unwrap_or(i64::MAX);
        if wanted.head.is_some_and(|window| window.is_above(ratio)) {
            self.head_below = self.head_below.max(Some(down).filter(|&down| down > 0));
        } else {
            let up = i64::try_from((1000 * n).div_ceil(d)).unwrap_or(i64::MAX);
            self.head_above = Some(self.head_above.map_or(up, |least| least.min(up)));
        }
    }

    fn merge(mut self, other: Self) -> Self {
        for (role, tolerance) in other.tolerance {
            keep_least(&mut self.tolerance, role, tolerance);
        }
        for (role, target) in other.target {
            keep_least(&mut self.target, role, target);
        }
        for (roles, two) in other.two {
            keep_least(&mut self.two, roles, two);
        }
        self.keep_many(other.many);
        self.head_below = self.head_below.max(other.head_below);
        self.head_above = match (self.head_above, other.head_above) {
            (Some(x), Some(y)) => Some(x.min(y)),
            (x, y) => x.or(y),
        };
        self
    }
}

fn keep_least<K: Ord, V: Ord>(of: &mut BTreeMap<K, V>, key: K, value: V) {
    match of.entry(key) {
        Entry::Vacant(free) => {
            free.insert(value);
        }
        Entry::Occupied(mut there) if value < *there.get() => {
            there.insert(value);
        }
        Entry::Occupied(_) => {}
    }
}

fn in_hundredths(percent: Decimal) -> i64 {
    percent.millionths().div_euclid(10_000)
}

/// The least tolerance with which a role has gears behind the head; below 100 %.
fn least_tolerance(
    view: &View,
    wanted: &Wanted,
    asked: &[Asked],
    role: usize,
    head: Ratio,
) -> Option<i64> {
    let target = asked[role].target;
    let admits = |tolerance: i64, ratio: Ratio| {
        Window::around(target, hundredths(tolerance)).contains(ratio)
    };
    let of = |ratio: Ratio| {
        let percent = 100.0 * ratio.error(target);
        if percent >= 100.0 {
            return None;
        }
        let mut tolerance = rounded(100.0 * percent) - 1;
        while !admits(tolerance.max(1), ratio) {
            tolerance += 1;
        }
        Some(tolerance.max(1)).filter(|&tolerance| tolerance < 10_000)
    };
    view.beside(wanted, role, head).filter_map(of).min()
}

/// The target nearest to what is asked whose tolerance holds `ratio`.
fn nearest_target(asked: &Asked, ratio: Ratio) -> Option<i64> {
    let holds = |thousandths: i64| {
        let target = Decimal::from_millionths(thousandths * 1000);
        Window::around(target, asked.tolerance).contains(ratio)
    };
    let part = asked.tolerance.to_f64() / 100.0;
    let above = !ratio.deviation(asked.target).is_sign_negative();
    let towards = if above { -1 } else { 1 };
    let limit = if above { 1.0 + part } else { 1.0 - part };
    // From a step too far back towards what is asked.
    let mut target = rounded(1000.0 * ratio.to_f64() / limit) - 2 * towards;
    let mut tries = 0;
    while !holds(target) {
        // A tolerance below half a thousandth may hold no such target.
        tries += 1;
        if tries > 4 {
            return None;
        }
        target += towards;
    }
    while holds(target + towards) {
        target += towards;
    }
    Some(target).filter(|target| (1..=1_000_000).contains(target))
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "ratios to 1000 and percents below 100"
)]
fn rounded(value: f64) -> i64 {
    value.round() as i64
}

/// The steps of one limit each.
pub(super) fn singles(trials: &Trials<'_>, least: &Least) -> Vec<Step> {
    let asked = asked(trials.problem);
    let mut steps = Vec::new();
    for (&role, &tolerance) in &least.tolerance {
        steps.push(tolerance_step(&asked[role], role, tolerance));
    }
    for (&role, &(_, target)) in &least.target {
        let of = &asked[role];
        let to = Decimal::from_millionths(target * 1000);
        let axis = Axis::Target(role);
        steps.push(Step::of(axis, &of.target_key, Some(of.target), to));
    }
    let head = trials.problem.head();
    let mut of_head = |axis, key, now, to: Option<i64>| {
        if let Some(to) = to {
            let to = Decimal::from_millionths(to * 1000);
            steps.push(Step::of(axis, key, now, to));
        }
    };
    let (min, max) = (head.and_then(Head::min), head.and_then(Head::max));
    of_head(Axis::HeadMin, "head.ratio.min", min, least.head_below);
    of_head(Axis::HeadMax, "head.ratio.max", max, least.head_above);
    steps.extend(of_spacing(trials));
    steps.retain(|step| step.edits.iter().all(|(key, _)| trials.may_change(key)));
    steps
}

/// Speeds that a law spaces share one tolerance: they stand in no list that
/// could be changed one by one.
fn of_spacing(trials: &Trials<'_>) -> Option<Step> {
    crate::problem::get(trials.text, "spacing")?;
    let key = "default_tolerance_percent";
    let spaced = trials.problem.geared().next()?;
    let now = spaced.tolerance_percent();
    let step = |to| Step::of(Axis::DefaultTolerance, key, Some(now), hundredths(to));
    let list: Vec<i64> = (in_hundredths(now) + 1..=MOST_TOLERANCE).collect();
    if !trials.may_change(key) {
        return None;
    }
    let first = trials.first_of_rising(&list, |to| step(to).edits)?;
    Some(step(first))
}

pub(super) fn tolerance_step(asked: &Asked, role: usize, tolerance: i64) -> Step {
    Step::of(
        Axis::Tolerance(role),
        &asked.tolerance_key,
        Some(asked.tolerance),
        hundredths(tolerance),
    )
}

/// How much tolerances grow in all, hundredths of a percent.
fn growth(asked: &[Asked], tolerances: &[(usize, i64)]) -> i64 {
    let of = |&(role, tolerance): &(usize, i64)| tolerance - in_hundredths(asked[role].tolerance);
    tolerances.iter().map(of).sum()
}

/// As many tolerances as it takes, growing least in all.
pub(super) fn many(trials: &Trials<'_>, least: &Least) -> Option<Vec<Step>> {
    let asked = asked(trials.problem);
    let (_, tolerances) = least.many.as_ref()?;
    let free = |(role, _): &(usize, i64)| trials.may_change(&asked[*role].tolerance_key);
    let step = |&(role, tolerance): &(usize, i64)| tolerance_step(&asked[role], role, tolerance);
    tolerances
        .iter()
        .all(free)
        .then(|| tolerances.iter().map(step).collect())
}

/// Two tolerances that together grow less than either would alone.
pub(super) fn pairs(trials: &Trials<'_>, least: &Least) -> Vec<Vec<Step>> {
    let asked = asked(trials.problem);
    let alone = |role: usize| {
        let tolerance = least.tolerance.get(&role);
        tolerance
            .filter(|_| trials.may_change(&asked[role].tolerance_key))
            .map(|tolerance| tolerance - in_hundredths(asked[role].tolerance))
    };
    let mut found: Vec<_> = least
        .two
        .iter()
        .filter(|((one, other), (together, ..))| {
            let free = |role: &usize| trials.may_change(&asked[*role].tolerance_key);
            let cheaper = |role: &usize| alone(*role).is_none_or(|alone| *together < alone);
            free(one) && free(other) && cheaper(one) && cheaper(other)
        })
        .collect();
    found.sort_by_key(|(_, worth)| **worth);
    let steps = found.into_iter().map(|(&(one, other), &(_, _, x, y))| {
        let [x, y] = [(one, x), (other, y)].map(|(r, t)| tolerance_step(&asked[r], r, t));
        vec![x, y]
    });
    steps.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked_of(target: &str, tolerance: &str) -> Asked {
        let decimal = |text| Decimal::parse(text).unwrap();
        Asked {
            target: decimal(target),
            tolerance: decimal(tolerance),
            target_key: String::new(),
            tolerance_key: String::new(),
        }
    }

    #[test]
    fn the_nearest_target_holds_the_ratio_and_its_neighbour_does_not() {
        // 2.1 within 5 %: 2.000; 2.2 needs 2.096 (2.095 × 1.05 = 2.19975).
        let two = asked_of("2", "5");
        assert_eq!(nearest_target(&two, Ratio::of(22, 10)), Some(2096));
        // From below: 1.8 / 0.95 = 1.8947.
        assert_eq!(nearest_target(&two, Ratio::of(18, 10)), Some(1894));
        assert_eq!(
            nearest_target(&asked_of("2", "0.00001"), Ratio::of(15_001, 10_000)),
            None
        );
    }
}

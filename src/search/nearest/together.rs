//! Which speeds are missing together under a head ratio.

use super::Together;
use super::choices::{Choice, Reachable, by_ratio, sorted};
use crate::base::{Ratio, Window};
use crate::problem::{Geared, Problem, Speed};
use crate::train::Pair;
use std::collections::BTreeMap;

/// Cases told at most.
const TOLD: usize = 20;

/// What a role asks, and what it may take by ratio.
type Role = (Window, Vec<Choice>);

/// The roles, reverse last: once, or once for each gear that drives both a speed
/// and reverse.
fn ways(here: &Reachable<'_>, reverses: Option<&[Choice]>) -> Vec<Vec<Role>> {
    let speeds = here.problem.geared().map(Geared::window);
    let mut roles: Vec<Role> = speeds.zip(here.speeds.iter().cloned()).collect();
    let (Some(wanted), Some(reverses)) = (here.problem.reverse(), reverses) else {
        return vec![roles];
    };
    let Some((place, pairs)) = here.shared() else {
        roles.push((wanted.window(), reverses.to_vec()));
        return vec![roles];
    };
    let driver = |pair: &Pair| (pair.module, pair.driver);
    let mut ways = Vec::new();
    let mut drivers: Vec<_> = pairs.iter().map(driver).collect();
    drivers.sort_unstable();
    drivers.dedup();
    for shared in drivers {
        let mut roles = roles.clone();
        let own = pairs.iter().copied().filter(|pair| driver(pair) == shared);
        roles[place].1 = by_ratio(own);
        let reverse = reverses
            .iter()
            .filter(|choice| driver(&choice.pair) == shared);
        roles.push((wanted.window(), sorted(reverse.copied().collect())));
        ways.push(roles);
    }
    if ways.is_empty() {
        roles.push((wanted.window(), Vec::new()));
        ways.push(roles);
    }
    ways
}

/// The roles that have no choice behind a head of that ratio.
fn missing(roles: &[Role], head: Ratio) -> Vec<usize> {
    let blocked = |(window, choices): &Role| {
        let made = |choice: &Choice| head.then(choice.ratio);
        let first = choices.partition_point(|choice| window.is_above(made(choice)));
        !choices
            .get(first)
            .is_some_and(|choice| window.contains(made(choice)))
    };
    let roles = roles.iter().enumerate();
    let missing = roles.filter(|(_, role)| blocked(role));
    missing.map(|(place, _)| place).collect()
}

/// Head ratios by the roles that they leave without a choice: places in file
/// order, reverse behind them.
#[derive(Debug, Default)]
pub(super) struct Patterns(BTreeMap<Vec<usize>, Span>);

#[derive(Clone, Copy, Debug)]
struct Span {
    count: u64,
    lowest: Ratio,
    highest: Ratio,
}

impl Patterns {
    /// Notes every head ratio of a centre distance; `reverses` holds the
    /// reverse gears that have a place, when reverse is asked for. Where reverse
    /// shares the driving gear of a speed, the gear that leaves the fewest roles
    /// without a choice stands for a head.
    pub(super) fn note(&mut self, here: &Reachable<'_>, reverses: Option<&[Choice]>) {
        let ways = ways(here, reverses);
        for head in &here.heads {
            let each = ways.iter().map(|roles| missing(roles, head.ratio));
            let least = each.min_by(|x, y| (x.len(), x).cmp(&(y.len(), y)));
            let missing = least.unwrap_or_default();
            let span = Span {
                count: 0,
                lowest: head.ratio,
                highest: head.ratio,
            };
            let span = self.0.entry(missing).or_insert(span);
            span.count += 1;
            span.lowest = span.lowest.min(head.ratio);
            span.highest = span.highest.max(head.ratio);
        }
    }

    /// The cases, fewest missing first, and how many more there were.
    pub(super) fn into_cases(self, problem: &Problem) -> (Vec<Together>, usize) {
        let geared = problem
            .speeds()
            .iter()
            .filter(|speed| speed.geared().is_some());
        let mut names: Vec<&str> = geared.map(Speed::name).collect();
        names.push("reverse");
        let mut cases: Vec<_> = self.0.into_iter().collect();
        cases.sort_by(|x, y| (x.0.len(), &x.0).cmp(&(y.0.len(), &y.0)));
        let left_out = cases.len().saturating_sub(TOLD);
        cases.truncate(TOLD);
        let told = cases.into_iter().map(|(missing, span)| Together {
            missing: missing
                .into_iter()
                .map(|role| names[role].to_owned())
                .collect(),
            head_ratios: span.count,
            lowest_head_ratio: span.lowest.to_f64(),
            highest_head_ratio: span.highest.to_f64(),
        });
        (told.collect(), left_out)
    }
}

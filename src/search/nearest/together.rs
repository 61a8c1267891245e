//! Which speeds are missing together under a head ratio.

use super::Together;
use super::choices::{Choice, Reachable};
use crate::base::{Ratio, Window};
use crate::problem::{Problem, Speed};
use std::collections::BTreeMap;

/// Cases told at most.
const TOLD: usize = 20;

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
    /// reverse ratios that have a place, when reverse is asked for.
    pub(super) fn note(&mut self, here: &Reachable<'_>, reverses: Option<&[Choice]>) {
        let speeds = here.problem.geared().map(|wanted| wanted.window());
        let mut roles: Vec<(Window, &[Choice])> =
            speeds.zip(here.speeds.iter().map(Vec::as_slice)).collect();
        if let (Some(wanted), Some(reverses)) = (here.problem.reverse(), reverses) {
            roles.push((wanted.window(), reverses));
        }
        for head in &here.heads {
            let missing = roles.iter().enumerate().filter(|(_, (window, choices))| {
                let made = |choice: &Choice| head.ratio.then(choice.ratio);
                let first = choices.partition_point(|choice| window.is_above(made(choice)));
                !choices
                    .get(first)
                    .is_some_and(|choice| window.contains(made(choice)))
            });
            let missing = missing.map(|(role, _)| role).collect();
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

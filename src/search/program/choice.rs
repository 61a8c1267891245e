//! A claim about one head as an integer program.

use super::bounds::Fitting;
use super::claims::Step;
use super::gearing::Cutters;
use super::solver::{Answer, Program};
use super::stage::Choice;
use super::sums::below;
use crate::search::Control;
use std::collections::{BTreeMap, BTreeSet};

/// How many answers that hold by tolerance only are cut off before a program
/// is left open.
const MOST_NEAR_MISSES: usize = 200;

/// How a claim was settled.
#[derive(Debug)]
pub(super) enum Verdict {
    /// It holds, without a program.
    ByBounds,
    /// It holds: the program has no answer.
    ByProgram,
    /// It does not: these choices are a set that it denies.
    Fails(Vec<Choice>),
    /// Nobody knows.
    Open,
}

/// What is left to choose from, and the two sums that bind the roles.
struct Bound {
    roles: Vec<Vec<Choice>>,
    /// Σ OD² of the head.
    head_volume: u64,
    volume_below: Option<u64>,
    /// Cutters besides the head's, at most.
    spare: usize,
}

/// Settles a claim that sums of least values did not.
pub(super) fn settle(fitting: &Fitting<'_>, step: Step, control: &Control) -> Verdict {
    let Some(bound) = Bound::new(fitting, step) else {
        return Verdict::Open;
    };
    let owned = &fitting.head.cutters;
    let (mut program, unknowns) = bound.program(owned);
    for _ in 0..=MOST_NEAR_MISSES {
        let yes = match program.solve(control) {
            Answer::None => return Verdict::ByProgram,
            Answer::Open => return Verdict::Open,
            Answer::Found(yes) => yes,
        };
        let Some(chosen) = bound.chosen(&unknowns, &yes) else {
            return Verdict::Open;
        };
        let cutters: BTreeSet<u32> = chosen
            .iter()
            .flat_map(|(_, choice)| choice.cutters.beyond(owned))
            .collect();
        let volume: u64 = chosen.iter().map(|(_, choice)| choice.volume).sum();
        let volume = volume + bound.head_volume;
        if cutters.len() <= bound.spare && bound.volume_below.is_none_or(|limit| volume < limit) {
            return Verdict::Fails(chosen.into_iter().map(|(_, choice)| choice).collect());
        }
        let near: Vec<usize> = chosen.iter().map(|(unknown, _)| *unknown).collect();
        program.forbid(&near);
    }
    Verdict::Open
}

impl Bound {
    fn new(fitting: &Fitting<'_>, step: Step) -> Option<Self> {
        let owned = &fitting.head.cutters;
        let least = |role: &[Choice]| role.iter().map(|c| c.volume).min();
        let all_least: u64 = fitting.allowed(step).filter_map(least).sum();
        let base = fitting.head.volume + all_least;
        let mut roles = Vec::new();
        for role in fitting.allowed(step) {
            let own_least = least(role)?;
            // With the least of all other roles it must stay below the limit.
            let light = |choice: &&Choice| {
                let with = base - own_least + choice.volume;
                step.volume_below.is_none_or(|limit| with < limit)
            };
            roles.push(leading(role.iter().filter(light), owned));
        }
        Some(Self {
            roles,
            head_volume: fitting.head.volume,
            volume_below: step.volume_below,
            spare: fitting.spare?,
        })
    }

    /// One unknown a choice and one a cutter. Each role takes one choice; a
    /// choice needs its cutters; cutters and metal are limited. Also returned:
    /// the unknowns of each role.
    fn program(&self, owned: &Cutters) -> (Program, Vec<Vec<usize>>) {
        let mut program = Program::default();
        let unknowns: Vec<Vec<usize>> = self
            .roles
            .iter()
            .map(|role| role.iter().map(|_| program.unknown(0.0)).collect())
            .collect();
        let mut bought: BTreeMap<u32, usize> = BTreeMap::new();
        for (role, own) in self.roles.iter().zip(&unknowns) {
            program.exactly(1.0, own.iter().map(|&x| (x, 1.0)).collect());
            let mut users: BTreeMap<u32, Vec<(usize, f64)>> = BTreeMap::new();
            for (choice, &unknown) in role.iter().zip(own) {
                for cutter in choice.cutters.beyond(owned) {
                    users.entry(cutter).or_default().push((unknown, 1.0));
                }
            }
            for (cutter, mut terms) in users {
                let y = *bought.entry(cutter).or_insert_with(|| program.unknown(0.0));
                terms.push((y, -1.0));
                program.at_most(0.0, terms);
            }
        }
        let spare = u32::try_from(self.spare).map_or(f64::MAX, f64::from);
        program.at_most(spare, bought.values().map(|&y| (y, 1.0)).collect());
        self.limit_volume(&mut program, &unknowns);
        (program, unknowns)
    }

    /// Metal above the least of each role, below what is then left of it.
    fn limit_volume(&self, program: &mut Program, unknowns: &[Vec<usize>]) {
        let Some(limit) = self.volume_below else {
            return;
        };
        let least = |role: &[Choice]| role.iter().map(|c| c.volume).min().unwrap_or(0);
        let mut left = limit - self.head_volume;
        let mut terms = Vec::new();
        for (role, own) in self.roles.iter().zip(unknowns) {
            let least = least(role);
            left -= least;
            terms.extend(role.iter().zip(own).map(|(c, &x)| (x, c.volume - least)));
        }
        below(program, left, &terms);
    }

    /// The choice that each role takes, if the answer gives each just one.
    fn chosen(&self, unknowns: &[Vec<usize>], yes: &[bool]) -> Option<Vec<(usize, Choice)>> {
        let mut chosen = Vec::new();
        for (role, own) in self.roles.iter().zip(unknowns) {
            let mut taken = role.iter().zip(own).filter(|(_, x)| yes[**x]);
            let (choice, &unknown) = taken.next()?;
            if taken.next().is_some() {
                return None;
            }
            chosen.push((unknown, *choice));
        }
        Some(chosen)
    }
}

/// Of choices whose errors no longer matter, those that no other replaces.
fn leading<'a>(role: impl Iterator<Item = &'a Choice>, owned: &Cutters) -> Vec<Choice> {
    let mut all: Vec<Choice> = role.map(|&choice| Choice { error: 0, ..choice }).collect();
    all.sort_by_key(|choice| (choice.volume, choice.cutters.beyond(owned).count()));
    let mut kept: Vec<Choice> = Vec::new();
    for choice in all {
        if !kept.iter().any(|k| k.replaces(&choice, owned)) {
            kept.push(choice);
        }
    }
    kept
}

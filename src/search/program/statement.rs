//! A whole problem stated as one program, and its answers read.

use super::bars::{Bars, Cuts};
use super::choices::{Candidate, Choices};
use super::gearing::Taken;
use super::needs::Needs;
use super::solver::Program;
use super::sums::{below, real};
use crate::problem::{Measure, Problem};
use crate::train::Set;
use std::collections::BTreeMap;

/// What a set must keep to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// Bits of the greatest error allowed.
    pub(super) error: u64,
    /// What it needs must cost less; not 0.
    pub(super) price_below: Option<u64>,
    pub(super) volume_below: Option<u64>,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            error: u64::MAX,
            price_below: None,
            volume_below: None,
        }
    }
}

/// What is to be made least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    /// Any set will do.
    Nothing,
    /// What needs and bars cost; where needs are counted, each costs 1.
    Price,
    Metal,
}

/// All that a program speaks of.
pub(super) struct Matter {
    pub(super) choices: Choices,
    pub(super) needs: Needs,
    /// What gears are cut from, where money counts.
    pub(super) bars: Option<Bars>,
}

/// A program and its unknowns.
pub(super) struct Stated {
    pub(super) program: Program,
    heads: Vec<usize>,
    roles: Vec<Vec<usize>>,
    /// Where the price matters.
    cuts: Option<Cuts>,
}

/// What an answer says.
pub(super) struct Reading {
    pub(super) set: Set,
    /// What it costs, if that matters and its cuts hold.
    pub(super) price: Option<u64>,
    /// The unknowns that say all this.
    pub(super) taken: Vec<usize>,
}

impl Matter {
    pub(super) fn new(problem: &Problem, measure: Measure) -> Self {
        let choices = Choices::new(problem, measure);
        Self {
            needs: Needs::new(problem, measure, &choices),
            bars: (measure == Measure::Cost).then(|| Bars::new(problem, &choices)),
            choices,
        }
    }

    pub(super) fn unknowns(&self) -> usize {
        self.choices.count() + self.needs.count() + self.bars.as_ref().map_or(0, Bars::count)
    }

    /// One head; one candidate a role, only behind the heads that allow it; what
    /// they need with them.
    pub(super) fn state(&self, problem: &Problem, limits: &Limits, aim: Aim) -> Stated {
        let mut program = Program::default();
        let heaviest = real(self.choices.volumes().max().unwrap_or(1));
        let metal = |volume: u64| match aim {
            Aim::Metal => real(volume) / heaviest,
            _ => 0.0,
        };
        let heads = self.choices.heads.iter();
        let heads: Vec<usize> = heads
            .map(|(_, head)| program.unknown(metal(head.volume)))
            .collect();
        let roles = self.choices.roles.iter().map(|role| {
            let unknown = |c: &Candidate| program.unknown(metal(c.gearing.volume));
            role.iter().map(unknown).collect()
        });
        let roles: Vec<Vec<usize>> = roles.collect();
        for own in std::iter::once(&heads).chain(&roles) {
            program.exactly(1.0, own.iter().map(|&x| (x, 1.0)).collect());
        }
        let mut stated = Stated {
            program,
            heads,
            roles,
            cuts: None,
        };
        self.follow_the_head(limits, &mut stated);
        self.share_the_driver(problem, &mut stated);
        self.price(limits, aim, &mut stated);
        self.limit_volume(limits, &mut stated);
        stated
    }

    fn follow_the_head(&self, limits: &Limits, stated: &mut Stated) {
        for (role, own) in self.choices.roles.iter().zip(&stated.roles) {
            for (candidate, &x) in role.iter().zip(own) {
                let allowed = candidate.behind.iter().filter(|at| at.1 <= limits.error);
                let heads = allowed.filter_map(|at| stated.heads.get(at.0));
                let mut terms: Vec<_> = heads.map(|&head| (head, -1.0)).collect();
                terms.push((x, 1.0));
                stated.program.at_most(0.0, terms);
            }
        }
    }

    /// Where reverse is driven by the gear of a speed, it takes a driver only
    /// where the speed takes it.
    fn share_the_driver(&self, problem: &Problem, stated: &mut Stated) {
        let Some(speed) = problem.shared_speed() else {
            return;
        };
        let reverse = problem.geared().count();
        let roles = [reverse, speed].map(|role| {
            let candidates = self.choices.roles.get(role).into_iter().flatten();
            candidates.zip(stated.roles.get(role).into_iter().flatten())
        });
        let mut drivers: BTreeMap<_, Vec<(usize, f64)>> = BTreeMap::new();
        for (role, sign) in roles.into_iter().zip([1.0, -1.0]) {
            for (candidate, &x) in role {
                let driver = candidate.gearing.teeth.driver();
                drivers.entry(driver).or_default().push((x, sign));
            }
        }
        for terms in drivers.into_values() {
            stated.program.at_most(0.0, terms);
        }
    }

    fn price(&self, limits: &Limits, aim: Aim, stated: &mut Stated) {
        if aim != Aim::Price && limits.price_below.is_none() {
            return;
        }
        let bars = self.bars.as_ref();
        let dearest = self.needs.dearest().max(bars.map_or(0, Bars::dearest));
        let whole = (aim == Aim::Price).then_some(dearest);
        let Stated {
            program,
            heads,
            roles,
            ..
        } = stated;
        let groups = std::iter::once(&*heads).chain(&*roles).map(Vec::as_slice);
        let groups: Vec<&[usize]> = groups.collect();
        let mut terms = self.needs.state(program, &groups, whole);
        let cuts = bars.map(|bars| bars.state(program, &groups, whole));
        let cuts = cuts.unwrap_or_default();
        terms.extend(&cuts.money);
        if let Some(limit) = limits.price_below {
            below(program, limit, &terms);
        }
        stated.cuts = Some(cuts);
    }

    fn limit_volume(&self, limits: &Limits, stated: &mut Stated) {
        if let Some(limit) = limits.volume_below {
            let all = stated.heads.iter().chain(stated.roles.iter().flatten());
            let terms: Vec<_> = all.copied().zip(self.choices.volumes()).collect();
            below(&mut stated.program, limit, &terms);
        }
    }

    /// The set that an answer means, its price in whole numbers, and the
    /// unknowns that it takes; none where a role takes nothing.
    pub(super) fn read(&self, stated: &Stated, yes: &[bool]) -> Option<Reading> {
        let taken = |x: usize| yes.get(x).copied().unwrap_or(false);
        let place = |own: &[usize]| own.iter().position(|&x| taken(x));
        let at = place(&stated.heads)?;
        let (centres, head) = self.choices.heads.get(at)?;
        let mut chosen = vec![at];
        let mut unknowns = vec![*stated.heads.get(at)?];
        let mut set = Set {
            centre_distance: *centres,
            head: head.pair,
            pairs: Vec::new(),
            reverse: None,
        };
        for (role, own) in self.choices.roles.iter().zip(&stated.roles) {
            let at = place(own)?;
            chosen.push(at);
            unknowns.push(*own.get(at)?);
            match role.get(at)?.gearing.teeth {
                Taken::Pair(pair) => set.pairs.push(pair),
                Taken::Reverse(gears) => set.reverse = Some(gears),
            }
        }
        let mut price = None;
        if let Some(cuts) = &stated.cuts {
            let bars = self.bars.as_ref();
            let cutting = bars.map(|bars| bars.price(cuts, yes, &chosen));
            let money = cutting.as_ref().map_or(Some(0), |cutting| cutting.money);
            price = money.map(|money| money + self.needs.price(&chosen));
            unknowns.extend(cutting.into_iter().flat_map(|cutting| cutting.taken));
        }
        Some(Reading {
            set,
            price,
            taken: unknowns,
        })
    }
}

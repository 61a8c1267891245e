//! A whole problem as one integer program: for small problems, and for tests.

use super::choices::{Candidate, Choices};
use super::options::Taken;
use super::points::is_a_set;
use super::solver::{Answer, Program};
use super::sums::{below, real};
use crate::problem::{Measure, Problem};
use crate::search::Control;
use crate::train::{Figures, Set};
use std::collections::BTreeMap;

/// More unknowns than this are not tried: nothing here is made for size.
pub const MOST_UNKNOWNS: usize = 4000;

/// How often an answer is improved on, or cut off as it holds by tolerance only.
const MOST_TRIES: usize = 200;

/// What one program over all choices at once found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whole {
    /// No set has less of the measure; of those level, none has less metal.
    Best(Set),
    /// There is no set.
    NoSet,
    /// The program would have this many unknowns.
    TooLarge(usize),
    /// It was stopped, or gave up.
    Open,
}

/// The least of a measure, then the least metal, by one integer program: a
/// choice of centre distance and head, of a pair for each speed, of reverse.
/// The least worst error is found by halving the list of all errors.
pub fn least_by_program(problem: &Problem, measure: Measure, control: &Control) -> Whole {
    let choices = Choices::new(problem);
    let unknowns = choices.unknowns();
    if unknowns > MOST_UNKNOWNS {
        return Whole::TooLarge(unknowns);
    }
    let inquiry = Inquiry {
        problem,
        choices,
        control,
    };
    let mut limits = Limits::default();
    if measure == Measure::WorstError {
        match inquiry.least_error() {
            Ok(Some(error)) => limits.error = error,
            Ok(None) => return Whole::NoSet,
            Err(Undecided) => return Whole::Open,
        }
    }
    if measure == Measure::DistinctCutters {
        match inquiry.least(&limits, Measure::DistinctCutters) {
            Ok(Some(set)) => limits.cutters = Some(Figures::of(problem, &set).distinct_cutters),
            Ok(None) => return Whole::NoSet,
            Err(Undecided) => return Whole::Open,
        }
    }
    match inquiry.least(&limits, Measure::BlankVolume) {
        Ok(Some(set)) => Whole::Best(set),
        Ok(None) => Whole::NoSet,
        Err(Undecided) => Whole::Open,
    }
}

/// The solver gave no answer that stands.
#[derive(Clone, Copy, Debug)]
struct Undecided;

/// What a set must keep to.
#[derive(Clone, Copy, Debug)]
struct Limits {
    /// Bits of the greatest error allowed.
    error: u64,
    cutters: Option<u32>,
    volume_below: Option<u64>,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            error: u64::MAX,
            cutters: None,
            volume_below: None,
        }
    }
}

/// Unknowns of a program, as the choices lie.
struct Unknowns {
    heads: Vec<usize>,
    roles: Vec<Vec<usize>>,
}

struct Inquiry<'a> {
    problem: &'a Problem,
    choices: Choices,
    control: &'a Control,
}

impl Inquiry<'_> {
    /// Bits of the least worst error of any set.
    fn least_error(&self) -> Result<Option<u64>, Undecided> {
        let candidates = self.choices.roles.iter().flatten();
        let errors = candidates.flat_map(|c| c.behind.iter().map(|&(_, error)| error));
        let mut errors: Vec<u64> = errors.collect();
        errors.sort_unstable();
        errors.dedup();
        let (mut low, mut high) = (0, errors.len());
        while low < high {
            let middle = low.midpoint(high);
            let limits = Limits {
                error: errors[middle],
                ..Limits::default()
            };
            match self.answer(&limits, None)? {
                Some(_) => high = middle,
                None => low = middle + 1,
            }
        }
        Ok(errors.get(low).copied())
    }

    /// The set with the least of `measure` within the limits. Whatever the
    /// solver takes for the least is asked to be beaten until nothing does.
    fn least(&self, limits: &Limits, measure: Measure) -> Result<Option<Set>, Undecided> {
        let mut best = None;
        let mut limits = *limits;
        for _ in 0..MOST_TRIES {
            let Some(set) = self.answer(&limits, Some(measure))? else {
                return Ok(best);
            };
            let figures = Figures::of(self.problem, &set);
            best = Some(set);
            if measure == Measure::DistinctCutters {
                limits.cutters = Some(figures.distinct_cutters - 1);
            } else {
                limits.volume_below = Some(figures.blank_um2);
            }
        }
        Err(Undecided)
    }

    /// A set within the limits, looked at again in whole numbers.
    fn answer(&self, limits: &Limits, least: Option<Measure>) -> Result<Option<Set>, Undecided> {
        let (mut program, unknowns) = self.program(limits, least);
        for _ in 0..MOST_TRIES {
            let yes = match program.solve(self.control) {
                Answer::None => return Ok(None),
                Answer::Open => return Err(Undecided),
                Answer::Found(yes) => yes,
            };
            let (set, taken) = self.set(&unknowns, &yes).ok_or(Undecided)?;
            if self.keeps(limits, &set) {
                return Ok(Some(set));
            }
            program.forbid(&taken);
        }
        Err(Undecided)
    }

    fn keeps(&self, limits: &Limits, set: &Set) -> bool {
        let figures = Figures::of(self.problem, set);
        is_a_set(self.problem, set)
            && figures.worst_error.to_bits() <= limits.error
            && limits
                .cutters
                .is_none_or(|most| figures.distinct_cutters <= most)
            && limits
                .volume_below
                .is_none_or(|limit| figures.blank_um2 < limit)
    }

    /// One head; one candidate a role, only behind the heads that allow it; its
    /// cutters with it.
    fn program(&self, limits: &Limits, least: Option<Measure>) -> (Program, Unknowns) {
        let mut program = Program::default();
        let heaviest = real(self.choices.volumes().max().unwrap_or(1));
        let metal = |volume: u64| match least {
            Some(Measure::BlankVolume) => real(volume) / heaviest,
            _ => 0.0,
        };
        let heads = self.choices.heads.iter();
        let roles = self.choices.roles.iter();
        let unknowns = Unknowns {
            heads: heads
                .map(|(_, head)| program.unknown(metal(head.volume)))
                .collect(),
            roles: roles
                .map(|role| {
                    let unknown = |c: &Candidate| program.unknown(metal(c.gearing.volume));
                    role.iter().map(unknown).collect()
                })
                .collect(),
        };
        for own in std::iter::once(&unknowns.heads).chain(&unknowns.roles) {
            program.exactly(1.0, own.iter().map(|&x| (x, 1.0)).collect());
        }
        self.follow_the_head(limits, &mut program, &unknowns);
        self.share_the_driver(&mut program, &unknowns);
        self.buy_cutters(limits, least, &mut program, &unknowns);
        self.limit_volume(limits, &mut program, &unknowns);
        (program, unknowns)
    }

    fn follow_the_head(&self, limits: &Limits, program: &mut Program, unknowns: &Unknowns) {
        for (role, own) in self.choices.roles.iter().zip(&unknowns.roles) {
            for (candidate, &x) in role.iter().zip(own) {
                let allowed = candidate.behind.iter().filter(|at| at.1 <= limits.error);
                let mut terms: Vec<_> = allowed.map(|at| (unknowns.heads[at.0], -1.0)).collect();
                terms.push((x, 1.0));
                program.at_most(0.0, terms);
            }
        }
    }

    /// Where reverse is driven by the gear of a speed, it takes a driver only
    /// where the speed takes it.
    fn share_the_driver(&self, program: &mut Program, unknowns: &Unknowns) {
        let Some(speed) = self.problem.shared_speed() else {
            return;
        };
        let reverse = self.problem.geared().count();
        let roles = [reverse, speed].map(|role| {
            let candidates = self.choices.roles.get(role).into_iter().flatten();
            candidates.zip(unknowns.roles.get(role).into_iter().flatten())
        });
        let mut drivers: BTreeMap<_, Vec<(usize, f64)>> = BTreeMap::new();
        for (role, sign) in roles.into_iter().zip([1.0, -1.0]) {
            for (candidate, &x) in role {
                let driver = candidate.gearing.teeth.driver();
                drivers.entry(driver).or_default().push((x, sign));
            }
        }
        for terms in drivers.into_values() {
            program.at_most(0.0, terms);
        }
    }

    fn buy_cutters(
        &self,
        limits: &Limits,
        least: Option<Measure>,
        program: &mut Program,
        unknowns: &Unknowns,
    ) {
        let heads = self.choices.heads.iter().map(|(_, head)| head.cutters);
        let roles = self.choices.roles.iter().map(|role| {
            let cutters = role.iter().map(|candidate| candidate.gearing.cutters);
            cutters.collect::<Vec<_>>()
        });
        let all = std::iter::once(heads.collect()).chain(roles);
        let own = std::iter::once(&unknowns.heads).chain(&unknowns.roles);
        let price = f64::from(u8::from(least == Some(Measure::DistinctCutters)));
        let mut bought: BTreeMap<u32, usize> = BTreeMap::new();
        for (cutters, own) in all.zip(own) {
            let mut users: BTreeMap<u32, Vec<(usize, f64)>> = BTreeMap::new();
            for (needed, &x) in cutters.iter().zip(own) {
                for &id in needed.ids() {
                    users.entry(id).or_default().push((x, 1.0));
                }
            }
            for (id, mut terms) in users {
                let y = *bought.entry(id).or_insert_with(|| program.unknown(price));
                terms.push((y, -1.0));
                program.at_most(0.0, terms);
            }
        }
        if let Some(most) = limits.cutters {
            program.at_most(
                f64::from(most),
                bought.values().map(|&y| (y, 1.0)).collect(),
            );
        }
    }

    fn limit_volume(&self, limits: &Limits, program: &mut Program, unknowns: &Unknowns) {
        if let Some(limit) = limits.volume_below {
            let all = unknowns.heads.iter().chain(unknowns.roles.iter().flatten());
            let terms: Vec<_> = all.copied().zip(self.choices.volumes()).collect();
            below(program, limit, &terms);
        }
    }

    /// The set that an answer means, and the unknowns that it takes.
    fn set(&self, unknowns: &Unknowns, yes: &[bool]) -> Option<(Set, Vec<usize>)> {
        let place = |own: &[usize]| own.iter().position(|&x| yes[x]);
        let at = place(&unknowns.heads)?;
        let (centres, head) = self.choices.heads[at];
        let mut taken = vec![unknowns.heads[at]];
        let mut set = Set {
            centre_distance: centres,
            head: head.pair,
            pairs: Vec::new(),
            reverse: None,
        };
        for (role, own) in self.choices.roles.iter().zip(&unknowns.roles) {
            let at = place(own)?;
            taken.push(own[at]);
            match role[at].gearing.teeth {
                Taken::Pair(pair) => set.pairs.push(pair),
                Taken::Reverse(gears) => set.reverse = Some(gears),
            }
        }
        Some((set, taken))
    }
}

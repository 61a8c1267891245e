//! A whole problem as one integer program: for small problems, and for tests.

use super::bars::Bars;
use super::points::is_a_set;
use super::solver::Answer;
use super::statement::{Aim, Limits, Matter, Reading};
use crate::problem::{Measure, Problem};
use crate::search::Control;
use crate::stock::NO_BAR;
use crate::train::{Figures, Set};

/// More unknowns than this are not tried: nothing here is made for size.
pub const MOST_UNKNOWNS: usize = 4000;

/// How often an answer is improved on, or cut off as it holds by tolerance only.
const MOST_TRIES: usize = 200;

/// What one program over all choices at once found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whole {
    /// No set has less of the measure than this one, which has so much, as a
    /// whole number that compares as the measure does: millionths of money, bits
    /// of an error, [`NO_BAR`] where no bars hold the gears of any set. Of the
    /// sets level in it, none has less metal.
    Best(Set, u64),
    /// There is no set.
    NoSet,
    /// The program would have this many unknowns.
    TooLarge(usize),
    /// It was stopped, or gave up.
    Open,
}

/// The least of a measure, then the least metal, by one integer program: a
/// choice of centre distance and head, of a pair for each speed, of reverse, and
/// what they need of cutters, blanks, set-ups or bars. The least worst error is
/// found by halving the list of all errors. Strength and gears that the idler's pin
/// passes are not known to it.
pub fn least_by_program(problem: &Problem, measure: Measure, control: &Control) -> Whole {
    let matter = Matter::new(problem, measure);
    let unknowns = matter.unknowns();
    if unknowns > MOST_UNKNOWNS {
        return Whole::TooLarge(unknowns);
    }
    let inquiry = Inquiry {
        problem,
        matter,
        control,
    };
    match inquiry.best(measure) {
        Ok(Some((set, value))) => Whole::Best(set, value),
        Ok(None) => Whole::NoSet,
        Err(Undecided) => Whole::Open,
    }
}

/// The solver gave no answer that stands.
#[derive(Clone, Copy, Debug)]
struct Undecided;

struct Inquiry<'a> {
    problem: &'a Problem,
    matter: Matter,
    control: &'a Control,
}

impl Inquiry<'_> {
    /// The best set and its value.
    fn best(&self, measure: Measure) -> Result<Option<(Set, u64)>, Undecided> {
        let mut limits = Limits::default();
        let value = match measure {
            Measure::BlankVolume => None,
            Measure::WorstError => self.least_error()?.inspect(|&error| limits.error = error),
            _ => self
                .least_price()?
                .inspect(|price| limits.price_below = price.checked_add(1)),
        };
        // Sets of which none can be had for money are all alike.
        let none_is_held = measure == Measure::Cost && value.is_none();
        if value.is_none() && measure != Measure::BlankVolume && !none_is_held {
            return Ok(None);
        }
        let found = self.least(&limits, Aim::Metal)?;
        Ok(found.map(|reading| {
            let volume = || Figures::of(self.problem, &reading.set).blank_um2;
            let value = if none_is_held {
                NO_BAR
            } else {
                value.unwrap_or_else(volume)
            };
            (reading.set, value)
        }))
    }

    /// Bits of the least worst error of any set.
    fn least_error(&self) -> Result<Option<u64>, Undecided> {
        let candidates = self.matter.choices.roles.iter().flatten();
        let errors = candidates.flat_map(|c| c.behind.iter().map(|&(_, error)| error));
        let mut errors: Vec<u64> = errors.collect();
        errors.sort_unstable();
        errors.dedup();
        let (mut low, mut high) = (0, errors.len());
        while low < high {
            let middle = low.midpoint(high);
            let Some(&error) = errors.get(middle) else {
                break;
            };
            let limits = Limits {
                error,
                ..Limits::default()
            };
            match self.answer(&limits, Aim::Nothing)? {
                Some(_) => high = middle,
                None => low = middle + 1,
            }
        }
        Ok(errors.get(low).copied())
    }

    /// The least price of any set that has one.
    fn least_price(&self) -> Result<Option<u64>, Undecided> {
        if self.matter.bars.as_ref().is_some_and(Bars::lack) {
            return Ok(None);
        }
        let cheapest = self.least(&Limits::default(), Aim::Price)?;
        Ok(cheapest.and_then(|reading| reading.price))
    }

    /// The set with the least of what is aimed at within the limits. Whatever
    /// the solver takes for the least is asked to be beaten until nothing does.
    fn least(&self, limits: &Limits, aim: Aim) -> Result<Option<Reading>, Undecided> {
        let mut best = None;
        let mut limits = *limits;
        for _ in 0..MOST_TRIES {
            let Some(reading) = self.answer(&limits, aim)? else {
                return Ok(best);
            };
            if aim == Aim::Price {
                limits.price_below = reading.price;
            } else {
                limits.volume_below = Some(Figures::of(self.problem, &reading.set).blank_um2);
            }
            best = Some(reading);
            if limits.price_below == Some(0) {
                return Ok(best);
            }
        }
        Err(Undecided)
    }

    /// A set within the limits, looked at again in whole numbers.
    fn answer(&self, limits: &Limits, aim: Aim) -> Result<Option<Reading>, Undecided> {
        let mut stated = self.matter.state(self.problem, limits, aim);
        for _ in 0..MOST_TRIES {
            let yes = match stated.program.solve(self.control) {
                Answer::None => return Ok(None),
                Answer::Open => return Err(Undecided),
                Answer::Found(yes) => yes,
            };
            let reading = self.matter.read(&stated, &yes).ok_or(Undecided)?;
            if self.keeps(limits, aim, &reading) {
                return Ok(Some(reading));
            }
            stated.program.forbid(&reading.taken);
        }
        Err(Undecided)
    }

    fn keeps(&self, limits: &Limits, aim: Aim, reading: &Reading) -> bool {
        let figures = Figures::of(self.problem, &reading.set);
        let priced = aim != Aim::Price || reading.price.is_some();
        let within = |limit| reading.price.is_some_and(|price| price < limit);
        priced
            && is_a_set(self.problem, &reading.set)
            && figures.worst_error.to_bits() <= limits.error
            && limits.price_below.is_none_or(within)
            && limits
                .volume_below
                .is_none_or(|limit| figures.blank_um2 < limit)
    }
}

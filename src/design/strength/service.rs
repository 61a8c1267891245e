//! How long and how fast a box runs.

use super::Basis;
use crate::design::motion::State;
use crate::problem::Problem;

/// What lies between metal that slides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lubrication {
    /// Oil, splashed or in a bath.
    Oil,
    /// Grease.
    Grease,
    /// Nothing.
    Dry,
}

/// How long, how fast and in which speeds a box runs.
#[derive(Clone, Debug, PartialEq)]
pub struct Service {
    /// Turns of the input shaft per minute.
    pub input_rpm: f64,
    /// Where that comes from.
    pub rpm_from: Basis,
    /// How long it is to last, hours.
    pub hours: f64,
    /// Where that comes from.
    pub hours_from: Basis,
    /// Share of that time in each state; together 1.
    pub shares: Vec<(State, f64)>,
    /// Where these come from.
    pub shares_from: Basis,
    /// What lubricates it.
    pub lubrication: Lubrication,
    /// Where that comes from.
    pub lubrication_from: Basis,
}

/// Hours where the file does not say (common practice, no source).
const USUAL_HOURS: f64 = 1000.0;
/// Turns a minute where the file does not say.
const USUAL_RPM: f64 = 1000.0;
/// Share of the time in reverse where the file does not say.
const USUAL_REVERSE_SHARE: f64 = 0.05;

impl Service {
    /// As far as the file tells; the rest as usual.
    pub fn of(problem: &Problem) -> Self {
        let usual = "the file does not say; common practice, no source";
        Self {
            input_rpm: problem.input_rpm().unwrap_or(USUAL_RPM),
            rpm_from: match problem.input_rpm() {
                Some(_) => Basis::given("input_rpm"),
                None => Basis::defaulted(usual),
            },
            hours: USUAL_HOURS,
            hours_from: Basis::defaulted(usual),
            shares: equal_shares(problem),
            shares_from: Basis::defaulted("equal, reverse 5 %: the file does not say"),
            lubrication: Lubrication::Oil,
            lubrication_from: Basis::defaulted(usual),
        }
    }

    /// Share of a state; none in neutral unless it is listed.
    pub fn share(&self, state: State) -> f64 {
        let own = self.shares.iter().filter(|(of, _)| *of == state);
        own.map(|(_, share)| share).sum()
    }
}

fn equal_shares(problem: &Problem) -> Vec<(State, f64)> {
    let count = u32::try_from(problem.speeds().len().max(1)).unwrap_or(1);
    let reverse = problem.reverse().map(|_| USUAL_REVERSE_SHARE);
    let each = (1.0 - reverse.unwrap_or(0.0)) / f64::from(count);
    let forward = (0..problem.speeds().len()).map(|place| (State::Speed(place), each));
    forward
        .chain(reverse.map(|share| (State::Reverse, share)))
        .collect()
}

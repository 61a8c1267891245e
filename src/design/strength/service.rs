//! How long and how fast a box runs.

use super::Basis;
use crate::design::motion::State;
use crate::problem::{Duty, Lubrication, Problem, Taken};

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

/// Hours without a duty (common practice, no source).
const USUAL_HOURS: f64 = 1000.0;
const USUAL: &str = "the file does not say; common practice, no source";

impl Service {
    /// As far as the file tells; the rest as usual.
    pub fn of(problem: &Problem) -> Self {
        let told = |given: bool, key: &'static str| {
            if given {
                Basis::given(key)
            } else {
                Basis::defaulted(USUAL)
            }
        };
        let duty = problem.duty();
        let hours = duty.map(Duty::hours);
        let speeds = problem.shares().speeds();
        let reverse = problem.shares().reverse();
        let all_given = speeds.iter().chain(&reverse).all(Taken::given);
        let forward = (0..).zip(speeds);
        let forward = forward.map(|(place, share)| (State::Speed(place), share.value() / 100.0));
        let reverse = reverse.map(|share| (State::Reverse, share.value() / 100.0));
        Self {
            input_rpm: problem.input_rpm().unwrap_or(Duty::USUAL_INPUT_RPM),
            rpm_from: told(problem.input_rpm().is_some(), "input_rpm"),
            hours: hours.map_or(USUAL_HOURS, |hours| hours.value()),
            hours_from: told(hours.is_some_and(|hours| hours.given()), "duty.hours"),
            shares: forward.chain(reverse).collect(),
            shares_from: if all_given {
                Basis::given("share_percent")
            } else {
                Basis::defaulted("reverse 5 %, the rest equally, where the file does not say")
            },
            lubrication: duty.map_or(Lubrication::Oil, Duty::lubrication),
            lubrication_from: told(
                duty.is_some_and(Duty::lubrication_given),
                "duty.lubrication",
            ),
        }
    }

    /// Share of a state; none in neutral unless it is listed.
    pub fn share(&self, state: State) -> f64 {
        let own = self.shares.iter().filter(|(of, _)| *of == state);
        own.map(|(_, share)| share).sum()
    }
}

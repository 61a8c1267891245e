//! Why nothing fits, and what would; or what holds back a problem that has sets.
//!
//! In: a checked [`Problem`] and the text it was read from. Out: an
//! [`Explanation`]. Assumed: the lists of `mesh`; whatever is proposed has been
//! made as `--with` makes it and solved by [`solve`](super::solve).
//!
//! Once the head pair is chosen the roles do not depend on each other, so all
//! there is to know about ratios is, per head, the roles left without gears
//! ([`view`]). From those groups follow the clashes ([`clashes`]) and the least
//! changes of what is asked ([`ratios`]). Limits of the gears are tried one
//! value after another, by halving where more of one never takes a set away
//! ([`gears`], [`places`]).

mod clashes;
mod gains;
mod gears;
mod places;
mod ratios;
mod strength;
mod stronger;
mod teeth;
mod together;
mod trial;
mod view;
mod way;
mod widths;

use super::control::ONE_SEARCH;
use super::solve::count;
use super::{Control, Request};
use crate::problem::Problem;
use num_bigint::BigUint;
use ratios::Least;
use trial::Trials;

pub use clashes::{Clash, Clashes};
pub use gains::{Gain, Reach};
pub use strength::{Shortfall, Strongest};
pub use trial::Edits;
pub use way::{Axis, Step, Way};

/// What stands between a problem and its sets, or holds its sets back.
#[derive(Clone, Debug)]
pub enum Explanation {
    /// There is no set.
    NoSet {
        /// Which limits shut each other out.
        clashes: Clashes,
        /// The least change of each limit that lets sets in, each solved.
        ways: Vec<Way>,
        /// Two changes at once, where one does not do or takes more; where two do
        /// not either, as many tolerances as it takes.
        pairs: Vec<Way>,
    },
    /// There would be sets, but none is as strong as the duty asks for.
    TooWeak {
        /// How strong they are.
        shortfall: Shortfall,
        /// The least change of each limit that lets sets hold, each solved.
        ways: Vec<Way>,
        /// Two changes at once, where one does not do.
        pairs: Vec<Way>,
    },
    /// There would be sets, but in none is the idler's pin clear of the gears that
    /// it passes.
    PinInTheWay {
        /// How many there would be.
        sets: BigUint,
        /// The least change of each limit that lets sets in, each solved.
        ways: Vec<Way>,
    },
    /// There are sets.
    Sets {
        /// What it reaches as it is.
        now: Reach,
        /// One step of each limit.
        gains: Vec<Gain>,
    },
    /// It was stopped before more was known than this.
    Stopped {
        /// Whether a set was found.
        fits: bool,
    },
}

impl Explanation {
    /// Every way out of a problem without sets.
    pub fn ways(&self) -> Option<impl Iterator<Item = &Way>> {
        let (ways, pairs): (&[Way], &[Way]) = match self {
            Self::NoSet { ways, pairs, .. } | Self::TooWeak { ways, pairs, .. } => (ways, pairs),
            Self::PinInTheWay { ways, .. } => (ways, &[]),
            Self::Sets { .. } | Self::Stopped { .. } => return None,
        };
        Some(ways.iter().chain(pairs))
    }
}

/// Ways of more than one step told at most.
const MOST_PAIRS: usize = 6;

/// How much work an explanation may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Threads for each search.
    pub threads: usize,
    /// Steps that looking for clashes with limits of the gears may take. Counted,
    /// not timed, so that every machine tells the same.
    pub clash_work: u64,
}

impl Effort {
    /// Clashes for about a second at most.
    pub const fn usual(threads: usize) -> Self {
        Self {
            threads,
            clash_work: 100_000_000,
        }
    }
}

/// Explains `problem`, which `text` says. When stopped, what was found by then.
pub fn explain(problem: &Problem, text: &str, effort: Effort, control: &Control) -> Explanation {
    let threads = effort.threads;
    let trials = Trials {
        text,
        problem,
        control,
    };
    if trial::has_a_set(problem, control) {
        let steps = gains::steps(&trials);
        control.expect(ONE_SEARCH * (1 + steps.len() as u64));
        let Some(now) = gains::reach(problem, threads, control) else {
            return Explanation::Stopped { fits: true };
        };
        control.advance(ONE_SEARCH);
        let gains = gains(&trials, steps, threads);
        return Explanation::Sets { now, gains };
    }
    if problem.asks_strength() && trial::has_a_set(&problem.clone().unrated(), control) {
        return too_weak(&trials, threads);
    }
    if problem.passed_by_pin().is_some() {
        let without = problem.clone().whatever_it_passes();
        if trial::has_a_set(&without, control) {
            return pin_in_the_way(&trials, &without, threads);
        }
    }
    let Some(least) = Least::of(problem, control) else {
        return Explanation::Stopped { fits: false };
    };
    let clashes = clashes::clashes(problem, effort.clash_work, control);
    let mut steps = ratios::singles(&trials, &least);
    steps.extend(gears::singles(&trials));
    steps.extend(gears::opening_modules(&trials));
    steps.extend(places::helix(&trials));
    steps.extend(places::centres(&trials));
    let tried = |steps| tried(&trials, steps, threads);
    let ways = each_tried(&trials, steps.clone(), threads);
    let mut two = Vec::new();
    if ways.is_empty() && problem.asks_strength() {
        let held = |step| stronger::with_less_safety(&trials, step);
        two.extend(steps.iter().filter_map(held).take(MOST_PAIRS));
    }
    two.extend(ratios::pairs(&trials, &least));
    if ways.is_empty() {
        two.extend(together::pairs(&trials));
    }
    let mut pairs: Vec<Way> = two.into_iter().take(MOST_PAIRS).filter_map(tried).collect();
    if ways.is_empty() && pairs.is_empty() {
        pairs.extend(ratios::many(&trials, &least).and_then(tried));
    }
    Explanation::NoSet {
        clashes,
        ways,
        pairs,
    }
}

/// The steps together, solved.
fn tried(trials: &Trials<'_>, steps: Vec<Step>, threads: usize) -> Option<Way> {
    if trials.control.stopped() {
        return None;
    }
    let way = Way::tried(trials, steps, threads);
    trials.control.advance(ONE_SEARCH);
    way
}

/// Each step on its own, solved.
fn each_tried(trials: &Trials<'_>, steps: Vec<Step>, threads: usize) -> Vec<Way> {
    trials.control.expect(ONE_SEARCH * steps.len() as u64);
    let each = steps.into_iter().map(|step| vec![step]);
    each.filter_map(|steps| tried(trials, steps, threads))
        .collect()
}

/// Of a problem whose sets are all too weak.
fn too_weak(trials: &Trials<'_>, threads: usize) -> Explanation {
    let Some(shortfall) = Shortfall::of(trials.problem, threads, trials.control) else {
        return Explanation::Stopped { fits: false };
    };
    let mut steps = stronger::singles(trials);
    steps.extend(gears::singles(trials));
    steps.extend(gears::opening_modules(trials));
    let ways = each_tried(trials, steps, threads);
    let two = stronger::pairs(trials, &shortfall, &ways).into_iter();
    let pairs = two.filter_map(|steps| tried(trials, steps, threads));
    let pairs = pairs.collect();
    Explanation::TooWeak {
        shortfall,
        ways,
        pairs,
    }
}

/// Of a problem whose idler's pin passes too near other gears in every set.
fn pin_in_the_way(trials: &Trials<'_>, without: &Problem, threads: usize) -> Explanation {
    let request = Request {
        top: 0,
        trains: 0,
        threads,
    };
    let sets = count(without, request, trials.control);
    if trials.control.stopped() {
        return Explanation::Stopped { fits: false };
    }
    let mut steps: Vec<Step> = teeth::held_nearer(trials).into_iter().collect();
    steps.extend(gears::singles(trials));
    steps.extend(gears::opening_modules(trials));
    steps.extend(places::centres(trials));
    let ways = each_tried(trials, steps, threads);
    Explanation::PinInTheWay { sets, ways }
}

fn gains(trials: &Trials<'_>, steps: Vec<Step>, threads: usize) -> Vec<Gain> {
    let mut gains = Vec::new();
    for step in steps {
        let changed = trials.with(&step.edits);
        let reach = changed.and_then(|p| gains::reach(&p, threads, trials.control));
        trials.control.advance(ONE_SEARCH);
        gains.extend(reach.map(|reach| Gain { step, reach }));
    }
    gains
}

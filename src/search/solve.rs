//! The whole search: count, front, witnesses, ranking.

use super::best::{Best, Entry};
use super::control::Control;
use super::count::{Counts, Survey, survey};
use super::found::Found;
use super::front::Reach;
use super::gears::{GearTable, Width};
use super::mask::{Bits, Mask, Needs, Nothing};
use super::meter::{EXTRAS, asked, place_of};
use super::nearby::values_of;
use super::order::{Wanted, first_sets};
use super::quest::Among;
use super::safest::by_safety;
use super::scale::{Scale, exact};
use super::share::share;
use super::space::{Refused, Space};
use super::store::Values;
use super::terms::Terms;
use super::walk::{Alternatives, Listing, Walk};
use crate::problem::{Measure, Problem, Ranking};
use crate::train::Set;
use num_bigint::BigUint;
use std::sync::Arc;

/// Runs code with a mask wide enough. Each width compiles the whole search once
/// more, so that there are few.
macro_rules! with_mask {
    ($width:expr, $mask:ident => $work:expr) => {
        match $width {
            Width {
                holds_more: false,
                cutters: 0..=64,
                ..
            } => {
                type $mask = Bits<1>;
                $work
            }
            Width {
                holds_more: false,
                cutters: 65..=128,
                ..
            } => {
                type $mask = Bits<2>;
                $work
            }
            Width {
                holds_more: false,
                cutters: 129..=2048,
                ..
            } => {
                type $mask = Bits<32>;
                $work
            }
            // 64 modules with a cutter of its own for each of 1000 tooth counts.
            Width {
                holds_more: false, ..
            } => {
                type $mask = Bits<1024>;
                $work
            }
            Width {
                cutters: 0..=64,
                coarse: 0..=64,
                fine: 0,
                ..
            } => {
                type $mask = Needs<1, 1, 0>;
                $work
            }
            // No more pass the checks.
            _ => {
                type $mask = Needs<8, 2, 64>;
                $work
            }
        }
    };
}

/// What to look for.
#[derive(Clone, Copy, Debug)]
pub struct Request {
    /// Length of the ranked list.
    pub top: usize,
    /// How many forward trains to rank, each with its best reverse; 0 for none.
    pub trains: usize,
    /// Threads to use, at least 1. The answer does not depend on it.
    pub threads: usize,
}

/// How much of an [`Outcome`] is proved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Status {
    /// Everything.
    Proven,
    /// The counts, and these lower bounds; the sets are the best found.
    Stopped(Bounds),
}

/// No set is below these.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Worst error, as a fraction.
    pub worst_error: f64,
    /// Σ OD² of the blanks, µm².
    pub blank_um2: u64,
    /// Distinct cutters.
    pub distinct_cutters: u32,
}

/// What a search found. No set at all is an outcome too: the count says so.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// How much is proved.
    pub status: Status,
    /// Exact counts, also when stopped.
    pub counts: Counts,
    /// The unbeaten sets by the problem's measures in order: for each value
    /// vector its first set in set order (when stopped, the one found).
    pub front: Vec<Set>,
    /// Places in `front`, the best by the problem's ranking first.
    pub front_order: Vec<usize>,
    /// The best sets by the problem's ranking, at most as many as asked for.
    pub sets: Vec<Set>,
    /// The best forward trains, each with its best reverse.
    pub trains: Vec<Set>,
    /// Pairs that close a centre distance, over all distances.
    pub pairs: usize,
    /// What the limits of the teeth refused, over all distances.
    pub refused: Refused,
    /// How many sets more there would be if the idler needed no clear place;
    /// none where none is asked for.
    pub without_place: Option<BigUint>,
    /// How many sets more there would be if nothing were asked of the strength of
    /// teeth; none where nothing is.
    pub without_strength: Option<BigUint>,
}

/// Searches the whole problem.
pub fn solve(problem: &Problem, request: Request, control: &Control) -> Outcome {
    search(problem, request, None, control).0
}

/// Searches the whole problem; of the ranked sets only real alternatives are
/// listed, as many as asked for, and how the ranking was walked is told.
pub fn solve_alternatives(
    problem: &Problem,
    request: Request,
    wanted: Alternatives,
    control: &Control,
) -> (Outcome, Walk) {
    let (outcome, walk) = search(problem, request, Some(wanted), control);
    // Where there is no set, there is nothing to walk.
    let walk = walk.unwrap_or_else(|| Walk::of_nothing(wanted));
    (outcome, walk)
}

fn search(
    problem: &Problem,
    request: Request,
    alternatives: Option<Alternatives>,
    control: &Control,
) -> (Outcome, Option<Walk>) {
    let whole = || {
        if problem.measures_safety() {
            (by_safety(problem, request, control), None)
        } else {
            usual(problem, request, alternatives, control)
        }
    };
    let unrated = || {
        let asks = problem.asks_strength();
        asks.then(|| count(&problem.clone().unrated(), request, control))
    };
    let ((mut outcome, walk), all) = if request.threads > 1 {
        rayon::join(whole, unrated)
    } else {
        (whole(), unrated())
    };
    if problem.wants_clear_place() {
        let everywhere = count(&problem.clone().anywhere(), request, control);
        outcome.without_place = Some(everywhere - &outcome.counts.sets);
    }
    outcome.without_strength = all.map(|all| all - &outcome.counts.sets);
    (outcome, walk)
}

/// Searches by measures that masks can hold, or that need none.
pub(super) fn usual(
    problem: &Problem,
    request: Request,
    alternatives: Option<Alternatives>,
    control: &Control,
) -> (Outcome, Option<Walk>) {
    let gears = Arc::new(GearTable::new(problem));
    let wanted = (request, alternatives);
    with_mask!(gears.width(problem), M => Search::<M>::new(problem, gears, wanted, control).run())
}

/// How many sets there are.
pub(super) fn count(problem: &Problem, request: Request, control: &Control) -> BigUint {
    // What sets are measured by is of no matter to their number.
    let usual = Measure::USUAL.to_vec();
    let problem = &problem.clone().ranked(Ranking::Balanced, usual);
    let gears = Arc::new(GearTable::new(problem));
    let mut search = Search::<Nothing>::new(problem, gears, (request, None), control);
    search.survey().survey.counts.sets
}

/// What centre distances offer.
struct Offered {
    survey: Survey,
    pairs: usize,
    refused: Refused,
}

/// The unbeaten sets, and what a ranking starts from.
struct Unbeaten {
    /// In the order of the measures, with their witnesses where all is proved.
    front: Vec<(Values, Set)>,
    /// The fewest cutters of any set.
    fewest: u32,
    /// Good sets to look around of.
    starts: Vec<Set>,
    /// The least number of cutters that is not settled, if it was stopped.
    open: Option<u32>,
}

pub(super) struct Search<'a, M> {
    pub(super) problem: &'a Problem,
    gears: Arc<GearTable>,
    pub(super) request: Request,
    /// Whether to list real alternatives only.
    alternatives: Option<Alternatives>,
    pub(super) control: &'a Control,
    /// The one centre distance, arranged once.
    only: Option<Space<M>>,
    /// The centre distances that have sets.
    pub(super) live: Vec<Live>,
    /// How many sets there are, or more than any list holds.
    pub(super) all: usize,
    /// No terms.
    pub(super) any: Terms,
}

/// A centre distance that has sets, with the least any of them reaches.
#[derive(Clone, Copy, Debug)]
pub(super) struct Live {
    pub(super) place: usize,
    least_error: u64,
    least_volume: u64,
}

impl Live {
    /// Values that no set of this distance is better than.
    pub(super) const fn floor(&self) -> Values {
        Values {
            error: self.least_error,
            volume: self.least_volume,
            cutters: 1,
            extras: [0; EXTRAS],
        }
    }
}

impl<'a, M: Mask> Search<'a, M> {
    fn new(
        problem: &'a Problem,
        gears: Arc<GearTable>,
        (request, alternatives): (Request, Option<Alternatives>),
        control: &'a Control,
    ) -> Self {
        let mut search = Self {
            problem,
            gears,
            request,
            alternatives,
            control,
            only: None,
            live: Vec::new(),
            all: 0,
            any: Terms::any(),
        };
        if problem.centre_distances().len() == 1 {
            search.only = Some(search.arrange(0));
        }
        search
    }

    fn arrange(&self, place: usize) -> Space<M> {
        Space::new(
            self.problem,
            &self.gears,
            self.problem.centre_distances().at(place),
        )
    }

    /// Lends the arrangement of one centre distance. A range is arranged anew
    /// each time: keeping them all would cost memory without bound.
    pub(super) fn with<R>(&self, place: usize, work: impl FnOnce(&Space<M>) -> R) -> R {
        match &self.only {
            Some(space) => work(space),
            None => work(&self.arrange(place)),
        }
    }

    fn run(mut self) -> (Outcome, Option<Walk>) {
        let Offered {
            survey,
            pairs,
            refused,
        } = self.survey();
        let mut outcome = Outcome {
            status: Status::Proven,
            counts: survey.counts.clone(),
            front: Vec::new(),
            front_order: Vec::new(),
            sets: Vec::new(),
            trains: Vec::new(),
            pairs,
            refused,
            without_place: None,
            without_strength: None,
        };
        if outcome.counts.sets == BigUint::ZERO {
            return (outcome, None);
        }
        let mut walk = None;
        let Unbeaten {
            front,
            fewest,
            starts,
            open,
        } = if self.ranks_apart() {
            self.front_apart()
        } else {
            self.front_and_witnesses()
        };
        let values: Vec<Values> = front.iter().map(|(v, _)| *v).collect();
        let scale = Scale::new(self.problem.ranking(), self.problem.measures(), &values);
        if open.is_none() {
            let list = self.listing();
            (outcome.sets, walk) = list.of_ranking(self.control, |top| {
                self.best_sets(top, &scale, fewest, &starts)
            });
            outcome.trains = self.best_trains(&scale, fewest, &starts);
        }
        if self.control.stopped() {
            outcome.status = Status::Stopped(Bounds {
                worst_error: f64::from_bits(survey.least_error),
                blank_um2: survey.least_volume,
                distinct_cutters: open.unwrap_or(fewest),
            });
            if outcome.sets.is_empty() {
                (outcome.sets, walk) = self.listing().of_found(found_so_far(&front, &scale));
            }
        }
        outcome.front_order = ranked(&front, &scale);
        outcome.front = front.into_iter().map(|(_, set)| set).collect();
        (outcome, walk)
    }

    /// What list of sets is asked for.
    fn listing(&self) -> Listing {
        Listing {
            top: self.request.top,
            alternatives: self.alternatives,
            all: self.all,
            shares_driver: self.problem.shared_speed().is_some(),
        }
    }

    /// Counts every distance and notes those that have sets.
    fn survey(&mut self) -> Offered {
        let count = self.problem.centre_distances().len();
        let look = |place| {
            self.with(place, |space| Offered {
                survey: survey(space),
                pairs: space.pair_count,
                refused: space.refused,
            })
        };
        let parts = share(self.request.threads, count, Vec::new, |found, place| {
            found.push((place, look(place)));
        });
        let mut total = Offered {
            survey: Survey::nothing(),
            pairs: 0,
            refused: Refused::default(),
        };
        let mut live = Vec::new();
        for (place, offered) in parts.into_iter().flatten() {
            let survey = &offered.survey;
            if survey.counts.sets > BigUint::ZERO {
                let (least_error, least_volume) = (survey.least_error, survey.least_volume);
                live.push(Live {
                    place,
                    least_error,
                    least_volume,
                });
            }
            total.survey.add(survey);
            total.pairs += offered.pairs;
            total.refused += offered.refused;
        }
        self.live = in_order(live);
        self.all = usize::try_from(&total.survey.counts.sets).unwrap_or(usize::MAX);
        total
    }

    /// Whether sets are ranked by something that masks hold, and measured by other
    /// things: then the front is found with masks that need not hold it.
    fn ranks_apart(&self) -> bool {
        let leading = match self.problem.ranking() {
            Ranking::By(measure) => Some(measure),
            Ranking::Balanced => None,
        };
        let held = leading.filter(|measure| place_of(*measure).is_some());
        held.is_some_and(|measure| !self.problem.measures().contains(&measure))
    }

    fn front_apart(&self) -> Unbeaten {
        let plain = self.problem.clone().ranked(Ranking::Balanced, Vec::new());
        let request = Request {
            top: 0,
            trains: 0,
            ..self.request
        };
        let (outcome, _) = usual(&plain, request, None, self.control);
        let front = self.valued(&outcome.front);
        Unbeaten {
            fewest: fewest(front.iter().map(|(values, _)| *values)),
            front,
            open: match outcome.status {
                Status::Proven => None,
                Status::Stopped(bounds) => Some(bounds.distinct_cutters),
            },
            starts: outcome.front,
        }
    }

    /// Sets with all that they are measured by.
    fn valued(&self, sets: &[Set]) -> Vec<(Values, Set)> {
        let scale = Scale::new(self.problem.ranking(), self.problem.measures(), &[]);
        let mut valued: Vec<Option<(Values, Set)>> = vec![None; sets.len()];
        for live in &self.live {
            let here = self.problem.centre_distances().at(live.place);
            if !sets.iter().any(|set| set.centre_distance == here) {
                continue;
            }
            self.with(live.place, |space| {
                let quest = self.quest(space, &scale, Among::Sets, None);
                for (slot, set) in valued.iter_mut().zip(sets) {
                    if set.centre_distance == here {
                        *slot = values_of(&quest, set).map(|values| (values, set.clone()));
                    }
                }
            });
        }
        valued.into_iter().flatten().collect()
    }

    fn front_and_witnesses(&self) -> Unbeaten {
        let (store, open) = self.front();
        let mut front = project(&store, self.problem.measures());
        if open.is_none() {
            self.witnesses(&mut front);
        }
        Unbeaten {
            front,
            fewest: fewest(store.unbeaten().map(|(values, _)| values)),
            starts: store.unbeaten().map(|(_, set)| set.clone()).collect(),
            open,
        }
    }

    /// The unbeaten sets over all distances, and the least number of cutters
    /// that is not settled, if it was stopped.
    fn front(&self) -> (Found, Option<u32>) {
        let threads = self.request.threads;
        let most_gears = 2 + 2 * self.problem.geared().count() + 3;
        let mut store = Found::new(most_gears, asked(self.problem));
        let at = |place, store: &mut Found, threads| {
            self.with(place, |space| store.search(space, threads, self.control))
        };
        if self.live.len() < 2 * threads {
            let reach = self
                .live
                .iter()
                .map(|live| at(live.place, &mut store, threads));
            let open = reach
                .collect::<Vec<_>>()
                .into_iter()
                .filter_map(Reach::open)
                .min();
            return (store, open);
        }
        let start = || (store.clone(), None::<u32>);
        let parts = share(threads, self.live.len(), start, |(store, open), i| {
            let reach = at(self.live[i].place, store, 1).open();
            *open = open.iter().copied().chain(reach).min();
        });
        let mut open = None::<u32>;
        for (part, reach) in parts {
            store.merge(part);
            open = open.into_iter().chain(reach).min();
        }
        (store, open)
    }

    /// Replaces each set of the front by the first one with its values.
    fn witnesses(&self, front: &mut [(Values, Set)]) {
        let mut settled = vec![false; front.len()];
        for live in &self.live {
            let here = self.problem.centre_distances().at(live.place);
            let measures = self.problem.measures();
            let may_hold = |(values, set): &(Values, Set)| {
                here <= set.centre_distance && Wanted::new(*values, measures).above(live.floor())
            };
            let open: Vec<usize> = (0..front.len())
                .filter(|&i| !settled[i] && may_hold(&front[i]))
                .collect();
            if open.is_empty() {
                continue;
            }
            let parts = self.with(live.place, |space| {
                share(self.request.threads, open.len(), Vec::new, |found, i| {
                    let (values, set) = &front[open[i]];
                    let wanted = Wanted::new(*values, measures);
                    let first = first_sets(space, wanted, 1, Some(set), self.control);
                    found.extend(first.into_iter().map(|first| (open[i], first)));
                })
            });
            for (i, set) in parts.into_iter().flatten() {
                front[i].1 = set;
                settled[i] = true;
            }
        }
    }
}

/// The fewest cutters of any of these.
fn fewest(values: impl Iterator<Item = Values>) -> u32 {
    values.map(|values| values.cutters).min().unwrap_or(1)
}

/// The front in a problem's own measures, sorted by them in order.
fn project(store: &Found, measures: &[Measure]) -> Vec<(Values, Set)> {
    let key = |v: Values| measures.iter().map(|&m| exact(v, m)).collect::<Vec<u64>>();
    let mut all: Vec<(Vec<u64>, Values, Set)> = store
        .unbeaten()
        .map(|(v, set)| (key(v), v, set.clone()))
        .collect();
    all.sort();
    all.dedup_by(|x, y| x.0 == y.0);
    let beats = |x: &[u64], y: &[u64]| x != y && x.iter().zip(y).all(|(a, b)| a <= b);
    let keys: Vec<Vec<u64>> = all.iter().map(|(key, ..)| key.clone()).collect();
    all.retain(|(key, ..)| !keys.iter().any(|other| beats(other, key)));
    all.into_iter()
        .map(|(_, values, set)| (values, set))
        .collect()
}

/// Places in `front`, the best by the ranking first.
fn ranked(front: &[(Values, Set)], scale: &Scale) -> Vec<usize> {
    let mut order: Vec<usize> = (0..front.len()).collect();
    order.sort_by_key(|&i| (scale.key(front[i].0), &front[i].1));
    order
}

/// Centre distances, the least first.
fn in_order(mut live: Vec<Live>) -> Vec<Live> {
    live.sort_unstable_by_key(|live| live.place);
    live
}

/// What is known of the ranking when the search was stopped.
fn found_so_far(front: &[(Values, Set)], scale: &Scale) -> Vec<Set> {
    let mut best = Best::new(front.len());
    for (values, set) in front {
        best.offer(Entry {
            key: scale.key(*values),
            set: set.clone(),
            values: *values,
        });
    }
    best.into_sorted()
        .into_iter()
        .map(|entry| entry.set)
        .collect()
}

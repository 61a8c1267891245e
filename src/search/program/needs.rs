//! What gears need that several of them may share, and what each costs.

use super::choices::Choices;
use super::gearing::{Made, MadeGear};
use super::seats::{Place, places};
use super::solver::Program;
use super::sums::real;
use crate::base::{Decimal, Length};
use crate::problem::{Measure, Problem, WhichCutter};
use crate::train::{bar_sizes_um, finished_length, rough_um};
use std::collections::{BTreeMap, BTreeSet};

/// Something that is had once, whoever needs it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Need {
    Cutter(u32),
    /// A size of bar for sale, or one more where none is thick enough.
    Bar(usize),
    /// Outside diameter and finished length.
    Blank(u64, Length),
    /// A cutter and a tooth count.
    Setup(u32, u32),
}

/// What one of them costs.
#[derive(Clone, Copy, Debug)]
struct Price {
    alone: u64,
    /// The set of eight that it comes with, by its place in the list.
    set: Option<usize>,
}

/// What all choices need, as far as a measure counts it.
#[derive(Debug, Default)]
pub(super) struct Needs {
    /// Per group and choice, what it needs that costs something.
    of_choices: Vec<Vec<BTreeSet<Need>>>,
    prices: BTreeMap<Need, Price>,
    /// Prices of sets of eight.
    sets: Vec<u64>,
}

impl Needs {
    pub(super) fn new(problem: &Problem, measure: Measure, choices: &Choices) -> Self {
        let mut needs = Self::default();
        if !measure.is_of_needs() {
            return needs;
        }
        let sizes = bar_sizes_um(problem);
        let places = places(problem);
        let of_gear = |place: &Place, gear: MadeGear| match measure {
            Measure::Bars => {
                let rough = rough_um(problem, gear.od_um);
                Need::Bar(sizes.partition_point(|&size| size < rough))
            }
            Measure::Blanks => Need::Blank(
                gear.od_um,
                finished_length(
                    problem,
                    place.role,
                    place.seat,
                    problem.gears().face().unit(),
                ),
            ),
            Measure::Setups => Need::Setup(gear.cutter, gear.teeth.get()),
            _ => Need::Cutter(gear.cutter),
        };
        let of_choice = |group: usize, made: &Made| {
            let own = places.iter().filter(|place| place.group == group);
            let gears = own.filter_map(|place| Some(of_gear(place, made.gear(place.gear)?)));
            gears.collect()
        };
        let groups = choices.made().into_iter().enumerate();
        needs.of_choices = groups
            .map(|(group, choices)| choices.iter().map(|made| of_choice(group, made)).collect())
            .collect();
        if measure == Measure::Cost {
            needs.price_cutters(problem, choices);
        } else {
            needs.count_each();
        }
        needs
    }

    /// Every one counts as one.
    fn count_each(&mut self) {
        let one = Price {
            alone: 1,
            set: None,
        };
        let all = self.of_choices.iter().flatten().flatten();
        self.prices = all.map(|&need| (need, one)).collect();
    }

    /// Cutters at their prices; those at hand are no need.
    fn price_cutters(&mut self, problem: &Problem, choices: &Choices) {
        let workshop = problem.workshop();
        let mut sets = BTreeMap::new();
        for (cutter, number) in choices.costs.cutters() {
            let (module, which) = cutter.in_workshop(problem);
            let alone = millionths(workshop.cutter_price(module, which));
            let of_set = matches!(which, WhichCutter::Form(_));
            let offered = workshop.form_set_price(module).filter(|_| of_set);
            let set = offered.map(|price| {
                *sets.entry(module).or_insert_with(|| {
                    self.sets.push(millionths(price));
                    self.sets.len() - 1
                })
            });
            if alone > 0 {
                self.prices
                    .insert(Need::Cutter(number), Price { alone, set });
            }
        }
        for needs in self.of_choices.iter_mut().flatten() {
            needs.retain(|need| self.prices.contains_key(need));
        }
    }

    /// How many unknowns they take.
    pub(super) fn count(&self) -> usize {
        self.prices.len() + self.sets.len()
    }

    pub(super) fn dearest(&self) -> u64 {
        let alone = self.prices.values().map(|price| price.alone);
        alone.chain(self.sets.iter().copied()).max().unwrap_or(0)
    }

    /// An unknown for each, there whenever a choice needs it. `groups` are the
    /// unknowns of the choices; a price weighs its part of `whole`. Returned are
    /// the unknowns with their prices.
    pub(super) fn state(
        &self,
        program: &mut Program,
        groups: &[&[usize]],
        whole: Option<u64>,
    ) -> Vec<(usize, u64)> {
        let mut had = Vec::new();
        let mut offer = |program: &mut Program, price: u64| {
            let unknown = program.unknown(part(price, whole));
            had.push((unknown, price));
            unknown
        };
        let sets: Vec<usize> = self
            .sets
            .iter()
            .map(|&price| offer(program, price))
            .collect();
        let mut bought: BTreeMap<Need, usize> = BTreeMap::new();
        for (choices, own) in self.of_choices.iter().zip(groups) {
            let mut users: BTreeMap<Need, Vec<(usize, f64)>> = BTreeMap::new();
            for (needs, &x) in choices.iter().zip(*own) {
                for &need in needs {
                    users.entry(need).or_default().push((x, 1.0));
                }
            }
            for (need, mut terms) in users {
                let Some(price) = self.prices.get(&need) else {
                    continue;
                };
                let y = bought
                    .entry(need)
                    .or_insert_with(|| offer(program, price.alone));
                terms.push((*y, -1.0));
                let set = price.set.and_then(|set| sets.get(set));
                terms.extend(set.map(|&set| (set, -1.0)));
                program.at_most(0.0, terms);
            }
        }
        had
    }

    /// What the needs of these choices cost, one of each group: in whole numbers
    /// and from the choices alone.
    pub(super) fn price(&self, chosen: &[usize]) -> u64 {
        let groups = self.of_choices.iter().zip(chosen);
        let needed: BTreeSet<Need> = groups
            .filter_map(|(choices, &at)| choices.get(at))
            .flatten()
            .copied()
            .collect();
        let mut alone = 0_u64;
        let mut of_sets = vec![0_u64; self.sets.len()];
        for price in needed.iter().filter_map(|need| self.prices.get(need)) {
            match price.set.and_then(|set| of_sets.get_mut(set)) {
                Some(sum) => *sum += price.alone,
                None => alone += price.alone,
            }
        }
        let sets = self.sets.iter().zip(of_sets);
        alone + sets.map(|(&set, singly)| set.min(singly)).sum::<u64>()
    }
}

/// A price as a weight.
pub(super) fn part(price: u64, whole: Option<u64>) -> f64 {
    whole.map_or(0.0, |whole| real(price) / real(whole.max(1)))
}

fn millionths(money: Decimal) -> u64 {
    u64::try_from(money.millionths()).unwrap_or(0)
}

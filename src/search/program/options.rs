//! What each role may take at one centre distance, and what it costs.

use super::gearing::{Gearing, Idlers, Made, MadeGear, Taken};
use crate::base::{Length, Ratio, Teeth};
use crate::making::{Form, blank_um};
use crate::mesh::{MadePair, Pairs, ReverseList, ReverseSpan, reverses_at};
use crate::problem::{CutPair, Problem, Reverse};
use crate::train::{Cutter, ModuleId, Pair, ReverseGears, cutter_of};
use std::collections::BTreeMap;

/// The numbers of all cutters that gears of a problem may need.
#[derive(Debug)]
pub(super) struct Costs {
    known: BTreeMap<Cutter, u32>,
    idlers: Idlers,
}

impl Costs {
    pub(super) fn new(problem: &Problem, idlers: Idlers) -> Self {
        let mut known: BTreeMap<Cutter, u32> = BTreeMap::new();
        for centres in problem.centre_distances().iter() {
            let mut meet = |module, gears: &[(Teeth, Form)]| {
                for (z, form) in gears {
                    let next = small(known.len());
                    let cutter = cutter_of(problem.gears(), module, *z, form);
                    known.entry(cutter).or_insert(next);
                }
            };
            let pairs = Pairs::at(problem, centres);
            for made in pairs.lists().flat_map(|(_, list)| list) {
                meet(made.pair.module, &gears_of_pair(made));
            }
            if let Some(wanted) = problem.reverse() {
                let list = reverses_at(problem, wanted, centres, |_, _| true);
                for span in &list.spans {
                    for idler in (span.idler_min.get()..=span.idler_max.get()).map(teeth) {
                        meet(span.module, &gears_of_reverse(&list, span, idler));
                    }
                }
            }
        }
        Self { known, idlers }
    }

    /// Every cutter with its number.
    pub(super) fn cutters(&self) -> impl Iterator<Item = (Cutter, u32)> + '_ {
        self.known.iter().map(|(&cutter, &number)| (cutter, number))
    }

    fn make(&self, problem: &Problem, module: ModuleId, gears: &[(Teeth, Form)]) -> Made {
        let shared = problem.gears();
        Made::of(gears.iter().map(|(teeth, form)| {
            let cutter = cutter_of(shared, module, *teeth, form);
            MadeGear {
                od_um: blank_um(shared, module.of(problem), *teeth, form),
                cutter: self.known.get(&cutter).copied().unwrap_or(u32::MAX),
                teeth: *teeth,
            }
        }))
    }

    fn pair(&self, problem: &Problem, made: &MadePair) -> Gearing {
        let gears = self.make(problem, made.pair.module, &gears_of_pair(made));
        Gearing {
            teeth: Taken::Pair(made.pair),
            ratio: ratio_of(made.pair),
            volume: gears.volume(),
            cutters: gears.cutters(),
            made: gears,
        }
    }

    fn reverse(
        &self,
        problem: &Problem,
        list: &ReverseList,
        span: &ReverseSpan,
        idler: Teeth,
    ) -> Gearing {
        let made = self.make(problem, span.module, &gears_of_reverse(list, span, idler));
        // A driver that a speed has its metal in already.
        let shared = problem.shared_speed().and_then(|_| made.gear(0));
        Gearing {
            teeth: Taken::Reverse(reverse_gears(span, idler)),
            ratio: Ratio::of(span.driven.get(), span.driver.get()),
            volume: made.volume() - shared.map_or(0, |driver| driver.od_um * driver.od_um),
            cutters: made.cutters(),
            made,
        }
    }
}

fn gears_of_pair(made: &MadePair) -> [(Teeth, Form); 2] {
    let [one, other] = made.forms;
    [(made.pair.driver, one), (made.pair.driven, other)]
}

fn gears_of_reverse(list: &ReverseList, span: &ReverseSpan, idler: Teeth) -> [(Teeth, Form); 3] {
    let [driver, middle, driven] = list.forms(span, idler);
    [
        (span.driver, driver),
        (idler, middle),
        (span.driven, driven),
    ]
}

fn reverse_gears(span: &ReverseSpan, idler: Teeth) -> ReverseGears {
    ReverseGears {
        module: span.module,
        driver: span.driver,
        idler,
        driven: span.driven,
    }
}

/// The lists of one centre distance, each by rising ratio.
#[derive(Debug)]
pub(super) struct Lists {
    pub(super) centres: Length,
    /// Per geared speed.
    pub(super) speeds: Vec<Vec<Gearing>>,
    pub(super) reverses: Option<Vec<Gearing>>,
}

impl Lists {
    pub(super) fn new(problem: &Problem, costs: &Costs, centres: Length) -> Self {
        let all = Pairs::at(problem, centres);
        let roles = problem.geared().zip(problem.speed_seatings());
        Self {
            centres,
            speeds: roles
                .map(|(speed, seating)| pairs(problem, costs, all.of(&seating), speed.cut()))
                .collect(),
            reverses: problem
                .reverse()
                .map(|wanted| reverses(problem, costs, wanted, centres)),
        }
    }
}

/// The head pairs at a centre distance, by ratio; all that are seated so.
pub(super) fn head_pairs(problem: &Problem, costs: &Costs, centres: Length) -> Vec<Gearing> {
    let all = Pairs::at(problem, centres);
    let cut = problem.head().and_then(crate::problem::Head::cut);
    pairs(problem, costs, all.of(&problem.head_seating()), cut)
}

/// Pairs, or of them the one that is cut already; by ratio.
fn pairs(problem: &Problem, costs: &Costs, all: &[MadePair], cut: Option<CutPair>) -> Vec<Gearing> {
    let fitting = all.iter().filter(|made| as_cut(problem, made.pair, cut));
    by_ratio(fitting.map(|made| costs.pair(problem, made)).collect())
}

fn reverses(problem: &Problem, costs: &Costs, wanted: &Reverse, centres: Length) -> Vec<Gearing> {
    let mut found = Vec::new();
    let list = reverses_at(problem, wanted, centres, |_, _| true);
    for span in &list.spans {
        let gearing = |idler| {
            let fits = reverse_as_cut(problem, wanted, reverse_gears(span, idler));
            fits.then(|| costs.reverse(problem, &list, span, idler))
        };
        let idlers = (span.idler_min.get()..=span.idler_max.get()).map(teeth);
        let mut last: Option<Gearing> = None;
        for gearing in idlers.filter_map(gearing) {
            if !last.is_some_and(|last| costs.idlers.settles(&last, &gearing)) {
                last = Some(gearing);
                found.push(gearing);
            }
        }
    }
    by_ratio(found)
}

fn by_ratio(mut list: Vec<Gearing>) -> Vec<Gearing> {
    list.sort_by(|x, y| x.ratio.cmp(&y.ratio).then(x.teeth.cmp(&y.teeth)));
    list
}

pub(super) fn ratio_of(pair: Pair) -> Ratio {
    Ratio::of(pair.driven.get(), pair.driver.get())
}

pub(super) fn as_cut(problem: &Problem, pair: Pair, cut: Option<CutPair>) -> bool {
    cut.is_none_or(|cut| {
        (pair.driver, pair.driven) == (cut.driver, cut.driven)
            && cut.module.is_none_or(|m| m == pair.module.of(problem))
    })
}

pub(super) fn reverse_as_cut(problem: &Problem, wanted: &Reverse, gears: ReverseGears) -> bool {
    wanted.cut().is_none_or(|cut| {
        (gears.driver, gears.idler, gears.driven) == (cut.driver, cut.idler, cut.driven)
            && cut.module.is_none_or(|m| m == gears.module.of(problem))
    })
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "tooth counts are at most 1000"
)]
fn teeth(count: u32) -> Teeth {
    Teeth::new(count as u16)
}

fn small(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

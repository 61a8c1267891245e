//! What each role may take at one centre distance, and what it costs.

use crate::base::{Length, Ratio, Teeth};
use crate::involute::blank_um;
use crate::mesh::{pairs_at, reverses_at};
use crate::problem::{CutPair, Problem, Reverse};
use crate::train::{Cutter, ModuleId, Pair, ReverseGears, cutter_of};
use std::collections::BTreeMap;

/// At most three cutters, ascending, none twice: those of one role.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cutters {
    ids: [u16; 3],
    count: usize,
}

impl Cutters {
    fn new(of_gears: &[u16]) -> Self {
        let mut sorted = of_gears.to_vec();
        sorted.sort_unstable();
        sorted.dedup();
        let mut ids = [0; 3];
        ids[..sorted.len()].copy_from_slice(&sorted);
        Self {
            ids,
            count: sorted.len(),
        }
    }

    pub(super) const NONE: Self = Self {
        ids: [0; 3],
        count: 0,
    };

    pub(super) fn ids(&self) -> &[u16] {
        &self.ids[..self.count]
    }

    /// Those that `owned` does not hold.
    pub(super) fn beyond(&self, owned: &Self) -> impl Iterator<Item = u16> + use<> {
        let owned = *owned;
        let ids = self.ids.into_iter().take(self.count);
        ids.filter(move |id| !owned.ids().contains(id))
    }

    /// Whether every one is in `other` or `owned`.
    pub(super) fn within(&self, other: &Self, owned: &Self) -> bool {
        self.beyond(owned).all(|id| other.ids().contains(&id))
    }
}

/// What makes a role turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Taken {
    Pair(Pair),
    Reverse(ReverseGears),
}

/// Gears that a role may take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gearing {
    pub(super) teeth: Taken,
    /// Without the head.
    pub(super) ratio: Ratio,
    /// Σ OD², µm².
    pub(super) volume: u64,
    pub(super) cutters: Cutters,
}

/// Blank and cutter of every gear that a problem allows.
#[derive(Debug)]
pub(super) struct Costs {
    least: u32,
    /// By module, then teeth from `least` on: OD² in µm², cutter.
    of: Vec<Vec<(u64, u16)>>,
}

impl Costs {
    pub(super) fn new(problem: &Problem) -> Self {
        let gears = problem.gears();
        let idlers = problem
            .reverse()
            .map(|r| (r.idler_min().get(), r.idler_max().get()));
        let limits = [(gears.min_teeth().get(), gears.max_teeth().get())];
        let limits = limits.into_iter().chain(idlers);
        let (least, most) = limits.fold((u32::MAX, 0), |(l, m), (a, b)| (l.min(a), m.max(b)));
        let mut known: BTreeMap<Cutter, u16> = BTreeMap::new();
        let beta = gears.helix_angle_deg().to_radians();
        let mut cost = |module: ModuleId, count: u32| {
            let z = teeth(count);
            let next = small(known.len());
            let cutter = *known.entry(cutter_of(gears, module, z)).or_insert(next);
            let od = blank_um(gears.rack(), module.of(problem), z, beta);
            (od * od, cutter)
        };
        let modules = (0..gears.modules().len()).map(ModuleId::new);
        let of = modules
            .map(|module| (least..=most).map(|count| cost(module, count)).collect())
            .collect();
        Self { least, of }
    }

    fn sum(&self, module: ModuleId, teeth: &[Teeth]) -> (u64, Cutters) {
        let of = |z: &Teeth| self.of[module.index()][(z.get() - self.least) as usize];
        let cutters: Vec<u16> = teeth.iter().map(|z| of(z).1).collect();
        let volume = teeth.iter().map(|z| of(z).0).sum();
        (volume, Cutters::new(&cutters))
    }

    fn pair(&self, pair: Pair) -> Gearing {
        let (volume, cutters) = self.sum(pair.module, &[pair.driver, pair.driven]);
        Gearing {
            teeth: Taken::Pair(pair),
            ratio: ratio_of(pair),
            volume,
            cutters,
        }
    }

    fn reverse(&self, gears: ReverseGears) -> Gearing {
        let all = [gears.driver, gears.idler, gears.driven];
        let (volume, cutters) = self.sum(gears.module, &all);
        Gearing {
            teeth: Taken::Reverse(gears),
            ratio: Ratio::of(gears.driven.get(), gears.driver.get()),
            volume,
            cutters,
        }
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
        let list = |cut| pairs(problem, costs, centres, cut);
        Self {
            centres,
            speeds: problem.geared().map(|speed| list(speed.cut())).collect(),
            reverses: problem
                .reverse()
                .map(|wanted| reverses(problem, costs, wanted, centres)),
        }
    }
}

/// The pairs that close, or of them the one that is cut already; by ratio.
pub(super) fn pairs(
    problem: &Problem,
    costs: &Costs,
    centres: Length,
    cut: Option<CutPair>,
) -> Vec<Gearing> {
    let all = pairs_at(problem, centres).into_iter();
    let fitting = all.filter(|&pair| as_cut(problem, pair, cut));
    by_ratio(fitting.map(|pair| costs.pair(pair)).collect())
}

fn reverses(problem: &Problem, costs: &Costs, wanted: &Reverse, centres: Length) -> Vec<Gearing> {
    let mut list = Vec::new();
    for span in reverses_at(problem, wanted, centres, |_, _| true) {
        let gearing = |idler| {
            let gears = ReverseGears {
                module: span.module,
                driver: span.driver,
                idler,
                driven: span.driven,
            };
            reverse_as_cut(problem, wanted, gears).then(|| costs.reverse(gears))
        };
        let idlers = (span.idler_min.get()..=span.idler_max.get()).map(teeth);
        let mut last = None;
        for gearing in idlers.filter_map(gearing) {
            // Between the same gears a larger idler of the same cutter makes
            // the same ratio of no less metal.
            if last != Some(gearing.cutters) {
                list.push(gearing);
            }
            last = Some(gearing.cutters);
        }
    }
    by_ratio(list)
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

#[allow(
    clippy::cast_possible_truncation,
    reason = "64 modules of 1000 tooth counts have at most 64 000 cutters"
)]
const fn small(count: usize) -> u16 {
    count as u16
}

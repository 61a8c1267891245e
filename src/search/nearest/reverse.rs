//! What reverse can do at one centre distance.

use super::ReverseMiss;
use super::choices::{Choice, Reachable, beside, sorted};
use crate::base::{Length, Module, Ratio, Teeth, Window};
use crate::involute::GearSize;
use crate::mesh::reverses_at;
use crate::problem::{CutTriple, Problem, Reverse};
use crate::train::{ModuleId, Pair, idler_closes, reverse_gap};
use std::collections::{BTreeMap, BTreeSet};

/// Reverse with nothing found yet.
pub(super) fn unmet(wanted: &Reverse) -> ReverseMiss {
    ReverseMiss {
        target: wanted.target().to_f64(),
        tolerance_percent: wanted.tolerance_percent().to_f64(),
        in_tolerance: 0,
        refused_by_tips: 0,
        widest_gap_refused_mm: None,
        refused_by_idler: 0,
        refused_by_limits: 0,
        within: false,
        nearest: None,
    }
}

/// Notes what is found `here`; returns the gears that have a place, by ratio: of
/// each ratio the first, or all of them where reverse shares its driver.
pub(super) fn note(here: &Reachable<'_>, miss: &mut ReverseMiss) -> Vec<Choice> {
    let Some(wanted) = here.problem.reverse() else {
        return Vec::new();
    };
    let placed = placed(here, wanted, miss);
    let by_ratio = sorted(placed.clone());
    for head in &here.heads {
        for choice in beside(&by_ratio, head.ratio, wanted.target()) {
            miss.within |= wanted.window().contains(head.ratio.then(choice.ratio));
            here.keep_nearer(&mut miss.nearest, wanted.target(), head, choice);
        }
    }
    if here.problem.shared_speed().is_none() {
        return by_ratio;
    }
    placed
}

/// Why driving and driven gear have no place, or the idler between them.
enum Place {
    Tips { gap_mm: f64 },
    NoIdler,
    Refused,
    Idler(Teeth),
}

/// The smallest idler that the limits of the teeth leave between a driving and
/// a driven gear, by module and these.
type Judged = BTreeMap<(ModuleId, Teeth, Teeth), Teeth>;

/// What the limits of the teeth leave; nothing where the problem has none.
fn judged(here: &Reachable<'_>, wanted: &Reverse) -> Option<Judged> {
    let problem = here.problem;
    if !problem.judges() && !problem.wants_clear_place() && !problem.workshop_limits() {
        return None;
    }
    let mut list = reverses_at(problem, wanted, here.centres, |_, _| true);
    list.keep_cut(problem, wanted);
    let mut judged = Judged::new();
    for span in &list.spans {
        // Spans of the same gears stand in the order of their idlers.
        judged
            .entry((span.module, span.driver, span.driven))
            .or_insert(span.idler_min);
    }
    Some(judged)
}

fn placed(here: &Reachable<'_>, wanted: &Reverse, miss: &mut ReverseMiss) -> Vec<Choice> {
    let judged = judged(here, wanted);
    // Where the driver is the gear of a speed, no other will do.
    let drivers: Option<BTreeSet<(ModuleId, Teeth)>> = here.shared().map(|(_, pairs)| {
        let driver = |pair: &Pair| (pair.module, pair.driver);
        pairs.iter().map(driver).collect()
    });
    let gears = here.problem.gears();
    let cut = wanted.cut();
    let benches: Vec<_> = (0..gears.modules().len())
        .map(ModuleId::new)
        .filter(|module| is_cut_module(here.problem, cut, *module))
        .map(|module| Bench::new(here.problem, wanted, here.centres, module))
        .collect();
    let legal = gears.min_teeth().get()..=gears.max_teeth().get();
    let mut choices = Vec::new();
    for (driver, driven) in legal
        .clone()
        .flat_map(|l| legal.clone().map(move |m| (l, m)))
    {
        if cut.is_some_and(|cut| (driver, driven) != (cut.driver.get(), cut.driven.get())) {
            continue;
        }
        let ratio = Ratio::of(driven, driver);
        let in_tolerance = some_head_serves(here, ratio, wanted.window());
        let mut first = None;
        for bench in &benches {
            if drivers.is_none() && first.is_some() && !in_tolerance {
                break;
            }
            if let Some(drivers) = &drivers {
                if !drivers.contains(&(bench.module, Teeth::of(driver))) {
                    continue;
                }
                // Each module's gears are another driver's.
                choices.extend(first.take());
            }
            let place = match &judged {
                None => bench.place(driver, driven),
                Some(left) => {
                    let ends = (bench.module, Teeth::of(driver), Teeth::of(driven));
                    match (left.get(&ends), bench.place(driver, driven)) {
                        (Some(idler), _) => Place::Idler(*idler),
                        // The plain gears would have a place: a limit took it.
                        (None, Place::Idler(_)) => Place::Refused,
                        (None, plain) => plain,
                    }
                }
            };
            if in_tolerance {
                tally(&place, miss);
            }
            if let (Place::Idler(idler), None) = (place, first) {
                let [driver, driven] = [driver, driven].map(Teeth::of);
                let pair = Pair {
                    module: bench.module,
                    driver,
                    driven,
                };
                first = Some(Choice {
                    ratio,
                    pair,
                    idler: Some(idler),
                });
            }
        }
        choices.extend(first);
    }
    choices
}

fn tally(place: &Place, miss: &mut ReverseMiss) {
    miss.in_tolerance += 1;
    match place {
        Place::Tips { gap_mm } => {
            miss.refused_by_tips += 1;
            let widest = miss
                .widest_gap_refused_mm
                .map_or(*gap_mm, |widest| widest.max(*gap_mm));
            miss.widest_gap_refused_mm = Some(widest);
        }
        Place::NoIdler => miss.refused_by_idler += 1,
        Place::Refused => miss.refused_by_limits += 1,
        Place::Idler(_) => {}
    }
}

fn is_cut_module(problem: &Problem, cut: Option<CutTriple>, module: ModuleId) -> bool {
    let cut: Option<Module> = cut.and_then(|cut| cut.module);
    cut.is_none_or(|cut| cut == module.of(problem))
}

/// Whether some head brings `ratio` into `window`: the first that is not too
/// low does, or none.
pub(super) fn some_head_serves(here: &Reachable<'_>, ratio: Ratio, window: Window) -> bool {
    let first = here
        .heads
        .partition_point(|head| window.is_above(head.ratio.then(ratio)));
    here.heads
        .get(first)
        .is_some_and(|head| window.contains(head.ratio.then(ratio)))
}

/// Gears of one module at the centre distance.
struct Bench {
    module: ModuleId,
    centres_mm: f64,
    clearance_mm: f64,
    /// Pitch radius of a tooth.
    half_mm: f64,
    addendum_mm: f64,
    /// Fewest and most teeth of the idler.
    idler: (u32, u32),
    /// Whether the driver is the gear of a speed.
    shared: bool,
}

impl Bench {
    fn new(problem: &Problem, wanted: &Reverse, centres: Length, module: ModuleId) -> Self {
        let gears = problem.gears();
        let helix_rad = gears.helix_angle_deg().to_radians();
        let one = GearSize::new(gears.rack(), module.of(problem), Teeth::new(1), helix_rad);
        let limits = (wanted.idler_min().get(), wanted.idler_max().get());
        Self {
            module,
            centres_mm: centres.mm(),
            clearance_mm: wanted.clearance().mm(),
            shared: problem.shared_speed().is_some(),
            half_mm: one.pitch_mm / 2.0,
            addendum_mm: (one.tip_mm - one.pitch_mm) / 2.0,
            idler: wanted
                .cut()
                .map_or(limits, |cut| (cut.idler.get(), cut.idler.get())),
        }
    }

    fn radius(&self, teeth: u32) -> f64 {
        self.half_mm * f64::from(teeth)
    }

    fn place(&self, driver: u32, driven: u32) -> Place {
        let tips = (
            self.radius(driver) + self.addendum_mm,
            self.radius(driven) + self.addendum_mm,
        );
        let shared_mm = self.shared.then_some(self.addendum_mm);
        let (gap_mm, clear) = reverse_gap(tips, shared_mm, self.clearance_mm, self.centres_mm);
        if !clear {
            return Place::Tips { gap_mm };
        }
        let closes = |idler: u32| {
            let to = |teeth: u32| self.radius(teeth) + self.radius(idler);
            idler_closes(self.centres_mm, to(driver), to(driven))
        };
        // Larger idlers reach further and change nothing else.
        let (mut low, mut high) = self.idler;
        if !closes(high) {
            return Place::NoIdler;
        }
        while low < high {
            let middle = low.midpoint(high);
            if closes(middle) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        Place::Idler(Teeth::of(low))
    }
}

//! What a set is worth, the front, the ranking.

use super::options::ratio_of;
use super::walk;
use crate::base::{Length, Ratio, SCORE_STEPS, Teeth};
use crate::making::{Form, blank_um};
use crate::problem::{Measure, Problem, Ranking, ReverseForm};
use crate::stock::{NO_BAR, cost};
use crate::train::{Cutter, Gear, ModuleId, Set, cutter_of, forms_of, gears_of, rate};

/// A point of the front.
pub(super) struct Unbeaten {
    /// Its values in the problem's measures.
    pub(super) key: Vec<u64>,
    /// The first set with them.
    pub(super) set: Set,
}

/// Adds `set` to a front unless one that came before is as good in everything.
pub(super) fn offer(front: &mut Vec<Unbeaten>, problem: &Problem, set: &Set) {
    let key = values(problem, set, problem.measures());
    let as_good = |x: &[u64], y: &[u64]| x.iter().zip(y).all(|(x, y)| x <= y);
    if front.iter().any(|point| as_good(&point.key, &key)) {
        return;
    }
    front.retain(|point| !as_good(&key, &point.key));
    front.push(Unbeaten {
        key,
        set: set.clone(),
    });
}

/// The set's measures as integers that compare as the measures do.
fn values(problem: &Problem, set: &Set, measures: &[Measure]) -> Vec<u64> {
    measures
        .iter()
        .map(|&measure| value(problem, set, measure))
        .collect()
}

fn value(problem: &Problem, set: &Set, measure: Measure) -> u64 {
    match measure {
        Measure::WorstError => {
            let head = set.head.map_or(Ratio::ONE, ratio_of);
            let speeds = problem.geared().zip(&set.pairs);
            let errors = speeds.map(|(wanted, &pair)| {
                // The bits of doubles that are not negative rise with them.
                head.then(ratio_of(pair)).error(wanted.target()).to_bits()
            });
            errors.max().unwrap_or(0)
        }
        Measure::BlankVolume => {
            let blank = |((module, z), form): ((ModuleId, Teeth), Form)| {
                blank_um(problem.gears(), module.of(problem), z, &form)
            };
            // The unit divides every width.
            let unit = problem.gears().face().unit().steps();
            let wide = |gear: &Gear| (gear.face.steps() / unit).unsigned_abs();
            let made = gears_of(problem, set).into_iter();
            let made = made.zip(forms_of(problem, set)).map(|(gear, form)| {
                let od = blank(((gear.module, gear.teeth), form));
                od * od * wide(&gear)
            });
            // Cut once, whatever it drives; such gears have one width.
            let shared = reverse_driver(problem, set);
            made.sum::<u64>() - shared.map_or(0, |gear| blank(gear) * blank(gear))
        }
        Measure::DistinctCutters => {
            let cutter = |((module, z), form)| cutter_of(problem.gears(), module, z, &form);
            let made = set.gears().zip(forms_of(problem, set));
            let mut cutters: Vec<Cutter> = made.map(cutter).collect();
            cutters.sort_unstable();
            cutters.dedup();
            cutters.len() as u64
        }
        Measure::Bars => {
            let mut bars: Vec<Option<u64>> = cut(problem, set)
                .iter()
                .map(|gear| thinnest_bar(problem, gear.od_um))
                .collect();
            bars.sort_unstable();
            bars.dedup();
            bars.len() as u64
        }
        Measure::Blanks => {
            let mut blanks: Vec<(u64, bool)> = cut(problem, set)
                .iter()
                .map(|gear| (gear.od_um, gear.is_longer))
                .collect();
            blanks.sort_unstable();
            blanks.dedup();
            blanks.len() as u64
        }
        Measure::Setups => {
            let mut setups: Vec<(Cutter, Teeth)> = cut(problem, set)
                .iter()
                .map(|gear| (gear.cutter, gear.teeth))
                .collect();
            setups.sort_unstable();
            setups.dedup();
            setups.len() as u64
        }
        // The least money for a list of pieces has a twin of its own.
        Measure::Cost => cost(problem, set).unwrap_or(NO_BAR),
        Measure::LeastSafety => {
            let all = rate(problem, set).unwrap_or_default();
            let safe = |hundredths: u32| {
                let least = f64::from(hundredths) / 100.0;
                all.iter().all(|mesh| mesh.safety.least() >= least)
            };
            (0..9999)
                .find(|below| safe(9999 - below))
                .unwrap_or(9999)
                .into()
        }
    }
}

/// A gear that is cut.
struct CutGear {
    od_um: u64,
    /// Whether a dog ring makes it longer than its face.
    is_longer: bool,
    cutter: Cutter,
    teeth: Teeth,
}

/// Head, speeds, reverse, as [`Set::gears`] lists them; without the driver of
/// reverse where that is the gear of a speed.
fn cut(problem: &Problem, set: &Set) -> Vec<CutGear> {
    let rings = problem.workshop().rings_on_gears() && problem.layout().dog_ring() > Length::ZERO;
    let direct = problem
        .speeds()
        .iter()
        .any(|speed| speed.geared().is_none());
    let slides = problem.reverse_form() == Some(ReverseForm::SlidingIdler);
    let heads = 2 * usize::from(set.head.is_some());
    let forward = heads + 2 * set.pairs.len();
    let longer = |place: usize| match place {
        0 if heads > 0 => direct,
        // Driven gears of speeds run free, as does that of reverse.
        _ if place < forward => place >= heads && (place - heads) % 2 == 1,
        _ => place == forward + 2 && !slides,
    };
    let shared = reverse_driver(problem, set).map(|_| forward);
    let made = set.gears().zip(forms_of(problem, set)).enumerate();
    let own = made.filter(|(place, _)| Some(*place) != shared);
    own.map(|(place, ((module, teeth), form))| CutGear {
        od_um: blank_um(problem.gears(), module.of(problem), teeth, &form),
        is_longer: rings && longer(place),
        cutter: cutter_of(problem.gears(), module, teeth, &form),
        teeth,
    })
    .collect()
}

/// Diameter in µm of the thinnest bar for sale that a blank can be turned from.
fn thinnest_bar(problem: &Problem, od_um: u64) -> Option<u64> {
    let um = |length: Length| length.steps().unsigned_abs();
    // The allowance counts in whole µm.
    let turning = um(problem.workshop().allowances().turning()).div_ceil(1_000_000);
    let needed = (od_um + turning) * 1_000_000;
    let bars = problem.workshop().bars().iter();
    let thick = bars
        .map(|bar| um(bar.diameter()))
        .filter(|bar| *bar >= needed);
    thick.min()
}

/// The driver of reverse where it is the gear of a speed, in which case there
/// is no shift.
fn reverse_driver(problem: &Problem, set: &Set) -> Option<((ModuleId, Teeth), Form)> {
    let shares = problem.reverse_form() == Some(ReverseForm::SharedDriver);
    let gears = set.reverse.filter(|_| shares)?;
    Some(((gears.module, gears.driver), Form::PLAIN))
}

/// A measure's value as a number to calculate with.
#[allow(
    clippy::cast_precision_loss,
    reason = "a score is compared in steps of 10⁻⁹ only"
)]
fn real(measure: Measure, value: u64) -> f64 {
    match measure {
        Measure::WorstError => f64::from_bits(value),
        _ => value as f64,
    }
}

/// The best `top` sets by the problem's ranking.
pub(super) fn ranked(problem: &Problem, front: &[Unbeaten], top: usize) -> Vec<Set> {
    let mut best: Vec<(Vec<u64>, Set)> = Vec::new();
    walk(problem, &mut |set| {
        let mut key = values(problem, set, problem.measures());
        let first = match problem.ranking() {
            Ranking::Balanced => score(problem, front, &key),
            Ranking::By(measure) => value(problem, set, measure),
        };
        key.insert(0, first);
        // Behind its equals: they came first in set order.
        let place = best.partition_point(|(other, _)| *other <= key);
        if place < top {
            best.insert(place, (key, set.clone()));
            best.truncate(top);
        }
    });
    best.into_iter().map(|(_, set)| set).collect()
}

/// √Σ((x − min)/(max − min))² over the measures, min and max over the front,
/// in whole steps of 10⁻⁹.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a score is not negative, and a cast of a huge one saturates"
)]
fn score(problem: &Problem, front: &[Unbeaten], key: &[u64]) -> u64 {
    let mut sum = 0.0;
    for (i, &measure) in problem.measures().iter().enumerate() {
        let of_front = || front.iter().map(|point| point.key[i]);
        let least = real(measure, of_front().min().unwrap_or(0));
        let most = real(measure, of_front().max().unwrap_or(0));
        if most > least {
            sum += ((real(measure, key[i]) - least) / (most - least)).powi(2);
        }
    }
    (sum.sqrt() * SCORE_STEPS).round() as u64
}

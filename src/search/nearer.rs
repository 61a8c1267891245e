//! A reverse that comes nearer its target for little metal more.

use super::passing::{Passing, clears};
use crate::base::{Ratio, Teeth};
use crate::making::{Form, blank_um};
use crate::mesh::{ReverseList, ReverseSpan, reverses_at};
use crate::problem::{Problem, Role};
use crate::rating::Rater;
use crate::train::{Figures, ReverseGears, Set, own_gears, volume_mm3};

/// A reverse this near is near enough, as a fraction.
const NEAR: f64 = 0.01;
/// Little metal: so much of the set's.
const LITTLE: f64 = 0.05;
/// Worth a word: at most so much of the set's own error.
const NEARER: f64 = 0.5;

/// The same set with the reverse that halves its error, at least, for the least
/// metal more, and no more than a twentieth of the set's; none where reverse is
/// within a hundredth, is cut already, or nothing comes nearer so cheaply.
///
/// Of those level in metal the nearest; then the first in set order.
pub fn nearer_reverse(problem: &Problem, set: &Set) -> Option<Set> {
    let wanted = problem.reverse().filter(|wanted| wanted.cut().is_none())?;
    let own = Figures::of(problem, set);
    let off = own.reverse?.deviation.abs();
    if off <= NEAR {
        return None;
    }
    let head = set.head.map_or(Ratio::ONE, |pair| {
        Ratio::of(pair.driven.get(), pair.driver.get())
    });
    let error_of = |driver, driven| {
        let ratio = head.then(Ratio::of(driven, driver));
        ratio.deviation(wanted.target()).abs()
    };
    let gears = set.reverse?;
    let shared = problem.shared_speed().is_some();
    let window = wanted.window();
    let list = reverses_at(problem, wanted, set.centre_distance, |driver, driven| {
        error_of(driver, driven) <= NEARER * off
            && window.contains(head.then(Ratio::of(driven, driver)))
            && (!shared || driver == gears.driver.get())
    });
    let fits = |span: &&ReverseSpan| !shared || span.module == gears.module;
    let most = own.blank_volume_mm3 * (1.0 + LITTLE);
    let blanks = Blanks::of(problem, set, &own, &list);
    let passing = Passing::of(problem).map(|passing| (passing.of_set(set), passing));
    let is_clear = |span: &ReverseSpan, idler| {
        let passing = passing.as_ref();
        passing.is_none_or(|(gears, passing)| clears(*gears, passing.beside(span, idler)))
    };
    let mut best: Option<(u64, f64, Set)> = None;
    for span in list.spans.iter().filter(fits) {
        let error = error_of(span.driver.get(), span.driven.get());
        for idler in (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of) {
            let least = best.as_ref().map_or(u64::MAX, |(um2, ..)| *um2);
            let Some(um2) = blanks.with(span, idler, (most, least)) else {
                continue;
            };
            let other = Set {
                reverse: Some(ReverseGears {
                    module: span.module,
                    driver: span.driver,
                    idler,
                    driven: span.driven,
                }),
                ..set.clone()
            };
            let beats = |(least_um2, least, known): &(u64, f64, Set)| {
                let metal = um2.cmp(least_um2);
                metal
                    .then(error.total_cmp(least))
                    .then(other.cmp(known))
                    .is_lt()
            };
            if best.as_ref().is_none_or(beats) && is_clear(span, idler) {
                best = Some((um2, error, other));
            }
        }
    }
    best.map(|(_, _, set)| set)
}

/// The blanks of a set as its reverse changes.
struct Blanks<'a> {
    problem: &'a Problem,
    list: &'a ReverseList,
    rater: Option<Rater<'a>>,
    head: f64,
    /// Those that stay: Σ OD² · width, µm² times the unit of widths.
    rest_um2: u64,
}

impl<'a> Blanks<'a> {
    fn of(problem: &'a Problem, set: &Set, own: &Figures, list: &'a ReverseList) -> Self {
        let face = problem.gears().face();
        let made = own_gears(problem, set).into_iter();
        let reverse = made.filter(|(gear, ..)| gear.role == Role::Reverse);
        let going: u64 = reverse
            .map(|(gear, _, od_um)| od_um * od_um * face.units(gear.face))
            .sum();
        Self {
            problem,
            list,
            rater: problem
                .asks_strength()
                .then(|| Rater::of(problem))
                .flatten(),
            head: own.head_ratio.unwrap_or(1.0),
            rest_um2: own.blank_um2 - going,
        }
    }

    /// All blanks with another reverse, where they are no more than the two limits
    /// and the reverse holds what is asked of it.
    fn with(
        &self,
        span: &ReverseSpan,
        idler: Teeth,
        (most_mm3, most_um2): (f64, u64),
    ) -> Option<u64> {
        let (gears, face) = (self.problem.gears(), self.problem.gears().face());
        let module = span.module.of(self.problem);
        let (teeth, forms) = (
            [span.driver, idler, span.driven],
            self.list.forms(span, idler),
        );
        // A shared driver is the gear of a speed.
        let own = usize::from(self.problem.shared_speed().is_some());
        let blank = |(z, form): (&Teeth, &Form)| blank_um(gears, module, *z, form).pow(2);
        let um2: u64 = teeth.iter().zip(&forms).skip(own).map(blank).sum();
        let all = |units: u64| {
            let all = self.rest_um2 + um2 * units;
            (all <= most_um2 && volume_mm3(all, face.unit()) <= most_mm3).then_some(all)
        };
        let least = all(1)?;
        let Some(rater) = &self.rater else {
            return Some(least);
        };
        let strand = rater.reverse(module, teeth, forms)?;
        let width = rater.width(&strand);
        let all = all(face.units(width))?;
        rater.holds(&strand, self.head, width.mm()).then_some(all)
    }
}

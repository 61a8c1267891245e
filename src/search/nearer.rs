//! A reverse that comes nearer its target for little metal more.

use super::passing::{Passing, clears};
use super::strong::Strong;
use crate::base::{Ratio, Teeth};
use crate::making::{Form, blank_um};
use crate::mesh::{ReverseList, ReverseSpan, reverses_at};
use crate::problem::{Problem, Role};
use crate::train::{Figures, ReverseGears, Set, own_gears, volume_mm3};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

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
    let mut open = Vec::new();
    for span in list.spans.iter().filter(fits) {
        let error = error_of(span.driver.get(), span.driven.get());
        for idler in (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of) {
            let gears = gears_of(span, idler);
            let least = blanks.at_least(span, idler, most);
            // Errors are not negative: their bits sort as they do.
            open.extend(least.map(|um2| (um2, error.to_bits(), gears, span)));
        }
    }
    // Rating is dear: the lightest are rated first, until what is left is heavier.
    let mut open: BinaryHeap<_> = open.into_iter().map(Reverse).collect();
    let mut best: Option<(u64, u64, ReverseGears)> = None;
    while let Some(Reverse((least_um2, error, gears, span))) = open.pop() {
        if best.is_some_and(|(um2, ..)| um2 < least_um2) {
            break;
        }
        let held = blanks.held(span, gears.idler, most);
        if let Some(um2) = held.filter(|_| is_clear(span, gears.idler)) {
            let found = (um2, error, gears);
            best = Some(best.map_or(found, |known| known.min(found)));
        }
    }
    best.map(|(.., gears)| Set {
        reverse: Some(gears),
        ..set.clone()
    })
}

fn gears_of(span: &ReverseSpan, idler: Teeth) -> ReverseGears {
    ReverseGears {
        module: span.module,
        driver: span.driver,
        idler,
        driven: span.driven,
    }
}

/// The blanks of a set as its reverse changes.
struct Blanks<'a> {
    problem: &'a Problem,
    list: &'a ReverseList,
    /// What is asked of the strength of teeth behind the set's head.
    strong: Option<Strong<'a>>,
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
            strong: Strong::behind_head(problem, set),
            rest_um2: own.blank_um2 - going,
        }
    }

    /// All blanks with another reverse, so many units wide, where they are no more
    /// than the limit.
    fn all(&self, span: &ReverseSpan, idler: Teeth, units: u64, most_mm3: f64) -> Option<u64> {
        let gears = self.problem.gears();
        let module = span.module.of(self.problem);
        let teeth = [span.driver, idler, span.driven];
        let forms = self.list.forms(span, idler);
        // A shared driver is the gear of a speed.
        let own = usize::from(self.problem.shared_speed().is_some());
        let blank = |(z, form): (&Teeth, &Form)| blank_um(gears, module, *z, form).pow(2);
        let um2: u64 = teeth.iter().zip(&forms).skip(own).map(blank).sum();
        let all = self.rest_um2 + um2 * units;
        (volume_mm3(all, gears.face().unit()) <= most_mm3).then_some(all)
    }

    /// All blanks with another reverse that is as narrow as any.
    fn at_least(&self, span: &ReverseSpan, idler: Teeth, most_mm3: f64) -> Option<u64> {
        let narrowest = |strong: &Strong<'_>| strong.least_units(span.module);
        let units = self.strong.as_ref().map_or(1, narrowest);
        self.all(span, idler, units, most_mm3)
    }

    /// All blanks with another reverse as wide as it must be, where it holds what is
    /// asked of it.
    fn held(&self, span: &ReverseSpan, idler: Teeth, most_mm3: f64) -> Option<u64> {
        let units = match &self.strong {
            Some(strong) => strong.reverse(self.list, span, idler)?.units,
            None => 1,
        };
        self.all(span, idler, units, most_mm3)
    }
}

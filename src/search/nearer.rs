//! A reverse that comes nearer its target for little metal more.

use crate::base::{Ratio, Teeth};
use crate::mesh::{ReverseSpan, reverses_at};
use crate::problem::Problem;
use crate::train::{Figures, ReverseGears, Set};

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
    let mut best: Option<(u64, f64, Set)> = None;
    for span in list.spans.iter().filter(fits) {
        let error = error_of(span.driver.get(), span.driven.get());
        for idler in (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of) {
            let other = Set {
                reverse: Some(ReverseGears {
                    module: span.module,
                    driver: span.driver,
                    idler,
                    driven: span.driven,
                }),
                ..set.clone()
            };
            let figures = Figures::of(problem, &other);
            if figures.blank_volume_mm3 > most {
                continue;
            }
            let beats = |(um2, least, known): &(u64, f64, Set)| {
                let metal = figures.blank_um2.cmp(um2);
                metal
                    .then(error.total_cmp(least))
                    .then(other.cmp(known))
                    .is_lt()
            };
            if best.as_ref().is_none_or(beats) {
                best = Some((figures.blank_um2, error, other));
            }
        }
    }
    best.map(|(_, _, set)| set)
}

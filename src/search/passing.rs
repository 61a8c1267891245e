//! Where the idler's pin passes other gears: which of them leave it room beside
//! which reverse gears.
//!
//! Behind a head roles are independent but for this. So the sets of a head are
//! split by the room that their reverse gears leave beside the pin, in as few
//! kinds as the gears of the other roles tell apart: within a kind roles are
//! independent again. Kinds have no set in common; forward trains they may.

use crate::base::Teeth;
use crate::making::{Form, gear_of};
use crate::mesh::{MadePair, ReverseSpan};
use crate::place::{Idler, Surroundings};
use crate::problem::{Passed, Problem};
use crate::train::{Pair, ReverseGears, Set, forms_of, reverse_lengths};
use std::collections::BTreeMap;

/// Tip radii on the upper and on the lower axis, mm: of gears, or the largest that
/// the pin is clear of.
pub(super) type Beside = [f64; 2];

/// Room for any gear.
pub(super) const WIDE: Beside = [f64::INFINITY; 2];

/// Whether gears are clear of the pin.
pub(super) fn clears(gears: Beside, room: Beside) -> bool {
    gears[0] <= room[0] && gears[1] <= room[1]
}

/// What the pin of a problem passes.
#[derive(Debug)]
pub(super) struct Passing<'a> {
    problem: &'a Problem,
    room: Surroundings,
    passed: Passed,
}

impl<'a> Passing<'a> {
    /// None where the place of the idler depends on the reverse gears alone.
    pub(super) fn of(problem: &'a Problem) -> Option<Self> {
        Some(Self {
            passed: problem.passed_by_pin()?,
            room: Surroundings::of(problem)?,
            problem,
        })
    }

    /// A head pair; its driver is on the input shaft.
    pub(super) fn head(&self, made: &MadePair) -> Beside {
        self.tips(made)
    }

    /// A pair of a speed.
    pub(super) fn speed(&self, made: &MadePair) -> Beside {
        match self.passed {
            Passed::Head => [0.0; 2],
            Passed::All => self.problem.arrangement().upper_lower(self.tips(made)),
        }
    }

    /// The largest of a set.
    pub(super) fn of_set(&self, set: &Set) -> Beside {
        let forms = forms_of(self.problem, set);
        let mut forms = forms.chunks_exact(2);
        let mut made = |pair: Pair| MadePair {
            pair,
            forms: forms
                .next()
                .map_or([Form::PLAIN; 2], |own| [own[0], own[1]]),
        };
        let head = set.head.map(&mut made).map(|made| self.head(&made));
        let speeds = set.pairs.iter().map(|pair| self.speed(&made(*pair)));
        let larger =
            |one: Beside, other: Beside| [0, 1].map(|axis: usize| one[axis].max(other[axis]));
        speeds.chain(head).fold([0.0; 2], larger)
    }

    /// What reverse gears leave.
    pub(super) fn beside(&self, span: &ReverseSpan, idler: Teeth) -> Beside {
        let gears = ReverseGears {
            module: span.module,
            driver: span.driver,
            idler,
            driven: span.driven,
        };
        let (distances_mm, _) = reverse_lengths(self.problem, gears);
        // The pin does not ask how large its idler is.
        self.room
            .beside_pin(&Idler::new(self.problem, 0.0, distances_mm))
    }

    /// Driver and driven gear.
    fn tips(&self, made: &MadePair) -> [f64; 2] {
        let module = made.pair.module.of(self.problem);
        let tip = |teeth, form| {
            let gear = gear_of(self.problem.gears(), module, teeth, form);
            // What can't be drawn clears nothing.
            gear.map_or(f64::INFINITY, |gear| gear.tip_mm() / 2.0)
        };
        let [driver, driven] = &made.forms;
        [tip(made.pair.driver, driver), tip(made.pair.driven, driven)]
    }
}

/// Reverse gears that are clear of the same gears of the other roles.
#[derive(Debug)]
pub(super) struct Kind {
    /// The largest of those gears.
    pub(super) room: Beside,
    /// Places of the reverse gears.
    pub(super) reverses: Vec<usize>,
}

/// No gear at all, and the tip radii of gears on one axis, rising.
struct Radii(Vec<f64>);

impl Radii {
    fn of(radii: impl Iterator<Item = f64>) -> Self {
        let mut radii: Vec<f64> = radii.chain([0.0]).collect();
        radii.sort_unstable_by(f64::total_cmp);
        radii.dedup_by(|one, other| one.total_cmp(other).is_eq());
        Self(radii)
    }

    /// The largest radius within `room`; none where the pin has no room at all.
    fn within(&self, room: f64) -> Option<usize> {
        self.0
            .partition_point(|radius| *radius <= room)
            .checked_sub(1)
    }
}

/// Sorts reverse gears, each with the room it leaves, by which of `gears` they are
/// clear of. Kinds with the most room on the upper axis come first, of these those
/// with the most on the lower.
pub(super) fn kinds(
    gears: &[Beside],
    reverses: impl Iterator<Item = (usize, Beside)>,
) -> Vec<Kind> {
    let [upper, lower] = [0, 1].map(|axis: usize| Radii::of(gears.iter().map(|g| g[axis])));
    let mut by_rung: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
    for (place, room) in reverses {
        if let (Some(high), Some(low)) = (upper.within(room[0]), lower.within(room[1])) {
            by_rung.entry((high, low)).or_default().push(place);
        }
    }
    let kind = |((high, low), reverses): ((usize, usize), Vec<usize>)| Kind {
        room: [upper.0[high], lower.0[low]],
        reverses,
    };
    by_rung.into_iter().rev().map(kind).collect()
}

/// Which forward trains a kind adds to those of the kinds before it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Added {
    /// All with gears within this,
    pub(super) within: Beside,
    /// but those within this, if there is such.
    pub(super) known: Option<Beside>,
}

/// Of kinds in their order; none where all trains of a kind are known.
pub(super) fn added(kinds: &[Kind]) -> Vec<Option<Added>> {
    let mut widest: Option<f64> = None;
    let add = |kind: &Kind| {
        let [upper, lower] = kind.room;
        if widest.is_some_and(|widest| lower <= widest) {
            return None;
        }
        let known = widest.replace(lower).map(|widest| [upper, widest]);
        Some(Added {
            within: kind.room,
            known,
        })
    };
    kinds.iter().map(add).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reverse_gears_are_of_a_kind_where_no_gear_tells_them_apart() {
        let gears = [[10.0, 30.0], [20.0, 20.0], [30.0, 10.0]];
        let rooms = [
            [25.0, 25.0],
            [21.0, 29.0],
            [9.0, 90.0],
            [90.0, 90.0],
            [10.0, 30.0],
        ];
        let kinds = kinds(&gears, rooms.into_iter().enumerate());
        let told: Vec<(Beside, &[usize])> =
            kinds.iter().map(|k| (k.room, &k.reverses[..])).collect();
        let expected: [(Beside, &[usize]); 4] = [
            ([30.0, 30.0], &[3]),
            ([20.0, 20.0], &[0, 1]),
            ([10.0, 30.0], &[4]),
            ([0.0, 30.0], &[2]),
        ];
        assert_eq!(told, expected);
    }

    /// Trains of two roles, one with a need on each axis, counted one by one.
    #[test]
    fn every_forward_train_is_counted_once() {
        let needs: Vec<f64> = (1..=6).map(f64::from).collect();
        let within = |room: Beside| {
            let count = |most: f64| needs.iter().filter(|need| **need <= most).count();
            count(room[0]) * count(room[1])
        };
        for seed in 0..200_u32 {
            let digit = |shift: u32| f64::from((seed.wrapping_mul(2_654_435_761) >> shift) % 7);
            let rooms: Vec<Beside> = (0..4).map(|i| [digit(6 * i), digit(6 * i + 3)]).collect();
            let gears: Vec<Beside> = needs.iter().map(|need| [*need; 2]).collect();
            let all = needs
                .iter()
                .flat_map(|u| needs.iter().map(move |l| [*u, *l]));
            let plain = all.filter(|gears| rooms.iter().any(|room| clears(*gears, *room)));
            let kinds = kinds(&gears, rooms.iter().copied().enumerate());
            let sum: usize = added(&kinds)
                .into_iter()
                .flatten()
                .map(|added| within(added.within) - added.known.map_or(0, within))
                .sum();
            assert_eq!(sum, plain.count(), "{rooms:?}");
        }
    }
}

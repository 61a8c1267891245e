//! A whole number that rises with a load, remembered where it was asked for.

use std::ops::Range;
use std::sync::OnceLock;

/// A step: the number, and loads that all have it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tread {
    pub(super) number: i64,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// Few are asked for more; those are looked for again.
const ROOM: usize = 8;

/// Treads in the order in which they were found: threads read them without
/// waiting for each other.
#[derive(Debug, Default)]
pub(super) struct Staircase(OnceLock<Box<[OnceLock<Tread>; ROOM]>>);

impl Staircase {
    /// The number at `load`, from `run`, its end included. Where it is not known
    /// `find` looks for the tread that holds it in what is left of the run, and may
    /// not be sure of one.
    pub(super) fn at(
        &self,
        load: f64,
        run: Range<i64>,
        find: impl FnOnce(Range<i64>) -> Option<Tread>,
    ) -> Option<i64> {
        let Range { mut start, mut end } = run;
        let treads = self.0.get_or_init(Box::default);
        for tread in treads.iter().map_while(OnceLock::get) {
            if load < tread.from {
                end = end.min(tread.number);
            } else if load > tread.to {
                start = start.max(tread.number);
            } else {
                return Some(tread.number);
            }
        }
        let found = find(start..end)?;
        let _remembered = treads.iter().any(|place| place.set(found).is_ok());
        Some(found.number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    const STEP: f64 = 13.0;

    fn number(load: f64) -> i64 {
        (1..8)
            .find(|n| f64::from(*n) * STEP >= load)
            .map_or(8, i64::from)
    }

    /// How many of many loads, in no order, are looked for.
    fn looks(tread: impl Fn(i64, f64) -> (f64, f64)) -> u32 {
        let looks = Cell::new(0);
        let stairs = Staircase::default();
        // 37 is prime to 1009.
        for i in 0..1009_u32 {
            let load = f64::from(i * 37 % 1009) / 10.0;
            let found = stairs.at(load, 1..8, |run| {
                looks.set(looks.get() + 1);
                let number = number(load);
                assert!(run.start <= number && number <= run.end, "{load} {run:?}");
                let (from, to) = tread(number, load);
                Some(Tread { number, from, to })
            });
            assert_eq!(found, Some(number(load)), "{load}");
        }
        looks.get()
    }

    #[test]
    fn every_load_has_its_number_and_few_are_looked_for() {
        // Even where there is no room for all that is found.
        let alone = looks(|_, load| (load, load));
        assert_eq!(alone, 1009);
        let whole = looks(|number, load| {
            #[allow(clippy::cast_precision_loss, reason = "few steps")]
            let end = number as f64 * STEP;
            (load.min(end - STEP + 0.05), load.max(end))
        });
        assert_eq!(whole, 8);
    }

    #[test]
    fn what_is_not_sure_is_not_remembered() {
        let stairs = Staircase::default();
        assert_eq!(stairs.at(1.0, 1..9, |_| None), None);
        let find = |run| {
            assert_eq!(run, 1..9);
            Some(Tread {
                number: 4,
                from: 0.5,
                to: 1.5,
            })
        };
        assert_eq!(stairs.at(1.0, 1..9, find), Some(4));
        assert_eq!(stairs.at(1.4, 1..9, |_| None), Some(4));
    }
}

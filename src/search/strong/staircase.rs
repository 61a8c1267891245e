//! A whole number that rises with a load, remembered where it was asked for.

use std::ops::Range;
use std::sync::Mutex;

/// A step: the number, and loads that all have it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tread {
    pub(super) number: i64,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// Treads by rising number.
#[derive(Debug, Default)]
pub(super) struct Staircase(Mutex<Vec<Tread>>);

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
        // What a thread that failed has left behind is sound: treads are whole.
        let mut treads = self
            .0
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner);
        let above = treads.partition_point(|tread| tread.to < load);
        let low = above
            .checked_sub(1)
            .map_or(run.start, |below| treads[below].number);
        let high = match treads.get(above) {
            Some(tread) if tread.from <= load => return Some(tread.number),
            Some(tread) => tread.number,
            None => run.end,
        };
        let found = find(low..high)?;
        match treads.binary_search_by_key(&found.number, |tread| tread.number) {
            Ok(place) => {
                let tread = &mut treads[place];
                (tread.from, tread.to) = (tread.from.min(found.from), tread.to.max(found.to));
            }
            Err(place) => treads.insert(place, found),
        }
        Some(found.number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    const STEP: f64 = 2.5;

    fn number(load: f64) -> i64 {
        (1..40)
            .find(|n| f64::from(*n) * STEP >= load)
            .map_or(40, i64::from)
    }

    /// How many of many loads, in no order, are looked for.
    fn looks(tread: impl Fn(i64, f64) -> (f64, f64)) -> u32 {
        let looks = Cell::new(0);
        let stairs = Staircase::default();
        // 37 is prime to 1009.
        for i in 0..1009_u32 {
            let load = f64::from(i * 37 % 1009) / 10.0;
            let found = stairs.at(load, 1..40, |run| {
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
        let alone = looks(|_, load| (load, load));
        assert!(alone < 1009, "{alone}");
        let whole = looks(|number, load| {
            #[allow(clippy::cast_precision_loss, reason = "few steps")]
            let end = number as f64 * STEP;
            (load.min(end - STEP + 0.05), load.max(end))
        });
        assert!(whole <= 41, "{whole}");
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

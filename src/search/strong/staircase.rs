//! A whole number that rises with a load, remembered where it was asked for.

use std::ops::Range;
use std::sync::Mutex;

/// A step: the number, and the least and greatest load that it was found at.
type Tread = (i64, f64, f64);

/// Treads by rising number.
#[derive(Debug, Default)]
pub(super) struct Staircase(Mutex<Vec<Tread>>);

impl Staircase {
    /// The number at `load`, from `run`, its end included. Where it is not known
    /// `find` looks for it in what is left of the run.
    pub(super) fn at(
        &self,
        load: f64,
        run: Range<i64>,
        find: impl FnOnce(Range<i64>) -> i64,
    ) -> i64 {
        // What a thread that failed has left behind is sound: treads are whole.
        let mut treads = self
            .0
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner);
        let above = treads.partition_point(|tread| tread.2 < load);
        let low = above
            .checked_sub(1)
            .map_or(run.start, |below| treads[below].0);
        let high = match treads.get(above) {
            Some((number, from, _)) if *from <= load => return *number,
            Some((number, ..)) => *number,
            None => run.end,
        };
        let number = find(low..high);
        match treads.binary_search_by_key(&number, |tread| tread.0) {
            Ok(place) => {
                let tread = &mut treads[place];
                (tread.1, tread.2) = (tread.1.min(load), tread.2.max(load));
            }
            Err(place) => treads.insert(place, (number, load, load)),
        }
        number
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn every_load_has_its_number_and_few_are_looked_for() {
        let number = |load: f64| (1..40).find(|n| f64::from(*n) * 2.5 >= load).unwrap_or(40);
        let looks = Cell::new(0);
        let stairs = Staircase::default();
        // Loads in no order: 37 is prime to 1009.
        for i in 0..1009_u32 {
            let load = f64::from(i * 37 % 1009) / 10.0;
            let found = stairs.at(load, 1..40, |run| {
                let inside = |n: i64| {
                    looks.set(looks.get() + 1);
                    n >= i64::from(number(load))
                };
                crate::rating::least_that(run, inside)
            });
            assert_eq!(found, i64::from(number(load)), "{load}");
        }
        assert!(looks.get() < 1009, "{}", looks.get());
    }
}

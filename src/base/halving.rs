//! Looking for a place by halving.

use std::ops::Range;

/// The first place of `run` for which `holds`, which does for all after it; the
/// end if none.
pub fn first_that(run: Range<usize>, holds: impl Fn(usize) -> bool) -> usize {
    let (mut low, mut high) = (run.start, run.end);
    while low < high {
        let middle = low.midpoint(high);
        if holds(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    low
}

/// [`first_that`], looked for from `guess` on: little is asked where that is near.
pub fn first_near(run: Range<usize>, guess: usize, holds: impl Fn(usize) -> bool) -> usize {
    let (mut low, mut high) = (run.start, run.end);
    let (mut at, mut step) = (guess, 1);
    let mut last = None;
    while low < high {
        at = at.clamp(low, high - 1);
        let holds_here = holds(at);
        if holds_here {
            high = at;
        } else {
            low = at + 1;
        }
        if last.is_some_and(|before| before != holds_here) {
            return first_that(low..high, holds);
        }
        last = Some(holds_here);
        at = if holds_here {
            at.saturating_sub(step)
        } else {
            at + step
        };
        step *= 2;
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_is_found_and_none_is_the_end() {
        for first in 3..=9 {
            assert_eq!(first_that(3..9, |place| place >= first), first);
        }
        assert_eq!(first_that(5..5, |_| true), 5);
    }

    #[test]
    fn a_guess_changes_nothing_but_the_work() {
        let asked = std::cell::Cell::new(0);
        for first in 3..=90 {
            for guess in 0..100 {
                asked.set(0);
                let found = first_near(3..90, guess, |place| {
                    asked.set(asked.get() + 1);
                    assert!((3..90).contains(&place));
                    place >= first
                });
                assert_eq!(found, first);
                let near = (guess..=guess + 1).contains(&first);
                assert!(!near || asked.get() <= 2, "{first} {guess}: {asked:?}");
                assert!(asked.get() <= 16, "{first} {guess}: {asked:?}");
            }
        }
        assert_eq!(first_near(5..5, 7, |_| true), 5);
    }
}

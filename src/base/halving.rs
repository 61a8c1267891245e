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
}

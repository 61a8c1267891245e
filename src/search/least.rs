//! The least of any run of a list, in logarithmic time.

use std::ops::Range;

/// A tree of minima over a list of volumes.
#[derive(Debug)]
pub(super) struct Least(Vec<u64>);

impl Least {
    pub(super) fn new(values: impl ExactSizeIterator<Item = u64>) -> Self {
        let n = values.len();
        let mut tree = vec![u64::MAX; n];
        tree.extend(values);
        for i in (1..n).rev() {
            tree[i] = tree[2 * i].min(tree[2 * i + 1]);
        }
        Self(tree)
    }

    /// The value at one place.
    pub(super) fn at(&self, place: usize) -> u64 {
        self.0[self.0.len() / 2 + place]
    }

    /// The least value at the places of `run`; `u64::MAX` when it is empty.
    pub(super) fn of(&self, run: &Range<usize>) -> u64 {
        let n = self.0.len() / 2;
        let (mut low, mut high) = (run.start + n, run.end.max(run.start) + n);
        let mut least = u64::MAX;
        while low < high {
            if low % 2 == 1 {
                least = least.min(self.0[low]);
                low += 1;
            }
            if high % 2 == 1 {
                high -= 1;
                least = least.min(self.0[high]);
            }
            low /= 2;
            high /= 2;
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_a_scan_on_every_run() {
        for n in 0..12_usize {
            let values: Vec<u64> = (0..n).map(|i| (i as u64 * 7 + 3) % 11).collect();
            let tree = Least::new(values.iter().copied());
            assert!((0..n).all(|place| tree.at(place) == values[place]));
            for start in 0..=n {
                for end in start..=n {
                    let scan = values[start..end].iter().copied().min().unwrap_or(u64::MAX);
                    assert_eq!(tree.of(&(start..end)), scan, "{start}..{end} of {n}");
                }
            }
        }
    }
}

//! Sets of cutters as bits, as wide as a problem needs.

use std::fmt::Debug;

/// A set of small numbers.
pub(super) trait Mask: Copy + Ord + Debug + Send + Sync + 'static {
    /// The empty set.
    const EMPTY: Self;
    /// This set and `bit`.
    fn with(self, bit: usize) -> Self;
    /// Everything in either.
    fn union(self, other: Self) -> Self;
    /// Whether `bit` is a member.
    fn has(&self, bit: usize) -> bool;
    /// How many members.
    fn count(self) -> u32;
    /// Whether all members are in `other`.
    fn within(&self, other: &Self) -> bool;
}

/// A set of numbers below 64 · `WORDS`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Bits<const WORDS: usize>([u64; WORDS]);

impl<const WORDS: usize> Mask for Bits<WORDS> {
    const EMPTY: Self = Self([0; WORDS]);

    fn with(mut self, bit: usize) -> Self {
        self.0[bit / 64] |= 1 << (bit % 64);
        self
    }

    fn union(mut self, other: Self) -> Self {
        for (word, more) in self.0.iter_mut().zip(other.0) {
            *word |= more;
        }
        self
    }

    fn has(&self, bit: usize) -> bool {
        self.0[bit / 64] & (1 << (bit % 64)) != 0
    }

    fn count(self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }

    fn within(&self, other: &Self) -> bool {
        self.0
            .iter()
            .zip(&other.0)
            .all(|(word, all)| word & !all == 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_of_several_words_are_one_set() {
        let a = Bits::<2>::EMPTY.with(3).with(100);
        let b = Bits::<2>::EMPTY.with(100);
        assert_eq!((a.count(), b.count(), a.union(b)), (2, 1, a));
        assert!(b.within(&a));
        assert!(!a.within(&b));
    }
}

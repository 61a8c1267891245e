//! What a choice of gears needs, as bits, as wide as a problem makes it: its
//! cutters, and where other measures count, what those count.

use std::fmt::Debug;

/// A set of cutters, with what else is needed beside them.
pub(super) trait Mask: Copy + Ord + Debug + Send + Sync + 'static {
    /// The empty set.
    const EMPTY: Self;
    /// Whether anything but cutters is held.
    const HOLDS_MORE: bool;
    /// This set and a cutter.
    fn with(self, cutter: usize) -> Self;
    /// Everything in either.
    fn union(self, other: Self) -> Self;
    /// Everything in both.
    fn common(self, other: Self) -> Self;
    /// Whether a cutter is a member.
    fn has(&self, cutter: usize) -> bool;
    /// How many cutters.
    fn count(self) -> u32;
    /// Whether all members are in `other`.
    fn within(&self, other: &Self) -> bool;
    /// This set and something of few kinds, where it holds such.
    fn with_coarse(self, _: usize) -> Self {
        self
    }
    /// This set and something of many kinds, where it holds such.
    fn with_fine(self, _: usize) -> Self {
        self
    }
    /// The words of few kinds.
    fn coarse(&self) -> &[u64] {
        &[]
    }
    /// The words of many kinds.
    fn fine(&self) -> &[u64] {
        &[]
    }
    /// Its words, the leading one first, where there are two at most: numbers in
    /// the order of the masks.
    fn short(&self) -> Option<[u64; 2]> {
        None
    }
    /// The same without what comes in many kinds.
    fn without_fine(self) -> Self {
        self
    }
    /// What comes in few kinds alone.
    fn only_coarse(self) -> Self {
        Self::EMPTY
    }
}

/// Nothing at all: enough where sets are only counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Nothing;

impl Mask for Nothing {
    const EMPTY: Self = Self;
    const HOLDS_MORE: bool = false;

    fn with(self, _: usize) -> Self {
        self
    }

    fn union(self, _: Self) -> Self {
        self
    }

    fn common(self, _: Self) -> Self {
        self
    }

    fn has(&self, _: usize) -> bool {
        false
    }

    fn count(self) -> u32 {
        0
    }

    fn within(&self, _: &Self) -> bool {
        true
    }

    fn short(&self) -> Option<[u64; 2]> {
        Some([0; 2])
    }
}

/// Most words of a set whose operations stand where they are used.
const NARROW: usize = 2;

/// Cutters below 64 · `WORDS`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Bits<const WORDS: usize>([u64; WORDS]);

impl<const WORDS: usize> Bits<WORDS> {
    const fn set(mut self, bit: usize) -> Self {
        self.0[bit / 64] |= 1 << (bit % 64);
        self
    }

    fn both(mut self, other: Self) -> Self {
        if WORDS <= NARROW {
            self.add_all(&other);
        } else {
            self.add_all_apart(&other);
        }
        self
    }

    #[inline]
    fn add_all(&mut self, other: &Self) {
        for (word, more) in self.0.iter_mut().zip(other.0) {
            *word |= more;
        }
    }

    /// Not repeated at every place that needs it: that doubled the time that the
    /// project takes to compile.
    #[inline(never)]
    fn add_all_apart(&mut self, other: &Self) {
        self.add_all(other);
    }

    fn shared(mut self, other: Self) -> Self {
        for (word, own) in self.0.iter_mut().zip(other.0) {
            *word &= own;
        }
        self
    }

    fn inside(&self, other: &Self) -> bool {
        if WORDS <= NARROW {
            self.all_in(other)
        } else {
            self.all_in_apart(other)
        }
    }

    #[inline]
    fn all_in(&self, other: &Self) -> bool {
        let mut words = self.0.iter().zip(&other.0);
        words.all(|(word, all)| word & !all == 0)
    }

    #[inline(never)]
    fn all_in_apart(&self, other: &Self) -> bool {
        self.all_in(other)
    }

    #[inline]
    fn ones(&self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }

    #[inline(never)]
    fn ones_apart(&self) -> u32 {
        self.ones()
    }
}

impl<const WORDS: usize> Mask for Bits<WORDS> {
    const EMPTY: Self = Self([0; WORDS]);
    const HOLDS_MORE: bool = false;

    fn with(self, cutter: usize) -> Self {
        self.set(cutter)
    }

    fn union(self, other: Self) -> Self {
        self.both(other)
    }

    fn common(self, other: Self) -> Self {
        self.shared(other)
    }

    fn has(&self, cutter: usize) -> bool {
        self.0[cutter / 64] & (1 << (cutter % 64)) != 0
    }

    fn count(self) -> u32 {
        if WORDS <= NARROW {
            self.ones()
        } else {
            self.ones_apart()
        }
    }

    fn within(&self, other: &Self) -> bool {
        self.inside(other)
    }

    fn short(&self) -> Option<[u64; 2]> {
        match self.0[..] {
            [word] => Some([word, 0]),
            [first, second] => Some([first, second]),
            _ => None,
        }
    }
}

/// Cutters below 64 · `CUTTERS`, with what else is needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Needs<const CUTTERS: usize, const COARSE: usize, const FINE: usize> {
    cutters: Bits<CUTTERS>,
    coarse: Bits<COARSE>,
    fine: Bits<FINE>,
}

impl<const CUTTERS: usize, const COARSE: usize, const FINE: usize> Mask
    for Needs<CUTTERS, COARSE, FINE>
{
    const EMPTY: Self = Self {
        cutters: Bits::EMPTY,
        coarse: Bits::EMPTY,
        fine: Bits::EMPTY,
    };
    const HOLDS_MORE: bool = true;

    fn with(self, cutter: usize) -> Self {
        Self {
            cutters: self.cutters.set(cutter),
            ..self
        }
    }

    fn common(self, other: Self) -> Self {
        Self {
            cutters: self.cutters.shared(other.cutters),
            coarse: self.coarse.shared(other.coarse),
            fine: self.fine.shared(other.fine),
        }
    }

    #[inline]
    fn union(self, other: Self) -> Self {
        Self {
            cutters: self.cutters.both(other.cutters),
            coarse: self.coarse.both(other.coarse),
            fine: self.fine.both(other.fine),
        }
    }

    fn has(&self, cutter: usize) -> bool {
        self.cutters.has(cutter)
    }

    fn count(self) -> u32 {
        self.cutters.count()
    }

    #[inline]
    fn within(&self, other: &Self) -> bool {
        self.cutters.inside(&other.cutters)
            && self.coarse.inside(&other.coarse)
            && self.fine.inside(&other.fine)
    }

    fn with_coarse(self, bit: usize) -> Self {
        Self {
            coarse: self.coarse.set(bit),
            ..self
        }
    }

    fn with_fine(self, bit: usize) -> Self {
        Self {
            fine: self.fine.set(bit),
            ..self
        }
    }

    fn coarse(&self) -> &[u64] {
        &self.coarse.0
    }

    fn fine(&self) -> &[u64] {
        &self.fine.0
    }

    fn short(&self) -> Option<[u64; 2]> {
        match (&self.cutters.0[..], &self.coarse.0[..], &self.fine.0[..]) {
            ([cutters], [coarse], []) => Some([*cutters, *coarse]),
            _ => None,
        }
    }

    fn without_fine(self) -> Self {
        Self {
            fine: Bits::EMPTY,
            ..self
        }
    }

    fn only_coarse(self) -> Self {
        Self {
            coarse: self.coarse,
            ..Self::EMPTY
        }
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
        assert_eq!(a.common(b), b);
        assert_eq!(a.common(Bits::<2>::EMPTY.with(4)), Bits::EMPTY);
    }

    #[test]
    fn needs_beside_cutters_are_no_cutters_but_are_compared() {
        let a = Needs::<1, 1, 2>::EMPTY.with(3).with_coarse(5).with_fine(70);
        let b = Needs::<1, 1, 2>::EMPTY.with(3).with_coarse(5);
        assert_eq!(a.count(), 1);
        assert!(b.within(&a) && !a.within(&b));
        assert_eq!(a.without_fine(), b);
        assert_eq!(a.only_coarse(), Needs::EMPTY.with_coarse(5));
        assert_eq!((a.coarse(), a.fine()), (&[1 << 5][..], &[0, 1 << 6][..]));
    }
}

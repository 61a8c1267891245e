//! Sorting by plain numbers, whatever is sorted.
//!
//! What a search sorts is as wide as its masks, and a sort of its own for each
//! width and place was a fifth of the compiled project. Here only numbers and
//! places are sorted, by code that stands once. Equals stay in their order.

use super::mask::Mask;
use crate::train::{Pair, ReverseGears};
use std::cmp::Ordering;

/// Numbers to sort by, the first first.
pub(super) type Numbers = [u64; 4];

/// Puts `items` in the order of their numbers.
pub(super) fn sort_by_numbers<T: Copy>(items: &mut Vec<T>, numbers: impl Fn(&T) -> Numbers) {
    let places = places_by_numbers(items, numbers);
    *items = places.iter().map(|&at| items[at as usize]).collect();
}

/// The places of `items` in the order of their numbers.
pub(super) fn places_by_numbers<T>(items: &[T], numbers: impl Fn(&T) -> Numbers) -> Vec<u32> {
    let mut all = Vec::with_capacity(items.len());
    for (at, item) in (0..).zip(items) {
        all.push((numbers(item), at));
    }
    sorted(all)
}

/// The places of the least number first.
pub(super) fn places_by(numbers: impl Iterator<Item = u64>) -> Vec<usize> {
    let mut all: Vec<(u64, usize)> = Vec::new();
    for number in numbers {
        all.push((number, all.len()));
    }
    all.sort_unstable();
    all.into_iter().map(|(_, at)| at).collect()
}

/// The places of `items` in the order of their masks, equal ones by numbers.
pub(super) fn places_by_mask<T, M: Mask>(
    items: &[T],
    mask: impl Fn(&T) -> &M,
    numbers: impl Fn(&T) -> [u64; 2],
) -> Vec<u32> {
    if M::EMPTY.short().is_some() {
        return places_by_numbers(items, |item| {
            let [first, second] = mask(item).short().unwrap_or_default();
            let [third, fourth] = numbers(item);
            [first, second, third, fourth]
        });
    }
    let key = |at: u32| {
        let item = &items[at as usize];
        (mask(item), numbers(item))
    };
    sorted_by(items.len(), &|x, y| key(x).cmp(&key(y)))
}

/// A pair as numbers in the same order.
pub(super) fn of_pair(pair: Pair) -> u64 {
    let [driver, driven] = [pair.driver, pair.driven].map(|teeth| u64::from(teeth.get()));
    // No gear has 2²⁴ teeth, and no problem 2¹⁶ modules.
    (pair.module.index() as u64) << 48 | driver << 24 | driven
}

/// Reverse gears as numbers in the same order.
pub(super) fn of_reverse(gears: ReverseGears) -> [u64; 2] {
    let [driver, idler, driven] =
        [gears.driver, gears.idler, gears.driven].map(|teeth| u64::from(teeth.get()));
    let module = gears.module.index() as u64;
    [module << 32 | driver, idler << 32 | driven]
}

fn sorted(mut all: Vec<(Numbers, u32)>) -> Vec<u32> {
    all.sort_unstable();
    all.into_iter().map(|(_, at)| at).collect()
}

/// The places below `count` in an order asked for through a call each time: for
/// what is too wide to be numbers.
fn sorted_by(count: usize, order: &dyn Fn(u32, u32) -> Ordering) -> Vec<u32> {
    let mut places: Vec<u32> = (0..).take(count).collect();
    places.sort_unstable_by(|&x, &y| order(x, y).then(x.cmp(&y)));
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::search::mask::{Bits, Needs, Nothing};
    use crate::train::ModuleId;

    #[test]
    fn equals_stay_in_their_order() {
        let mut all = vec![(2, 'a'), (1, 'b'), (2, 'c'), (1, 'd')];
        sort_by_numbers(&mut all, |&(n, _)| [n, 0, 0, 0]);
        assert_eq!(all, [(1, 'b'), (1, 'd'), (2, 'a'), (2, 'c')]);
        assert_eq!(places_by([2, 1, 2, 1].into_iter()), [1, 3, 0, 2]);
    }

    fn agrees<M: Mask>() {
        let bits = [[7, 7], [3, 60], [60, 3], [3, 9], [7, 7], [9, 60]];
        let mask = |[a, b]: [usize; 2]| {
            let mask = M::EMPTY.with(a).with_coarse(b);
            if M::EMPTY.fine().is_empty() {
                mask
            } else {
                mask.with_fine(a)
            }
        };
        let all: Vec<(M, u64)> = bits.map(mask).into_iter().zip([5, 4, 3, 2, 1, 0]).collect();
        let mut expected = all.clone();
        expected.sort_unstable();
        let places = places_by_mask(&all, |(mask, _)| mask, |&(_, n)| [n, 0]);
        let found: Vec<_> = places.iter().map(|&at| all[at as usize]).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn masks_of_every_width_come_in_their_own_order() {
        agrees::<Nothing>();
        agrees::<Bits<1>>();
        agrees::<Bits<2>>();
        agrees::<Bits<8>>();
        agrees::<Needs<1, 1, 0>>();
        agrees::<Needs<8, 2, 64>>();
    }

    #[test]
    fn gears_as_numbers_come_in_set_order() {
        let counts = [1, 2, 999, 1000];
        let mut pairs = Vec::new();
        let mut reverses = Vec::new();
        for (module, a, b) in [0, 1, 63].into_iter().flat_map(|m| {
            counts
                .into_iter()
                .flat_map(move |a| counts.map(|b| (m, a, b)))
        }) {
            let (module, driver, driven) = (ModuleId::new(module), Teeth::of(a), Teeth::of(b));
            pairs.push(Pair {
                module,
                driver,
                driven,
            });
            reverses.extend(counts.map(|idler| ReverseGears {
                module,
                driver,
                idler: Teeth::of(idler),
                driven,
            }));
        }
        assert!(pairs.is_sorted() && pairs.is_sorted_by_key(|pair| of_pair(*pair)));
        reverses.sort_unstable();
        assert!(reverses.is_sorted_by_key(|gears| of_reverse(*gears)));
    }
}

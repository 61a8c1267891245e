//! How alike two sets of one problem are.

use super::{ModuleId, Pair, Set};
use crate::base::{Teeth, gcd};
use std::collections::BTreeMap;

/// In how many gears two sets of one problem differ: role by role, driver
/// against driver, idler against idler, driven against driven. A gear is its
/// module and its teeth; where the shafts stand does not count.
pub fn differing_gears(one: &Set, other: &Set) -> usize {
    let both = one.gears().zip(other.gears());
    both.filter(|(a, b)| a != b).count()
}

/// The gears of a set that are cut for it: where reverse is driven by the gear of
/// a speed, its driver is not one more.
fn own_gears(set: &Set, shares_driver: bool) -> Vec<(ModuleId, Teeth)> {
    let mut gears: Vec<_> = set.gears().collect();
    if shares_driver && set.reverse.is_some() {
        gears.remove(gears.len() - 3);
    }
    gears
}

/// Places of sets by some of their gears.
type ByGears = BTreeMap<Vec<(ModuleId, Teeth)>, Vec<usize>>;

/// Sets of which each differs from all others in at least so many gears.
#[derive(Clone, Debug)]
pub struct Distinct {
    least: usize,
    shares_driver: bool,
    kept: Vec<Set>,
    /// The kept sets by what they have in each part of their gears. A set that
    /// differs from another in fewer gears than there are parts has some part
    /// in common with it: only those need a closer look.
    parts: Vec<ByGears>,
}

impl Distinct {
    /// None yet; `least` is at least 1. Where reverse `shares_driver` with a
    /// speed, that gear counts once.
    pub fn new(least: usize, shares_driver: bool) -> Self {
        let least = least.max(1);
        Self {
            least,
            shares_driver,
            kept: Vec::new(),
            parts: vec![ByGears::new(); least],
        }
    }

    /// Keeps `set` if it differs enough from all that are kept.
    pub fn keep(&mut self, set: &Set) -> bool {
        let gears = own_gears(set, self.shares_driver);
        let end = |part: usize| part * gears.len() / self.least;
        let keys: Vec<_> = (0..self.least)
            .map(|part| gears[end(part)..end(part + 1)].to_vec())
            .collect();
        let near = |place: &usize| {
            let other = own_gears(&self.kept[*place], self.shares_driver);
            let differing = other.iter().zip(&gears).filter(|(a, b)| a != b);
            differing.count() < self.least
        };
        let shares_a_part = self.parts.iter().zip(&keys);
        let mut suspects = shares_a_part
            .filter_map(|(part, key)| part.get(key))
            .flatten();
        if suspects.any(near) {
            return false;
        }
        let place = self.kept.len();
        for (part, key) in self.parts.iter_mut().zip(keys) {
            part.entry(key).or_default().push(place);
        }
        self.kept.push(set.clone());
        true
    }

    /// How many are kept.
    pub fn len(&self) -> usize {
        self.kept.len()
    }

    /// Whether none is kept.
    pub fn is_empty(&self) -> bool {
        self.kept.is_empty()
    }

    /// The sets kept, in the order they came.
    pub fn into_sets(self) -> Vec<Set> {
        self.kept
    }
}

/// The same gears with the head pair and that of one speed in each other's
/// place; none where there is no head or nothing would change.
pub fn exchanged(set: &Set, speed: usize) -> Option<Set> {
    let (head, pair) = (set.head?, *set.pairs.get(speed)?);
    (head != pair).then(|| {
        let mut other = set.clone();
        other.head = Some(pair);
        other.pairs[speed] = head;
        other
    })
}

/// For each set of a list the place of an earlier one that it only exchanges
/// head and one speed against, and which speed that is.
pub fn exchanges(list: &[&Set]) -> Vec<Option<(usize, usize)>> {
    let mut seen = BTreeMap::new();
    let mut found = Vec::with_capacity(list.len());
    for (place, &set) in list.iter().enumerate() {
        let earlier = |speed| Some((*seen.get(&exchanged(set, speed)?)?, speed));
        found.push((0..set.pairs.len()).find_map(earlier));
        seen.entry(set.clone()).or_insert(place);
    }
    found
}

impl Pair {
    /// Whether the counts share no factor, so that each tooth of one gear
    /// meets every tooth of the other (a hunting tooth) and wear spreads.
    pub const fn hunts(self) -> bool {
        gcd(self.driver.get() as u64, self.driven.get() as u64) == 1
    }
}

/// How many pairs of a set hunt.
pub fn hunting_pairs(set: &Set) -> usize {
    let pairs = set.head.iter().chain(&set.pairs);
    pairs.filter(|pair| pair.hunts()).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::{Decimal, Length};
    use crate::train::ReverseGears;

    fn pair(module: usize, driver: u16, driven: u16) -> Pair {
        Pair {
            module: ModuleId::new(module),
            driver: Teeth::new(driver),
            driven: Teeth::new(driven),
        }
    }

    fn set(head: Pair, pairs: &[Pair]) -> Set {
        Set {
            centre_distance: Length::from_mm(Decimal::parse("40").unwrap()),
            head: Some(head),
            pairs: pairs.to_vec(),
            reverse: Some(ReverseGears {
                module: ModuleId::new(0),
                driver: Teeth::new(20),
                idler: Teeth::new(18),
                driven: Teeth::new(40),
            }),
        }
    }

    #[test]
    fn gears_are_compared_role_by_role() {
        let one = set(pair(0, 28, 52), &[pair(0, 25, 55)]);
        assert_eq!(differing_gears(&one, &one), 0);
        // Driver and driven the other way round are two other gears.
        let turned = set(pair(0, 52, 28), &[pair(0, 25, 55)]);
        assert_eq!(differing_gears(&one, &turned), 2);
        // As many teeth of another module is another gear.
        let finer = set(pair(1, 28, 52), &[pair(0, 25, 55)]);
        assert_eq!(differing_gears(&one, &finer), 2);
        let mut idler = one.clone();
        idler.reverse.as_mut().unwrap().idler = Teeth::new(19);
        assert_eq!(differing_gears(&one, &idler), 1);
        let mut apart = one.clone();
        apart.centre_distance = Length::from_mm(Decimal::parse("40.5").unwrap());
        assert_eq!(differing_gears(&one, &apart), 0);
    }

    #[test]
    fn near_sets_are_not_kept() {
        let one = set(pair(0, 28, 52), &[pair(0, 25, 55)]);
        let two = set(pair(0, 28, 52), &[pair(0, 26, 54)]);
        for (least, kept) in [(1, true), (2, true), (3, false), (7, false)] {
            let mut distinct = Distinct::new(least, false);
            assert!(distinct.keep(&one));
            assert!(!distinct.keep(&one), "{least}");
            assert_eq!(distinct.keep(&two), kept, "{least}");
            assert_eq!(distinct.len(), 1 + usize::from(kept));
        }
        // More than a set has gears: nothing differs that much.
        let mut distinct = Distinct::new(8, false);
        assert!(distinct.keep(&one));
        assert!(!distinct.keep(&set(pair(1, 1, 2), &[pair(1, 3, 4)])));
    }

    #[test]
    fn a_gear_that_drives_twice_counts_once() {
        let with_driver = |driver: u16| {
            let mut set = set(pair(0, 28, 52), &[pair(0, driver, 55)]);
            set.reverse.as_mut().unwrap().driver = Teeth::new(driver);
            set
        };
        for (shares, kept) in [(false, true), (true, false)] {
            let mut distinct = Distinct::new(2, shares);
            assert!(distinct.keep(&with_driver(20)));
            assert_eq!(distinct.keep(&with_driver(21)), kept);
        }
    }

    #[test]
    fn an_exchange_turns_back() {
        let one = set(pair(0, 28, 52), &[pair(0, 25, 55), pair(0, 28, 52)]);
        let other = exchanged(&one, 0).unwrap();
        assert_eq!(other.head, Some(pair(0, 25, 55)));
        assert_eq!(other.pairs[0], pair(0, 28, 52));
        assert_eq!(exchanged(&other, 0), Some(one.clone()));
        assert_eq!(exchanged(&one, 1), None);
        let offset = Set { head: None, ..one };
        assert_eq!(exchanged(&offset, 0), None);
    }

    #[test]
    fn a_hunting_tooth_needs_counts_without_a_common_factor() {
        assert!(pair(0, 23, 49).hunts());
        assert!(pair(0, 35, 54).hunts());
        assert!(!pair(0, 28, 44).hunts());
        assert!(!pair(0, 23, 46).hunts());
        let one = set(pair(0, 23, 49), &[pair(0, 28, 44), pair(0, 25, 56)]);
        assert_eq!(hunting_pairs(&one), 2);
    }
}

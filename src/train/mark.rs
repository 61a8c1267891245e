//! The short stable name of a set, and the register that keeps the names of a
//! listing apart.

use super::{ModuleId, Pair, Set};
use crate::problem::Problem;
use std::fmt::{self, Write};

/// What marks are spelled with: no 0, O, 1, I, which look alike. The letters
/// come first.
const ALPHABET: &[u8; 32] = b"ABCDEFGHJKLMNPQRSTUVWXYZ23456789";
const LETTERS: u128 = 24;
const LENGTH: usize = 12;
/// Least number of characters that name a set.
pub const SHORTEST_MARK: usize = 4;

/// A hash of centre distance, modules and teeth. It begins with a letter, so
/// that it never looks like a rank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mark([u8; LENGTH]);

impl Mark {
    /// The mark of `set`, whose modules must be those of `problem`.
    pub fn of(problem: &Problem, set: &Set) -> Self {
        Self::spell(hash(canonical(problem, set).as_bytes()))
    }

    /// The hash as a fraction of 2⁶⁴, digit by digit.
    fn spell(hash: u64) -> Self {
        let mut left = u128::from(hash);
        let mut mark = [0; LENGTH];
        for (i, slot) in mark.iter_mut().enumerate() {
            let base = if i == 0 {
                LETTERS
            } else {
                ALPHABET.len() as u128
            };
            left *= base;
            *slot = ALPHABET[usize::try_from(left >> 64).unwrap_or(0)];
            left &= u128::from(u64::MAX);
        }
        Self(mark)
    }

    /// All twelve characters.
    pub fn as_str(&self) -> &str {
        // Made of the alphabet alone.
        std::str::from_utf8(&self.0).unwrap_or_default()
    }

    /// How many first characters two marks share.
    fn shared_with(&self, other: &Self) -> usize {
        let same = self.0.iter().zip(&other.0).take_while(|(a, b)| a == b);
        same.count()
    }
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// A spelling of everything that makes a set, the same whatever the list of
/// modules it was chosen from.
fn canonical(problem: &Problem, set: &Set) -> String {
    let module = |id: ModuleId| {
        let (n, d) = id.of(problem).fraction();
        format!("{n}/{d}")
    };
    let pair = |p: &Pair| format!("{} {} {}", module(p.module), p.driver, p.driven);
    let mut text = format!("a {}", set.centre_distance);
    // Writing to a String cannot fail.
    if let Some(head) = &set.head {
        let _ = write!(text, ";h {}", pair(head));
    }
    for speed in &set.pairs {
        let _ = write!(text, ";s {}", pair(speed));
    }
    if let Some(r) = &set.reverse {
        let _ = write!(
            text,
            ";r {} {} {} {}",
            module(r.module),
            r.driver,
            r.idler,
            r.driven
        );
    }
    text
}

/// FNV-1a, 64 bits, then the finishing steps of `MurmurHash3` (public domain):
/// without them texts that differ at their end only would share first characters.
fn hash(bytes: &[u8]) -> u64 {
    let mut h = 0xcbf2_9ce4_8422_2325_u64;
    for byte in bytes {
        h = (h ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
    }
    h = (h ^ (h >> 33)).wrapping_mul(0xff51_afd7_ed55_8ccd);
    h = (h ^ (h >> 33)).wrapping_mul(0xc4ce_b9fe_1a85_ec53);
    h ^ (h >> 33)
}

/// What a person's word for a set leads to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found<'a> {
    /// One set.
    One(&'a Set),
    /// No set of the listing.
    None,
    /// More than one: their marks as shown.
    Many(Vec<String>),
}

/// The sets of one listing with their marks.
#[derive(Clone, Debug)]
pub struct Register<'a> {
    problem: &'a Problem,
    /// By mark, no set twice.
    entries: Vec<(Mark, &'a Set)>,
}

impl<'a> Register<'a> {
    /// Registers `sets`; the same set may come more than once.
    pub fn new(problem: &'a Problem, sets: impl Iterator<Item = &'a Set>) -> Self {
        let mut entries: Vec<_> = sets.map(|set| (Mark::of(problem, set), set)).collect();
        entries.sort_unstable();
        entries.dedup();
        Self { problem, entries }
    }

    /// The mark of a set, as short as keeps it apart from all others here.
    pub fn shown(&self, set: &Set) -> String {
        let mark = Mark::of(self.problem, set);
        let at = self.entries.partition_point(|(m, _)| *m < mark);
        let after = self.entries.iter().skip(at).find(|(m, _)| *m != mark);
        let before = at.checked_sub(1).map(|i| &self.entries[i]);
        let shared = before.into_iter().chain(after);
        let shared = shared.map(|(m, _)| mark.shared_with(m)).max().unwrap_or(0);
        mark.as_str()[..(shared + 1).clamp(SHORTEST_MARK, LENGTH)].to_owned()
    }

    /// The set whose mark begins with `word`, in any case.
    pub fn find(&self, word: &str) -> Found<'a> {
        let word = word.to_ascii_uppercase();
        let at = self
            .entries
            .partition_point(|(m, _)| m.as_str() < word.as_str());
        let here = self.entries[at..]
            .iter()
            .take_while(|(m, _)| m.as_str().starts_with(&word));
        let here: Vec<_> = here.take(10).collect();
        match here.as_slice() {
            [] => Found::None,
            [(_, set)] => Found::One(set),
            _ => Found::Many(here.iter().map(|(_, set)| self.shown(set)).collect()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::problem::parse;

    const TWO_SPEEDS: &str = r#"{ "arrangement": "offset", "centre_distance_mm": 40,
        "gears": { "modules_mm": [1], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8 },
        "speeds": [ { "name": "1", "ratio": 2 }, { "name": "2", "ratio": 1 } ] }"#;

    fn sets(problem: &Problem) -> Vec<Set> {
        let pair = |driver| Pair {
            module: ModuleId::new(0),
            driver: Teeth::new(driver),
            driven: Teeth::new(80 - driver),
        };
        let centre_distance = problem.centre_distances().at(0);
        let both = |first| {
            (14..=66).map(move |second| Set {
                centre_distance,
                head: None,
                pairs: vec![pair(first), pair(second)],
                reverse: None,
            })
        };
        (14..=66).flat_map(both).collect()
    }

    #[test]
    fn every_mark_shown_leads_back_to_its_set() {
        let problem = parse("test", TWO_SPEEDS).unwrap();
        let sets = sets(&problem);
        let register = Register::new(&problem, sets.iter().chain(&sets));
        for set in &sets {
            let mark = register.shown(set);
            assert!(mark.starts_with(|c: char| c.is_ascii_uppercase()));
            assert_eq!(register.find(&mark.to_lowercase()), Found::One(set));
        }
        // 2 809 sets on 786 432 names of four characters: about five collisions.
        let long = sets
            .iter()
            .filter(|s| register.shown(s).len() > SHORTEST_MARK);
        assert!((2..40).contains(&long.count()));
    }

    #[test]
    fn a_word_that_fits_two_sets_is_refused_with_both() {
        let problem = parse("test", TWO_SPEEDS).unwrap();
        let sets = sets(&problem);
        let register = Register::new(&problem, sets.iter());
        let long = sets
            .iter()
            .map(|s| register.shown(s))
            .find(|m| m.len() > SHORTEST_MARK);
        let long = long.unwrap();
        match register.find(&long[..SHORTEST_MARK]) {
            Found::Many(marks) => assert!(marks.contains(&long)),
            other => panic!("{other:?}"),
        }
        assert_eq!(register.find("0000"), Found::None);
    }

    #[test]
    fn marks_stay_what_they_are() {
        // Marks are written down: this one may never change.
        assert_eq!(Mark::spell(0).as_str(), "AAAAAAAAAAAA");
        assert_eq!(Mark::spell(u64::MAX).as_str(), "Z99999999999");
        assert_eq!(hash(b""), 0xefd0_1f60_ba99_2926);
    }
}

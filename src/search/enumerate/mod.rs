//! The plain twin of [`solve`](super::solve()): every set, one after another.
//!
//! Nothing here is clever, so that it can be believed: nested loops over the
//! definitions, exact ratios, no bound and no shortcut. It shares no option
//! list, no front and no ranking with the search, and is what the search is
//! tested against. Its time grows with the number of sets; ask [`count_plainly`]
//! first.

mod hand;
mod judged;
mod options;
mod pin;
mod room;
mod strength;
mod values;

use super::Counts;
use crate::base::{Decimal, Length, Ratio};
use crate::problem::{Geared, Problem, Reverse, ReverseForm, Role};
use crate::train::{Pair, ReverseGears, Set};
use hand::{makes_pair, makes_reverse};
use num_bigint::BigUint;
use options::{as_cut, closing_pairs, gearings, heads, ratio_of};
use pin::{Pin, Reach, fits};
use std::collections::BTreeMap;
use strength::Strength;
use values::{Unbeaten, offer, ranked};

/// What walking every set found; to be compared with an
/// [`Outcome`](super::Outcome).
#[derive(Clone, Debug)]
pub struct Enumerated {
    /// How many sets and forward trains there are.
    pub counts: Counts,
    /// For each unbeaten value vector in the problem's measures its first set
    /// in set order; sorted by the measures in order.
    pub front: Vec<Set>,
    /// The best sets by the problem's ranking.
    pub sets: Vec<Set>,
}

/// Walks every set of `problem` and ranks the best `top`.
pub fn enumerate(problem: &Problem, top: usize) -> Enumerated {
    let mut front: Vec<Unbeaten> = Vec::new();
    walk(problem, &mut |set| {
        offer(&mut front, problem, set);
    });
    front.sort_by(|x, y| x.key.cmp(&y.key));
    let sets = if top == 0 {
        Vec::new()
    } else {
        ranked(problem, &front, top)
    };
    let counts = count_plainly(problem);
    Enumerated {
        counts,
        front: front.into_iter().map(|point| point.set).collect(),
        sets,
    }
}

/// The number of sets without walking them: for each centre distance and head
/// the product of what each role may choose.
pub fn count_plainly(problem: &Problem) -> Counts {
    let mut counts = Counts::default();
    stages(problem, &mut |stage| match stage.first {
        None => count_stage(problem, &stage, &stage.roles, &stage.reverses, &mut counts),
        // Of that speed pair by pair, as each leaves its own reverse gears.
        Some(first) => {
            for &pair in &stage.roles[first] {
                let mut roles = stage.roles.clone();
                roles[first] = vec![pair];
                let fitting = stage.reverses.iter().copied();
                let fitting: Vec<_> = fitting.filter(|gears| drives(pair, *gears)).collect();
                count_stage(problem, &stage, &roles, &fitting, &mut counts);
            }
        }
    });
    counts
}

/// Adds the sets of a head with these pairs and reverse gears.
fn count_stage(
    problem: &Problem,
    stage: &Stage,
    roles: &[Vec<Pair>],
    reverses: &[Option<ReverseGears>],
    counts: &mut Counts,
) {
    let Some(pin) = Pin::of(problem, stage.centres) else {
        let lengths = roles.iter().map(|role| BigUint::from(role.len()));
        let trains: BigUint = lengths.product();
        counts.sets += &trains * reverses.len();
        if !reverses.is_empty() {
            counts.trains += trains;
        }
        return;
    };
    let rooms: Vec<Reach> = reverses
        .iter()
        .filter_map(|gears| pin.room((*gears)?))
        .collect();
    for (reach, trains) in by_reach(problem, &pin, stage, roles) {
        let clear = rooms.iter().filter(|room| fits(reach, **room)).count();
        counts.sets += &trains * clear;
        if clear > 0 {
            counts.trains += trains;
        }
    }
}

/// How many forward trains there are, by how far their gears reach towards the pin.
fn by_reach(
    problem: &Problem,
    pin: &Pin<'_>,
    stage: &Stage,
    roles: &[Vec<Pair>],
) -> BTreeMap<Reach, BigUint> {
    let both = |one: Reach, other: Reach| [one[0].max(other[0]), one[1].max(other[1])];
    let head = stage
        .head
        .map_or([0, 0], |pair| pin.reach(Role::Head, pair));
    let mut trains = BTreeMap::from([(head, BigUint::from(1_u32))]);
    for (role, pairs) in speeds(problem).zip(roles) {
        let mut longer: BTreeMap<Reach, BigUint> = BTreeMap::new();
        for pair in pairs {
            let own = pin.reach(role, *pair);
            for (reach, count) in &trains {
                *longer.entry(both(*reach, own)).or_default() += count;
            }
        }
        trains = longer;
    }
    trains
}

/// The roles of the geared speeds.
fn speeds(problem: &Problem) -> impl Iterator<Item = Role> {
    let places = problem.speeds().iter().enumerate();
    let geared = places.filter(|(_, speed)| speed.geared().is_some());
    geared.map(|(place, _)| Role::Speed(place))
}

/// Whether the idler's pin is clear of all that it passes.
fn pin_is_clear(problem: &Problem, set: &Set) -> bool {
    let (Some(pin), Some(gears)) = (Pin::of(problem, set.centre_distance), set.reverse) else {
        return true;
    };
    let Some(room) = pin.room(gears) else {
        return false;
    };
    let head = set.head.map(|pair| (Role::Head, pair));
    let mut pairs = head
        .into_iter()
        .chain(speeds(problem).zip(set.pairs.iter().copied()));
    pairs.all(|(role, pair)| fits(pin.reach(role, pair), room))
}

/// Whether the driving gear of a pair is that of reverse.
fn drives(pair: Pair, reverse: Option<ReverseGears>) -> bool {
    reverse.is_none_or(|gears| gears.module == pair.module && gears.driver == pair.driver)
}

/// The speed whose driving gear reverse must share, by its place among the
/// geared ones: that of the largest target, of equal ones the first.
fn first_speed(problem: &Problem) -> Option<usize> {
    if problem.reverse_form() != Some(ReverseForm::SharedDriver) {
        return None;
    }
    let mut first: Option<(usize, Decimal)> = None;
    for (place, speed) in problem.geared().enumerate() {
        if first.is_none_or(|(_, largest)| speed.target() > largest) {
            first = Some((place, speed.target()));
        }
    }
    first.map(|(place, _)| place)
}

/// Which gears of each geared speed are cut already: both, or the driver alone
/// where it is that of reverse gears already cut.
fn made_of_speeds(problem: &Problem) -> Vec<[bool; 2]> {
    let first = first_speed(problem);
    let reverse = problem.reverse().is_some_and(|r| r.cut().is_some());
    let of = |(place, speed): (usize, &Geared)| {
        let own = speed.cut().is_some();
        [own || (reverse && first == Some(place)), own]
    };
    problem.geared().enumerate().map(of).collect()
}

/// Which gears of reverse are cut already: all, or the driver alone where it is
/// that of a speed already cut.
fn made_of_reverse(problem: &Problem, wanted: &Reverse) -> [bool; 3] {
    let own = wanted.cut().is_some();
    let first = first_speed(problem).and_then(|place| problem.geared().nth(place));
    [
        own || first.is_some_and(|speed| speed.cut().is_some()),
        own,
        own,
    ]
}

/// A centre distance with a head, and what every other role may choose there.
struct Stage {
    centres: Length,
    head: Option<Pair>,
    /// Per geared speed its pairs, in set order.
    roles: Vec<Vec<Pair>>,
    /// The reverse gears in set order; one `None` where no reverse is asked for.
    reverses: Vec<Option<ReverseGears>>,
    /// The speed that has its driving gear in common with reverse.
    first: Option<usize>,
}

/// Calls `visit` with every set, in set order.
fn walk(problem: &Problem, visit: &mut impl FnMut(&Set)) {
    stages(problem, &mut |stage| {
        let (centre_distance, head) = (stage.centres, stage.head);
        let mut set = Set {
            centre_distance,
            head,
            pairs: Vec::new(),
            reverse: None,
        };
        choose(&stage.roles, &stage.reverses, &mut set, &mut |set| {
            let shares = |first| drives(set.pairs[first], set.reverse);
            if stage.first.is_none_or(shares) && pin_is_clear(problem, set) {
                visit(set);
            }
        });
    });
}

fn choose(
    roles: &[Vec<Pair>],
    reverses: &[Option<ReverseGears>],
    set: &mut Set,
    visit: &mut impl FnMut(&Set),
) {
    let Some((role, rest)) = roles.split_first() else {
        for &reverse in reverses {
            set.reverse = reverse;
            visit(set);
        }
        return;
    };
    for &pair in role {
        set.pairs.push(pair);
        choose(rest, reverses, set, visit);
        set.pairs.pop();
    }
}

fn stages(problem: &Problem, visit: &mut impl FnMut(Stage)) {
    for centres in problem.centre_distances().iter() {
        let for_head = match problem.head() {
            Some(head) => {
                let made = [head.cut().is_some(); 2];
                let all = closing_pairs(problem, &problem.head_seating(), centres);
                let all = all.into_iter();
                all.filter(|pair| makes_pair(problem, *pair, made))
                    .collect()
            }
            None => Vec::new(),
        };
        let for_speeds: Vec<Vec<Pair>> = problem
            .speed_seatings()
            .zip(made_of_speeds(problem))
            .map(|(seating, made)| {
                let all = closing_pairs(problem, &seating, centres).into_iter();
                all.filter(|pair| makes_pair(problem, *pair, made))
                    .collect()
            })
            .collect();
        let gearings = problem
            .reverse()
            .map(|wanted| (wanted, gearings(problem, wanted, centres)))
            .map(|(wanted, mut all)| {
                let made = made_of_reverse(problem, wanted);
                all.retain(|gears| makes_reverse(problem, *gears, made));
                (wanted, all)
            });
        let strength = Strength::of(problem, centres);
        let places = problem.speeds().iter().enumerate();
        let geared: Vec<(usize, &Geared)> = places
            .filter_map(|(place, speed)| Some((place, speed.geared()?)))
            .collect();
        for head in heads(problem, &for_head) {
            let ratio = head.map_or(Ratio::ONE, ratio_of);
            let strong = |role, pair| {
                let held = |strength: &Strength<'_>| strength.pair(role, pair, ratio);
                strength.as_ref().is_none_or(held)
            };
            if head.is_some_and(|head| !strong(Role::Head, head)) {
                continue;
            }
            let of_speed = |(&(place, wanted), pairs): (&(usize, &Geared), &Vec<Pair>)| {
                let fits = |pair: &&Pair| {
                    wanted.window().contains(ratio.then(ratio_of(**pair)))
                        && as_cut(problem, **pair, wanted.cut())
                        && strong(Role::Speed(place), **pair)
                };
                pairs.iter().filter(fits).copied().collect()
            };
            let roles = geared.iter().zip(&for_speeds).map(of_speed).collect();
            let reverses = match &gearings {
                None => vec![None],
                Some((wanted, gearings)) => {
                    let made = |g: &ReverseGears| Ratio::of(g.driven.get(), g.driver.get());
                    let fits = |g: &&ReverseGears| {
                        wanted.window().contains(ratio.then(made(g)))
                            && strength.as_ref().is_none_or(|s| s.reverse(**g, ratio))
                    };
                    gearings.iter().filter(fits).copied().map(Some).collect()
                }
            };
            visit(Stage {
                centres,
                head,
                roles,
                reverses,
                first: first_speed(problem),
            });
        }
    }
}

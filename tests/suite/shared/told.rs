//! What is told where reverse shares its driver: clashes, ways out, near misses,
//! each against plain loops over heads and shared gears.

use super::{first_of, shared_file};
use crate::explaining::tolerances_are_least;
use crate::explaining::{every_way_is_solved, gears_are_least, known, subsets};
use crate::random::{Draw, checked};
use layshaft::base::{Length, Ratio, Teeth, Window};
use layshaft::mesh::{Pairs, reverses_at};
use layshaft::problem::{CutPair, Problem, Seating};
use layshaft::search::{count_plainly, nearest};
use layshaft::train::{ModuleId, Pair};
use num_bigint::BigUint;
use std::collections::BTreeSet;

fn ratio_of(pair: Pair) -> Ratio {
    Ratio::of(pair.driven.get(), pair.driver.get())
}

fn pairs(problem: &Problem, all: &Pairs, seating: &Seating, cut: Option<CutPair>) -> Vec<Pair> {
    let all = all.of(seating).iter().map(|made| made.pair);
    let fits = |pair: &Pair| {
        cut.is_none_or(|cut| {
            (pair.driver, pair.driven) == (cut.driver, cut.driven)
                && cut.module.is_none_or(|m| m == pair.module.of(problem))
        })
    };
    all.filter(fits).collect()
}

/// The reverse gears at a distance: module, driver and ratio.
fn reverses(problem: &Problem, centres: Length) -> Vec<(ModuleId, Teeth, Ratio)> {
    let wanted = problem.reverse().unwrap();
    let mut list = reverses_at(problem, wanted, centres, |_, _| true);
    list.keep_cut(problem, wanted);
    let of = |span: &layshaft::mesh::ReverseSpan| {
        let ratio = Ratio::of(span.driven.get(), span.driver.get());
        (span.module, span.driver, ratio)
    };
    list.spans.iter().map(of).collect()
}

/// Demands, speeds before reverse before the head's range, that a head and a
/// shared gear leave unserved; each such group once.
fn unserved(problem: &Problem) -> BTreeSet<Vec<usize>> {
    let first = first_of(problem);
    let demands = problem.geared().count() + 1;
    let mut groups = BTreeSet::new();
    for centres in problem.centre_distances().iter() {
        let all = Pairs::at(problem, centres);
        let speeds: Vec<(Window, Vec<Pair>)> = problem
            .geared()
            .zip(problem.speed_seatings())
            .map(|(speed, seating)| (speed.window(), pairs(problem, &all, &seating, speed.cut())))
            .collect();
        let heads: Vec<(Ratio, bool)> = match problem.head() {
            None => vec![(Ratio::ONE, true)],
            Some(head) => {
                let own = pairs(problem, &all, &problem.head_seating(), head.cut());
                let ranged = own.into_iter().map(ratio_of);
                ranged.map(|r| (r, head.window().contains(r))).collect()
            }
        };
        let reverses = reverses(problem, centres);
        let window = problem.reverse().unwrap().window();
        let mut drivers: Vec<Option<(ModuleId, Teeth)>> = speeds[first]
            .1
            .iter()
            .map(|pair| Some((pair.module, pair.driver)))
            .collect();
        drivers.push(None);
        for (head, in_range) in heads {
            for driver in &drivers {
                let mut group = Vec::new();
                for (role, (window, pairs)) in speeds.iter().enumerate() {
                    let may =
                        |pair: &&Pair| role != first || *driver == Some((pair.module, pair.driver));
                    let makes = |pair: &Pair| window.contains(head.then(ratio_of(*pair)));
                    if !pairs.iter().filter(may).any(makes) {
                        group.push(role);
                    }
                }
                let drives = |(module, teeth, ratio): &(ModuleId, Teeth, Ratio)| {
                    *driver == Some((*module, *teeth)) && window.contains(head.then(*ratio))
                };
                if !reverses.iter().any(drives) {
                    group.push(demands - 1);
                }
                if !in_range {
                    group.push(demands);
                }
                groups.insert(group);
            }
        }
    }
    groups
}

/// The smallest groups of demands that nothing serves together.
fn clashing(problem: &Problem) -> Vec<Vec<usize>> {
    let unserved = unserved(problem);
    let demands = problem.geared().count() + 2;
    let shares = |one: &[usize], other: &[usize]| one.iter().any(|i| other.contains(i));
    let shut: Vec<Vec<usize>> = subsets(demands)
        .filter(|kept| unserved.iter().all(|group| shares(group, kept)))
        .collect();
    let inside = |big: &Vec<usize>, small: &Vec<usize>| {
        big != small && small.iter().all(|i| big.contains(i))
    };
    let smallest = |group: &&Vec<usize>| !shut.iter().any(|other| inside(group, other));
    let mut smallest: Vec<Vec<usize>> = shut.iter().filter(smallest).cloned().collect();
    smallest.sort();
    smallest
}

#[test]
fn clashes_and_ways_out_with_a_shared_driver() {
    let mut draw = Draw::new(0xc1_a54);
    let (mut compared, mut together, mut ways) = (0, 0, 0);
    while compared < 40 {
        let Some(file) = shared_file(&mut draw) else {
            continue;
        };
        let Some(known) = known(&file, 0) else {
            continue;
        };
        let problem = &known.problem;
        assert_eq!(count_plainly(problem).sets, BigUint::ZERO, "{file}");
        if !known.clashes.roles_complete {
            continue;
        }
        let mut found = known.clashes.roles.clone();
        found.sort();
        assert_eq!(found, clashing(problem), "{file}");
        // The first speed alone is there for the taking, and reverse too.
        let both = |group: &Vec<usize>| group.len() > 1 && group.contains(&first_of(problem));
        together += usize::from(found.iter().any(both));
        if compared < 30 && problem.geared().all(|speed| speed.cut().is_none()) {
            ways += tolerances_are_least(&known) + gears_are_least(&known);
            every_way_is_solved(&known);
        }
        compared += 1;
    }
    assert!(together > 8 && ways > 8, "{together} {ways}");
}

#[test]
fn near_misses_with_a_shared_driver() {
    let mut draw = Draw::new(0xea_4e57);
    let (mut compared, mut none) = (0, 0);
    while compared < 80 {
        let Some(file) = shared_file(&mut draw) else {
            continue;
        };
        let problem = checked(&file);
        let found = nearest(&problem);
        if found.together_left_out > 0 || found.distances.looked_at != found.distances.closing {
            continue;
        }
        let served = found.together.iter().any(|case| case.missing.is_empty());
        let sets = count_plainly(&problem).sets;
        assert_eq!(served, sets > BigUint::ZERO, "{file}");
        // Reverse on its own: the nearest of all whose driver the speed may have.
        let place = first_of(&problem);
        let mut least = f64::INFINITY;
        for centres in problem.centre_distances().iter() {
            let all = Pairs::at(&problem, centres);
            let (speed, seating) = problem
                .geared()
                .zip(problem.speed_seatings())
                .nth(place)
                .unwrap();
            let own = pairs(&problem, &all, &seating, speed.cut());
            let heads = match problem.head() {
                None => vec![Ratio::ONE],
                Some(head) => pairs(&problem, &all, &problem.head_seating(), head.cut())
                    .into_iter()
                    .map(ratio_of)
                    .filter(|ratio| head.window().contains(*ratio))
                    .collect(),
            };
            for (module, teeth, ratio) in reverses(&problem, centres) {
                let drives = |pair: &Pair| (pair.module, pair.driver) == (module, teeth);
                if own.iter().any(drives) {
                    let target = problem.reverse().unwrap().target();
                    let errors = heads.iter().map(|head| head.then(ratio).error(target));
                    least = errors.fold(least, |least, error| least.min(100.0 * error));
                }
            }
        }
        let nearest = found.reverse.unwrap().nearest;
        let error = nearest.map_or(f64::INFINITY, |at| at.error_percent.abs());
        assert_eq!(error.to_bits(), least.to_bits(), "{file}");
        compared += 1;
        none += usize::from(sets == BigUint::ZERO);
    }
    assert!(none > 20 && none < 75, "{none}");
}

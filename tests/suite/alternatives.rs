//! Lists of real alternatives, exchanges and hunting teeth.

use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Problem, Ranking};
use layshaft::search::{
    Alternatives, Control, Request, Status, Walk, WalkEnd, count_plainly, enumerate,
    solve_alternatives,
};
use layshaft::train::Set;
use num_bigint::BigUint;

/// The gears of a set, each as its place in the set, module and teeth: written
/// out here so that the rule is stated twice.
fn gears(set: &Set) -> Vec<(String, usize, u32)> {
    let mut gears = Vec::new();
    let pairs = set.head.iter().chain(&set.pairs).enumerate();
    for (role, pair) in pairs {
        let module = pair.module.index();
        gears.push((format!("{role} driver"), module, pair.driver.get()));
        gears.push((format!("{role} driven"), module, pair.driven.get()));
    }
    if let Some(r) = &set.reverse {
        let teeth = [
            ("driver", r.driver),
            ("idler", r.idler),
            ("driven", r.driven),
        ];
        gears.extend(teeth.map(|(seat, z)| (format!("R {seat}"), r.module.index(), z.get())));
    }
    gears
}

/// What `wanted` means, by walking the plain twin's ranking: the list, the
/// rank of each set, how many sets were walked, and why it ended.
fn plain_walk(ranking: &[Set], wanted: Alternatives, top: usize) -> (Vec<Set>, Walk) {
    let mut listed: Vec<Set> = Vec::new();
    let (mut ranks, mut walked) = (Vec::new(), 0);
    for (set, rank) in ranking.iter().zip(1..=wanted.longest) {
        if listed.len() == top {
            break;
        }
        walked = rank;
        let own = gears(set);
        let new = |other: &Set| {
            let other = gears(other);
            own.iter().filter(|gear| !other.contains(gear)).count()
        };
        if listed.iter().all(|other| new(other) >= wanted.differ_by) {
            listed.push(set.clone());
            ranks.push(rank);
        }
    }
    let end = match () {
        () if listed.len() == top => WalkEnd::Found,
        () if wanted.longest < ranking.len() => WalkEnd::Limit,
        () => WalkEnd::Exhausted,
    };
    let walk = Walk {
        wanted,
        ranks,
        walked,
        end,
    };
    (listed, walk)
}

/// Which ends of a walk the random problems came to.
#[derive(Debug, Default)]
struct Ends {
    found: usize,
    exhausted: usize,
    limit: usize,
    /// Lists that leave out a set that the ranking has before their last.
    sifted: usize,
}

fn compare(problem: &Problem, wanted: Alternatives, top: usize, about: &str, ends: &mut Ends) {
    let ranking = enumerate(problem, usize::MAX).sets;
    let (listed, walk) = plain_walk(&ranking, wanted, top);
    for threads in [1, 2] {
        let request = Request {
            top,
            trains: 0,
            threads,
        };
        let (outcome, fast) = solve_alternatives(problem, request, wanted, &Control::default());
        let about = format!("{about} {threads} threads, {wanted:?}, top {top}");
        assert_eq!(outcome.status, Status::Proven, "{about}");
        assert_eq!(outcome.sets, listed, "{about}");
        assert_eq!(fast, walk, "{about}");
    }
    match walk.end {
        WalkEnd::Found => ends.found += 1,
        WalkEnd::Exhausted => ends.exhausted += 1,
        WalkEnd::Limit => ends.limit += 1,
        WalkEnd::Stopped => panic!("{about}: nobody stopped it"),
    }
    ends.sifted += usize::from(walk.ranks.last().is_some_and(|&rank| rank > listed.len()));
}

#[test]
fn alternatives_are_those_of_the_whole_ranking() {
    let mut ends = Ends::default();
    for seed in 700_000..700_400 {
        let draw = &mut Draw::new(seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        let sets = count_plainly(&problem).sets;
        // Few sets are no test of a long walk, many take the twin too long.
        if sets < BigUint::from(3_u32) || sets > BigUint::from(4000_u32) {
            continue;
        }
        for ranking in Ranking::ALL {
            let measures = problem.measures().to_vec();
            let ranked = problem.clone().ranked(ranking, measures);
            let wanted = Alternatives {
                differ_by: draw.pick(&[1, 2, 3, 4, 5, 7, 12]),
                longest: draw.pick(&[10, 700, 100_000, 100_000]),
            };
            let top = draw.pick(&[1, 3, 10, 40]);
            compare(
                &ranked,
                wanted,
                top,
                &format!("seed {seed}: {file}"),
                &mut ends,
            );
        }
    }
    let Ends {
        found,
        exhausted,
        limit,
        sifted,
    } = ends;
    assert!(
        [found, exhausted, limit, sifted].iter().all(|&n| n >= 25),
        "{ends:?}"
    );
}

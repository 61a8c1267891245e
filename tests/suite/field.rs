//! The field of all sets beside the plain twin.

use crate::random::{Draw, checked, problem_file};
use layshaft::problem::Problem;
use layshaft::search::{Control, FieldPoint, enumerate, field};
use layshaft::train::Figures;

/// Error and metal of a set as exact bits, to sort and compare.
type Place = (u64, u64);

fn places(points: &[FieldPoint]) -> Vec<Place> {
    let of = |point: &FieldPoint| (point.worst_error.to_bits(), point.blank_um2);
    let mut places: Vec<Place> = points.iter().map(of).collect();
    places.sort_unstable();
    places
}

fn plainly(problem: &Problem) -> Vec<Place> {
    let all = enumerate(problem, usize::MAX).sets;
    let of = |set| {
        let figures = Figures::of(problem, set);
        (figures.worst_error.to_bits(), figures.blank_um2)
    };
    let mut places: Vec<Place> = all.iter().map(of).collect();
    places.sort_unstable();
    places
}

/// Random problems that have sets, and few enough to list.
fn problems(count: usize, least: usize) -> Vec<(Problem, Vec<Place>)> {
    let mut found = Vec::new();
    let mut draw = Draw::new(81);
    while found.len() < count {
        let problem = checked(&problem_file(&mut draw));
        let sets = layshaft::search::count_plainly(&problem).sets;
        let few = sets > (least as u64).into() && sets < 3000_u64.into();
        if few {
            let places = plainly(&problem);
            found.push((problem, places));
        }
    }
    found
}

#[test]
fn a_whole_field_is_every_set() {
    for (problem, expected) in problems(40, 0) {
        let all = field(&problem, 3000, &Control::default());
        assert!(all.is_whole());
        assert_eq!(places(&all.points), expected);
    }
}

#[test]
fn a_sample_is_drawn_evenly_and_always_the_same() {
    for (problem, expected) in problems(12, 400) {
        let drawn = field(&problem, 300, &Control::default());
        assert_eq!(drawn.points.len(), 300);
        assert!(!drawn.is_whole());
        assert_eq!(drawn.counts.sets, (expected.len() as u64).into());
        let some = places(&drawn.points);
        assert!(
            some.iter()
                .all(|place| expected.binary_search(place).is_ok())
        );
        // As many below the middle of all as chance has it: five sigmas of a
        // share of 300 are 0.144 at most.
        let middle = expected[expected.len() / 2];
        let below = |all: &[Place]| {
            let count = all.iter().filter(|place| **place < middle).count();
            f64::from(u32::try_from(count).unwrap()) / f64::from(u32::try_from(all.len()).unwrap())
        };
        let (own, asked) = (below(&some), below(&expected));
        assert!(
            (own - asked).abs() < 0.145,
            "{own} of the sample, {asked} of all"
        );
        assert_eq!(
            drawn.points,
            field(&problem, 300, &Control::default()).points
        );
    }
}

//! Laws of dividing: so many moves are whole turns of the work.

use crate::random::Draw;
use layshaft::problem::DividingHead;
use layshaft::shop::dividing::{
    Turns, compound, differential, direct, nearest, plate_error, printed, simple,
};

fn random_head(draw: &mut Draw) -> DividingHead {
    let mut some = |most: u64, low: u64, high: u64| {
        let count = draw.whole(1, most);
        let mut drawn: Vec<u32> = (0..count)
            .map(|_| u32::try_from(draw.whole(low, high)).unwrap())
            .collect();
        drawn.sort_unstable();
        drawn
    };
    let mut circles = || {
        let mut circles = some(5, 12, 70);
        circles.dedup();
        circles
    };
    let plates = vec![circles(), circles(), circles()];
    let (direct, gears) = (some(3, 2, 60), some(12, 20, 100));
    let worm = draw.pick(&[1, 5, 30, 40, 60, 72, 90, 120]);
    DividingHead::new(worm, plates, direct, gears)
}

/// So many moves of the crank are so many whole turns of it as turn the work
/// `rounds` times.
fn closes(head: &DividingHead, count: u32, rounds: u32, moved: Turns, about: &str) {
    let all = moved.times(count);
    assert_eq!(
        all,
        Turns::of(i64::from(head.worm()), 1).times(rounds),
        "{count} {about}"
    );
}

#[test]
fn every_exact_way_closes_on_random_heads() {
    let mut draw = Draw::new(0xd1d);
    let mut seen = [0; 5];
    for _ in 0..5 {
        let head = random_head(&mut draw);
        for count in 2..=400 {
            for way in direct(&head, count) {
                let all = way.work_turns().times(count);
                assert_eq!(all, Turns::of(1, 1), "{count} {way:?}");
                seen[0] += 1;
            }
            if let Some(way) = simple(&head, count) {
                if way.circles.is_empty() {
                    closes(&head, count, 1, way.crank_turns(None), "whole");
                }
                for circle in &way.circles {
                    let moved = way.crank_turns(Some(circle));
                    assert!(circle.move_holes < circle.circle_holes);
                    closes(&head, count, 1, moved, "simple");
                    seen[1] += 1;
                }
            }
            if let Some(way) = printed(&head, count) {
                assert!(way.circle_holes >= 15 && way.move_holes < way.circle_holes);
                closes(&head, count, 1, way.crank_turns(), "printed");
                seen[2] += 1;
            }
            for way in compound(&head, count) {
                let circles = &head.plates()[way.plate - 1];
                assert!(circles.contains(&way.crank_circle) && circles.contains(&way.plate_circle));
                closes(&head, count, 1, way.turns(), "compound");
                seen[3] += 1;
            }
            for way in differential(&head, count) {
                let mut left = head.change_gears().to_vec();
                for gear in way.gears.iter().flatten() {
                    let place = left.iter().position(|owned| owned == gear);
                    left.remove(place.expect("a gear that is owned"));
                }
                closes(&head, count, 1, way.crank_turns(count), "differential");
                seen[4] += 1;
            }
        }
    }
    assert!(seen.iter().all(|ways| *ways > 20), "{seen:?}");
}

#[test]
fn simple_lists_are_all_there_is() {
    let mut draw = Draw::new(0x51);
    let mut ways = 0;
    for _ in 0..6 {
        let head = random_head(&mut draw);
        for count in 2..=400 {
            // Holes are tried one by one: so many moves end where they began
            // after exactly one turn of the work.
            let mut plain = Vec::new();
            for &circle in head.plates().iter().flatten() {
                for moved in 1..=circle * head.worm() {
                    if moved * count == circle * head.worm() {
                        plain.push((moved / circle, moved % circle, circle));
                    }
                }
            }
            plain.sort_unstable_by_key(|way| way.2);
            plain.dedup();
            let listed = simple(&head, count).map_or_else(Vec::new, |way| {
                if way.circles.is_empty() {
                    plain.clear();
                }
                let circles = way.circles.iter();
                circles
                    .map(|c| (way.whole_turns, c.move_holes, c.circle_holes))
                    .collect()
            });
            assert_eq!(listed, plain, "{count} {head:?}");
            ways += listed.len();
            let exact = !direct(&head, count).is_empty() || simple(&head, count).is_some();
            assert_eq!(exact, head.divides_simply(count), "{count}");
        }
    }
    assert!(ways > 300, "{ways}");
}

#[test]
fn exact_compounds_are_all_there_is() {
    let head = DividingHead::new(40, vec![vec![15, 16, 18], vec![21, 27]], vec![], vec![]);
    let mut pairs = 0;
    for count in 2..=200 {
        for circles in head.plates() {
            for &first in circles {
                for &second in circles.iter().filter(|second| **second > first) {
                    // Some moves of both circles together, either way round.
                    let possible = (1..41 * first).any(|a| {
                        (1..second).any(|b| {
                            let (wanted, a, b) = (40 * first * second, a * second, b * first);
                            a % (first * second) != 0
                                && ((a + b) * count == wanted
                                    || a.checked_sub(b).is_some_and(|d| d * count == wanted))
                        })
                    });
                    let possible = possible
                        || (1..41 * second).any(|b| {
                            (1..first).any(|a| {
                                let (b, a) = (b * first, a * second);
                                b % (first * second) != 0
                                    && b.checked_sub(a)
                                        .is_some_and(|d| d * count == 40 * first * second)
                            })
                        });
                    let found = compound(&head, count).iter().any(|way| {
                        let both = [way.crank_circle, way.plate_circle];
                        both.contains(&first) && both.contains(&second)
                    });
                    assert_eq!(found, possible, "{count} {first} {second}");
                    pairs += u32::from(found);
                }
            }
        }
    }
    assert!(pairs > 20, "{pairs}");
}

#[test]
fn more_steps_never_err_more() {
    let head = DividingHead::new(40, vec![vec![15, 16, 17, 18, 19, 20]], vec![], vec![]);
    for count in [53, 57, 106, 127, 131] {
        let [one, five] = [1, 5].map(|most| nearest(&head, count, most).unwrap());
        assert!(five.error.abs() <= one.error.abs(), "{count}");
        let wanted = Turns::of(40, count).times(five.step);
        assert_eq!(five.moves.turns().and(wanted.back()), five.error);
    }
}

#[test]
fn a_worm_divides_the_error_of_a_plate() {
    // A tenth of a millimetre on a circle of 100 mm is 206.26 seconds of arc,
    // 1/40 of it at the work: by hand.
    let head = DividingHead::new(40, vec![], vec![], vec![]);
    let at_work = plate_error(&head, 0.1, 100.0, 20.0);
    assert!((at_work.arc_seconds - 206.264_806 / 40.0).abs() < 1e-5);
    assert!((at_work.pitch_circle_um - 0.5).abs() < 1e-9);
}

//! How long the search takes at its limits; run in release mode.

use super::Draw;
use super::boxes::random_box;
use layshaft::design::planes::{Blanks, Gearbox, Goal, lay_out};
use layshaft::train::Role;
use std::time::{Duration, Instant};

/// A box of eight planes that go together, as many at once on a sleeve.
fn large(draw: &mut Draw, at_once: usize) -> Gearbox {
    loop {
        let mut gearbox = random_box(draw, 8);
        let roles: Vec<Role> = gearbox.sleeves.iter().flatten().copied().collect();
        gearbox.sleeves = roles.chunks(at_once).map(<[Role]>::to_vec).collect();
        let planes = gearbox.speeds.len() + usize::from(gearbox.reverse.is_some());
        if planes == 8 && lay_out(&gearbox).is_ok() {
            return gearbox;
        }
    }
}

/// Of both goals and all ways to join gears; with loads as drawn, and with
/// loads that are all alike, so that as many orders as can be are level.
fn longest(seed: u64, at_once: usize) -> Duration {
    let mut draw = Draw::new(seed);
    let (mut longest, mut answered) = (Duration::ZERO, 0);
    for round in 0..40 {
        let mut gearbox = large(&mut draw, at_once);
        if round % 2 == 1 {
            gearbox.sizes.cutter_radius_mm = 6.0;
            for load in &mut gearbox.loads {
                load.on_driver_n = [300.0, 400.0];
                load.on_driven_n = [-300.0, -400.0];
            }
        }
        for goal in [Goal::Shortest, Goal::LeastBending] {
            for blanks in [Blanks::OnePiece, Blanks::Separate, Blanks::Auto] {
                gearbox.goal = goal;
                gearbox.blanks = blanks;
                let begun = Instant::now();
                let answer = lay_out(&gearbox);
                longest = longest.max(begun.elapsed());
                answered += u32::from(answer.is_ok());
            }
        }
    }
    // Of one piece, some have no order.
    assert!(answered > 200, "{answered}");
    longest
}

#[test]
#[ignore = "a time limit means something in release mode alone"]
fn eight_planes_on_shared_sleeves_are_ordered_at_once() {
    let longest = longest(61, 2);
    assert!(longest < Duration::from_millis(100), "{longest:?}");
}

#[test]
#[ignore = "a time limit means something in release mode alone"]
fn eight_planes_with_a_sleeve_each_are_ordered_at_once() {
    let longest = longest(62, 1);
    assert!(longest < Duration::from_millis(100), "{longest:?}");
}

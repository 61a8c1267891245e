//! Two polygons rolled on each other.

use std::f64::consts::{PI, TAU};

use layshaft::involute::outline::{Outline, Point, Tooth};

use super::polygons::{cross, edges};
use super::{cut, inv, turned};

const TEETH: [u16; 2] = [17, 24];

#[test]
fn polygons_roll_with_an_angular_error_below_twice_the_chord_error() {
    let (error, alpha) = (0.002, 20_f64.to_radians());
    let [z1, z2] = TEETH.map(f64::from);
    let outlines = TEETH.map(|z| Tooth::new(&cut(z, 0.0)).unwrap().outline(error).unwrap());
    // A little apart, so that one flank alone decides.
    let standard = 0.5 * (z1 + z2);
    let centres = standard + 0.05;
    let working = (standard * alpha.cos() / centres).acos();
    let half_backlash = (inv(working) - inv(alpha)) * (z1 + z2) / z2;
    let limit = 2.0 * error / (z1 / 2.0 * alpha.cos());
    let mut worst: f64 = 0.0;
    for place in 0..40 {
        let turn = TAU / z1 * f64::from(place) / 40.0;
        let exact = half_backlash - turn * z1 / z2;
        let late = (stop(&outlines, centres, turn, exact) - exact) * z2 / z1;
        // Chords of involutes lie in the metal: a polygon touches late.
        assert!(late > -1e-9, "{late} at {turn}");
        worst = worst.max(late);
    }
    assert!(worst < limit, "{worst} {limit}");
    // A polygon is not the curve: without an error nothing was measured.
    assert!(worst > 0.1 * limit, "{worst} {limit}");
}

/// How far gear 2 may turn counter-clockwise, from a space on the line of
/// centres, before two edges near the mesh cross; looked for after `exact`.
fn stop([one, two]: &[Outline; 2], centres: f64, turn: f64, exact: f64) -> f64 {
    let space = PI / f64::from(TEETH[1]);
    let moved = |outline: &Outline, angle: f64, x_mm: f64| -> Vec<(Point, Point)> {
        let place = |p| {
            let p = turned(p, angle);
            Point {
                x_mm: p.x_mm + x_mm,
                ..p
            }
        };
        let near = |(a, _): &(Point, Point)| (a.x_mm - 8.5).abs() < 2.0 && a.y_mm.abs() < 7.0;
        let edges = edges(outline).map(|(a, b)| (place(a), place(b)));
        edges.filter(near).collect()
    };
    let first = moved(one, turn, 0.0);
    let hit = |angle: f64| {
        let second = moved(two, PI + space + angle, centres);
        first.iter().any(|(a, b)| {
            second.iter().any(|(c, d)| {
                cross(*a, *b, *c) * cross(*a, *b, *d) < 0.0
                    && cross(*c, *d, *a) * cross(*c, *d, *b) < 0.0
            })
        })
    };
    let (mut free, mut struck) = (exact - 1e-5, exact + 3e-3);
    assert!(!hit(free) && hit(struck));
    for _ in 0..30 {
        let middle = 0.5 * (free + struck);
        if hit(middle) {
            struck = middle;
        } else {
            free = middle;
        }
    }
    free
}

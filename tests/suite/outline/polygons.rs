//! The closed polygon: shape, chord error, symmetry, area.

use std::f64::consts::{PI, TAU};

use layshaft::involute::Rack;
use layshaft::involute::outline::{Curve, Cut, Outline, Point, Thinned, Tooth};

use super::{between, cut, parameters, racks, thinned};

pub(super) fn cross(a: Point, b: Point, c: Point) -> f64 {
    (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm)
}

pub(super) fn edges(outline: &Outline) -> impl Iterator<Item = (Point, Point)> {
    let points = outline.points();
    let next = points.iter().cycle().skip(1);
    points.iter().copied().zip(next.copied())
}

/// Distance of a point from the polygon, mm.
pub(super) fn distance(outline: &Outline, point: Point) -> f64 {
    let points = outline.points();
    let last = [points[points.len() - 1], points[0]];
    off_chain(points, point).min(off_chain(&last, point))
}

/// Distance of a point from an open chain, mm.
fn off_chain(chain: &[Point], point: Point) -> f64 {
    let off = |pair: &[Point]| {
        let (a, b) = (pair[0], pair[1]);
        let (dx, dy) = (b.x_mm - a.x_mm, b.y_mm - a.y_mm);
        let along = (point.x_mm - a.x_mm) * dx + (point.y_mm - a.y_mm) * dy;
        let t = (along / (dx * dx + dy * dy)).clamp(0.0, 1.0);
        (a.x_mm + t * dx - point.x_mm).hypot(a.y_mm + t * dy - point.y_mm)
    };
    chain.windows(2).map(off).fold(f64::INFINITY, f64::min)
}

/// Shapes from all over the range, undercut, shifted, thinned, helical.
fn shapes() -> Vec<Cut> {
    let mut shapes = Vec::new();
    for rack in racks() {
        for (teeth, shift) in [(7, 0.2), (9, 0.2), (16, -0.1), (23, 0.5), (40, 0.0)] {
            let plain = Cut {
                rack,
                ..cut(teeth, shift)
            };
            let helical = Cut {
                helix_rad: 0.4,
                module_mm: 2.5,
                ..plain
            };
            shapes.extend([plain, helical, thinned(plain, 0.05, Thinned::BySide)]);
        }
    }
    // No land: both fillets end in one point.
    let full_land = Cut {
        rack: Rack::standard(25.0),
        ..cut(21, 0.0)
    };
    shapes.extend([full_land, cut(100, 1.0), cut(5, 0.3)]);
    shapes
}

#[test]
fn outlines_are_closed_counter_clockwise_and_do_not_cross_themselves() {
    for cut in shapes() {
        let tooth = Tooth::new(&cut).unwrap();
        for error in [0.05 * cut.module_mm, 0.01, 0.001] {
            let outline = tooth.outline(error).unwrap();
            let points = outline.points();
            let about = format!("{error} {cut:?}");
            assert_eq!(points.len() % cut.teeth.get() as usize, 0, "{about}");
            assert!(
                edges(&outline).all(|(a, b)| between(a, b) > 1e-9),
                "{about}"
            );
            assert!(outline.area_mm2() > 0.0, "{about}");
            let turned: f64 = edges(&outline)
                .map(|(a, b)| {
                    let dot = a.x_mm * b.x_mm + a.y_mm * b.y_mm;
                    (a.x_mm * b.y_mm - a.y_mm * b.x_mm).atan2(dot)
                })
                .sum();
            assert!((turned - TAU).abs() < 1e-9, "{about}: once around");
            // A tooth keeps to its own sector, so two teeth are enough.
            let sector = PI / f64::from(cut.teeth);
            let one = points.len() / cut.teeth.get() as usize;
            let own = points[..one].iter();
            assert!(own.clone().all(|p| p.angle_rad().abs() < sector + 1e-12));
            assert_eq!(crossings(&points[..=2 * one]), 0, "{about}");
        }
    }
}

pub(super) fn crossings(chain: &[Point]) -> usize {
    let pairs: Vec<_> = chain.windows(2).map(|pair| (pair[0], pair[1])).collect();
    let mut found = 0;
    for (i, (a, b)) in pairs.iter().enumerate() {
        for (c, d) in pairs.iter().skip(i + 2) {
            let apart = cross(*a, *b, *c) * cross(*a, *b, *d) < 0.0;
            if apart && cross(*c, *d, *a) * cross(*c, *d, *b) < 0.0 {
                found += 1;
            }
        }
    }
    found
}

#[test]
fn a_crossing_is_seen() {
    let at = |x_mm, y_mm| Point { x_mm, y_mm };
    let bow = [at(0.0, 0.0), at(1.0, 1.0), at(1.0, 0.0), at(0.0, 1.0)];
    assert_eq!(crossings(&bow), 1);
}

#[test]
fn mirrored_points_have_the_same_digits() {
    for cut in shapes() {
        let outline = Tooth::new(&cut).unwrap().outline(0.002).unwrap();
        let bits = |p: &Point| (p.x_mm.to_bits(), (p.y_mm + 0.0).to_bits());
        let mirrored = |p: &Point| Point {
            y_mm: -p.y_mm,
            ..*p
        };
        let mut all: Vec<_> = outline.points().iter().map(bits).collect();
        let mut other: Vec<_> = outline
            .points()
            .iter()
            .map(|p| bits(&mirrored(p)))
            .collect();
        all.sort_unstable();
        other.sort_unstable();
        assert_eq!(all, other, "{cut:?}");
        all.dedup();
        assert_eq!(all.len(), outline.points().len(), "{cut:?}");
    }
}

#[test]
fn the_exact_curves_stay_within_the_chord_error() {
    for cut in shapes() {
        let tooth = Tooth::new(&cut).unwrap();
        for error in [0.01, 0.001, 0.000_05] {
            let outline = tooth.outline(error).unwrap();
            let one = outline.points().len() / cut.teeth.get() as usize;
            let near = &outline.points()[..=one];
            let mut worst: f64 = 0.0;
            for curve in tooth.curves() {
                for t in parameters(&curve, 97) {
                    worst = worst.max(off_chain(near, curve.point(t)));
                }
            }
            assert!(worst <= error * (1.0 + 1e-6), "{error} {cut:?}: {worst}");
        }
    }
}

/// Chords that a curve needs when each goes as far as the error allows.
fn fewest_chords(curve: &Curve, error: f64) -> usize {
    let (from, to) = curve.range();
    let bow = |a: f64, b: f64| {
        let (start, end) = (curve.point(a), curve.point(b));
        let off = |k: u32| {
            let point = curve.point(a + (b - a) * f64::from(k) / 32.0);
            cross(start, end, point).abs() / between(start, end)
        };
        (1..32).map(off).fold(0.0, f64::max)
    };
    let (mut at, mut count) = (from, 0);
    while (to - at).abs() > 1e-12 {
        count += 1;
        if bow(at, to) <= error {
            break;
        }
        at = super::root(at + (to - at) * 1e-9, to, |t| bow(at, t) - error);
    }
    count
}

#[test]
fn chords_are_not_wasted() {
    for cut in shapes() {
        let tooth = Tooth::new(&cut).unwrap();
        for error in [0.002, 0.000_05] {
            let [tip, involute, trochoid, root] = tooth.curves();
            let halves = [involute, trochoid, tip, root].map(|c| fewest_chords(&c, error));
            let fewest = 2 * halves.iter().sum::<usize>();
            let got = tooth.outline(error).unwrap().points().len() / cut.teeth.get() as usize;
            assert!(
                got <= fewest + fewest / 10 + 6,
                "{error} {cut:?}: {got} for {fewest}"
            );
        }
    }
}

#[test]
fn curves_join_and_their_tangents_are_theirs() {
    for cut in shapes() {
        let tooth = Tooth::new(&cut).unwrap();
        let curves = tooth.curves();
        for pair in curves.windows(2) {
            let (a, b) = (
                pair[0].point(pair[0].range().1),
                pair[1].point(pair[1].range().0),
            );
            assert!(between(a, b) < 1e-9, "{cut:?}: {a:?} {b:?}");
        }
        // Smooth where no undercut makes a corner; and always into the root.
        let smooth = |a: &Curve, b: &Curve| {
            let (u, v) = (a.tangent(a.range().1), b.tangent(b.range().0));
            assert!(between(u, v) < 1e-7, "{cut:?}: {u:?} {v:?}");
        };
        if !tooth.is_undercut() {
            smooth(&curves[1], &curves[2]);
        }
        smooth(&curves[2], &curves[3]);
        for curve in &curves {
            let (from, to) = curve.range();
            let step = (to - from) * 1e-5;
            for t in [0.2, 0.5, 0.8].map(|part| from + part * (to - from)) {
                let (a, b) = (curve.point(t - step), curve.point(t + step));
                let length = between(a, b);
                if length > 1e-9 {
                    let tangent = curve.tangent(t);
                    let dot = (b.x_mm - a.x_mm) * tangent.x_mm + (b.y_mm - a.y_mm) * tangent.y_mm;
                    assert!((dot / length - 1.0).abs() < 1e-7, "{cut:?} {curve:?}");
                }
            }
        }
    }
}

#[test]
fn the_area_is_that_under_the_curves() {
    let tooth = Tooth::new(&cut(17, 0.2)).unwrap();
    // Rings of the angle that the teeth span, summed by the middle rule.
    let (low, high) = (tooth.root().radius_mm, tooth.tip().radius_mm);
    let parts = 20_000;
    let rings: f64 = (0..parts)
        .map(|part| {
            let radius = low + (high - low) * (f64::from(part) + 0.5) / f64::from(parts);
            let half = super::half_angle(&tooth, radius).unwrap();
            34.0 * half * radius * (high - low) / f64::from(parts)
        })
        .sum();
    let area = PI * low * low + rings;
    let got = tooth.outline(1e-5).unwrap().area_mm2();
    // Chords 10 nm off along some 80 mm of outline.
    assert!((got - area).abs() < 1e-3, "{got} {area}");
}

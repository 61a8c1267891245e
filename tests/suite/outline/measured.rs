//! Size over pins and span, measured with pins and jaws on the curves.

use std::f64::consts::PI;

use layshaft::involute::Rack;
use layshaft::involute::outline::{Cut, Point, Thinned, Tooth};

use super::{between, cut, from_inv, inv, least_near, parameters, root, sorted, thinned, turned};

/// Distance from a point on the space's centre line to the nearest metal of
/// the flank's screw surface; for a spur gear, of its outline.
fn to_flank(tooth: &Tooth, radius_mm: f64) -> f64 {
    let space = PI / f64::from(tooth.cut().teeth);
    let centre = Point {
        x_mm: radius_mm * space.cos(),
        y_mm: radius_mm * space.sin(),
    };
    let cut = tooth.cut();
    let reference = cut.module_mm * f64::from(cut.teeth) / (2.0 * cut.helix_rad.cos());
    let lead = cut.helix_rad.tan() / reference;
    let mut nearest = f64::INFINITY;
    for curve in tooth.curves() {
        let off = |t: f64| {
            let point = curve.point(t);
            let slice = |along: f64| between(turned(point, along * lead), centre).hypot(along);
            if lead.abs() > 0.0 {
                least_near(0.0, cut.module_mm, (-9.0, 9.0), slice)
            } else {
                slice(0.0)
            }
        };
        let ts = parameters(&curve, 24);
        let step = (ts[1] - ts[0]).abs();
        let best = (ts.into_iter())
            .min_by(|a, b| off(*a).total_cmp(&off(*b)))
            .unwrap();
        nearest = nearest.min(least_near(best, step, sorted(curve.range()), off));
    }
    nearest
}

/// Radius of the middle of a pin (a ball, on a helical gear) that lies in a
/// space against both flanks.
fn pin_radius(tooth: &Tooth, pin_mm: f64) -> f64 {
    let pitch = tooth.cut().module_mm * f64::from(tooth.cut().teeth) / 2.0;
    root(pitch, pitch + 2.5 * tooth.cut().module_mm, |radius| {
        to_flank(tooth, radius) - pin_mm / 2.0
    })
}

/// Size over two pins in the spaces most nearly opposite.
fn over_pins(tooth: &Tooth, pin_mm: f64) -> f64 {
    let teeth = tooth.cut().teeth.get();
    let middle = Point {
        x_mm: pin_radius(tooth, pin_mm),
        y_mm: 0.0,
    };
    let pitch = 2.0 * PI / f64::from(teeth);
    let sizes = (1..teeth).map(|space| {
        let other = turned(middle, f64::from(space) * pitch);
        between(middle, other) + pin_mm
    });
    sizes.fold(0.0, f64::max)
}

/// What the books say (ISO 21771, even and odd z).
fn over_pins_by_formula(cut: &Cut, pin_mm: f64) -> f64 {
    let (alpha_n, z) = (cut.rack.pressure_angle_rad, f64::from(cut.teeth));
    let alpha_t = (alpha_n.tan() / cut.helix_rad.cos()).atan();
    let angle = from_inv(
        inv(alpha_t) + pin_mm / (z * cut.module_mm * alpha_n.cos())
            - (PI / 2.0 - 2.0 * cut.profile_shift * alpha_n.tan()) / z,
    );
    let base = cut.module_mm * z * alpha_t.cos() / cut.helix_rad.cos();
    let odd = if cut.teeth.get() % 2 == 1 {
        (PI / (2.0 * z)).cos()
    } else {
        1.0
    };
    base / angle.cos() * odd + pin_mm
}

#[test]
fn size_over_pins_is_that_of_the_books() {
    for teeth in [11, 12, 17, 24, 25, 40] {
        for shift in [-0.1, 0.0, 0.4] {
            let cut = cut(teeth, shift);
            let got = over_pins(&Tooth::new(&cut).unwrap(), 1.75);
            let asked = over_pins_by_formula(&cut, 1.75);
            assert!((got - asked).abs() < 1e-8, "{teeth} {shift}: {got} {asked}");
        }
    }
}

#[test]
fn size_over_pins_is_that_of_the_wire_tables() {
    // Row 3.05 and 3.07: MH wire tables, 1 DP, wire 1.728.
    for (alpha, rows) in [
        (
            20.0,
            [(20, 22.3900), (25, 27.3511), (32, 34.4130), (41, 43.3920)],
        ),
        (
            14.5,
            [(24, 26.4247), (25, 27.3774), (22, 24.4172), (41, 43.4348)],
        ),
    ] {
        for (teeth, size) in rows {
            let rack = Rack::standard(alpha);
            let tooth = Tooth::new(&Cut {
                rack,
                ..cut(teeth, 0.0)
            })
            .unwrap();
            let got = over_pins(&tooth, 1.728);
            assert!((got - size).abs() < 1e-4, "{alpha} {teeth}: {got}");
        }
    }
}

#[test]
fn thinning_shows_over_pins() {
    // Row 3.18: a 32-tooth gear of module 1 thinned by 0.05 mm (arc).
    let full = over_pins(&Tooth::new(&cut(32, 0.0)).unwrap(), 1.728);
    for how in [Thinned::ByDepth, Thinned::BySide] {
        let thin = Tooth::new(&thinned(cut(32, 0.0), 0.05, how)).unwrap();
        let change = over_pins(&thin, 1.728) - full;
        assert!((change + 0.121_13).abs() < 1e-5, "{how:?}: {change}");
    }
}

#[test]
fn balls_in_a_helical_gear_lie_as_the_books_say() {
    // Row 3.11: m_n 3, z 20, β 15°, balls of 5.5.
    for (shift, size) in [(0.0, 70.3719), (0.4, 72.1813)] {
        let cut = Cut {
            module_mm: 3.0,
            helix_rad: 15_f64.to_radians(),
            ..cut(20, shift)
        };
        let got = 2.0 * pin_radius(&Tooth::new(&cut).unwrap(), 5.5) + 5.5;
        assert!((got - size).abs() < 1e-4, "{shift}: {got}");
        let asked = over_pins_by_formula(&cut, 5.5);
        assert!((got - asked).abs() < 1e-7, "{shift}: {got} {asked}");
    }
}

/// Distance between two parallel jaws against the outer flanks of `count`
/// teeth, found where the flank's tangent lies along the jaws; the jaws stand
/// `off_rad` away from even. Transverse.
fn span(tooth: &Tooth, count: u32, off_rad: f64) -> f64 {
    let half = PI * f64::from(count - 1) / f64::from(tooth.cut().teeth);
    let [_, flank, _, _] = tooth.curves();
    let (from, to) = flank.range();
    // The flank of the last tooth, seen from the middle of the span.
    let reach = |off: f64| {
        let along = |t: f64| turned(flank.tangent(t), half + off).y_mm;
        turned(flank.point(root(from, to, along)), half + off).y_mm
    };
    reach(off_rad) + reach(-off_rad)
}

#[test]
fn span_is_that_of_the_books() {
    for (teeth, shift, count) in [(24, 0.4, 4), (17, 0.0, 2), (40, -0.2, 5), (31, 0.25, 4)] {
        for thinning_mm in [0.0, 0.03] {
            let cut = Cut {
                module_mm: 3.0,
                thinned: Thinned::BySide,
                thinning_mm,
                ..cut(teeth, shift)
            };
            let tooth = Tooth::new(&cut).unwrap();
            let alpha = 20_f64.to_radians();
            let book = 3.0
                * alpha.cos()
                * (PI * (f64::from(count) - 0.5)
                    + f64::from(teeth) * inv(alpha)
                    + 2.0 * shift * alpha.tan())
                - thinning_mm * alpha.cos();
            for off in [0.0, 0.01, -0.02] {
                let got = span(&tooth, count, off);
                assert!(
                    (got - book).abs() < 1e-9,
                    "{teeth} {count} {off}: {got} {book}"
                );
            }
        }
    }
    // Row 3.02: GMTH Table 10-10.
    let cut = Cut {
        module_mm: 3.0,
        ..cut(24, 0.4)
    };
    let got = span(&Tooth::new(&cut).unwrap(), 4, 0.0);
    assert!((got - 32.8266).abs() < 1e-4, "{got}");
}

#[test]
fn span_of_a_helical_gear_is_that_of_the_books() {
    let beta = 18_f64.to_radians();
    let cut = Cut {
        helix_rad: beta,
        ..cut(33, 0.15)
    };
    let alpha_n = 20_f64.to_radians();
    let alpha_t = (alpha_n.tan() / beta.cos()).atan();
    let book = alpha_n.cos() * (PI * 4.5 + 33.0 * inv(alpha_t) + 0.3 * alpha_n.tan());
    // Jaws lie across the teeth: the transverse span seen along the base helix.
    let base_helix = (beta.sin() * alpha_n.cos()).asin();
    let got = span(&Tooth::new(&cut).unwrap(), 5, 0.0) * base_helix.cos();
    assert!((got - book).abs() < 1e-9, "{got} {book}");
}

//! Tooth outlines, measured on the curves as on a bench: no formula of the
//! outline itself is used, except where a test says so.

mod drawn;
mod limits;
mod measured;
mod polygons;
mod rolled;
mod swept;

use crate::random::Draw;
use layshaft::base::Teeth;
use layshaft::involute::Rack;
use layshaft::involute::outline::{Curve, Cut, Point, Thinned, Tooth};

fn cut(teeth: u16, profile_shift: f64) -> Cut {
    Cut {
        profile_shift,
        ..Cut::plain(Rack::standard(20.0), 1.0, Teeth::new(teeth))
    }
}

fn thinned(cut: Cut, thinning_mm: f64, thinned: Thinned) -> Cut {
    Cut {
        thinning_mm,
        thinned,
        ..cut
    }
}

/// The stub, 14.5° and 25° racks of a workshop beside the usual one.
fn racks() -> [Rack; 5] {
    let stub = Rack {
        addendum: 0.8,
        dedendum: 1.0,
        fillet: 0.3,
        ..Rack::standard(20.0)
    };
    let sharp = Rack {
        fillet: 0.0,
        ..Rack::standard(20.0)
    };
    [
        Rack::standard(20.0),
        Rack::standard(14.5),
        Rack::standard(25.0),
        stub,
        sharp,
    ]
}

/// A random cut, good or not: any rack that leaves its tip some land.
fn drawn(draw: &mut Draw) -> Cut {
    let mut from = |low: u32, high: u32| {
        let drawn = draw.whole(low.into(), high.into());
        f64::from(u32::try_from(drawn).unwrap()) / 1000.0
    };
    let alpha = from(14_500, 27_000).to_radians();
    let dedendum = from(900, 1300);
    let land = std::f64::consts::FRAC_PI_4 - dedendum * alpha.tan();
    let rack = Rack {
        pressure_angle_rad: alpha,
        addendum: dedendum - from(150, 300),
        dedendum,
        fillet: (land * alpha.cos() / (1.0 - alpha.sin())).min(from(0, 400)),
    };
    let plain = Cut {
        profile_shift: from(0, 1600) - 0.7,
        helix_rad: from(0, 700) - 0.35,
        tip_shortening: -from(0, 150),
        ..Cut::plain(rack, from(300, 4000), Teeth::new(0))
    };
    let how = if from(0, 1) > 0.0005 {
        Thinned::BySide
    } else {
        Thinned::ByDepth
    };
    let cut = thinned(plain, from(0, 60) * plain.module_mm, how);
    Cut {
        teeth: Teeth::of(u32::try_from(draw.whole(5, 60)).unwrap()),
        ..cut
    }
}

/// Where a rising or falling `f` passes 0 between `a` and `b`.
fn root(mut a: f64, mut b: f64, f: impl Fn(f64) -> f64) -> f64 {
    let start = f(a);
    assert!(start * f(b) <= 0.0, "no root: {} and {}", start, f(b));
    for _ in 0..100 {
        let middle = 0.5 * (a + b);
        if middle <= a.min(b) || middle >= a.max(b) {
            break;
        }
        if f(middle) * start > 0.0 {
            a = middle;
        } else {
            b = middle;
        }
    }
    0.5 * (a + b)
}

/// The least value of `f` near `t`, within `reach` to either side and inside
/// the range.
fn least_near(t: f64, reach: f64, (low, high): (f64, f64), f: impl Fn(f64) -> f64) -> f64 {
    let (mut a, mut b) = ((t - reach).max(low), (t + reach).min(high));
    for _ in 0..45 {
        let (p, q) = (a + 0.382 * (b - a), a + 0.618 * (b - a));
        if f(p) <= f(q) {
            b = q;
        } else {
            a = p;
        }
    }
    f(0.5 * (a + b)).min(f(a)).min(f(b))
}

fn sorted((a, b): (f64, f64)) -> (f64, f64) {
    (a.min(b), a.max(b))
}

/// Evenly spaced parameters of a curve, both ends included.
fn parameters(curve: &Curve, parts: u32) -> Vec<f64> {
    let (from, to) = curve.range();
    let at = |part| from + (to - from) * f64::from(part) / f64::from(parts);
    (0..=parts).map(at).collect()
}

/// Half the angle that a tooth spans at a radius, found on its curves; none
/// outside the tip circle, half a pitch inside the root circle.
fn half_angle(tooth: &Tooth, radius_mm: f64) -> Option<f64> {
    let [tip, involute, trochoid, bottom] = tooth.curves();
    let at = |curve: &Curve| {
        let (from, to) = curve.range();
        let [low, high] = [to, from].map(|t| curve.point(t).radius_mm());
        let asked = radius_mm.clamp(low, high);
        curve
            .point(root(from, to, |t| curve.point(t).radius_mm() - asked))
            .angle_rad()
    };
    if radius_mm > tip.point(0.0).radius_mm() {
        None
    } else if radius_mm >= tooth.form_radius_mm() {
        Some(at(&involute))
    } else if radius_mm > bottom.point(0.0).radius_mm() {
        Some(at(&trochoid))
    } else {
        Some(bottom.range().1)
    }
}

fn turned(point: Point, angle_rad: f64) -> Point {
    let (sin, cos) = angle_rad.sin_cos();
    Point {
        x_mm: cos * point.x_mm - sin * point.y_mm,
        y_mm: sin * point.x_mm + cos * point.y_mm,
    }
}

fn between(a: Point, b: Point) -> f64 {
    (a.x_mm - b.x_mm).hypot(a.y_mm - b.y_mm)
}

fn inv(alpha_rad: f64) -> f64 {
    alpha_rad.tan() - alpha_rad
}

/// The angle whose involute function is `value`.
fn from_inv(value: f64) -> f64 {
    root(0.0, 1.5, |alpha| inv(alpha) - value)
}

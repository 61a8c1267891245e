//! A rack swept past a blank in small steps: what it leaves is the tooth. The
//! rack is a polygon, the envelope is the least that any step leaves; no
//! trochoid is computed here.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

use crate::random::Draw;
use layshaft::involute::outline::{Cut, Point, Thinned, Tooth};

use super::{cut, drawn, half_angle, inv, racks, root, thinned};

/// Right flank, corner and land of one rack tooth that points down, mm,
/// transverse; (0, 0) is on the rolling circle, on the tooth's centre line.
fn rack_side(cut: &Cut) -> Vec<(f64, f64)> {
    let (rack, m) = (&cut.rack, cut.module_mm);
    let alpha = rack.pressure_angle_rad;
    let stretch = 1.0 / cut.helix_rad.cos();
    let (mut rise, mut aside) = (cut.profile_shift * m, 0.0);
    match cut.thinned {
        Thinned::ByDepth => rise -= cut.thinning_mm / (2.0 * alpha.tan() * stretch),
        Thinned::BySide => aside = cut.thinning_mm / 2.0,
    }
    let place = |u: f64, v: f64| (m * u * stretch + aside, m * v + rise);
    // The flank, far up, then the corner's circle, then the middle.
    let mut side = vec![place(FRAC_PI_4 + 3.0 * alpha.tan(), 3.0)];
    let above = rack.dedendum - rack.fillet;
    let foot = FRAC_PI_4 - rack.dedendum * alpha.tan();
    let middle = foot - rack.fillet * (1.0 - alpha.sin()) / alpha.cos();
    for part in 0..=400 {
        let lean = (FRAC_PI_2 - alpha) * (1.0 - f64::from(part) / 400.0);
        side.push(place(
            middle + rack.fillet * lean.sin(),
            -above - rack.fillet * lean.cos(),
        ));
    }
    side.push((0.0, rise - rack.dedendum * m));
    side
}

struct Sweep {
    side: Vec<(f64, f64)>,
    reference_mm: f64,
    half_pitch_rad: f64,
    module_mm: f64,
}

impl Sweep {
    fn of(cut: &Cut) -> Self {
        Self {
            side: rack_side(cut),
            reference_mm: cut.module_mm * f64::from(cut.teeth) / (2.0 * cut.helix_rad.cos()),
            half_pitch_rad: PI / f64::from(cut.teeth),
            module_mm: cut.module_mm,
        }
    }

    /// Half the angle of metal that is left on the circle of a radius: the rack
    /// moves a step, the gear turns with it, and the furthest crossing of the
    /// circle with the rack's side counts. Steps of 0.04 modules; around each
    /// of the places that leave least, a hundred times finer, twice.
    fn half_angle(&self, radius_mm: f64) -> f64 {
        let coarse = self.steps(radius_mm, 0.0, 0.04 * self.module_mm, 200);
        let mut left = 2.0 * self.half_pitch_rad;
        for three in coarse.windows(3) {
            let (moved_mm, least) = three[1];
            if least.is_finite() && least <= three[0].1 && least <= three[2].1 {
                let mut best = (moved_mm, least);
                for finer in [4e-4, 4e-6] {
                    let fine = self.steps(radius_mm, best.0, finer * self.module_mm, 100);
                    let least = fine.into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
                    best = least.unwrap();
                }
                left = left.min(best.1);
            }
        }
        left
    }

    /// What is left after each of the steps to either side of a place.
    fn steps(&self, radius_mm: f64, around_mm: f64, step_mm: f64, count: i32) -> Vec<(f64, f64)> {
        (-count..=count)
            .map(|k| around_mm + step_mm * f64::from(k))
            .map(|moved_mm| (moved_mm, self.after(moved_mm, radius_mm)))
            .collect()
    }

    fn after(&self, moved_mm: f64, radius_mm: f64) -> f64 {
        let turned = moved_mm / self.reference_mm;
        let mut left = f64::INFINITY;
        for edge in self.side.windows(2) {
            let [(u0, v0), (u1, v1)] = [edge[0], edge[1]];
            let (x, y) = (u0 + moved_mm, v0 + self.reference_mm);
            let (dx, dy) = (u1 - u0, v1 - v0);
            // |(x, y) + t (dx, dy)| = radius.
            let (a, b) = (dx * dx + dy * dy, x * dx + y * dy);
            let c = x * x + y * y - radius_mm * radius_mm;
            let square = b * b - a * c;
            if a <= 0.0 || square < 0.0 {
                continue;
            }
            for t in [(-b - square.sqrt()) / a, (-b + square.sqrt()) / a] {
                if (0.0..=1.0).contains(&t) {
                    // Clockwise from the middle of the space.
                    let clockwise = (x + t * dx).atan2(y + t * dy) - turned;
                    left = left.min(self.half_pitch_rad - clockwise);
                }
            }
        }
        left
    }
}

/// Half the angle of the plain involute on the circle of a radius.
fn involute(cut: &Cut, radius_mm: f64) -> f64 {
    let z = f64::from(cut.teeth);
    let (alpha, reference) = (cut.rack.pressure_angle_rad, cut.module_mm * z / 2.0);
    let here = (reference * alpha.cos() / radius_mm).min(1.0).acos();
    (PI / 2.0 + 2.0 * cut.profile_shift * alpha.tan()) / z + inv(alpha) - inv(here)
}

#[test]
fn a_swept_rack_leaves_the_form_circle() {
    for teeth in 8..=12 {
        for shift in [0.0, 0.1] {
            let cut = cut(teeth, shift);
            let tooth = Tooth::new(&cut).unwrap();
            assert!(tooth.is_undercut(), "{teeth} {shift}");
            let sweep = Sweep::of(&cut);
            let base = f64::from(teeth) / 2.0 * 20_f64.to_radians().cos();
            // Above the form circle the involute stands; below, less is left.
            let form = root(base, base + 0.6, |radius| {
                involute(&cut, radius) - sweep.half_angle(radius) - 2e-7
            });
            let got = tooth.form_radius_mm();
            assert!((got - form).abs() < 2e-5, "{teeth} {shift}: {got} {form}");
            assert!(got > base + 1e-3, "{teeth} {shift}");
        }
    }
}

fn hold_swept(cut: &Cut, about: &str) {
    let tooth = Tooth::new(cut).unwrap();
    let sweep = Sweep::of(cut);
    let (low, high) = (tooth.root().radius_mm, tooth.tip().radius_mm);
    let outlines = [0.001, 0.000_05].map(|error| (error, tooth.outline(error).unwrap()));
    for part in 0..=40 {
        let radius = low + 0.002 + (high - low - 0.002) * f64::from(part) / 40.0;
        let swept = sweep.half_angle(radius);
        let left = Point {
            x_mm: radius * swept.cos(),
            y_mm: radius * swept.sin(),
        };
        let exact = half_angle(&tooth, radius).unwrap();
        assert!(
            ((swept - exact) * radius).abs() < 2e-5 * cut.module_mm,
            "{about}: at {radius} swept {swept}, curve {exact}"
        );
        for (error, outline) in &outlines {
            let off = super::polygons::distance(outline, left);
            // For the rack's own chords and steps.
            assert!(
                off < error + 4e-6 * cut.module_mm,
                "{about}: {off} off at {radius}"
            );
        }
    }
    // Nothing is swept away below the root circle.
    assert!(sweep.half_angle(low - 1e-6 * cut.module_mm) >= sweep.half_pitch_rad);
}

#[test]
fn a_swept_rack_leaves_the_outline() {
    for (teeth, shift) in [
        (8, 0.0),
        (8, 0.5),
        (10, 0.2),
        (12, 0.0),
        (19, -0.3),
        (40, 0.6),
    ] {
        hold_swept(&cut(teeth, shift), &format!("{teeth} {shift}"));
    }
    for rack in racks() {
        let cut = Cut {
            rack,
            ..cut(15, 0.1)
        };
        hold_swept(&cut, &format!("{rack:?}"));
    }
}

#[test]
fn a_swept_rack_leaves_thinned_and_helical_outlines() {
    for how in [Thinned::ByDepth, Thinned::BySide] {
        hold_swept(&thinned(cut(14, 0.1), 0.06, how), &format!("{how:?}"));
    }
    let helical = Cut {
        helix_rad: -25_f64.to_radians(),
        module_mm: 1.5,
        ..cut(9, 0.1)
    };
    hold_swept(&helical, "helical");
    hold_swept(
        &thinned(helical, 0.05, Thinned::ByDepth),
        "helical, thinned",
    );
}

#[test]
fn a_swept_rack_leaves_random_outlines() {
    let mut draw = Draw::new(31);
    let mut undercut = 0;
    let cuts = std::iter::repeat_with(|| drawn(&mut draw));
    let good = cuts.filter(|cut| Tooth::new(cut).is_ok());
    for cut in good.take(25) {
        hold_swept(&cut, &format!("{cut:?}"));
        undercut += usize::from(Tooth::new(&cut).unwrap().is_undercut());
    }
    assert!((3..22).contains(&undercut), "{undercut}");
}

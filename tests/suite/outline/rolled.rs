//! Two gears rolled on each other: ratio, overlap, backlash.

use std::f64::consts::{PI, TAU};

use layshaft::involute::outline::{Cut, Thinned, Tooth};

use super::{cut, from_inv, half_angle, inv, parameters, sorted, thinned};

/// Two gears at a centre distance.
struct Pair {
    teeth: [Tooth; 2],
    centres_mm: f64,
    /// Transverse backlash at the working circle that the books give, mm.
    backlash_mm: f64,
}

/// Closes the mesh of two gears without backlash but for their thinning and
/// `apart_mm`, tips shortened to keep the clearance (ISO 21771).
fn pair(mut cuts: [Cut; 2], apart_mm: f64) -> Pair {
    let [one, two] = cuts;
    let (alpha_n, beta, m) = (one.rack.pressure_angle_rad, one.helix_rad, one.module_mm);
    let alpha_t = (alpha_n.tan() / beta.cos()).atan();
    let z = f64::from(one.teeth) + f64::from(two.teeth);
    let sum = one.profile_shift + two.profile_shift;
    let alpha_w = from_inv(inv(alpha_t) + 2.0 * sum * alpha_n.tan() / z);
    let standard = m * z / (2.0 * beta.cos());
    let tight = standard * alpha_t.cos() / alpha_w.cos();
    let k = ((tight - standard) / m - sum).min(0.0);
    for cut in &mut cuts {
        cut.tip_shortening = k;
    }
    let centres_mm = tight + apart_mm;
    let alpha = (standard * alpha_t.cos() / centres_mm).acos();
    let open = inv(alpha) - inv(alpha_t) - 2.0 * sum * alpha_n.tan() / z;
    // Thinning is named at the reference circle, backlash at the working one.
    let thinning = (one.thinning_mm + two.thinning_mm) * centres_mm / standard;
    Pair {
        teeth: cuts.map(|cut| Tooth::new(&cut).unwrap()),
        centres_mm,
        backlash_mm: 2.0 * centres_mm * open + thinning,
    }
}

impl Pair {
    fn counts(&self) -> [f64; 2] {
        [0, 1].map(|side| f64::from(self.teeth[side].cut().teeth))
    }

    /// How far gear 2 may turn counter-clockwise before it touches, gear 1
    /// turned by `turn_rad`: every point of several teeth of gear 1 against
    /// the curves of gear 2. 0 is where a space of gear 2 looks at gear 1.
    fn stop(&self, turn_rad: f64) -> f64 {
        let [z1, z2] = self.counts();
        let near = -(turn_rad * z1 / TAU).round();
        let mut stop = f64::INFINITY;
        for tooth in -2..=2 {
            let tooth = near + f64::from(tooth);
            let angle = turn_rad + tooth * TAU / z1;
            let free = |x: f64, y: f64| {
                let (dx, dy) = (
                    x * angle.cos() - y * angle.sin(),
                    x * angle.sin() + y * angle.cos(),
                );
                let (dx, dy) = (dx - self.centres_mm, dy);
                let half = half_angle(&self.teeth[1], dx.hypot(dy))?;
                // Polar angle at gear 2, from the line of centres.
                let polar = (-dy).atan2(-dx);
                Some(polar - half + tooth * TAU / z2 + PI / z2)
            };
            stop = stop.min(self.flank_stop(&free));
        }
        stop
    }

    /// The least of `free` over the curves of one flank of gear 1.
    fn flank_stop(&self, free: &impl Fn(f64, f64) -> Option<f64>) -> f64 {
        let mut stop = f64::INFINITY;
        for curve in self.teeth[0].curves() {
            let at = |t: f64| {
                let point = curve.point(t);
                free(point.x_mm, point.y_mm)
            };
            let ts = parameters(&curve, 24);
            let step = (ts[1] - ts[0]).abs();
            for pair in ts.windows(2) {
                match (at(pair[0]), at(pair[1])) {
                    (Some(a), Some(b)) => stop = stop.min(a).min(b),
                    (None, None) => {}
                    // The tip circle of gear 2 passes between them.
                    _ => stop = stop.min(edge_stop(&at, pair[0], pair[1])),
                }
            }
            let value = |t: f64| at(t).unwrap_or(f64::INFINITY);
            let best = (ts.iter().copied())
                .min_by(|a, b| value(*a).total_cmp(&value(*b)))
                .unwrap();
            if value(best).is_finite() {
                stop = stop.min(super::least_near(best, step, sorted(curve.range()), value));
            }
        }
        stop
    }

    /// How far gear 2 may turn clockwise: all mirrored in the line of centres.
    fn other_stop(&self, turn_rad: f64) -> f64 {
        -self.stop(-turn_rad)
    }

    fn hold(&self, about: &str) {
        let [z1, z2] = self.counts();
        let ratio = z1 / z2;
        let working_mm = self.centres_mm * z2 / (z1 + z2);
        assert!(self.backlash_mm > -1e-9, "{about}");
        let delta = 0.01 * TAU / z1;
        for place in 0..13 {
            let turn = TAU / z1 * f64::from(place) / 13.0 - PI / z1;
            let (ahead, behind) = (self.stop(turn + delta), self.stop(turn - delta));
            let slope = (ahead - behind) / (2.0 * delta);
            assert!(
                (slope / -ratio - 1.0).abs() < 1e-6,
                "{about}: ratio {slope} at {turn}"
            );
            let (high, low) = (self.stop(turn), self.other_stop(turn));
            let free_mm = (high - low) * working_mm;
            // Where the books say tight, rounding alone decides the sign.
            assert!(free_mm > -1e-9, "{about}: overlap {free_mm} mm");
            assert!(
                (free_mm - self.backlash_mm).abs() < 1e-6,
                "{about}: backlash {free_mm}, {} expected",
                self.backlash_mm
            );
            let middle = 0.5 * (high + low) + turn * ratio;
            assert!(middle.abs() < 1e-9, "{about}: off by {middle}");
        }
    }
}

/// The last value before the mate's tip circle, between a parameter inside it
/// and one outside.
fn edge_stop(at: &impl Fn(f64) -> Option<f64>, a: f64, b: f64) -> f64 {
    let (mut inside, mut outside) = if at(a).is_some() { (a, b) } else { (b, a) };
    for _ in 0..60 {
        let middle = 0.5 * (inside + outside);
        if at(middle).is_some() {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    at(inside).unwrap()
}

#[test]
fn standard_pairs_roll_evenly() {
    for (one, two) in [(17, 18), (24, 36), (14, 60)] {
        let shape = [cut(one, 0.0), cut(two, 0.0)];
        pair(shape, 0.0).hold(&format!("{one}/{two} tight"));
        pair(shape, 0.17).hold(&format!("{one}/{two} opened"));
    }
}

#[test]
fn shifted_pairs_roll_evenly_at_the_distance_of_the_involute_equation() {
    for (z1, x1, z2, x2) in [
        (12, 0.6, 24, 0.36),
        (17, 0.3, 28, 0.2),
        (10, 0.45, 41, -0.45),
        (30, -0.2, 33, -0.3),
    ] {
        pair([cut(z1, x1), cut(z2, x2)], 0.0).hold(&format!("{z1} {x1} / {z2} {x2}"));
    }
    // Row 2.04: GMTH Table 4-3, the same gears at module 3.
    let row = pair([cut(12, 0.6), cut(24, 0.36)], 0.0);
    assert!((3.0 * row.centres_mm - 56.499_87).abs() < 1e-4);
}

#[test]
fn thinned_pairs_show_their_thinning_as_backlash() {
    for (how, x) in [
        (Thinned::ByDepth, 0.0),
        (Thinned::BySide, 0.0),
        (Thinned::BySide, 0.3),
    ] {
        let one = thinned(cut(19, x), 0.04, how);
        let two = thinned(cut(31, 0.1), 0.025, Thinned::ByDepth);
        pair([one, two], 0.0).hold(&format!("{how:?} {x}"));
        pair([one, two], 0.05).hold(&format!("{how:?} {x} opened"));
    }
}

#[test]
fn a_helical_section_rolls_evenly() {
    let helical = |z: u16, x: f64| Cut {
        helix_rad: 22.5_f64.to_radians(),
        module_mm: 1.25,
        ..cut(z, x)
    };
    pair([helical(13, 0.0), helical(40, 0.0)], 0.0).hold("helical");
    pair([helical(11, 0.35), helical(27, -0.1)], 0.0).hold("helical, shifted");
    let slack = thinned(helical(16, 0.2), 0.05, Thinned::BySide);
    pair([slack, helical(21, 0.2)], 0.03).hold("helical, thinned, opened");
}

#[test]
fn other_racks_roll_evenly() {
    for rack in super::racks() {
        let gear = |z: u16, x: f64| Cut { rack, ..cut(z, x) };
        pair([gear(26, 0.0), gear(35, 0.0)], 0.0).hold(&format!("{rack:?}"));
        pair([gear(20, 0.2), gear(35, -0.1)], 0.02).hold(&format!("{rack:?} shifted"));
    }
}

#[test]
fn a_mesh_too_close_is_seen_to_overlap() {
    // The measuring itself must be able to find a fault.
    let close = pair([cut(17, 0.0), cut(28, 0.0)], -0.01);
    let working_mm = close.centres_mm * 28.0 / 45.0;
    let free_mm = (close.stop(0.03) - close.other_stop(0.03)) * working_mm;
    assert!((free_mm - close.backlash_mm).abs() < 1e-6, "{free_mm}");
    assert!(free_mm < -0.007, "{free_mm}");
}

#[test]
fn a_fouled_fillet_is_seen_to_push_the_mate_away() {
    // A tip half a module too high meets the mate's fillet: the stop is then
    // no longer that of the involutes.
    let mut fouled = pair([cut(14, 0.0), cut(60, 0.0)], 0.0);
    let mut tall = *fouled.teeth[1].cut();
    tall.rack.addendum = 1.2;
    fouled.teeth[1] = Tooth::new(&tall).unwrap();
    let worst = (0..13)
        .map(|place| {
            let turn = TAU / 14.0 * (f64::from(place) / 13.0 - 0.5);
            fouled.stop(turn) + turn * 14.0 / 60.0
        })
        .fold(f64::INFINITY, f64::min);
    assert!(worst < -1e-5, "{worst}");
}

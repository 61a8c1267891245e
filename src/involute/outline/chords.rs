//! Where to put the vertices on a curve.

use super::{Curve, Point};

/// Parts into which a curve is cut to see where it bends.
const PARTS: u32 = 32;

/// Places at which each chord is held against its curve; between them a bow
/// rises by less than the `MARGIN`.
const PROBES: u32 = 8;
const MARGIN: f64 = 1.02;

/// The curve's vertices from its beginning, its end left out: as few as keep
/// every chord within `chord_error_mm`, all chords about equally far off.
pub(super) fn chords(curve: &Curve, chord_error_mm: f64) -> Vec<Point> {
    let bends = bends(curve);
    // The bow over a chord of length s that turns by τ is s τ / 8.
    let mut count = whole(bends[bends.len() - 1].1 / (8.0 * chord_error_mm).sqrt());
    loop {
        let places = places(&bends, count);
        let off = (places.windows(2))
            .map(|pair| bow_mm(curve, pair[0], pair[1]))
            .fold(0.0, f64::max);
        if off * MARGIN <= chord_error_mm {
            let inner = &places[..places.len() - 1];
            return inner.iter().map(|&t| curve.point(t)).collect();
        }
        count += 1 + count / 16;
    }
}

/// Parameters along the curve, each with the sum of √(length × turning) so far.
fn bends(curve: &Curve) -> Vec<(f64, f64)> {
    let (from, to) = curve.range();
    let at = |part: u32| from + (to - from) * f64::from(part) / f64::from(PARTS);
    let mut sum = 0.0;
    let mut bends = vec![(from, 0.0)];
    for part in 1..=PARTS {
        let (a, b) = (at(part - 1), at(part));
        let length_mm = curve.point(b).minus(curve.point(a)).radius_mm();
        let turning = curve.tangent(a).cross(curve.tangent(b)).abs();
        sum += (length_mm * turning).sqrt();
        bends.push((b, sum));
    }
    bends
}

/// Parameters of `count` chords that share the bends equally.
fn places(bends: &[(f64, f64)], count: u32) -> Vec<f64> {
    let (first, (last, total)) = (bends[0].0, bends[bends.len() - 1]);
    let mut places = vec![first];
    let mut part = 1;
    for k in 1..count {
        let share = total * f64::from(k) / f64::from(count);
        while part + 1 < bends.len() && bends[part].1 < share {
            part += 1;
        }
        let ((t0, s0), (t1, s1)) = (bends[part - 1], bends[part]);
        let within = if s1 > s0 {
            (share - s0) / (s1 - s0)
        } else {
            0.0
        };
        places.push(t0 + (t1 - t0) * within);
    }
    places.push(last);
    places
}

/// How far the curve strays from its chord, mm.
fn bow_mm(curve: &Curve, from: f64, to: f64) -> f64 {
    let start = curve.point(from);
    let chord = curve.point(to).minus(start);
    let length_mm = chord.radius_mm();
    let probe = |k: u32| {
        let t = from + (to - from) * f64::from(k) / f64::from(PROBES);
        let step = curve.point(t).minus(start);
        if length_mm > 0.0 {
            step.cross(chord).abs() / length_mm
        } else {
            step.radius_mm()
        }
    };
    (1..PROBES).map(probe).fold(0.0, f64::max)
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "numbers of chords: 0 and above, bounded by the finest chord error"
)]
pub(super) fn whole(number: f64) -> u32 {
    number.ceil().max(1.0) as u32
}

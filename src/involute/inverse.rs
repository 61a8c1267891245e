//! The involute function and its inverse.

use std::f64::consts::FRAC_PI_2;

/// inv α = tan α − α, radians.
pub fn involute(alpha_rad: f64) -> f64 {
    alpha_rad.tan() - alpha_rad
}

/// The angle α (radians, 0 ≤ α < π/2) whose involute is `value` (radians).
/// None when `value` is negative or not finite: no involute point is there.
///
/// Newton on t − arctan t = v with t = tan α. That curve is convex, and the
/// start lies to the right of the root, so the steps fall towards it and never
/// pass it; at most 12 are needed below v = 10. The result r holds
/// |inv r − v| ≤ 10⁻¹⁵ (1 + v).
pub fn inverse_involute(value: f64) -> Option<f64> {
    if !value.is_finite() || value < 0.0 {
        return None;
    }
    if value == 0.0 {
        return Some(0.0);
    }
    let mut tangent = start(value);
    for _ in 0..MOST_STEPS {
        let square = tangent * tangent;
        let step = (tangent - tangent.atan() - value) * (1.0 + square) / square;
        let next = tangent - step;
        // Rounding ends the fall: the next step would go up again.
        if next >= tangent || next <= 0.0 {
            break;
        }
        tangent = next;
    }
    Some(tangent.atan())
}

/// Steps after which Newton's fall has ended for every double.
const MOST_STEPS: u32 = 64;

/// A tangent at or beyond the root: inv α ≥ α³/3 for small angles,
/// arctan t ≤ π/2 for all.
fn start(value: f64) -> f64 {
    let wide = value + FRAC_PI_2;
    let angle = (3.0 * value).cbrt();
    if angle < 1.2 {
        angle.tan().min(wide)
    } else {
        wide
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 2.01: handbook involute tables.
    #[test]
    fn involute_function_of_the_handbook_tables() {
        for (degrees, value) in [
            (10.0_f64, 0.001_794_1),
            (14.5, 0.005_544_8),
            (15.0, 0.006_149_8),
            (20.0, 0.014_904_4),
            (22.5, 0.021_514_5),
            (25.0, 0.029_975_3),
            (30.0, 0.053_751_5),
        ] {
            let got = involute(degrees.to_radians());
            assert!((got - value).abs() < 1e-7, "{degrees}: {got}");
            // The tables' last digit, over the slope tan² α.
            let back = inverse_involute(value).unwrap().to_degrees();
            assert!((back - degrees).abs() < 2e-4, "{degrees}: {back}");
        }
    }

    #[test]
    fn the_inverse_undoes_the_function() {
        for step in 1..8900_u32 {
            let alpha = (f64::from(step) * 0.01).to_radians();
            let value = involute(alpha);
            let back = inverse_involute(value).unwrap();
            let miss = (involute(back) - value).abs();
            assert!(miss <= 1e-15 * (1.0 + value), "{step}: {miss:e}");
            if step >= 500 {
                assert!((back - alpha).abs() < 1e-13, "{step}: {back} {alpha}");
            }
        }
    }

    #[test]
    fn no_angle_has_a_negative_involute() {
        assert_eq!(inverse_involute(0.0), Some(0.0));
        for bad in [-1e-12, f64::NAN, f64::INFINITY] {
            assert_eq!(inverse_involute(bad), None);
        }
    }
}

//! Which unshifted spur pairs run without interference: no tip reaches past
//! the point where the other gear's involute begins at its base circle.

use super::Rack;
use crate::base::Teeth;

/// Teeth, not rounded, of the largest gear that `pinion` drives without
/// interference; none when it drives any gear, a rack included. A figure below
/// the pinion's own count means that it suits no larger gear at all.
///
/// z₂ = (z₁² sin² α − 4 k²) / (4 k − 2 z₁ sin² α), k the addendum
/// (Shigley Eq. 13-12).
pub fn largest_gear_teeth(rack: &Rack, pinion: Teeth) -> Option<f64> {
    let (z, k) = (f64::from(pinion), rack.addendum);
    let sin2 = rack.pressure_angle_rad.sin().powi(2);
    let short_of_a_rack = 4.0 * k - 2.0 * z * sin2;
    (short_of_a_rack > 0.0).then(|| (z * z * sin2 - 4.0 * k * k) / short_of_a_rack)
}

/// Teeth, not rounded, of the least pinion that drives a gear `gear_ratio`
/// times its size without interference; infinity is a rack.
///
/// z₁ = 2 k (1 + √(1 + (2 + 1/i) sin² α / i)) / ((2 + 1/i) sin² α), k the
/// addendum (Shigley Eq. 13-11, divided through by i so that a rack has a
/// value).
pub fn least_pinion_teeth(rack: &Rack, gear_ratio: f64) -> f64 {
    let inverse = gear_ratio.recip();
    let spread = (2.0 + inverse) * rack.pressure_angle_rad.sin().powi(2);
    2.0 * rack.addendum * (1.0 + (1.0 + spread * inverse).sqrt()) / spread
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 2.13: Shigley Eq. 13-11; TOM Example 12.9 (15 teeth at ratio 3).
    // 14.5° and 25° and all but ratio 3: from memory, recomputed.
    #[test]
    fn least_pinions_of_the_textbooks() {
        for (alpha, ratio, teeth, within) in [
            (20.0, 1.0, 12.323, 1e-3),
            (20.0, 2.0, 14.161, 1e-3),
            (20.0, 3.0, 14.981, 1e-3),
            (20.0, 4.0, 15.444, 1e-3),
            (20.0, 5.0, 15.740, 1e-3),
            (20.0, 6.0, 15.947, 1e-3),
            (20.0, f64::INFINITY, 17.097, 1e-3),
            (14.5, 1.0, 22.23, 6e-3),
            (14.5, 4.0, 28.61, 6e-3),
            (25.0, 1.0, 8.36, 6e-3),
            (25.0, 4.0, 10.20, 6e-3),
        ] {
            let got = least_pinion_teeth(&Rack::standard(alpha), ratio);
            assert!((got - teeth).abs() < within, "{alpha} {ratio}: {got}");
        }
    }

    // Row 2.14: Shigley Eq. 13-12; Mott Table 8-6 (from memory, recomputed).
    #[test]
    fn largest_gears_of_the_textbooks() {
        for (alpha, pinion, gear) in [
            (20.0, 13, 16.45),
            (20.0, 14, 26.12),
            (20.0, 15, 45.49),
            (20.0, 16, 101.07),
            (20.0, 17, 1309.86),
        ] {
            let got = largest_gear_teeth(&Rack::standard(alpha), Teeth::new(pinion)).unwrap();
            assert!((got - gear).abs() < 6e-3, "{alpha} {pinion}: {got}");
        }
        for (pinion, gear) in [(9, 13), (10, 32), (11, 249)] {
            let got = largest_gear_teeth(&Rack::standard(25.0), Teeth::new(pinion)).unwrap();
            assert!(
                (f64::from(gear)..f64::from(gear + 1)).contains(&got),
                "{got}"
            );
        }
    }

    #[test]
    fn the_two_limits_are_one() {
        for alpha in [14.5, 20.0, 25.0] {
            let rack = Rack::standard(alpha);
            for pinion in 6..40 {
                let z = f64::from(pinion);
                match largest_gear_teeth(&rack, Teeth::new(pinion)) {
                    Some(gear) if gear > 1.0 => {
                        let least = least_pinion_teeth(&rack, gear / z);
                        assert!((least - z).abs() < 1e-9, "{alpha} {pinion}: {least}");
                    }
                    Some(_) => assert!(least_pinion_teeth(&rack, 1.0) > z),
                    None => assert!(least_pinion_teeth(&rack, f64::INFINITY) <= z),
                }
            }
        }
    }
}

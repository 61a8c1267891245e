//! Shaft sizes from the torque, and the standard sizes around them.
//!
//! Sources: torsion of a solid round shaft, τ = 16 T / (π d³) (handbooks).
//! Bearing sizes: ISO 15, diameter series 0 of dimension series 10 (light ball
//! bearings), from memory. Keyways: parallel keys of ISO 773, depth in the hub,
//! from memory.

use crate::base::{Decimal, Length};

/// Bore, outside diameter and width of light ball bearings, mm.
const BEARINGS: [(i64, i64, i64); 27] = [
    (3, 9, 3),
    (4, 12, 4),
    (5, 14, 5),
    (6, 17, 6),
    (7, 19, 6),
    (8, 22, 7),
    (9, 24, 7),
    (10, 26, 8),
    (12, 28, 8),
    (15, 32, 9),
    (17, 35, 10),
    (20, 42, 12),
    (25, 47, 12),
    (30, 55, 13),
    (35, 62, 14),
    (40, 68, 15),
    (45, 75, 16),
    (50, 80, 16),
    (55, 90, 18),
    (60, 95, 18),
    (65, 100, 18),
    (70, 110, 20),
    (75, 115, 20),
    (80, 125, 22),
    (85, 130, 22),
    (90, 140, 24),
    (100, 150, 24),
];

/// Shafts above the first diameter and up to the second take a key that cuts
/// so deep into the hub, mm and hundredths of a millimetre.
const KEYWAYS: [(i64, i64, i64); 12] = [
    (6, 8, 100),
    (8, 10, 140),
    (10, 12, 180),
    (12, 17, 230),
    (17, 22, 280),
    (22, 30, 330),
    (30, 38, 330),
    (38, 44, 330),
    (44, 50, 380),
    (50, 58, 430),
    (58, 65, 440),
    (65, 75, 490),
];

/// A bearing of the series.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Standard {
    pub(super) bore: Length,
    pub(super) outside: Length,
    pub(super) width: Length,
}

const fn mm(whole: i64) -> Length {
    Length::from_mm(Decimal::whole(whole))
}

fn bearings() -> impl DoubleEndedIterator<Item = Standard> {
    BEARINGS.into_iter().map(|(bore, outside, width)| Standard {
        bore: mm(bore),
        outside: mm(outside),
        width: mm(width),
    })
}

/// The bearing with the largest standard bore up to `diameter`; none below 3 mm.
pub(super) fn bearing_for(diameter: Length) -> Option<Standard> {
    bearings().rev().find(|bearing| bearing.bore <= diameter)
}

/// The least standard bore of at least `needed_mm`; beyond the series the next
/// multiple of 10 mm.
pub(super) fn standard_diameter(needed_mm: f64) -> Length {
    let within = bearings().find(|bearing| bearing.bore.mm() >= needed_mm);
    within.map_or_else(
        || {
            #[allow(clippy::cast_possible_truncation, reason = "below 10 m by the checks")]
            let tens = (needed_mm / 10.0).ceil() as i64;
            mm(10 * tens)
        },
        |bearing| bearing.bore,
    )
}

/// The largest standard size up to `most`; `most` itself below 3 mm.
pub(super) fn standard_up_to(most: Length) -> Length {
    bearing_for(most).map_or(most, |bearing| bearing.bore)
}

/// How deep the keyway of a shaft so thick cuts into the hub; nothing where
/// there is no standard key.
pub(super) fn hub_keyway(diameter: Length) -> Length {
    let fits =
        |(above, up_to, _): &&(i64, i64, i64)| diameter > mm(*above) && diameter <= mm(*up_to);
    KEYWAYS
        .iter()
        .find(fits)
        .map_or(Length::ZERO, |(_, _, depth)| {
            Length::from_mm(Decimal::from_millionths(depth * 10_000))
        })
}

/// Diameter (mm) of a solid shaft that carries `torque_n_m` at `shear_mpa`.
pub(super) fn shaft_mm(torque_n_m: f64, shear_mpa: f64) -> f64 {
    (16.0 * torque_n_m * 1000.0 / (std::f64::consts::PI * shear_mpa)).cbrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 7.14: solid shaft d 20, T 50 N·m: τ 31.83 MPa (formula).
    #[test]
    fn torsion_of_a_solid_shaft() {
        assert!((shaft_mm(50.0, 31.83) - 20.0).abs() < 0.01);
        // Eight times the torque, twice the diameter.
        assert!((shaft_mm(400.0, 31.83) - 40.0).abs() < 0.02);
    }

    #[test]
    fn sizes_are_rounded_to_the_series() {
        assert_eq!(standard_diameter(12.0), mm(12));
        assert_eq!(standard_diameter(12.01), mm(15));
        assert_eq!(standard_diameter(101.0), mm(110));
        assert_eq!(bearing_for(mm(14)).unwrap().outside, mm(28));
        assert_eq!(bearing_for(mm(2)), None);
        assert_eq!(standard_up_to(mm(9)), mm(9));
        assert_eq!(standard_up_to(mm(11)), mm(10));
    }

    #[test]
    fn keyways_follow_the_shaft() {
        assert_eq!(hub_keyway(mm(6)), Length::ZERO);
        assert_eq!(hub_keyway(mm(12)).to_string(), "1.8");
        assert_eq!(hub_keyway(mm(13)).to_string(), "2.3");
        assert_eq!(hub_keyway(mm(200)), Length::ZERO);
    }

    #[test]
    fn the_tables_rise() {
        assert!(
            BEARINGS
                .windows(2)
                .all(|w| w[0].0 < w[1].0 && w[0].1 < w[1].1)
        );
        assert!(BEARINGS.iter().all(|(bore, outside, _)| bore < outside));
        assert!(
            KEYWAYS
                .windows(2)
                .all(|w| w[0].1 == w[1].0 && w[0].2 <= w[1].2)
        );
    }
}

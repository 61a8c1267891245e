//! Shaft sizes from the torque, and the standard sizes around them.
//!
//! Sources: torsion of a solid round shaft, τ = 16 T / (π d³) (handbooks).
//! Bearing sizes: ISO 15, diameter series 0 of dimension series 10 (light ball
//! bearings), from memory. Their ratings: what catalogues of several makers give,
//! roughly, from memory. Keys: parallel keys of ISO 773, width, height and depth
//! in the hub, from memory.

use crate::base::{Decimal, Length};

/// Bore, outside diameter and width of light ball bearings, mm; what they carry
/// for a million turns and at rest, N.
const BEARINGS: [(i64, i64, i64, i32, i32); 27] = [
    (3, 9, 3, 560, 180),
    (4, 12, 4, 800, 280),
    (5, 14, 5, 1140, 380),
    (6, 17, 6, 2340, 950),
    (7, 19, 6, 2340, 950),
    (8, 22, 7, 3450, 1370),
    (9, 24, 7, 3900, 1660),
    (10, 26, 8, 4750, 1960),
    (12, 28, 8, 5400, 2360),
    (15, 32, 9, 5850, 2850),
    (17, 35, 10, 6370, 3250),
    (20, 42, 12, 9950, 5000),
    (25, 47, 12, 11_900, 6550),
    (30, 55, 13, 13_800, 8300),
    (35, 62, 14, 16_800, 10_200),
    (40, 68, 15, 17_800, 11_600),
    (45, 75, 16, 22_100, 14_600),
    (50, 80, 16, 22_900, 16_000),
    (55, 90, 18, 29_600, 21_200),
    (60, 95, 18, 30_700, 23_200),
    (65, 100, 18, 31_900, 25_000),
    (70, 110, 20, 39_700, 31_000),
    (75, 115, 20, 41_600, 33_500),
    (80, 125, 22, 49_400, 40_000),
    (85, 130, 22, 52_000, 43_000),
    (90, 140, 24, 60_500, 50_000),
    (100, 150, 24, 63_700, 54_000),
];

/// Shafts above the first diameter and up to the second take a key so wide
/// and so high, mm, that cuts so deep into the hub, hundredths of a millimetre.
const KEYWAYS: [(i64, i64, [i64; 2], i64); 12] = [
    (6, 8, [2, 2], 100),
    (8, 10, [3, 3], 140),
    (10, 12, [4, 4], 180),
    (12, 17, [5, 5], 230),
    (17, 22, [6, 6], 280),
    (22, 30, [8, 7], 330),
    (30, 38, [10, 8], 330),
    (38, 44, [12, 8], 330),
    (44, 50, [14, 9], 380),
    (50, 58, [16, 10], 430),
    (58, 65, [18, 11], 440),
    (65, 75, [20, 12], 490),
];

/// A bearing of the series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Standard {
    pub(super) bore: Length,
    pub(super) outside: Length,
    pub(super) width: Length,
    pub(super) dynamic_n: f64,
    pub(super) static_n: f64,
}

const fn mm(whole: i64) -> Length {
    Length::from_mm(Decimal::whole(whole))
}

fn bearings() -> impl DoubleEndedIterator<Item = Standard> {
    BEARINGS
        .into_iter()
        .map(|(bore, outside, width, dynamic_n, static_n)| Standard {
            bore: mm(bore),
            outside: mm(outside),
            width: mm(width),
            dynamic_n: f64::from(dynamic_n),
            static_n: f64::from(static_n),
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
    keyway(diameter).map_or(Length::ZERO, |(_, depth)| {
        Length::from_mm(Decimal::from_millionths(depth * 10_000))
    })
}

/// Width and height of the standard key of a shaft so thick; none where there
/// is no standard key.
pub fn key_section(diameter: Length) -> Option<[Length; 2]> {
    keyway(diameter).map(|(section, _)| section.map(mm))
}

fn keyway(diameter: Length) -> Option<([i64; 2], i64)> {
    let mut keyways = KEYWAYS.into_iter();
    keyways
        .find(|&(above, up_to, ..)| diameter > mm(above) && diameter <= mm(up_to))
        .map(|(_, _, section, depth)| (section, depth))
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
        assert_eq!(key_section(mm(22)), Some([mm(6), mm(6)]));
        assert_eq!(key_section(mm(6)), None);
    }

    #[test]
    fn the_tables_rise() {
        assert!(
            BEARINGS
                .windows(2)
                .all(|w| w[0].0 < w[1].0 && w[0].1 < w[1].1)
        );
        assert!(BEARINGS.iter().all(|row| row.0 < row.1 && row.4 < row.3));
        assert!(
            BEARINGS
                .windows(2)
                .all(|w| w[0].3 <= w[1].3 && w[0].4 <= w[1].4)
        );
        assert!(
            KEYWAYS
                .windows(2)
                .all(|w| w[0].1 == w[1].0 && w[0].2 < w[1].2 && w[0].3 <= w[1].3)
        );
    }
}

//! Factors by which a mesh is loaded more than its torque says.
//!
//! Sources: AGMA 2001 as Shigley's Mechanical Engineering Design has it
//! (sections 14-7 and 14-11), from memory; rows 6.07 to 6.09 check it.

use std::f64::consts::PI;

const MM_IN_INCH: f64 = 25.4;
/// Feet a minute in a metre a second.
const FT_MIN: f64 = 60.0 / 0.3048;
/// Bearings whose place is not known: the mesh may stand beside the middle.
const C_PM: f64 = 1.1;

/// Pitch-line speed, m/s, of a diameter at a speed.
pub(super) fn pitch_line_m_s(diameter_mm: f64, rpm: f64) -> f64 {
    PI * diameter_mm * rpm / 60_000.0
}

/// `A` and `B` of the dynamic factor at an accuracy grade of ISO 1328. AGMA's
/// quality `Q_v` runs the other way; 17 less the grade is near it (from memory).
pub(super) fn dynamic_constants(grade: u8) -> (f64, f64) {
    let quality = (17.0 - f64::from(grade)).clamp(5.0, 11.0);
    let b = 0.25 * (12.0 - quality).powf(2.0 / 3.0);
    (50.0 + 56.0 * (1.0 - b), b)
}

/// `K_v` of those constants at a pitch-line speed, m/s.
pub(super) fn dynamic((a, b): (f64, f64), speed_m_s: f64) -> f64 {
    ((a + (speed_m_s * FT_MIN).max(0.0).sqrt()) / a).powf(b)
}

/// Dynamic factor `K_v` at a pitch-line speed, m/s, and an accuracy grade of ISO
/// 1328, 4 to 12.
pub fn dynamic_factor(speed_m_s: f64, grade: u8) -> f64 {
    dynamic(dynamic_constants(grade), speed_m_s)
}

/// Face load factor `K_m` of an uncrowned face in an enclosed box of commercial
/// make, by face width and the pinion's diameter, mm. `between` is 1 for a mesh in
/// the middle between its bearings, 1.1 for one beside the middle.
pub fn face_load_factor(width_mm: f64, pinion_mm: f64, between: f64) -> f64 {
    let (face, diameter) = (width_mm / MM_IN_INCH, pinion_mm / MM_IN_INCH);
    let slim = (face / (10.0 * diameter)).max(0.05);
    // Of faces up to an inch the first holds, of wider ones the second.
    let proportion = slim - 0.025 + 0.0125 * (face - 1.0).max(0.0);
    let alignment = 0.127 + 0.0158 * face - 0.93e-4 * face * face;
    1.0 + proportion * between + alignment
}

/// [`face_load_factor`] where nothing is known of the bearings.
pub(super) fn usual_face_load(width_mm: f64, pinion_mm: f64) -> f64 {
    face_load_factor(width_mm, pinion_mm, C_PM)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HORSEPOWER_FT_LBF_MIN: f64 = 33_000.0;

    /// Pitch-line speed, ft/min, and tangential load, lbf.
    fn moved(diameter_in: f64, rpm: f64, horsepower: f64) -> (f64, f64) {
        let speed = pitch_line_m_s(diameter_in * MM_IN_INCH, rpm) * FT_MIN;
        (speed, HORSEPOWER_FT_LBF_MIN * horsepower / speed)
    }

    fn close(got: f64, expected: f64, share: f64) {
        assert!((got / expected - 1.0).abs() < share, "{got} {expected}");
    }

    // Row 6.07: Shigley Example 14-4 (recomputed). Grade 11 is Q_v 6.
    #[test]
    fn a_spur_pair_of_a_textbook() {
        let (speed, load) = moved(1.7, 1800.0, 4.0);
        close(speed, 801.1, 1e-3);
        close(load, 164.8, 1e-3);
        close(dynamic_factor(speed / FT_MIN, 11), 1.377, 1e-3);
        let km = face_load_factor(1.5 * MM_IN_INCH, 1.7 * MM_IN_INCH, 1.0);
        close(km, 1.22, 1e-3);
        // What is taken where nothing is known of the bearings is more.
        assert!(usual_face_load(1.5 * MM_IN_INCH, 1.7 * MM_IN_INCH) > km);
    }

    // Row 6.08: Shigley Example 14-5 (recomputed).
    #[test]
    fn a_helical_pair_of_a_textbook() {
        let (speed, load) = moved(1.963, 1800.0, 4.0);
        close(speed, 925.0, 2e-3);
        close(load, 142.7, 2e-3);
        close(dynamic_factor(speed / FT_MIN, 11), 1.404, 2e-3);
    }

    // Row 6.09: Mott Example 9 (recomputed).
    #[test]
    fn another_spur_pair_of_a_textbook() {
        let (speed, load) = moved(2.5, 1750.0, 25.0);
        close(speed, 1145.4, 1e-3);
        close(load, 720.3, 1e-3);
        close(dynamic_factor(speed / FT_MIN, 11), 1.448, 1e-3);
    }

    #[test]
    fn factors_never_lessen_the_load() {
        for grade in 4..=12 {
            assert!(dynamic_factor(0.0, grade) >= 1.0);
            assert!(dynamic_factor(5.0, grade) >= dynamic_factor(2.0, grade));
        }
        assert!(dynamic_factor(5.0, 12) > dynamic_factor(5.0, 6));
        for width in [1.0, 10.0, 25.4, 25.5, 100.0] {
            let factor = usual_face_load(width, 20.0);
            assert!(factor > 1.0);
            // A wider face never carries less in all.
            let wider = usual_face_load(width * 1.01, 20.0);
            assert!(width / factor < width * 1.01 / wider);
        }
    }
}

//! How far a disc cutter runs beyond a gear, and what it must clear there.

/// The gap that a disc cutter of radius `cutter_radius_mm` needs between a
/// gear of root radius `root_radius_mm` and something on the same blank of
/// radius `beside_radius_mm`; all in mm and above 0.
///
/// The cutter stands with its rim on the root and its middle over the gear's
/// end face. At the height h = beside − root above its rim it is
/// 2 √(2 R h − h²) wide (a chord of the disc), half of which reaches beyond
/// the face. Above h = R the disc is no wider: R is taken there, which also
/// clears any arbor thinner than the disc.
pub fn run_out_mm(cutter_radius_mm: f64, root_radius_mm: f64, beside_radius_mm: f64) -> f64 {
    let height_mm = (beside_radius_mm - root_radius_mm).clamp(0.0, cutter_radius_mm);
    (height_mm * (2.0 * cutter_radius_mm - height_mm)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    // A 3-4-5 triangle: R = 25, h = 10 leaves 15 to the middle, half chord 20.
    #[test]
    fn a_disc_needs_half_its_chord() {
        assert!((run_out_mm(25.0, 12.0, 22.0) - 20.0).abs() < 1e-12);
        assert!((run_out_mm(25.0, 12.0, 17.0) - 15.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_lower_than_the_root_is_in_nobodys_way() {
        assert!(run_out_mm(25.0, 12.0, 12.0) < 1e-12);
        assert!(run_out_mm(25.0, 12.0, 3.0) < 1e-12);
    }

    #[test]
    fn beyond_its_middle_a_disc_is_no_wider() {
        assert!((run_out_mm(25.0, 12.0, 37.0) - 25.0).abs() < 1e-12);
        assert!((run_out_mm(25.0, 12.0, 60.0) - 25.0).abs() < 1e-12);
    }
}

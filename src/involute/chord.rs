//! Sizes for a gear-tooth caliper.

use super::ShiftedGear;

/// A chord of one tooth and the height of the tip above it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chord {
    /// Chord across the tooth, in the normal section, mm.
    pub thickness_mm: f64,
    /// From the tip circle down to the chord, mm. A blank that is off size
    /// moves it by half of what is missing.
    pub height_mm: f64,
}

impl ShiftedGear {
    /// Chordal thickness and height at the reference circle, at the gear's
    /// thinning: the arc s_n laid on the radius of curvature r / cos² β of the
    /// normal section, r_n sin θ and h_a + r_n (1 − cos θ), θ = s_n / (2 r_n).
    /// None where no flank stands at the reference circle.
    pub fn chord(&self) -> Option<Chord> {
        self.chord_at(self.reference_mm())
    }

    /// Chordal thickness and height at a diameter, mm. None where the flank
    /// does not reach it.
    pub fn chord_at(&self, diameter_mm: f64) -> Option<Chord> {
        let (from_mm, to_mm) = self.flank_mm();
        if !(from_mm..=to_mm).contains(&diameter_mm) {
            return None;
        }
        let arc_mm = self.normal_thickness_at_mm(diameter_mm)?;
        let cos = self.helix_at_rad(diameter_mm).cos();
        Some(chord_of_arc(
            arc_mm,
            diameter_mm / (2.0 * cos * cos),
            (self.tip_mm() - diameter_mm) / 2.0,
        ))
    }

    /// Constant chord: where a rack's tooth space touches both flanks when the
    /// pitch point is in the middle; the same for every tooth count.
    /// s_c = s_n cos² α_n, h_c = h_a − ½ s_n sin α_n cos α_n.
    pub fn constant_chord(&self) -> Chord {
        let (sin, cos) = self.toothing().rack().pressure_angle_rad.sin_cos();
        let arc_mm = self.normal_thickness_mm();
        Chord {
            thickness_mm: arc_mm * cos * cos,
            height_mm: (self.tip_mm() - self.reference_mm()) / 2.0 - arc_mm / 2.0 * sin * cos,
        }
    }
}

/// The chord of an arc on a circle, and the height of a tip `above_mm` over
/// the arc's crown.
fn chord_of_arc(arc_mm: f64, radius_mm: f64, above_mm: f64) -> Chord {
    let half = arc_mm / (2.0 * radius_mm);
    // 1 − cos loses digits on large gears; 2 sin² of the half does not.
    let crown = 2.0 * radius_mm * (half / 2.0).sin().powi(2);
    Chord {
        thickness_mm: 2.0 * radius_mm * half.sin(),
        height_mm: above_mm + crown,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 3.14: GMTH Table 10-4: m_t 4, β 22.5°, z 20, h_a 4.7184.
    #[test]
    fn chord_of_a_published_helical_tooth() {
        let normal_module = 4.0 * 22.5_f64.to_radians().cos();
        let got = chord_of_arc(6.6119, normal_module * 25.3620 / 2.0, 4.7184);
        assert!((got.thickness_mm - 6.6065).abs() < 1e-4);
        assert!((got.height_mm - 4.8350).abs() < 1e-4);
    }

    // Row 3.17: GMTH Table 10-2: rack m 3, 4.7124 at 3.0000.
    #[test]
    fn a_rack_has_no_crown() {
        let got = chord_of_arc(std::f64::consts::PI * 1.5, 1e12, 3.0);
        assert!((got.thickness_mm - 4.7124).abs() < 1e-4);
        assert!((got.height_mm - 3.0).abs() < 1e-9);
    }
}

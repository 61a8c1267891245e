//! How flanks slide on each other.

use super::bracket::crossing;
use super::contact::Path;
use super::{Closing, Meshing};

/// Sliding where two flanks touch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sliding {
    /// Sliding speed per turning speed of the first gear, mm per radian: first
    /// flank's speed less the second's. Negative before the pitch point (the
    /// second flank is faster), positive after it.
    pub mm_per_rad: f64,
    /// Specific sliding ζ₁ of the first flank: sliding speed over its own
    /// rolling speed. Minus infinity at its base circle.
    pub first: f64,
    /// Specific sliding ζ₂ of the second flank.
    pub second: f64,
}

impl Meshing {
    /// Sliding at the place g (`place_mm`, 0 to [`Meshing::tangent_points_mm`])
    /// of the line of action: ζ₁ = 1 − ρ₂ z₁ / (ρ₁ z₂),
    /// ζ₂ = 1 − ρ₁ z₂ / (ρ₂ z₁) (ISO 21771).
    pub fn sliding(&self, place_mm: f64) -> Sliding {
        let [first, second] = self.gears();
        let slower = f64::from(first.teeth()) / f64::from(second.teeth());
        let rolling = place_mm.max(0.0);
        let mate_rolling = (self.tangent_points_mm() - place_mm).max(0.0) * slower;
        Sliding {
            mm_per_rad: rolling - mate_rolling,
            first: 1.0 - mate_rolling / rolling,
            second: 1.0 - rolling / mate_rolling,
        }
    }

    /// Sliding at both ends of a path of contact.
    pub fn sliding_at_ends(&self, path: &Path) -> [Sliding; 2] {
        [self.sliding(path.from_mm), self.sliding(path.to_mm)]
    }

    /// Angle (radians) through which the first gear turns while one of its
    /// teeth is in contact.
    pub fn contact_turn_rad(&self) -> f64 {
        self.path().length_mm() * 2.0 / self.gears()[0].base_mm()
    }
}

impl Closing {
    /// The x₁ at which the specific sliding at both ends of the path from tip
    /// to tip is the same: (T − g_A)(T − g_E) z₁² = g_A g_E z₂², which falls
    /// without poles as x₁ grows while both ends lie between the tangent
    /// points. None where they never do.
    pub fn balanced_first_shift(&self) -> Option<f64> {
        let far = Meshing::plain(self, 0.0).tangent_points_mm();
        // Where each end of the path reaches a tangent point: the tip lengths
        // are T there, which fixes the tip diameters.
        let from = self.shift_sum() - self.shift_with_tip_length(1, far);
        let to = self.shift_with_tip_length(0, far);
        if from > to {
            return None;
        }
        let [one, other] = self.teeth().map(f64::from);
        let excess = |first: f64| {
            let path = Meshing::plain(self, first).nominal_path();
            path.from_mm * path.to_mm * other * other
                - (far - path.from_mm) * (far - path.to_mm) * one * one
        };
        Some(crossing(excess, from, to))
    }

    /// The shift of gear `index` whose tip reaches `length_mm` along the base
    /// tangent.
    fn shift_with_tip_length(&self, index: usize, length_mm: f64) -> f64 {
        let gear = &self.plain_gears(0.0)[index];
        let tip_mm = 2.0 * (gear.base_mm() / 2.0).hypot(length_mm);
        let height = (tip_mm - gear.reference_mm()) / (2.0 * self.toothing().module_mm());
        height - self.toothing().rack().addendum - self.tip_shortening()
    }
}

#[cfg(test)]
mod tests {
    use crate::base::Teeth;
    use crate::involute::{Closing, Meshing, Rack, ShiftedGear, Toothing};

    fn standard(z: [u16; 2], module: f64, beta_deg: f64) -> Meshing {
        let toothing = Toothing::new(Rack::standard(20.0), module, beta_deg.to_radians()).unwrap();
        let gear = |z| ShiftedGear::new(toothing, Teeth::new(z), 0.0).unwrap();
        let [first, second] = z.map(gear);
        let centres = f64::midpoint(first.reference_mm(), second.reference_mm());
        Meshing::new(first, second, centres).unwrap()
    }

    // Row 2.16: TOM 12.4 (recomputed): 20/40, m 5, 1.2 m/s at the pitch circle.
    #[test]
    fn turn_and_sliding_of_a_textbook_pair() {
        let mesh = standard([20, 40], 5.0, 0.0);
        assert!((mesh.contact_turn_rad().to_degrees() - 29.433).abs() < 1e-3);
        let turning = 1200.0 / 50.0;
        let worst = mesh
            .sliding_at_ends(&mesh.path())
            .map(|end| end.mm_per_rad.abs() * turning)
            .into_iter()
            .fold(0.0, f64::max);
        assert!((worst - 455.27).abs() < 1e-2, "{worst}");
    }

    #[test]
    fn nothing_slides_at_the_pitch_point() {
        let mesh = standard([17, 54], 1.0, 12.0);
        let pitch = mesh.gears()[0].reference_mm() / 2.0 * mesh.working_angle_rad().sin();
        let there = mesh.sliding(pitch);
        for none in [there.mm_per_rad, there.first, there.second] {
            assert!(none.abs() < 1e-12, "{none}");
        }
    }

    #[test]
    fn a_swapped_pair_slides_the_same() {
        let toothing = Toothing::new(Rack::standard(20.0), 1.0, 0.2).unwrap();
        let teeth = [Teeth::new(19), Teeth::new(44)];
        let one = Closing::at_centres(toothing, teeth, 32.4).unwrap();
        let other = Closing::at_centres(toothing, [teeth[1], teeth[0]], 32.4).unwrap();
        let mesh = Meshing::closed(&one, 0.2).unwrap();
        let swapped = Meshing::closed(&other, one.shift_sum() - 0.2).unwrap();
        let [start, _] = mesh.sliding_at_ends(&mesh.path());
        let [_, end] = swapped.sliding_at_ends(&swapped.path());
        assert!((start.first - end.second).abs() < 1e-9);
        assert!((start.second - end.first).abs() < 1e-9);
    }
}

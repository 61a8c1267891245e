//! Two unshifted gears at a given centre distance.

use super::{Rack, involute};
use crate::base::{Module, Teeth};

/// A pair of unshifted gears, any centre distance.
#[derive(Clone, Copy, Debug)]
pub struct Pairing {
    /// Standard centre distance a₀ = m (z₁ + z₂) / (2 cos β), mm.
    pub standard_centres_mm: f64,
    transverse_angle_rad: f64,
}

impl Pairing {
    /// Gears with `tooth_sum` teeth together, normal module `module_mm`, helix
    /// angle `helix_rad` (radians).
    pub fn new(rack: &Rack, module_mm: f64, tooth_sum: u32, helix_rad: f64) -> Self {
        Self {
            standard_centres_mm: module_mm * f64::from(tooth_sum) / (2.0 * helix_rad.cos()),
            transverse_angle_rad: rack.transverse_angle_rad(helix_rad),
        }
    }

    /// Transverse backlash j_wt (mm) at the working circle when the shafts are
    /// `centres_mm` apart; negative when the teeth bind. None when the base
    /// circles overlap: cos α_wt = a₀ cos α_t / a must be below 1.
    ///
    /// j_wt = 2a (inv α_wt − inv α_t) for no shift (ISO 21771).
    pub fn backlash_mm(&self, centres_mm: f64) -> Option<f64> {
        let cos = self.standard_centres_mm * self.transverse_angle_rad.cos() / centres_mm;
        if cos >= 1.0 {
            return None;
        }
        let gap = centres_mm - self.standard_centres_mm;
        if gap.abs() < 1e-12 * centres_mm {
            // The same distance but for the last bits: no backlash, no binding.
            return Some(0.0);
        }
        let working = cos.acos();
        Some(2.0 * centres_mm * (involute(working) - involute(self.transverse_angle_rad)))
    }
}

/// [`Pairing::backlash_mm`] of one pair of gears.
pub fn backlash_at(
    rack: &Rack,
    module: Module,
    teeth: (Teeth, Teeth),
    helix_rad: f64,
    centres_mm: f64,
) -> Option<f64> {
    Pairing::new(rack, module.mm(), teeth.0.get() + teeth.1.get(), helix_rad)
        .backlash_mm(centres_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn standard_centres_have_no_backlash_and_closer_ones_bind() {
        let pair = Pairing::new(&Rack::standard(20.0), 1.0, 80, 0.0);
        assert!((pair.standard_centres_mm - 40.0).abs() < 1e-12);
        assert!(pair.backlash_mm(40.0).is_some_and(|j| j.abs() < 1e-15));
        assert!(pair.backlash_mm(39.9).is_some_and(|j| j < 0.0));
        assert!(pair.backlash_mm(30.0).is_none());
    }

    #[test]
    fn a_small_opening_gives_twice_its_tangent_component() {
        // First order: j ≈ 2 Δa tan α, a hundredth opened by a hundredth.
        let pair = Pairing::new(&Rack::standard(20.0), 0.8, 103, 0.0);
        let got = pair.backlash_mm(41.37).unwrap();
        let linear = 2.0 * 0.17 * 20_f64.to_radians().tan();
        assert!((got - linear).abs() < 0.003, "{got} {linear}");
        assert!(got > linear);
    }
}

//! Backlash, and how much thinner teeth must be to get it.

use super::closing::SAME_CENTRES;
use super::{Meshing, involute};

impl Meshing {
    /// Transverse backlash j_wt at the working circle, mm of arc; negative
    /// when the teeth bind:
    /// 2a [inv α_wt − inv α_t − 2 Σx tan α_n / (z₁ + z₂)] (ISO 21771), and the
    /// thinning of both gears there.
    pub fn backlash_mm(&self) -> f64 {
        let [first, second] = self.gears();
        let thinned = first.thinning().normal_mm() + second.thinning().normal_mm();
        let across = thinned / self.toothing().helix_cos();
        self.full_backlash_mm() + across * self.centres_mm() / self.standard_centres_mm()
    }

    /// Normal backlash j_bn = j_wt cos α_wt cos β_b, mm: what a feeler between
    /// the flanks shows.
    pub fn normal_backlash_mm(&self) -> f64 {
        self.as_normal_mm(self.backlash_mm())
    }

    /// j_wt of the full teeth. The last bits of the centres are no backlash:
    /// such teeth do not bind.
    fn full_backlash_mm(&self) -> f64 {
        let [first, second] = self.gears();
        let sum = f64::from(first.teeth()) + f64::from(second.teeth());
        let tan = self.toothing().normal_tan();
        let opened = involute(self.working_angle_rad()) - self.toothing().transverse_involute();
        let filled = 2.0 * (first.shift() + second.shift()) * tan / sum;
        let backlash = 2.0 * self.centres_mm() * (opened - filled);
        if backlash.abs() < SAME_CENTRES * self.centres_mm() {
            0.0
        } else {
            backlash
        }
    }

    fn as_normal_mm(&self, transverse_mm: f64) -> f64 {
        transverse_mm * self.working_angle_rad().cos() * self.toothing().base_helix_rad().cos()
    }

    /// Normal backlash to aim at without a better figure, mm:
    /// ⅔ (0.06 + 0.0005 a + 0.03 m_n) (from memory: gear-standard practice).
    pub fn usual_normal_backlash_mm(&self) -> f64 {
        2.0 / 3.0 * (0.06 + 0.0005 * self.centres_mm() + 0.03 * self.toothing().module_mm())
    }

    /// Thinning Δs_n of each gear, half of the whole, that brings the full
    /// teeth to the normal backlash `wanted_mm`; 0 where the centres alone give
    /// as much. One millimetre of Δs_n gives cos α_n of j_bn.
    pub fn thinning_for_mm(&self, wanted_mm: f64) -> f64 {
        let missing = wanted_mm - self.as_normal_mm(self.full_backlash_mm());
        let cos = self.toothing().rack().pressure_angle_rad.cos();
        (missing / cos).max(0.0) / 2.0
    }

    /// [`Meshing::thinning_for_mm`] of [`Meshing::usual_normal_backlash_mm`].
    pub fn usual_thinning_mm(&self) -> f64 {
        self.thinning_for_mm(self.usual_normal_backlash_mm())
    }
}

#[cfg(test)]
mod tests {
    use crate::base::Teeth;
    use crate::involute::{Closing, Meshing, Pairing, Rack, ShiftedGear, Thinning, Toothing};

    fn toothing(beta_deg: f64) -> Toothing {
        Toothing::new(Rack::standard(20.0), 0.8, beta_deg.to_radians()).unwrap()
    }

    fn unshifted(beta_deg: f64, centres_mm: f64) -> Meshing {
        let gear = |z| ShiftedGear::new(toothing(beta_deg), Teeth::new(z), 0.0).unwrap();
        Meshing::new(gear(35), gear(68), centres_mm).unwrap()
    }

    #[test]
    fn unshifted_gears_have_the_backlash_of_a_pairing() {
        for beta in [0.0, 5.196] {
            let old = Pairing::new(toothing(beta).rack(), 0.8, 103, toothing(beta).helix_rad());
            for step in -20..=20 {
                let centres = old.standard_centres_mm + f64::from(step) * 0.02;
                let was = old.backlash_mm(centres).unwrap();
                let is = unshifted(beta, centres).backlash_mm();
                assert!((is - was).abs() < 1e-11, "{beta} {step}: {is} {was}");
            }
        }
    }

    #[test]
    fn the_last_bits_of_the_centres_are_no_backlash() {
        let centres = unshifted(0.0, 41.2).standard_centres_mm();
        for near in [centres, centres.next_up(), centres.next_down()] {
            assert!(unshifted(0.0, near).backlash_mm().abs() < 1e-300);
        }
    }

    #[test]
    fn closed_meshes_have_the_backlash_of_their_thinning() {
        for beta in [0.0, 17.0] {
            let teeth = [Teeth::new(21), Teeth::new(40)];
            let closing = Closing::at_centres(toothing(beta), teeth, 25.9).unwrap();
            let mesh = Meshing::closed(&closing, 0.1).unwrap();
            assert!(mesh.backlash_mm().abs() < 1e-12);
            let wanted = mesh.usual_normal_backlash_mm();
            let amount = mesh.usual_thinning_mm();
            assert!(amount > 0.0);
            for thinning in [Thinning::ByDepth(amount), Thinning::BySide(amount)] {
                let gears = mesh
                    .gears()
                    .map(|gear| gear.with_thinning(thinning).unwrap());
                let thinned = mesh.with_gears(gears).unwrap();
                assert!((thinned.normal_backlash_mm() - wanted).abs() < 1e-12);
                // What is missing does not depend on what is already thinned.
                assert!((thinned.usual_thinning_mm() - amount).abs() < 1e-15);
            }
        }
    }

    #[test]
    fn wide_centres_need_no_thinning() {
        let mesh = unshifted(0.0, 41.7);
        assert!(mesh.normal_backlash_mm() > mesh.usual_normal_backlash_mm());
        assert!(mesh.usual_thinning_mm().abs() < 1e-300);
    }

    #[test]
    fn thinner_teeth_are_thinner_at_the_working_circles() {
        // Independent of the formula: space less tooth on both working circles.
        let teeth = [Teeth::new(21), Teeth::new(40)];
        let closing = Closing::at_centres(toothing(11.0), teeth, 25.6).unwrap();
        let mesh = Meshing::closed(&closing, 0.1).unwrap();
        let gears = mesh
            .gears()
            .map(|gear| gear.with_thinning(Thinning::ByDepth(0.03)).unwrap());
        let mesh = mesh.with_gears(gears).unwrap();
        let working = 2.0 * 25.6 / 61.0;
        let thick: f64 = mesh
            .gears()
            .iter()
            .map(|gear| {
                gear.thickness_at_mm(working * f64::from(gear.teeth()))
                    .unwrap()
            })
            .sum();
        let play = std::f64::consts::PI * working - thick;
        assert!((mesh.backlash_mm() - play).abs() < 1e-12);
    }
}

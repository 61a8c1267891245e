//! Which shifts close a mesh at a centre distance.

use super::fault::{GeometryFault, within};
use super::{ShiftedGear, Toothing, inverse_involute, involute};
use crate::base::Teeth;

/// Centre distances that differ by less than this part are one: the last bits
/// of a double are neither shift nor backlash.
pub(super) const SAME_CENTRES: f64 = 1e-12;

/// Two tooth counts at a centre distance, closed by profile shift: without
/// backlash at full teeth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closing {
    toothing: Toothing,
    teeth: [Teeth; 2],
    centres_mm: f64,
    standard_centres_mm: f64,
    working_angle_rad: f64,
    shift_sum: f64,
    tip_shortening: f64,
}

impl Closing {
    /// The mesh of `teeth` on shafts `centres_mm` apart (0 to 100 000 mm).
    /// cos α_wt = a₀ cos α_t / a,
    /// Σx = (z₁ + z₂)(inv α_wt − inv α_t) / (2 tan α_n),
    /// k = (a − a₀) / m_n − Σx (ISO 21771).
    ///
    /// # Errors
    /// Centres outside the range or so close that the base circles overlap.
    pub fn at_centres(
        toothing: Toothing,
        teeth: [Teeth; 2],
        centres_mm: f64,
    ) -> Result<Self, GeometryFault> {
        let standard_centres_mm = standard_centres_mm(&toothing, teeth);
        let working_angle_rad = working_angle_rad(&toothing, standard_centres_mm, centres_mm)?;
        let gap = centres_mm - standard_centres_mm;
        let (shift_sum, tip_shortening) = if gap.abs() < SAME_CENTRES * centres_mm {
            (0.0, 0.0)
        } else {
            let opened = involute(working_angle_rad) - toothing.transverse_involute();
            let sum = sum_of(teeth) * opened / (2.0 * toothing.normal_tan());
            (sum, (gap / toothing.module_mm() - sum).min(0.0))
        };
        Ok(Self {
            toothing,
            teeth,
            centres_mm,
            standard_centres_mm,
            working_angle_rad,
            shift_sum,
            tip_shortening,
        })
    }

    /// The mesh that shifts of the sum `shift_sum` close: the inverse of
    /// [`Closing::at_centres`].
    ///
    /// # Errors
    /// A sum so negative that no working angle belongs to it.
    pub fn from_shift_sum(
        toothing: Toothing,
        teeth: [Teeth; 2],
        shift_sum: f64,
    ) -> Result<Self, GeometryFault> {
        let tan = toothing.normal_tan();
        let least = -toothing.transverse_involute() * sum_of(teeth) / (2.0 * tan);
        within("the sum of the profile shifts", shift_sum, (least, 6.0))?;
        let value = toothing.transverse_involute() + 2.0 * shift_sum * tan / sum_of(teeth);
        let standard = standard_centres_mm(&toothing, teeth);
        let working = inverse_involute(value.max(0.0)).unwrap_or(0.0);
        Self::at_centres(
            toothing,
            teeth,
            standard * toothing.transverse_cos() / working.cos(),
        )
    }

    /// The two gears when the first takes the shift `first` and the second
    /// what is left of the sum.
    ///
    /// # Errors
    /// A gear that cannot exist ([`ShiftedGear::new`]).
    pub fn gears(&self, first: f64) -> Result<[ShiftedGear; 2], GeometryFault> {
        let [one, other] = self.plain_gears(first);
        let checked = |gear: ShiftedGear| {
            ShiftedGear::new(self.toothing, gear.teeth(), gear.shift())?
                .with_tip_shortening(self.tip_shortening)
        };
        Ok([checked(one)?, checked(other)?])
    }

    pub(super) fn plain_gears(&self, first: f64) -> [ShiftedGear; 2] {
        let gear = |teeth, shift| {
            ShiftedGear::plain(self.toothing, teeth, shift).shortened(self.tip_shortening)
        };
        [
            gear(self.teeth[0], first),
            gear(self.teeth[1], self.shift_sum - first),
        ]
    }

    /// Rack, module and helix angle.
    pub fn toothing(&self) -> &Toothing {
        &self.toothing
    }

    /// Tooth counts, first and second gear.
    pub fn teeth(&self) -> [Teeth; 2] {
        self.teeth
    }

    /// Centre distance a, mm.
    pub fn centres_mm(&self) -> f64 {
        self.centres_mm
    }

    /// Centre distance a₀ of the unshifted gears, mm.
    pub fn standard_centres_mm(&self) -> f64 {
        self.standard_centres_mm
    }

    /// Transverse working angle α_wt, radians.
    pub fn working_angle_rad(&self) -> f64 {
        self.working_angle_rad
    }

    /// Sum of the shifts Σx, modules.
    pub fn shift_sum(&self) -> f64 {
        self.shift_sum
    }

    /// Tip shortening k of both gears, modules, 0 or negative: it keeps the
    /// rack's clearance at both roots.
    pub fn tip_shortening(&self) -> f64 {
        self.tip_shortening
    }
}

fn sum_of(teeth: [Teeth; 2]) -> f64 {
    f64::from(teeth[0]) + f64::from(teeth[1])
}

/// a₀ = m_t (z₁ + z₂) / 2, mm.
pub(super) fn standard_centres_mm(toothing: &Toothing, teeth: [Teeth; 2]) -> f64 {
    toothing.transverse_module_mm() * sum_of(teeth) / 2.0
}

/// α_wt, radians.
pub(super) fn working_angle_rad(
    toothing: &Toothing,
    standard_centres_mm: f64,
    centres_mm: f64,
) -> Result<f64, GeometryFault> {
    within("the centre distance, mm,", centres_mm, (0.0, 1e5))?;
    let over_mm = standard_centres_mm * toothing.transverse_cos();
    if over_mm >= centres_mm {
        return Err(GeometryFault::BasesOverlap {
            centres_mm,
            over_mm,
        });
    }
    Ok((over_mm / centres_mm).acos())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::involute::{Pairing, Rack};

    fn toothing(alpha: f64, module: f64, beta_deg: f64) -> Toothing {
        Toothing::new(Rack::standard(alpha), module, beta_deg.to_radians()).unwrap()
    }

    fn teeth(first: u16, second: u16) -> [Teeth; 2] {
        [Teeth::new(first), Teeth::new(second)]
    }

    // Row 2.04: GMTH Table 4-3, and its note: a = 56.5.
    #[test]
    fn centres_and_shifts_of_a_published_pair() {
        let spur = toothing(20.0, 3.0, 0.0);
        let pair = Closing::from_shift_sum(spur, teeth(12, 24), 0.96).unwrap();
        assert!((pair.centres_mm() - 56.49987).abs() < 1e-4);
        assert!((pair.working_angle_rad().to_degrees() - 26.08856).abs() < 1e-4);
        assert!((involute(pair.working_angle_rad()) - 0.034_316).abs() < 1e-6);
        let rounded = Closing::at_centres(spur, teeth(12, 24), 56.5).unwrap();
        assert!((rounded.working_angle_rad().to_degrees() - 26.08883).abs() < 1e-4);
        assert!((rounded.shift_sum() - 0.96006).abs() < 1e-5);
        let y = (pair.centres_mm() - pair.standard_centres_mm()) / 3.0;
        assert!((y - 0.83329).abs() < 1e-5);
        assert!((pair.tip_shortening() - (y - 0.96)).abs() < 1e-9);
    }

    // Row 2.06: GMTH Table 6-3, dimensions in the transverse plane: a helical
    // pair has the transverse section of a spur pair.
    #[test]
    fn centres_of_a_published_helical_pair() {
        let beta = 30_f64.to_radians();
        let normal = (20_f64.to_radians().tan() * beta.cos()).atan().to_degrees();
        let helical = toothing(normal, 3.0 * beta.cos(), 30.0);
        // x_t m_t = x_n m_n.
        let sum = 0.34462 / beta.cos();
        let pair = Closing::from_shift_sum(helical, teeth(12, 60), sum).unwrap();
        assert!((pair.centres_mm() - 109.0).abs() < 1e-4);
        assert!((pair.working_angle_rad().to_degrees() - 21.3975).abs() < 1e-4);
        assert!((involute(pair.working_angle_rad()) - 0.018_389).abs() < 1e-6);
    }

    // Row 2.08: worksheet.
    #[test]
    fn centres_of_a_published_large_pair() {
        let pair = Closing::from_shift_sum(toothing(20.0, 16.0, 0.0), teeth(30, 78), 0.05).unwrap();
        assert!((involute(pair.working_angle_rad()) - 0.015_241_39).abs() < 1e-8);
        assert!((pair.working_angle_rad().to_degrees() - 20.1446).abs() < 1e-4);
        assert!((pair.centres_mm() - 864.7972).abs() < 1e-4);
    }

    #[test]
    fn centres_and_sums_are_inverses() {
        for (alpha, beta) in [(14.5, 0.0), (20.0, 0.0), (20.0, 25.0), (25.0, 10.0)] {
            let toothing = toothing(alpha, 0.8, beta);
            let standard = standard_centres_mm(&toothing, teeth(17, 54));
            let mut before = f64::NEG_INFINITY;
            for step in -40..=100 {
                let centres = standard + f64::from(step) * 0.01;
                let pair = Closing::at_centres(toothing, teeth(17, 54), centres).unwrap();
                assert!(pair.shift_sum() > before);
                before = pair.shift_sum();
                assert!(pair.tip_shortening() <= 0.0);
                let back = Closing::from_shift_sum(toothing, teeth(17, 54), before).unwrap();
                assert!((back.centres_mm() - centres).abs() < 1e-9, "{alpha} {step}");
            }
        }
    }

    #[test]
    fn the_standard_distance_needs_no_shift() {
        for beta in [0.0, 7.3, 22.0] {
            let toothing = toothing(20.0, 0.7, beta);
            let old = Pairing::new(toothing.rack(), 0.7, 71, toothing.helix_rad());
            let centres = old.standard_centres_mm;
            for last_bits in [centres, centres.next_up(), centres.next_down()] {
                let pair = Closing::at_centres(toothing, teeth(17, 54), last_bits).unwrap();
                assert!(pair.shift_sum().abs() < 1e-300 && pair.tip_shortening().abs() < 1e-300);
            }
        }
    }

    #[test]
    fn shafts_too_close_are_refused() {
        let got = Closing::at_centres(toothing(20.0, 1.0, 0.0), teeth(25, 55), 37.5);
        assert!(matches!(
            got,
            Err(GeometryFault::BasesOverlap { over_mm, .. }) if (over_mm - 37.5877).abs() < 1e-4
        ));
    }
}

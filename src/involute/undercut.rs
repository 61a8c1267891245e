//! The least shift that keeps the whole flank.

use super::{ShiftedGear, Toothing};
use crate::base::Teeth;

/// Shifts this close are one.
const LAST_BITS: f64 = 1e-12;

impl ShiftedGear {
    /// Least shift without undercut, x_min = h* − z sin² α_t / (2 cos β).
    pub fn least_shift(&self) -> f64 {
        least_shift(self.toothing(), self.teeth())
    }

    /// The shift for a gear whose centre distance is free: the one nearest 0
    /// from `least` to `most`, and at x_min or above unless undercut is
    /// allowed. None where no such shift is left. Bounds that pass each other
    /// by no more than rounding leave one shift.
    pub fn free_shift(
        toothing: &Toothing,
        teeth: Teeth,
        (least, most): (f64, f64),
        undercut_allowed: bool,
    ) -> Option<f64> {
        let uncut = if undercut_allowed {
            f64::NEG_INFINITY
        } else {
            least_shift(toothing, teeth)
        };
        let from = least.max(uncut);
        // A comparison that no NaN passes.
        (from - LAST_BITS <= most).then(|| 0.0_f64.max(from).min(most))
    }
}

/// x_min of `teeth` teeth.
pub(super) fn least_shift(toothing: &Toothing, teeth: Teeth) -> f64 {
    let sin = toothing.transverse_sin();
    toothing.straight_flank() - f64::from(teeth) * sin * sin / (2.0 * toothing.helix_cos())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::involute::Rack;

    fn free(z: u16, bounds: (f64, f64), undercut_allowed: bool) -> Option<f64> {
        let toothing = Toothing::new(Rack::standard(20.0), 1.0, 0.0).unwrap();
        ShiftedGear::free_shift(&toothing, Teeth::new(z), bounds, undercut_allowed)
    }

    #[test]
    fn a_free_gear_is_shifted_no_more_than_it_must() {
        let zero = |shift: Option<f64>| shift.is_some_and(|x| x.abs() < 1e-300);
        assert!(zero(free(18, (-0.3, 0.6), false)));
        assert!(zero(free(12, (-0.3, 0.6), true)));
        // 12 teeth need 1 − 12 sin² 20° / 2 = 0.298133, less the 0.000032 that a
        // fillet of 0.38 leaves of h* = 1.
        let least = free(12, (-0.3, 0.6), false).unwrap();
        assert!((least - 0.298_101).abs() < 1e-6, "{least}");
        // Bounds that leave 0 out.
        assert_eq!(free(30, (0.1, 0.6), false), Some(0.1));
        assert_eq!(free(30, (-0.3, -0.1), false), Some(-0.1));
    }

    #[test]
    fn where_no_shift_is_left_there_is_none() {
        assert_eq!(free(12, (-0.3, 0.29), false), None);
        assert_eq!(free(12, (0.0, 0.0), false), None);
        assert_eq!(free(30, (0.2, 0.1), true), None);
        assert_eq!(free(30, (f64::NAN, f64::NAN), true), None);
        // One shift where the bounds meet but for their last bits.
        let least = free(12, (-0.3, 0.6), false).unwrap();
        let met = free(12, (-0.3, least.next_down()), false);
        assert_eq!(met, Some(least.next_down()));
    }
}

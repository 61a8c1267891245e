//! Sizes of one unshifted gear.

use super::Rack;
use crate::base::{Module, Teeth};

/// Outside diameter of a blank in whole micrometres, rounded half up: the
/// figure that volume, stock and the lathe use.
pub type Blank = u64;

/// Diameters of an unshifted gear, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearSize {
    /// Reference (pitch) diameter d.
    pub pitch_mm: f64,
    /// Tip diameter d_a, not rounded.
    pub tip_mm: f64,
    /// Root diameter d_f.
    pub root_mm: f64,
}

impl GearSize {
    /// Sizes of a gear of normal module `module`, `teeth` and helix angle
    /// `helix_rad` (radians): d = m z / cos β, d_a = d + 2 h_aP* m,
    /// d_f = d − 2 h_fP* m (ISO 21771).
    pub fn new(rack: &Rack, module: Module, teeth: Teeth, helix_rad: f64) -> Self {
        let m = module.mm();
        let pitch_mm = m * f64::from(teeth) / helix_rad.cos();
        Self {
            pitch_mm,
            tip_mm: m * (f64::from(teeth) / helix_rad.cos() + 2.0 * rack.addendum),
            root_mm: pitch_mm - 2.0 * rack.dedendum * m,
        }
    }
}

/// Outside diameter of the blank in µm, half up. Exact for spur gears with
/// h_aP* = 1, whose tip diameter m (z + 2) is a fraction.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "tip diameters are positive and below 10^9 µm"
)]
pub fn blank_um(rack: &Rack, module: Module, teeth: Teeth, helix_rad: f64) -> Blank {
    if helix_rad.abs() < f64::EPSILON && (rack.addendum - 1.0).abs() < f64::EPSILON {
        let (n, d) = module.fraction();
        let (n, d) = (n.unsigned_abs(), d.unsigned_abs());
        let twice = 2000 * n * u64::from(teeth.get() + 2);
        (twice + d) / (2 * d)
    } else {
        let tip_mm = GearSize::new(rack, module, teeth, helix_rad).tip_mm;
        (tip_mm * 1000.0 + 0.5).floor() as u64
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Decimal;

    fn module(text: &str) -> Module {
        Module::metric(Decimal::parse(text).unwrap())
    }

    // Row 2.02, GMTH Table 4-1: spur m 3, z 12/24.
    #[test]
    fn published_diameters_of_a_standard_pair() {
        let rack = Rack::standard(20.0);
        for (z, d, da, df) in [(12, 36.0, 42.0, 28.5), (24, 72.0, 78.0, 64.5)] {
            let size = GearSize::new(&rack, module("3"), Teeth::new(z), 0.0);
            assert!((size.pitch_mm - d).abs() < 1e-9);
            assert!((size.tip_mm - da).abs() < 1e-9);
            assert!((size.root_mm - df).abs() < 1e-9);
        }
    }

    #[test]
    fn blanks_round_half_up_exactly() {
        let rack = Rack::standard(20.0);
        // 0.3175 × 3 = 0.9525 mm: a half, up.
        assert_eq!(blank_um(&rack, module("0.3175"), Teeth::new(1), 0.0), 953);
        // Module 25.4/80 is the same 0.3175.
        let pitch = Module::from_diametral_pitch(Decimal::whole(80));
        assert_eq!(blank_um(&rack, pitch, Teeth::new(1), 0.0), 953);
        assert_eq!(blank_um(&rack, module("0.8"), Teeth::new(35), 0.0), 29_600);
        // Helical: 1 × (20 / cos 30° + 2) = 25.094010767…
        assert_eq!(
            blank_um(&rack, module("1"), Teeth::new(20), 30_f64.to_radians()),
            25_094
        );
    }
}

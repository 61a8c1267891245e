//! Lengths of unshifted gears of one module, measured from their tooth counts.

use crate::base::{Length, Module, Teeth};
use crate::involute::involute;
use crate::problem::Gears;

/// What turns tooth counts of one module into lengths. For spur gears with
/// addenda of one module all of them are fractions, and differences are taken
/// exactly before they become doubles.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ruler {
    module: Module,
    helix_rad: f64,
    pressure_angle_rad: f64,
    addendum: f64,
}

impl Ruler {
    pub(super) fn new(gears: &Gears, module: Module) -> Self {
        Self {
            module,
            helix_rad: gears.helix_angle_deg().to_radians(),
            pressure_angle_rad: gears.rack().pressure_angle_rad,
            addendum: gears.rack().addendum,
        }
    }

    fn is_exact(&self) -> bool {
        self.helix_rad.abs() < f64::EPSILON && (self.addendum - 1.0).abs() < f64::EPSILON
    }

    /// m (`teeth` / cos β + `addenda` · `h_aP`*) / 2, mm.
    pub(super) fn half_mm(&self, teeth: u32, addenda: u32) -> f64 {
        let parts = f64::from(teeth) / self.helix_rad.cos() + f64::from(addenda) * self.addendum;
        self.module.mm() * parts / 2.0
    }

    /// [`Ruler::half_mm`] less `length`, mm.
    #[allow(
        clippy::cast_precision_loss,
        reason = "an exact difference, rounded once"
    )]
    pub(super) fn half_beyond_mm(&self, teeth: u32, addenda: u32, length: Length) -> f64 {
        if !self.is_exact() {
            return self.half_mm(teeth, addenda) - length.mm();
        }
        let steps_per_mm = 1_000_000_000_i128;
        let (n, d) = self.module.fraction();
        let (n, d) = (i128::from(n), i128::from(d));
        let half = n * i128::from(teeth + addenda) * steps_per_mm;
        let difference = half - 2 * d * i128::from(length.steps());
        difference as f64 / (2 * d * steps_per_mm) as f64
    }

    /// Outside diameter of a blank in whole µm, half up.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "diameters are positive and below 10^9 µm"
    )]
    pub(super) fn blank_um(&self, teeth: Teeth) -> u64 {
        if !self.is_exact() {
            return (2000.0 * self.half_mm(teeth.get(), 2) + 0.5).floor() as u64;
        }
        let (n, d) = self.module.fraction();
        let (n, d) = (i128::from(n), i128::from(d));
        let um = 1000 * n * i128::from(teeth.get() + 2);
        ((2 * um + d) / (2 * d)) as u64
    }

    /// Transverse backlash (mm) at the working circle: what the two teeth leave
    /// of the pitch there. None when the base circles overlap.
    ///
    /// With the working diameters `d_w` = 2 a z / (z₁ + z₂), the tooth thickness
    /// there is `d_w` (π / 2z + inv `α_t` − inv `α_wt`).
    pub(super) fn backlash_mm(&self, driver: Teeth, driven: Teeth, centres: Length) -> Option<f64> {
        let sum = driver.get() + driven.get();
        let standing = (self.pressure_angle_rad.tan() / self.helix_rad.cos()).atan();
        let cos = self.half_mm(sum, 0) * standing.cos() / centres.mm();
        if cos >= 1.0 {
            return None;
        }
        let thinner = involute(cos.acos()) - involute(standing);
        let diameter = |z: Teeth| 2.0 * centres.mm() * f64::from(z) / f64::from(sum);
        let pitch = std::f64::consts::PI * diameter(driver) / f64::from(driver);
        let thickness =
            |z: Teeth| diameter(z) * (std::f64::consts::FRAC_PI_2 / f64::from(z) - thinner);
        Some(pitch - thickness(driver) - thickness(driven))
    }
}

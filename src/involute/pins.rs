//! Size over two pins or balls laid in opposite spaces.

use super::bracket::crossing;
use super::shifted::tangent_mm;
use super::{ShiftedGear, inverse_involute, involute};
use std::f64::consts::{FRAC_PI_2, PI};
use std::fmt;

/// A size over two pins, or balls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverPins {
    /// Pin diameter D_M, mm.
    pub pin_mm: f64,
    /// Size M over both pins, mm.
    pub size_mm: f64,
    /// Diameter d_K of the circle through the pins' centres, mm.
    pub centres_mm: f64,
    /// Diameter on which the pins touch the flanks, mm.
    pub contact_mm: f64,
}

/// Why a pin cannot measure a gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PinFault {
    /// No such pin.
    NoSize,
    /// It falls to the bottom of the space without touching both flanks.
    TooThin,
    /// It touches below the part of the flank that it may touch.
    TooLow,
    /// It touches above the part of the flank that it may touch.
    TooHigh,
    /// It does not stand out beyond the tips.
    BelowTips,
}

impl fmt::Display for PinFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoSize => "a pin needs a diameter above 0; give another",
            Self::TooThin => "the pin falls to the bottom of the space; take a thicker one",
            Self::TooLow => "the pin touches below the working flank; take a thicker one",
            Self::TooHigh => "the pin touches above the working flank; take a thinner one",
            Self::BelowTips => "the pin does not stand out beyond the tips; take a thicker one",
        })
    }
}

impl std::error::Error for PinFault {}

impl ShiftedGear {
    /// Size over two pins of diameter D_M (`pin_mm`) at the gear's thinning:
    /// inv α_Kt = inv α_t + D_M / (z m_n cos α_n) − (π/2 − 2 x tan α_n + Δs_n/m_n) / z,
    /// d_K = d_b / cos α_Kt, M = d_K + D_M for an even count,
    /// d_K cos(π / 2z) + D_M for an odd one (ISO 21771). Helical gears with an
    /// odd count: balls, or pins held in one transverse plane.
    ///
    /// `flank_mm` is the part of the flank the pins may touch, two diameters
    /// ([`ShiftedGear::flank_mm`], or the active flank of a mesh).
    ///
    /// # Errors
    /// A pin that does not lie on both flanks there, on the root instead, or
    /// below the tips.
    pub fn over_pins(&self, pin_mm: f64, flank_mm: (f64, f64)) -> Result<OverPins, PinFault> {
        if !(pin_mm > 0.0 && pin_mm.is_finite()) {
            return Err(PinFault::NoSize);
        }
        let across = pin_mm / (self.base_mm() * self.base_helix_cos());
        let value = self.half_space_involute() + across;
        let alpha = inverse_involute(value).ok_or(PinFault::TooThin)?;
        let centres_mm = self.base_mm() / alpha.cos();
        let length = self.base_mm() / 2.0 * alpha.tan() - pin_mm / 2.0 * self.base_helix_cos();
        let contact_mm = self.base_mm().hypot(2.0 * length);
        let (from_mm, to_mm) = flank_mm;
        if centres_mm - pin_mm <= self.root_mm() {
            return Err(PinFault::TooThin);
        }
        if length < 0.0 || contact_mm < from_mm {
            return Err(PinFault::TooLow);
        }
        if contact_mm > to_mm {
            return Err(PinFault::TooHigh);
        }
        let size_mm = centres_mm * self.opposite() + pin_mm;
        if size_mm <= self.tip_mm() * self.opposite() || centres_mm + pin_mm <= self.tip_mm() {
            return Err(PinFault::BelowTips);
        }
        Ok(OverPins {
            pin_mm,
            size_mm,
            centres_mm,
            contact_mm,
        })
    }

    /// Diameter of the pin that touches the flanks on a circle of
    /// `contact_mm`, at the gear's thinning; d + 2 x m_n is the circle to aim
    /// at. None inside the base circle.
    ///
    /// The centre's angle follows from
    /// sin² β_b tan α_K + cos² β_b α_K = tan α_c − cos² β_b (inv α_t − η),
    /// η half the space's angle at the reference circle (ISO 21771).
    pub fn pin_touching_mm(&self, contact_mm: f64) -> Option<f64> {
        if contact_mm < self.base_mm() {
            return None;
        }
        let touch = 2.0 * tangent_mm(self.base_mm(), contact_mm) / self.base_mm();
        let cos2 = self.base_helix_cos().powi(2);
        let wanted = touch - cos2 * self.half_space_involute();
        let rises = |alpha: f64| (1.0 - cos2) * alpha.tan() + cos2 * alpha - wanted;
        let alpha = crossing(rises, 0.0, FRAC_PI_2 - 1e-9);
        let across = involute(alpha) - self.half_space_involute();
        Some(across * self.base_mm() * self.base_helix_cos())
    }

    /// Pin that touches on the circle d + 2 x m_n, mm. None where that circle
    /// lies inside the base circle.
    pub fn best_pin_mm(&self) -> Option<f64> {
        let aim = self.reference_mm() + 2.0 * self.shift() * self.toothing().module_mm();
        self.pin_touching_mm(aim)
    }

    /// Of `pins_mm`, the one that measures this gear and touches nearest the
    /// circle d + 2 x m_n. None where none of them does.
    pub fn over_best_of(&self, pins_mm: &[f64], flank_mm: (f64, f64)) -> Option<OverPins> {
        let aim = self.reference_mm() + 2.0 * self.shift() * self.toothing().module_mm();
        let off = |size: &OverPins| (size.contact_mm - aim).abs();
        pins_mm
            .iter()
            .filter_map(|pin_mm| self.over_pins(*pin_mm, flank_mm).ok())
            .min_by(|one, other| off(one).total_cmp(&off(other)))
    }

    /// inv α_t less half the space's angle at the reference circle.
    fn half_space_involute(&self) -> f64 {
        let tooth = self.thickness_mm() / self.reference_mm();
        let space = PI / f64::from(self.teeth()) - tooth;
        self.toothing().transverse_involute() - space
    }

    fn base_helix_cos(&self) -> f64 {
        self.toothing().base_helix_rad().cos()
    }

    /// What is left of a diameter across the nearest to opposite spaces.
    fn opposite(&self) -> f64 {
        let z = self.teeth().get();
        if z.is_multiple_of(2) {
            1.0
        } else {
            (FRAC_PI_2 / f64::from(z)).cos()
        }
    }
}

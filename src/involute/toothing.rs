//! What two gears that mesh have in common.

use super::fault::{GeometryFault, within};
use super::{Rack, involute};
use std::f64::consts::PI;

/// Rack, normal module and helix angle: what gears share that mesh. External
/// gears on parallel axes: the helix angles have the same size, the hands are
/// opposite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Toothing {
    rack: Rack,
    module_mm: f64,
    helix_rad: f64,
    angles: Angles,
}

/// What every figure of a gear asks of its angles, worked out once: a search
/// asks for tens of thousands of splits.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Angles {
    normal_tan: f64,
    helix_cos: f64,
    transverse_rad: f64,
    transverse_sin: f64,
    transverse_cos: f64,
    transverse_involute: f64,
    base_helix_rad: f64,
    straight_flank: f64,
}

impl Angles {
    fn of(rack: &Rack, helix_rad: f64) -> Self {
        let transverse_rad = rack.transverse_angle_rad(helix_rad);
        let (transverse_sin, transverse_cos) = transverse_rad.sin_cos();
        Self {
            normal_tan: rack.pressure_angle_rad.tan(),
            helix_cos: helix_rad.cos(),
            transverse_rad,
            transverse_sin,
            transverse_cos,
            transverse_involute: involute(transverse_rad),
            base_helix_rad: (helix_rad.tan() * transverse_cos).atan(),
            straight_flank: rack.straight_flank(),
        }
    }
}

impl Toothing {
    /// Teeth of `rack` with normal module m_n (`module_mm`, 0.01 to 110 mm)
    /// and helix angle β (`helix_rad`, radians, 0 to 60°, 0 for spur gears).
    ///
    /// # Errors
    /// A figure outside these ranges.
    pub fn new(rack: Rack, module_mm: f64, helix_rad: f64) -> Result<Self, GeometryFault> {
        within("the module, mm,", module_mm, (0.01, 110.0))?;
        within(
            "the helix angle, degrees,",
            helix_rad.to_degrees(),
            (0.0, 60.0),
        )?;
        Ok(Self {
            rack,
            module_mm,
            helix_rad,
            angles: Angles::of(&rack, helix_rad),
        })
    }

    /// The basic rack, in the normal section.
    pub fn rack(&self) -> &Rack {
        &self.rack
    }

    /// Normal module m_n, mm.
    pub fn module_mm(&self) -> f64 {
        self.module_mm
    }

    /// Helix angle β at the reference circle, radians.
    pub fn helix_rad(&self) -> f64 {
        self.helix_rad
    }

    /// Transverse module m_t = m_n / cos β, mm.
    pub fn transverse_module_mm(&self) -> f64 {
        self.module_mm / self.angles.helix_cos
    }

    /// Transverse pressure angle α_t, radians: tan α_t = tan α_n / cos β.
    pub fn transverse_angle_rad(&self) -> f64 {
        self.angles.transverse_rad
    }

    pub(super) fn transverse_sin(&self) -> f64 {
        self.angles.transverse_sin
    }

    pub(super) fn transverse_cos(&self) -> f64 {
        self.angles.transverse_cos
    }

    /// inv α_t.
    pub(super) fn transverse_involute(&self) -> f64 {
        self.angles.transverse_involute
    }

    /// tan α_n.
    pub(super) fn normal_tan(&self) -> f64 {
        self.angles.normal_tan
    }

    /// cos β.
    pub(super) fn helix_cos(&self) -> f64 {
        self.angles.helix_cos
    }

    /// h*, modules.
    pub(super) fn straight_flank(&self) -> f64 {
        self.angles.straight_flank
    }

    /// Base helix angle β_b, radians: tan β_b = tan β cos α_t.
    pub fn base_helix_rad(&self) -> f64 {
        self.angles.base_helix_rad
    }

    /// Transverse base pitch p_bt = π m_t cos α_t, mm: the way along the line
    /// of action from one tooth to the next.
    pub fn base_pitch_mm(&self) -> f64 {
        PI * self.transverse_module_mm() * self.angles.transverse_cos
    }

    /// Overlap ratio ε_β = b sin β / (π m_n) of a face width b
    /// (`face_width_mm`, 0 up).
    pub fn overlap_ratio(&self, face_width_mm: f64) -> f64 {
        face_width_mm * self.helix_rad.sin() / (PI * self.module_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 2.18: helical m_n 3, β 15°, b 30: ε_β 0.8238 (ISO 21771).
    #[test]
    fn overlap_of_a_published_helical_gear() {
        let helical = Toothing::new(Rack::standard(20.0), 3.0, 15_f64.to_radians()).unwrap();
        assert!((helical.overlap_ratio(30.0) - 0.8238).abs() < 1e-4);
    }

    #[test]
    fn the_base_helix_holds_its_other_formula() {
        // sin β_b = sin β cos α_n (ISO 21771).
        for beta in [0.0_f64, 5.0, 15.0, 30.0, 45.0] {
            let beta = beta.to_radians();
            let teeth = Toothing::new(Rack::standard(20.0), 1.0, beta).unwrap();
            let other = (beta.sin() * 20_f64.to_radians().cos()).asin();
            assert!((teeth.base_helix_rad() - other).abs() < 1e-15);
        }
    }

    #[test]
    fn nonsense_is_refused() {
        let rack = Rack::standard(20.0);
        for (module, beta) in [(0.0, 0.0), (f64::NAN, 0.0), (1.0, -0.1), (1.0, 1.2)] {
            assert!(Toothing::new(rack, module, beta).is_err());
        }
    }
}

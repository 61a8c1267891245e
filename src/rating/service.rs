//! What the duty and the make of the gears do to every mesh alike.

use super::agma;
use super::factor::Origin;
use crate::problem::{Duty, Gears, Lubrication};

/// Factors that all meshes of a problem share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Service {
    /// `K_A`.
    pub(super) shock: (f64, Origin),
    dynamic: Option<f64>,
    face: Option<f64>,
    /// `K_Hα` and `K_Fα`.
    pub(super) transverse: (f64, Origin),
    /// `A` and `B` of the dynamic factor.
    constants: (f64, f64),
    /// `Z_L Z_v Z_R`: oil film and finish of the flanks.
    pub(super) finish: (f64, Origin),
    /// What is left of the flanks' strength without oil.
    pub(super) lubricant: (f64, Origin),
}

impl Service {
    pub(super) fn of(duty: &Duty, gears: &Gears) -> Self {
        let grade = gears.accuracy_grade();
        let graded = Origin::given_if(gears.accuracy_given());
        let lubricant = Origin::given_if(duty.lubrication_given());
        Self {
            shock: (duty.shock(), Origin::of(&duty.shock_taken())),
            dynamic: duty.dynamic_factor(),
            face: duty.face_load_factor(),
            transverse: match duty.transverse_factor() {
                Some(given) => (given, Origin::Given),
                None => (transverse_factor(grade), derived(graded)),
            },
            constants: agma::dynamic_constants(grade),
            finish: (finish(grade), derived(graded)),
            lubricant: (without_oil(duty.lubrication()), lubricant),
        }
    }

    /// `K_v` at a pitch-line speed, m/s.
    pub(super) fn dynamic(&self, speed_m_s: f64) -> f64 {
        self.dynamic
            .unwrap_or_else(|| agma::dynamic(self.constants, speed_m_s))
    }

    /// `K_Hβ` and `K_Fβ`.
    pub(super) fn face(&self, width_mm: f64, pinion_mm: f64) -> f64 {
        self.face
            .unwrap_or_else(|| agma::usual_face_load(width_mm, pinion_mm))
    }

    pub(super) const fn dynamic_origin(&self) -> Origin {
        origin(self.dynamic)
    }

    pub(super) const fn face_origin(&self) -> Origin {
        origin(self.face)
    }
}

const fn origin(given: Option<f64>) -> Origin {
    if given.is_some() {
        Origin::Given
    } else {
        Origin::Derived
    }
}

/// What follows from a figure that was taken is taken itself.
const fn derived(of: Origin) -> Origin {
    match of {
        Origin::Defaulted => Origin::Defaulted,
        Origin::Given | Origin::Derived => Origin::Derived,
    }
}

/// `K_Hα` and `K_Fα` in the manner of ISO 6336-1 method C, from memory: rough teeth
/// do not share the load as their contact ratio says.
fn transverse_factor(grade: u8) -> f64 {
    match grade {
        ..=7 => 1.0,
        8 => 1.1,
        9 => 1.2,
        _ => 1.4,
    }
}

/// `Z_L Z_v Z_R` of ISO 6336-2:2006, 12.3, from memory: 1 for ground or shaved
/// flanks of fine finish, 0.92 for coarser ones, 0.85 for teeth as they leave the
/// cutter.
fn finish(grade: u8) -> f64 {
    match grade {
        ..=5 => 1.0,
        6 | 7 => 0.92,
        _ => 0.85,
    }
}

/// Common practice, no source: grease is not carried back to the flanks, and dry
/// flanks wear before they pit.
fn without_oil(lubrication: Lubrication) -> f64 {
    match lubrication {
        Lubrication::Oil => 1.0,
        Lubrication::Grease => 0.9,
        Lubrication::Dry => 0.6,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rougher_teeth_and_less_oil_are_never_better() {
        for grade in 4..12 {
            assert!(transverse_factor(grade + 1) >= transverse_factor(grade));
            assert!(finish(grade + 1) <= finish(grade));
        }
        let left = [Lubrication::Oil, Lubrication::Grease, Lubrication::Dry].map(without_oil);
        assert!(left[0] > left[1] && left[1] > left[2]);
    }
}

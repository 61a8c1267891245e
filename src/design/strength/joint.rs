//! What holds gears on shafts: plain formulas.
//!
//! Sources: keys, splines, circlips: force over area (handbooks); bonded joint
//! T = τ π d² L / 2 (pin and collar of ISO 10123); pressed joint: Lamé, hub and
//! solid shaft of one material, p = E δ / (2 d) (1 − d² / D²), δ on the
//! diameter.

use std::f64::consts::PI;

/// A bond or a key is counted up to so many diameters: beyond, its far end
/// bears nothing (common practice, no source).
pub const COUNTED_DIAMETERS: f64 = 1.5;

/// Shear in a key, MPa: torque over shaft radius, width and length.
pub fn key_shear_mpa(torque_n_m: f64, shaft_mm: f64, width_mm: f64, length_mm: f64) -> f64 {
    2e3 * torque_n_m / (shaft_mm * width_mm * length_mm)
}

/// Pressure on the half height of a key, MPa.
pub fn key_pressure_mpa(torque_n_m: f64, shaft_mm: f64, height_mm: f64, length_mm: f64) -> f64 {
    4e3 * torque_n_m / (shaft_mm * height_mm * length_mm)
}

/// Dogs or splines round a shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spline {
    /// How many.
    pub count: u32,
    /// Diameter at half their height, mm.
    pub mean_mm: f64,
    /// How far they bear radially, mm.
    pub height_mm: f64,
    /// How far they bear along the shaft, mm.
    pub length_mm: f64,
    /// Share of them that carries.
    pub share: f64,
}

impl Spline {
    /// Pressure on their flanks, MPa: p = 2 T / (z d_m h L φ).
    pub fn pressure_mpa(&self, torque_n_m: f64) -> f64 {
        self.over(torque_n_m, self.height_mm)
    }

    /// Shear at a width, MPa.
    pub fn shear_mpa(&self, torque_n_m: f64, width_mm: f64) -> f64 {
        self.over(torque_n_m, width_mm)
    }

    fn over(&self, torque_n_m: f64, across_mm: f64) -> f64 {
        let carrying = f64::from(self.count) * self.share;
        2e3 * torque_n_m / (carrying * self.mean_mm * across_mm * self.length_mm)
    }
}

/// Torque that a bond of shear strength τ holds, N m.
pub fn bond_torque_n_m(shear_mpa: f64, shaft_mm: f64, length_mm: f64) -> f64 {
    shear_mpa * PI * shaft_mm * shaft_mm * length_mm / 2e3
}

/// Thrust that it holds, N.
pub fn bond_thrust_n(shear_mpa: f64, shaft_mm: f64, length_mm: f64) -> f64 {
    shear_mpa * PI * shaft_mm * length_mm
}

/// How much of the length of a bond or a key counts, mm.
pub fn counted_length_mm(shaft_mm: f64, length_mm: f64) -> f64 {
    length_mm.min(COUNTED_DIAMETERS * shaft_mm)
}

/// A hub pressed on a solid shaft of the same material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Press {
    /// Diameter of the joint, mm.
    pub shaft_mm: f64,
    /// Outside of the hub, mm; under a gear's teeth the root circle.
    pub hub_mm: f64,
    /// Length of the joint, mm.
    pub length_mm: f64,
    /// By how much the shaft is larger than the hole, on the diameter, mm.
    pub interference_mm: f64,
    /// Elasticity of both, MPa.
    pub elasticity_mpa: f64,
}

impl Press {
    /// Pressure in the joint, MPa.
    pub fn pressure_mpa(&self) -> f64 {
        let thinness = (self.shaft_mm / self.hub_mm).powi(2);
        self.elasticity_mpa * self.interference_mm / (2.0 * self.shaft_mm) * (1.0 - thinness)
    }

    /// Torque that it holds by friction, N m.
    pub fn torque_n_m(&self, friction: f64) -> f64 {
        bond_torque_n_m(
            friction * self.pressure_mpa(),
            self.shaft_mm,
            self.length_mm,
        )
    }

    /// Tension round the hub's hole, MPa.
    pub fn hub_tension_mpa(&self) -> f64 {
        let (d, hub) = (self.shaft_mm.powi(2), self.hub_mm.powi(2));
        self.pressure_mpa() * (hub + d) / (hub - d)
    }

    /// Stress of the hub at its hole by von Mises, plane stress, MPa.
    pub fn hub_stress_mpa(&self) -> f64 {
        let (round, through) = (self.hub_tension_mpa(), self.pressure_mpa());
        (round * round + round * through + through * through).sqrt()
    }
}

/// Depth of a circlip's groove by shafts up to so thick, mm (standard rings,
/// from memory).
const GROOVES: [(f64, f64); 11] = [
    (10.0, 0.2),
    (13.0, 0.3),
    (16.0, 0.35),
    (18.0, 0.4),
    (22.0, 0.5),
    (26.0, 0.55),
    (32.0, 0.7),
    (38.0, 1.0),
    (48.0, 1.25),
    (75.0, 1.5),
    (110.0, 1.75),
];

/// Depth of the groove of the standard circlip of a shaft, mm.
pub fn groove_mm(shaft_mm: f64) -> f64 {
    let found = GROOVES.iter().find(|(up_to, _)| shaft_mm <= *up_to);
    let [.., last] = GROOVES;
    found.unwrap_or(&last).1
}

/// Pressure of a circlip on the side of its groove, MPa.
pub fn groove_pressure_mpa(thrust_n: f64, shaft_mm: f64) -> f64 {
    let depth_mm = groove_mm(shaft_mm);
    thrust_n / (PI * (shaft_mm - depth_mm) * depth_mm)
}

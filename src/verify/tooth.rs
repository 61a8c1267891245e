//! One gear as it is said to be made, by arithmetic of its own.

use crate::base::{Module, Teeth};
use crate::involute::{ShiftedGear, Toothing, involute};
use crate::problem::{Bore, Cutting, Problem};
use crate::train::Form;
use std::f64::consts::FRAC_PI_2;

/// Figures of one gear, transverse lengths in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tooth {
    z: f64,
    m: f64,
    helix_rad: f64,
    normal_rad: f64,
    pub(super) across_rad: f64,
    pub(super) shift: f64,
    pub(super) radius: f64,
    pub(super) tip: f64,
    pub(super) root: f64,
    /// Height of the tip above the reference circle, modules.
    pub(super) height: f64,
    teeth: Teeth,
    straight: f64,
    toothing: Option<Toothing>,
}

impl Tooth {
    pub(super) fn new(problem: &Problem, module: Module, teeth: Teeth, form: Form) -> Self {
        let (gears, m, z) = (problem.gears(), module.mm(), f64::from(teeth));
        let rack = gears.rack();
        let helix_rad = gears.helix_angle_deg().to_radians();
        let normal_rad = rack.pressure_angle_rad;
        let radius = m * z / (2.0 * helix_rad.cos());
        let height = rack.addendum + form.shift + form.tip_shortening;
        Self {
            z,
            m,
            helix_rad,
            normal_rad,
            across_rad: (normal_rad.tan() / helix_rad.cos()).atan(),
            shift: form.shift,
            radius,
            tip: radius + m * height,
            root: radius - m * (rack.dedendum - form.shift),
            height,
            teeth,
            straight: rack.dedendum - rack.fillet * (1.0 - normal_rad.sin()),
            toothing: Toothing::new(*rack, m, helix_rad).ok(),
        }
    }

    pub(super) fn base(&self) -> f64 {
        self.radius * self.across_rad.cos()
    }

    /// Way along the base tangent to a radius.
    pub(super) fn way(&self, radius: f64) -> f64 {
        (radius * radius - self.base() * self.base())
            .max(0.0)
            .sqrt()
    }

    /// Least shift that the tool does not undercut.
    pub(super) fn uncut_from(&self) -> f64 {
        let sin = self.across_rad.sin();
        self.straight - self.z * sin * sin / (2.0 * self.helix_rad.cos())
    }

    /// Way along the base tangent to where the flank begins.
    pub(super) fn foot(&self) -> f64 {
        let above = self.shift - self.uncut_from();
        if above >= 0.0 {
            return above * self.m / self.across_rad.sin();
        }
        // Where the root is undercut the trochoid must be cut with the flank.
        let gear = self
            .toothing
            .and_then(|toothing| ShiftedGear::new(toothing, self.teeth, self.shift).ok());
        gear.map_or(f64::INFINITY, |gear| gear.form_length_mm())
    }

    /// Thickness of the tip in the normal section, modules.
    pub(super) fn tip_thickness(&self) -> f64 {
        let at_tip = (self.base() / self.tip).min(1.0).acos();
        let half_turn = (FRAC_PI_2 + 2.0 * self.shift * self.normal_rad.tan()) / self.z;
        let angle = half_turn + involute(self.across_rad) - involute(at_tip);
        let slope = (self.helix_rad.tan() * self.tip / self.radius).atan();
        2.0 * self.tip * angle * slope.cos() / self.m
    }

    /// z / (2 tan α_n): what turns an angle of the involute into shift.
    pub(super) fn teeth_per_shift(&self) -> f64 {
        self.z / (2.0 * self.normal_rad.tan())
    }

    /// Way along the line of action from one tooth to the next.
    pub(super) fn base_pitch(&self) -> f64 {
        4.0 * FRAC_PI_2 * self.base() / self.z
    }

    /// Metal between the root and the hole.
    pub(super) fn wall(&self, hole: &Bore) -> f64 {
        self.root - hole.reach_mm()
    }
}

/// Least and greatest shift that the problem and its cutters allow.
pub(super) fn shifts(problem: &Problem, module: Module) -> (f64, f64) {
    let gears = problem.gears();
    let (least, most) = match gears.closing() {
        crate::problem::Closing::Shift { min, max } => (min.to_f64(), max.to_f64()),
        _ => (0.0, 0.0),
    };
    if gears.cutting() != Cutting::Form {
        return (least, most);
    }
    let by_depth = gears.max_thinning().mm() / gears.rack().pressure_angle_rad.tan() / 2.0;
    (least.max(-by_depth / module.mm()), most.min(0.0))
}

//! What the box must carry, and how its running time is shared. Part of the
//! checked problem.

use super::model::{FaceWidth, Problem};

/// What teeth run in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lubrication {
    /// Oil bath or splash.
    Oil,
    /// Grease.
    Grease,
    /// Nothing.
    Dry,
}

impl Lubrication {
    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Oil => "oil",
            Self::Grease => "grease",
            Self::Dry => "dry",
        }
    }
}

/// A figure of the file, or what is taken in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taken {
    pub(super) value: f64,
    pub(super) given: bool,
}

impl Taken {
    /// The figure.
    pub const fn value(&self) -> f64 {
        self.value
    }
    /// Whether the file has it; else it is the usual one.
    pub const fn given(&self) -> bool {
        self.given
    }
}

/// What the box must carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    pub(super) input_torque_n_m: f64,
    pub(super) from_power: bool,
    pub(super) shock: Taken,
    pub(super) shaft_shear_mpa: f64,
    pub(super) hours: Taken,
    pub(super) reversing: bool,
    pub(super) min_safety: Option<f64>,
    pub(super) min_flank_safety: Option<f64>,
    /// Least safety of all, beside these.
    pub(super) floor: Option<f64>,
    pub(super) lubrication: Lubrication,
    pub(super) lubrication_given: bool,
    pub(super) dynamic_factor: Option<f64>,
    pub(super) face_load_factor: Option<f64>,
    pub(super) transverse_factor: Option<f64>,
}

/// The greater of two limits, as far as there are any.
fn at_least(one: Option<f64>, other: Option<f64>) -> Option<f64> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.max(other)),
        _ => one.or(other),
    }
}

impl Duty {
    /// Speed of the input shaft that is taken where the file has none, rpm (common
    /// practice, no source).
    pub const USUAL_INPUT_RPM: f64 = 1000.0;

    /// Torque on the input shaft, N m.
    pub const fn input_torque_n_m(&self) -> f64 {
        self.input_torque_n_m
    }
    /// Whether power and speed gave it.
    pub const fn from_power(&self) -> bool {
        self.from_power
    }
    /// What the torque is multiplied by when shafts are sized, and the
    /// application factor K_A of teeth.
    pub const fn shock(&self) -> f64 {
        self.shock.value
    }
    /// [`Duty::shock`], and whether the file gives it.
    pub const fn shock_taken(&self) -> Taken {
        self.shock
    }
    /// Shear stress that a shaft may have, MPa.
    pub const fn shaft_shear_mpa(&self) -> f64 {
        self.shaft_shear_mpa
    }
    /// How long it must run under the torque, hours, and whether that is given.
    pub const fn hours(&self) -> Taken {
        self.hours
    }
    /// Whether the load turns about in service.
    pub const fn reversing(&self) -> bool {
        self.reversing
    }
    /// Least safety of tooth roots that a set may have, where one is asked for.
    pub fn min_root_safety(&self) -> Option<f64> {
        at_least(self.min_safety, self.floor)
    }
    /// Least safety of flanks that a set may have, where one is asked for: its
    /// own, else that of the roots.
    pub fn min_flank_safety(&self) -> Option<f64> {
        at_least(self.min_flank_safety.or(self.min_safety), self.floor)
    }
    /// What the teeth run in.
    pub const fn lubrication(&self) -> Lubrication {
        self.lubrication
    }
    /// Whether the file says what the teeth run in.
    pub const fn lubrication_given(&self) -> bool {
        self.lubrication_given
    }
    /// The dynamic factor K_v, where the file gives it.
    pub const fn dynamic_factor(&self) -> Option<f64> {
        self.dynamic_factor
    }
    /// The face load factors K_Hβ and K_Fβ, where the file gives them.
    pub const fn face_load_factor(&self) -> Option<f64> {
        self.face_load_factor
    }
    /// The transverse load factors K_Hα and K_Fα, where the file gives them.
    pub const fn transverse_factor(&self) -> Option<f64> {
        self.transverse_factor
    }
}

/// How the running time is shared, percent; the shares never exceed 100
/// together.
#[derive(Clone, Debug, PartialEq)]
pub struct Shares {
    pub(super) speeds: Vec<Taken>,
    pub(super) reverse: Option<Taken>,
}

impl Shares {
    /// What reverse takes where neither it nor all speeds have a share of their
    /// own, percent (common practice, no source).
    pub const REVERSE_PERCENT: f64 = 5.0;

    /// Shares of the forward speeds, the direct one among them, in the order of
    /// the file, percent.
    pub fn speeds(&self) -> &[Taken] {
        &self.speeds
    }
    /// Share of reverse, percent, where there is one.
    pub const fn reverse(&self) -> Option<Taken> {
        self.reverse
    }
}

impl Problem {
    /// Whether sets are limited, or their gears sized, by the strength of teeth.
    pub fn asks_strength(&self) -> bool {
        let least = |duty: &Duty| duty.min_flank_safety().is_some();
        self.duty.as_ref().is_some_and(least) || self.sizes_faces()
    }
    /// Whether face widths follow from the load.
    pub const fn sizes_faces(&self) -> bool {
        matches!(self.gears.face, FaceWidth::Auto { .. })
    }
    /// The same problem with another least safety of roots and of flanks.
    #[must_use]
    pub fn holding(mut self, least: f64) -> Self {
        if let Some(duty) = &mut self.duty {
            duty.min_safety = Some(least);
            duty.min_flank_safety = None;
        }
        self
    }
    /// The same problem with this safety asked for beside what is asked for.
    #[must_use]
    pub fn safer(mut self, floor: f64) -> Self {
        if let Some(duty) = &mut self.duty {
            duty.floor = Some(floor);
        }
        self
    }
    /// The same problem with nothing asked of the strength of teeth; gears whose
    /// width would follow from it are one step wide.
    #[must_use]
    pub fn unrated(mut self) -> Self {
        if let Some(duty) = &mut self.duty {
            duty.min_safety = None;
            duty.min_flank_safety = None;
            duty.floor = None;
        }
        self.gears.face = FaceWidth::Given(self.gears.face.unit());
        self
    }
    /// What the box must carry, when it is said.
    pub const fn duty(&self) -> Option<&Duty> {
        self.duty.as_ref()
    }
    /// How the running time is shared.
    pub const fn shares(&self) -> &Shares {
        &self.shares
    }
}

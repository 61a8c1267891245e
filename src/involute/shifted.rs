//! One gear with profile shift, thinning and a shortened tip.

use super::fault::{GeometryFault, within};
use super::fillet::form_length_mm;
use super::{Toothing, inverse_involute, involute};
use crate::base::Teeth;
use std::f64::consts::FRAC_PI_2;

/// How teeth are made thinner than their shift says. Amounts are Δs_n: normal
/// arc at the reference circle, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Thinning {
    /// Cut deeper: the root falls by Δs_n / (2 tan α_n).
    ByDepth(f64),
    /// Cut once more on the side: the root stays.
    BySide(f64),
}

impl Thinning {
    /// Full teeth.
    pub const NONE: Self = Self::BySide(0.0);

    /// Δs_n, mm.
    pub fn normal_mm(self) -> f64 {
        match self {
            Self::ByDepth(amount) | Self::BySide(amount) => amount,
        }
    }
}

/// One external gear, spur or helical. Names and formulas of ISO 21771.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShiftedGear {
    toothing: Toothing,
    teeth: Teeth,
    shift: f64,
    tip_shortening: f64,
    thinning: Thinning,
}

impl ShiftedGear {
    /// A gear of 3 to 1000 teeth with profile shift coefficient x (`shift`,
    /// −2 to 3), full teeth and a full tip.
    ///
    /// # Errors
    /// A figure outside these ranges; a root circle of no size; a tip inside
    /// the base circle.
    pub fn new(toothing: Toothing, teeth: Teeth, shift: f64) -> Result<Self, GeometryFault> {
        Self::plain(toothing, teeth, shift).checked()
    }

    /// The same gear with its tip lowered: k (`tip_shortening`, −2 to 0)
    /// modules are added to the addendum.
    ///
    /// # Errors
    /// A figure outside the range; a tip inside the base circle.
    pub fn with_tip_shortening(self, tip_shortening: f64) -> Result<Self, GeometryFault> {
        self.shortened(tip_shortening).checked()
    }

    /// The same gear with thinner teeth, Δs_n from 0 to half a module.
    ///
    /// # Errors
    /// An amount outside the range; a root circle of no size.
    pub fn with_thinning(self, thinning: Thinning) -> Result<Self, GeometryFault> {
        Self { thinning, ..self }.checked()
    }

    /// A gear that is not checked: for figures on the way to a split.
    pub(super) fn plain(toothing: Toothing, teeth: Teeth, shift: f64) -> Self {
        Self {
            toothing,
            teeth,
            shift,
            tip_shortening: 0.0,
            thinning: Thinning::NONE,
        }
    }

    pub(super) fn shortened(self, tip_shortening: f64) -> Self {
        Self {
            tip_shortening,
            ..self
        }
    }

    fn checked(self) -> Result<Self, GeometryFault> {
        within("the number of teeth", self.teeth.into(), (3.0, 1000.0))?;
        within("the profile shift x", self.shift, (-2.0, 3.0))?;
        within("the tip shortening k", self.tip_shortening, (-2.0, 0.0))?;
        let most = 0.5 * self.toothing.module_mm();
        within("the thinning, mm,", self.thinning.normal_mm(), (0.0, most))?;
        let (root_mm, tip_mm, base_mm) = (self.root_mm(), self.tip_mm(), self.base_mm());
        if root_mm <= 0.0 {
            return Err(GeometryFault::RootGone { root_mm });
        }
        if tip_mm <= base_mm {
            return Err(GeometryFault::TipInsideBase { tip_mm, base_mm });
        }
        Ok(self)
    }

    /// Rack, module and helix angle.
    pub fn toothing(&self) -> &Toothing {
        &self.toothing
    }

    /// Tooth count z.
    pub fn teeth(&self) -> Teeth {
        self.teeth
    }

    /// Profile shift coefficient x, modules; thinning is not part of it.
    pub fn shift(&self) -> f64 {
        self.shift
    }

    /// Tip shortening coefficient k, modules, 0 or negative.
    pub fn tip_shortening(&self) -> f64 {
        self.tip_shortening
    }

    /// How the teeth are thinned.
    pub fn thinning(&self) -> Thinning {
        self.thinning
    }

    /// Shift at which the tool stands when it cuts the root, modules:
    /// x − Δs_n / (2 m_n tan α_n) where the teeth are thinned by depth.
    pub fn generating_shift(&self) -> f64 {
        match self.thinning {
            Thinning::BySide(_) => self.shift,
            Thinning::ByDepth(amount) => {
                let twice = 2.0 * self.toothing.module_mm() * self.toothing.normal_tan();
                self.shift - amount / twice
            }
        }
    }

    /// How far each flank of the tool stands aside of a rack's when it cuts the
    /// root, normal, mm: half of what is thinned by side.
    pub(super) fn side_cut_mm(&self) -> f64 {
        match self.thinning {
            Thinning::BySide(amount) => amount / 2.0,
            Thinning::ByDepth(_) => 0.0,
        }
    }

    /// Reference diameter d = m_t z, mm.
    pub fn reference_mm(&self) -> f64 {
        self.toothing.transverse_module_mm() * f64::from(self.teeth)
    }

    /// Base diameter d_b = d cos α_t, mm.
    pub fn base_mm(&self) -> f64 {
        self.reference_mm() * self.toothing.transverse_cos()
    }

    /// Root diameter d_f = d − 2 m_n (h_fP* − x), mm, thinning by depth taken
    /// off.
    pub fn root_mm(&self) -> f64 {
        let depth = self.toothing.rack().dedendum - self.generating_shift();
        self.reference_mm() - 2.0 * self.toothing.module_mm() * depth
    }

    /// Tip diameter d_a = d + 2 m_n (h_aP* + x + k), mm.
    pub fn tip_mm(&self) -> f64 {
        let height = self.toothing.rack().addendum + self.shift + self.tip_shortening;
        self.reference_mm() + 2.0 * self.toothing.module_mm() * height
    }

    /// Form diameter, mm: where the involute that the tool leaves begins, the
    /// loss by undercut included.
    pub fn form_mm(&self) -> f64 {
        2.0 * (self.base_mm() / 2.0).hypot(self.form_length_mm())
    }

    /// Way along the base tangent from the base circle to the form circle, mm,
    /// 0 up.
    pub fn form_length_mm(&self) -> f64 {
        form_length_mm(&self.toothing, self.teeth, self.generating_shift())
    }

    /// Way along the base tangent from the base circle to the tip, mm; 0 where
    /// the tip does not reach past the base circle.
    pub fn tip_length_mm(&self) -> f64 {
        tangent_mm(self.base_mm(), self.tip_mm())
    }

    /// Transverse thickness at the reference circle,
    /// s_t = m_n (π/2 + 2 x tan α_n) / cos β, less the thinning, arc in mm.
    pub fn thickness_mm(&self) -> f64 {
        self.normal_thickness_mm() / self.toothing.helix_cos()
    }

    /// Normal thickness s_n at the reference circle, arc in mm.
    pub fn normal_thickness_mm(&self) -> f64 {
        let tan = self.toothing.normal_tan();
        self.toothing.module_mm() * (FRAC_PI_2 + 2.0 * self.shift * tan) - self.thinning.normal_mm()
    }

    /// Transverse thickness at a diameter d_y,
    /// s_y = d_y (s_t / d + inv α_t − inv α_y), arc in mm. Holds from the form
    /// circle to the tip; negative past the point of a pointed tooth. None
    /// inside the base circle.
    pub fn thickness_at_mm(&self, diameter_mm: f64) -> Option<f64> {
        let cos = self.base_mm() / diameter_mm;
        (cos > 0.0 && cos <= 1.0).then(|| diameter_mm * self.thickness_angle_rad(cos.acos()))
    }

    /// Normal thickness at a diameter, arc in mm: the transverse one times
    /// cos β_y. None inside the base circle.
    pub fn normal_thickness_at_mm(&self, diameter_mm: f64) -> Option<f64> {
        let across = self.thickness_at_mm(diameter_mm)?;
        Some(across * self.helix_at_rad(diameter_mm).cos())
    }

    /// Normal tip thickness s_an after shortening, arc in mm; negative where
    /// the flanks cross below the tip.
    pub fn tip_thickness_mm(&self) -> f64 {
        let tip_mm = self.tip_mm().max(self.base_mm());
        self.normal_thickness_at_mm(tip_mm).unwrap_or(0.0)
    }

    /// Diameter at which the flanks meet in a point, mm.
    pub fn pointed_mm(&self) -> f64 {
        let value = self.thickness_mm() / self.reference_mm() + self.toothing.transverse_involute();
        // Thickness at the base circle is d_b times this value: none is left
        // when it is negative.
        let angle = inverse_involute(value).unwrap_or(0.0);
        self.base_mm() / angle.cos()
    }

    /// Helix angle β_y at a diameter, radians: tan β_y = tan β d_y / d.
    pub fn helix_at_rad(&self, diameter_mm: f64) -> f64 {
        (self.toothing.helix_rad().tan() * diameter_mm / self.reference_mm()).atan()
    }

    /// s_y / d_y where the transverse pressure angle is `alpha_rad`.
    pub(super) fn thickness_angle_rad(&self, alpha_rad: f64) -> f64 {
        self.thickness_mm() / self.reference_mm() + self.toothing.transverse_involute()
            - involute(alpha_rad)
    }
}

/// Way along the base tangent from the base circle to a diameter, mm; 0 inside
/// the base circle.
pub(super) fn tangent_mm(base_mm: f64, diameter_mm: f64) -> f64 {
    // A product keeps the digits that a difference of squares would lose.
    let product = (diameter_mm - base_mm) * (diameter_mm + base_mm);
    product.max(0.0).sqrt() / 2.0
}

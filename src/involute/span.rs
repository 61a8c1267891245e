//! Size over several teeth, by a plate micrometer.

use super::ShiftedGear;
use super::shifted::tangent_mm;
use std::f64::consts::PI;

/// A size over several teeth (base tangent length).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Number of teeth k between the anvils.
    pub teeth: u32,
    /// Size W_k, mm.
    pub size_mm: f64,
    /// Diameter on which the anvils touch, mm.
    pub contact_mm: f64,
    /// The face must be wider than this, W_k sin β_b, mm: less, and one anvil
    /// has no flank under it. 0 for spur gears.
    pub face_over_mm: f64,
}

impl Span {
    /// Whether the anvils touch between two diameters, mm.
    pub fn touches(&self, (from_mm, to_mm): (f64, f64)) -> bool {
        self.contact_mm >= from_mm && self.contact_mm <= to_mm
    }
}

impl ShiftedGear {
    /// The flank that a micrometer or a pin may touch, from the form circle to
    /// the tip, diameters in mm.
    pub fn flank_mm(&self) -> (f64, f64) {
        (self.form_mm(), self.tip_mm())
    }

    /// Span over `teeth` teeth (1 up to all of them), at the gear's thinning:
    /// W_k = m_n cos α_n [π (k − ½) + z inv α_t + 2 x tan α_n] − Δs_n cos α_n
    /// (ISO 21771). Says where the anvils touch; whether a flank is there is
    /// [`Span::touches`].
    pub fn span(&self, teeth: u32) -> Span {
        let cos = self.toothing().rack().pressure_angle_rad.cos();
        let pitches = PI * (f64::from(teeth) - 1.0) * self.toothing().module_mm();
        let size_mm = cos * (pitches + self.base_thickness_mm());
        let base_helix = self.toothing().base_helix_rad();
        Span {
            teeth,
            size_mm,
            contact_mm: self.base_mm().hypot(size_mm * base_helix.cos()),
            face_over_mm: size_mm * base_helix.sin(),
        }
    }

    /// The span, of two teeth up, whose anvils touch nearest the circle
    /// d + 2 x m_n, of those that touch inside `flank_mm`, two diameters in mm
    /// ([`ShiftedGear::flank_mm`], or the active flank of a mesh). None where no
    /// span does: measure over pins.
    pub fn best_span(&self, flank_mm: (f64, f64)) -> Option<Span> {
        let aim = self.reference_mm() + 2.0 * self.shift() * self.toothing().module_mm();
        let aim_length = tangent_mm(self.base_mm(), aim);
        let off = |span: &Span| (tangent_mm(self.base_mm(), span.contact_mm) - aim_length).abs();
        (2..=self.teeth().get())
            .map(|teeth| self.span(teeth))
            .filter(|span| span.touches(flank_mm))
            .min_by(|one, other| off(one).total_cmp(&off(other)))
    }

    /// s_n + m_n z inv α_t: what the base circle adds to whole pitches, mm.
    fn base_thickness_mm(&self) -> f64 {
        let spread = f64::from(self.teeth()) * self.toothing().transverse_involute();
        self.normal_thickness_mm() + self.toothing().module_mm() * spread
    }
}

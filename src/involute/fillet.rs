//! Where the involute begins above the fillet that a rack tool leaves.
//!
//! The corner of the tool's tip, an arc in the normal section, sweeps out a
//! trochoid. A point of the corner cuts when its normal runs through the pitch
//! point; so every point of the corner gives one point of the fillet.

use super::bracket::crossing;
use super::shifted::least_shift;
use super::{Toothing, involute};
use crate::base::Teeth;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// Way along the base tangent from the base circle to the form circle, mm, of
/// a gear whose tool stands at `shift` when it cuts the root.
pub(super) fn form_length_mm(toothing: &Toothing, teeth: Teeth, shift: f64) -> f64 {
    let above = shift - least_shift(toothing, teeth);
    if above >= 0.0 {
        // The end of the tool's straight flank makes the lowest point, and
        // x − x_min is how far that lies above the base circle.
        above * toothing.module_mm() / toothing.transverse_angle_rad().sin()
    } else {
        Corner::new(toothing, teeth, shift).undercut_length_mm()
    }
}

/// The rounded corner of the tool's tip against one gear, transverse section.
struct Corner {
    radius_mm: f64,
    base_radius_mm: f64,
    normal_angle_rad: f64,
    /// cos β: lengths across the axis are normal ones over this.
    squeeze: f64,
    /// Centre of the corner: normal way from the middle of the tool's tooth,
    /// depth below the generating pitch line.
    centre_mm: (f64, f64),
    rounding_mm: f64,
    /// Half the space at the base circle, seen from the gear's centre.
    half_space_at_base_rad: f64,
}

impl Corner {
    fn new(toothing: &Toothing, teeth: Teeth, shift: f64) -> Self {
        let (rack, m, z) = (toothing.rack(), toothing.module_mm(), f64::from(teeth));
        let (alpha_n, alpha_t) = (rack.pressure_angle_rad, toothing.transverse_angle_rad());
        let radius_mm = toothing.transverse_module_mm() * z / 2.0;
        let rounding_mm = rack.fillet * m;
        let across = m * (FRAC_PI_4 - rack.straight_flank() * alpha_n.tan());
        let half_space = (FRAC_PI_2 - 2.0 * shift * alpha_n.tan()) / z;
        Self {
            radius_mm,
            base_radius_mm: radius_mm * alpha_t.cos(),
            normal_angle_rad: alpha_n,
            squeeze: toothing.helix_rad().cos(),
            centre_mm: (
                across - rounding_mm * alpha_n.cos(),
                m * (rack.dedendum - shift) - rounding_mm,
            ),
            rounding_mm,
            half_space_at_base_rad: half_space - involute(alpha_t),
        }
    }

    /// The fillet's point that the corner makes where its normal stands at
    /// `theta` (α_n at the flank, π/2 at the tip): the radius, and the angle
    /// from the middle of the space.
    fn fillet(&self, theta: f64) -> (f64, f64) {
        let across = (self.centre_mm.0 + self.rounding_mm * theta.cos()) / self.squeeze;
        let depth = self.centre_mm.1 + self.rounding_mm * theta.sin();
        // From the pitch point along the pitch line.
        let along = depth * self.squeeze * theta.cos() / theta.sin();
        let height = self.radius_mm - depth;
        let rolled = (across - along) / self.radius_mm;
        (along.hypot(height), along.atan2(height) + rolled)
    }

    /// The involute ends where the trochoid of the corner cuts it. On its way
    /// from the flank to the tip of the tool the corner comes from outside the
    /// tooth, and it is inside when it reaches the base circle.
    fn undercut_length_mm(&self) -> f64 {
        let flank = self.normal_angle_rad;
        let base = crossing(
            |theta| self.base_radius_mm - self.fillet(theta).0,
            flank,
            FRAC_PI_2,
        );
        let theta = crossing(|theta| self.cut_past_rad(theta), flank, base);
        let radius = self.fillet(theta).0;
        let product = (radius - self.base_radius_mm) * (radius + self.base_radius_mm);
        product.max(0.0).sqrt()
    }

    /// How far the corner has cut past the involute, seen from the centre.
    fn cut_past_rad(&self, theta: f64) -> f64 {
        let (radius, angle) = self.fillet(theta);
        let alpha = (self.base_radius_mm / radius).min(1.0).acos();
        angle - self.half_space_at_base_rad - involute(alpha)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::involute::Rack;

    fn spur(rack: Rack) -> Toothing {
        Toothing::new(rack, 1.0, 0.0).unwrap()
    }

    #[test]
    fn the_form_circle_is_continuous_where_undercut_begins() {
        for (alpha, beta, z) in [(20.0, 0.0, 10), (14.5, 0.0, 20), (25.0, 0.3, 7)] {
            let toothing = Toothing::new(Rack::standard(alpha), 1.0, beta).unwrap();
            let teeth = Teeth::new(z);
            let limit = least_shift(&toothing, teeth);
            assert!(form_length_mm(&toothing, teeth, limit).abs() < 1e-12);
            let mut before = 0.0;
            for step in 1..200 {
                let shift = limit - f64::from(step) * 0.002;
                let length = form_length_mm(&toothing, teeth, shift);
                // Deeper cutting takes more away, and never in a jump.
                assert!(length > before, "{alpha} {z} {step}: {length} {before}");
                assert!(length - before < 0.06, "{alpha} {z} {step}: {length}");
                before = length;
            }
        }
    }

    #[test]
    fn the_tip_of_the_tool_makes_the_root_circle() {
        let toothing = spur(Rack::standard(20.0));
        let corner = Corner::new(&toothing, Teeth::new(9), 0.1);
        let (radius, _) = corner.fillet(FRAC_PI_2);
        assert!((radius - (4.5 - 1.25 + 0.1)).abs() < 1e-12);
        // At the flank the corner lies on the involute's other branch.
        let (radius, angle) = corner.fillet(20_f64.to_radians());
        let alpha = (corner.base_radius_mm / radius).acos();
        let other = corner.half_space_at_base_rad - involute(alpha);
        assert!((angle - other).abs() < 1e-12, "{angle} {other}");
    }

    #[test]
    fn a_sharper_corner_cuts_more_away() {
        let form = |fillet| {
            let rack = Rack::new(20.0, 1.0, 1.25, Some(fillet)).unwrap();
            form_length_mm(&spur(rack), Teeth::new(9), 0.0)
        };
        assert!(form(0.0) > form(0.2) && form(0.2) > form(0.38));
    }

    /// Half the width of the tool's tooth at a depth, mm; none below its tip.
    fn half_tool(rack: &Rack, shift: f64, depth: f64) -> Option<f64> {
        let alpha = rack.pressure_angle_rad;
        let depth = depth + shift;
        let straight = rack.straight_flank();
        if depth <= straight {
            return Some(FRAC_PI_4 - depth * alpha.tan());
        }
        let below = depth - (rack.dedendum - rack.fillet);
        let inside = rack.fillet * rack.fillet - below * below;
        let centre = FRAC_PI_4 - straight * alpha.tan() - rack.fillet * alpha.cos();
        (inside >= 0.0).then(|| centre + inside.sqrt())
    }

    /// Whether the tool passes over a point of the flank at some time of its
    /// rolling: it knows nothing of trochoids.
    fn is_swept(rack: &Rack, (teeth, shift): (u16, f64), radius: f64) -> bool {
        let pitch = f64::from(teeth) / 2.0;
        let alpha = (pitch * rack.pressure_angle_rad.cos() / radius).acos();
        let half_space = (FRAC_PI_2 - 2.0 * shift * rack.pressure_angle_rad.tan())
            / f64::from(teeth)
            - involute(rack.pressure_angle_rad)
            + involute(alpha);
        (-6000..=6000).any(|step| {
            let roll = f64::from(step) * 2e-4;
            let across = radius * (half_space + roll).sin() - roll * pitch;
            let depth = pitch - radius * (half_space + roll).cos();
            half_tool(rack, shift, depth).is_some_and(|half| half - across.abs() > 1e-9)
        })
    }

    #[test]
    fn a_swept_rack_takes_the_flank_up_to_the_form_circle() {
        for (alpha, fillet) in [(20.0, 0.38), (20.0, 0.1), (25.0, 0.3), (14.5, 0.3)] {
            let rack = Rack::new(alpha, 1.0, 1.25, Some(fillet)).unwrap();
            for teeth in 6..=12 {
                let undercut = least_shift(&spur(rack), Teeth::new(teeth)) - 0.25;
                let length = form_length_mm(&spur(rack), Teeth::new(teeth), undercut);
                let base = f64::from(teeth) / 2.0 * rack.pressure_angle_rad.cos();
                let form = base.hypot(length);
                assert!(form > base + 1e-4);
                let gear = (teeth, undercut);
                assert!(is_swept(&rack, gear, form - 1e-4), "{alpha} {teeth}");
                assert!(!is_swept(&rack, gear, form + 1e-4), "{alpha} {teeth}");
            }
        }
    }
}

//! The curve that the rounded corner of a rack's tip leaves.
//!
//! In: the rack, and where it stands against the circle it rolls on. Out: the
//! fillet, and where an undercut fillet cuts the involute; the form circle and
//! the outline both come from here. Transverse section, mm.
//!
//! A point of the corner cuts when its normal runs through the pitch point, so
//! every point of the corner gives one point of the fillet. At a helix angle β
//! the corner, a circle in the normal section, is an ellipse 1/cos β as wide.

use super::Rack;
use super::bracket::crossing;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// How a rack stands against the gear that it cuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stand {
    pub(super) module_mm: f64,
    pub(super) cos_helix: f64,
    /// Reference radius r: the rack rolls on this circle.
    pub(super) radius_mm: f64,
    /// How far the rack's reference line stands outside that circle, after
    /// thinning by depth.
    pub(super) shift_mm: f64,
    /// How far each flank of the rack stands further out than a rack's does:
    /// half of what is thinned by side.
    pub(super) side_mm: f64,
}

/// The corner against one gear. Parameter: the angle φ, radians, between the
/// corner's normal and the way down, in the normal section; 0 at the root
/// circle, 90° − α_n where the corner runs into the straight flank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    radius_mm: f64,
    /// Depth of the rack's tip below the rolling circle.
    depth_mm: f64,
    /// Radius of the corner, normal section.
    rounding_mm: f64,
    /// Half the flat land at the rack's tip, transverse.
    land_mm: f64,
    cos_helix: f64,
    full_rad: f64,
}

/// A point of the fillet when the corner cuts it. The space's middle stands
/// `rolled_rad` away from the line through the pitch point, on the far side of
/// the point cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Touch {
    pub(super) rolled_rad: f64,
    /// Along the line through the pitch point, from the gear's axis.
    pub(super) out_mm: f64,
    /// Square to that line, towards the middle of the space where negative.
    pub(super) aside_mm: f64,
}

impl Corner {
    pub(super) fn new(rack: &Rack, stand: Stand) -> Self {
        let m = stand.module_mm;
        Self {
            radius_mm: stand.radius_mm,
            depth_mm: rack.dedendum * m - stand.shift_mm,
            rounding_mm: rack.fillet * m,
            land_mm: half_land(rack).max(0.0) * m / stand.cos_helix + stand.side_mm,
            cos_helix: stand.cos_helix,
            full_rad: FRAC_PI_2 - rack.pressure_angle_rad,
        }
    }

    /// φ where the corner runs into the straight flank.
    pub(super) fn full_rad(&self) -> f64 {
        self.full_rad
    }

    /// Angle from the middle of the space to the end of the root arc, radians.
    pub(super) fn land_rad(&self) -> f64 {
        self.land_mm / self.radius_mm
    }

    /// What the corner's point φ cuts.
    pub(super) fn touch(&self, phi_rad: f64) -> Touch {
        let (sin, cos) = phi_rad.sin_cos();
        let depth = self.depth_mm - self.rounding_mm * (1.0 - cos);
        // The common normal passes through the pitch point. The ellipse is
        // wider than the circle, so its normals lean less.
        let aside_mm = depth * self.cos_helix * sin / cos;
        let on_rack = self.land_mm + self.rounding_mm * sin / self.cos_helix;
        Touch {
            rolled_rad: (aside_mm - on_rack) / self.radius_mm,
            out_mm: self.radius_mm - depth,
            aside_mm,
        }
    }

    /// Direction of the fillet at φ towards the root: out along the line
    /// through the pitch point, and square to it as in [`Touch`].
    pub(super) fn heading(&self, phi_rad: f64) -> (f64, f64) {
        let (out, aside) = (phi_rad.sin() * self.cos_helix, phi_rad.cos());
        let length = out.hypot(aside);
        (-out / length, -aside / length)
    }

    /// Radius (mm) of the point φ and its angle from the middle of the space
    /// (radians).
    pub(super) fn polar(&self, phi_rad: f64) -> (f64, f64) {
        let touch = self.touch(phi_rad);
        (
            touch.out_mm.hypot(touch.aside_mm),
            touch.aside_mm.atan2(touch.out_mm) - touch.rolled_rad,
        )
    }

    /// Whether the rack's straight flank ends past the base tangent point, so
    /// that the corner takes away a piece of involute.
    pub(super) fn undercuts(&self) -> bool {
        self.past_radial(self.full_rad) > 0.0
    }

    /// 0 where the curve runs straight at the axis, negative nearer the root.
    fn past_radial(&self, phi_rad: f64) -> f64 {
        let (sin, cos) = phi_rad.sin_cos();
        let depth = self.depth_mm - self.rounding_mm * (1.0 - cos);
        let (along, across) = (cos, sin * self.cos_helix);
        depth * (along * along + across * across) - self.radius_mm * along * along
    }

    /// φ of the thinnest place of an undercut tooth. The fillet leans away from
    /// the tooth below it and towards it above, and is radial at this one
    /// place.
    pub(super) fn neck_rad(&self) -> f64 {
        crossing(|phi| self.past_radial(phi), 0.0, self.full_rad)
    }

    /// φ where an undercut fillet cuts an involute whose angle from the middle
    /// of the space at a radius is `involute`. Above the neck the fillet widens
    /// the tooth while the involute narrows it, so they cross once.
    pub(super) fn cut_rad(&self, neck_rad: f64, involute: impl Fn(f64) -> f64) -> f64 {
        let short = |phi| {
            let (radius, angle) = self.polar(phi);
            involute(radius) - angle
        };
        crossing(short, neck_rad, self.full_rad)
    }
}

/// Half the flat land at the tip of the rack's tooth, in modules of the normal
/// section; below 0 the two rounded corners overlap.
pub(super) fn half_land(rack: &Rack) -> f64 {
    let alpha = rack.pressure_angle_rad;
    FRAC_PI_4 - rack.straight_flank() * alpha.tan() - rack.fillet * alpha.cos()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn corner(teeth: u16, shift: f64, helix_rad: f64) -> Corner {
        let cos_helix = helix_rad.cos();
        let stand = Stand {
            module_mm: 2.0,
            cos_helix,
            radius_mm: f64::from(teeth) / cos_helix,
            shift_mm: 2.0 * shift,
            side_mm: 0.0,
        };
        Corner::new(&Rack::standard(20.0), stand)
    }

    #[test]
    fn land_of_the_racks() {
        // 20°: π/4 − 1.25 tan 20° − 0.38 (1 − sin 20°)/cos 20°.
        assert!((half_land(&Rack::standard(20.0)) - 0.064_357).abs() < 1e-6);
        // 25° with the fillet that its full land allows: nothing left.
        assert!(half_land(&Rack::standard(25.0)).abs() < 1e-12);
    }

    #[test]
    fn the_tip_of_the_tool_makes_the_root_circle() {
        let corner = corner(9, 0.1, 0.0);
        let (radius, angle) = corner.polar(0.0);
        assert!((radius - 2.0 * (4.5 - 1.25 + 0.1)).abs() < 1e-12);
        assert!((angle - corner.land_rad()).abs() < 1e-15);
        assert!((angle * 9.0 - 2.0 * 0.064_357).abs() < 1e-5);
    }

    #[test]
    fn undercut_begins_at_the_least_shift() {
        // x_min = h* − z sin² α_t / (2 cos β).
        for (teeth, helix) in [(9, 0.0_f64), (17, 0.0), (17, 0.3), (30, 0.0)] {
            let rack = Rack::standard(20.0);
            let sin = rack.transverse_angle_rad(helix).sin();
            let least = rack.straight_flank() - f64::from(teeth) * sin * sin / 2.0 / helix.cos();
            assert!(corner(teeth, least - 1e-9, helix).undercuts());
            assert!(!corner(teeth, least + 1e-9, helix).undercuts());
        }
    }

    #[test]
    fn the_neck_is_where_the_fillet_runs_at_the_axis() {
        let corner = corner(8, 0.0, 0.2);
        let neck = corner.neck_rad();
        let (touch, (out, aside)) = (corner.touch(neck), corner.heading(neck));
        assert!((touch.out_mm * aside - touch.aside_mm * out).abs() < 1e-12);
        // The space is widest there.
        let widest = corner.polar(neck).1;
        for near in [neck - 1e-3, neck + 1e-3] {
            assert!(corner.polar(near).1 < widest);
        }
    }
}

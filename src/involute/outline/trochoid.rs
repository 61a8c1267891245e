//! The fillet: the envelope of the rack's rounded corner.

use super::{Cut, Point, Thinned};
use crate::involute::Rack;

/// The rolling of a rack on its gear, transverse section, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rolling {
    /// Reference radius r: the rack rolls on this circle.
    pub(super) radius_mm: f64,
    /// How far the rack's reference line stands outside that circle, after
    /// thinning by depth.
    pub(super) shift_mm: f64,
    /// How far each flank of the rack stands further out than a rack's does:
    /// half of what is thinned by side.
    pub(super) side_mm: f64,
    /// Half the angle from tooth to tooth.
    pub(super) half_pitch_rad: f64,
}

impl Rolling {
    pub(super) fn of(cut: &Cut) -> Self {
        let radius_mm = cut.module_mm * f64::from(cut.teeth) / (2.0 * cut.helix_rad.cos());
        let half_pitch_rad = std::f64::consts::PI / f64::from(cut.teeth);
        let shift_mm = cut.profile_shift * cut.module_mm;
        match cut.thinned {
            Thinned::ByDepth => Self {
                radius_mm,
                shift_mm: shift_mm
                    - cut.thinning_mm / (2.0 * cut.rack.transverse_angle_rad(cut.helix_rad).tan()),
                side_mm: 0.0,
                half_pitch_rad,
            },
            Thinned::BySide => Self {
                radius_mm,
                shift_mm,
                side_mm: cut.thinning_mm / 2.0,
                half_pitch_rad,
            },
        }
    }
}

/// The curve that the rack's corner leaves. Parameter: the angle φ, radians,
/// between the corner's normal and the way down, in the normal section; 0 at
/// the root circle, 90° − α_n where the corner runs into the straight flank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trochoid {
    rolling: Rolling,
    /// Depth of the rack's tip below the rolling circle.
    depth_mm: f64,
    /// Radius of the corner, normal section.
    corner_mm: f64,
    /// Half the flat land at the rack's tip, transverse.
    land_mm: f64,
    cos_helix: f64,
    full_rad: f64,
    from_rad: f64,
}

impl Trochoid {
    /// The whole curve, up to where the corner ends.
    pub(super) fn of(cut: &Cut, rolling: Rolling) -> Self {
        let (rack, m) = (&cut.rack, cut.module_mm);
        let full_rad = std::f64::consts::FRAC_PI_2 - rack.pressure_angle_rad;
        let cos_helix = cut.helix_rad.cos();
        Self {
            rolling,
            depth_mm: rack.dedendum * m - rolling.shift_mm,
            corner_mm: rack.fillet * m,
            land_mm: half_land(rack).max(0.0) * m / cos_helix + rolling.side_mm,
            cos_helix,
            full_rad,
            from_rad: full_rad,
        }
    }

    /// The same curve, begun at φ = `from_rad`.
    pub(super) fn begun_at(self, from_rad: f64) -> Self {
        Self { from_rad, ..self }
    }

    pub(super) fn range(&self) -> (f64, f64) {
        (self.from_rad, 0.0)
    }

    /// Angle from the middle of the space to the end of the root arc, radians.
    pub(super) fn land_rad(&self) -> f64 {
        self.land_mm / self.rolling.radius_mm
    }

    /// Depth below the rolling circle of the corner's point φ.
    fn depth_at(&self, phi_rad: f64) -> f64 {
        self.depth_mm - self.corner_mm * (1.0 - phi_rad.cos())
    }

    /// tan of the angle between the corner's normal and the way down,
    /// transverse section: the ellipse is 1/cos β wide, so its normals lean
    /// less.
    fn lean(&self, phi_rad: f64) -> f64 {
        phi_rad.tan() * self.cos_helix
    }

    /// Where the gear has turned to when the corner's point φ cuts, and what it
    /// cuts then: polar angle of the line through the pitch point, distance
    /// along it, distance square to it (clockwise).
    fn contact(&self, phi_rad: f64) -> (f64, f64, f64) {
        let depth = self.depth_at(phi_rad);
        // The common normal passes through the pitch point.
        let aside = depth * self.lean(phi_rad);
        let on_rack = self.land_mm + self.corner_mm * phi_rad.sin() / self.cos_helix;
        let rolled_mm = aside - on_rack;
        (
            self.rolling.half_pitch_rad + rolled_mm / self.rolling.radius_mm,
            self.rolling.radius_mm - depth,
            aside,
        )
    }

    pub(super) fn point(&self, phi_rad: f64) -> Point {
        let (turned, out, aside) = self.contact(phi_rad);
        let (sin, cos) = turned.sin_cos();
        Point::new(out * cos + aside * sin, out * sin - aside * cos)
    }

    pub(super) fn tangent(&self, phi_rad: f64) -> Point {
        let (turned, _, _) = self.contact(phi_rad);
        let (sin, cos) = turned.sin_cos();
        // Square to the normal; downwards, since φ falls from tip to root.
        let (out, aside) = (phi_rad.sin() * self.cos_helix, phi_rad.cos());
        let length = out.hypot(aside);
        let (out, aside) = (-out / length, -aside / length);
        Point::new(out * cos + aside * sin, out * sin - aside * cos)
    }

    /// Radius (mm) and polar angle (radians) of the point φ.
    fn polar(&self, phi_rad: f64) -> (f64, f64) {
        let (turned, out, aside) = self.contact(phi_rad);
        (out.hypot(aside), turned - aside.atan2(out))
    }

    /// How far past the base tangent point the rack's straight flank still
    /// cuts, mm of depth; above 0 the corner takes away a piece of involute.
    pub(super) fn undercut_mm(&self) -> f64 {
        self.short_of_radial(self.full_rad)
    }

    /// 0 where the curve runs straight at the axis, negative nearer the root.
    fn short_of_radial(&self, phi_rad: f64) -> f64 {
        let lean = self.lean(phi_rad);
        self.depth_at(phi_rad) - self.rolling.radius_mm / (1.0 + lean * lean)
    }

    /// The thinnest place of an undercut tooth: φ and half the angle that the
    /// tooth spans there. The fillet leans away from the tooth below it and
    /// towards it above, and is radial at this one place.
    pub(super) fn neck(&self) -> (f64, f64) {
        let phi = bisect(0.0, self.full_rad, |phi| self.short_of_radial(phi));
        (phi, self.polar(phi).1)
    }

    /// Where an undercut fillet cuts an involute whose polar angle at a radius
    /// is `involute`: φ there. Above the neck the fillet widens the tooth while
    /// the involute narrows it, so they cross once.
    pub(super) fn crossing(&self, neck: f64, involute: impl Fn(f64) -> f64) -> f64 {
        bisect(neck, self.full_rad, |phi| {
            let (radius, angle) = self.polar(phi);
            angle - involute(radius)
        })
    }
}

/// Half the flat land at the tip of the rack's tooth, in modules of the normal
/// section; below 0 the two rounded corners overlap.
pub(super) fn half_land(rack: &Rack) -> f64 {
    let alpha = rack.pressure_angle_rad;
    std::f64::consts::FRAC_PI_4 - rack.straight_flank() * alpha.tan() - rack.fillet * alpha.cos()
}

/// Where `rising` passes 0 between `low` and `high`, to the last bit; the end
/// nearer 0 when it does not change its sign.
fn bisect(mut low: f64, mut high: f64, rising: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..64 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if rising(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;

    fn trochoid(teeth: u16, profile_shift: f64, helix_rad: f64) -> Trochoid {
        let cut = Cut {
            profile_shift,
            helix_rad,
            ..Cut::plain(Rack::standard(20.0), 2.0, Teeth::new(teeth))
        };
        Trochoid::of(&cut, Rolling::of(&cut))
    }

    #[test]
    fn land_of_the_racks() {
        // 20°: π/4 − 1.25 tan 20° − 0.38 (1 − sin 20°)/cos 20°.
        assert!((half_land(&Rack::standard(20.0)) - 0.064_357).abs() < 1e-6);
        // 25° with the fillet that its full land allows: nothing left.
        assert!(half_land(&Rack::standard(25.0)).abs() < 1e-12);
    }

    #[test]
    fn undercut_begins_at_the_least_shift() {
        // x_min = h* − z sin² α_t / (2 cos β).
        for (teeth, helix) in [(9, 0.0_f64), (17, 0.0), (17, 0.3), (30, 0.0)] {
            let rack = Rack::standard(20.0);
            let sin = rack.transverse_angle_rad(helix).sin();
            let least = rack.straight_flank() - f64::from(teeth) * sin * sin / 2.0 / helix.cos();
            assert!(trochoid(teeth, least - 1e-9, helix).undercut_mm() > 0.0);
            assert!(trochoid(teeth, least + 1e-9, helix).undercut_mm() < 0.0);
        }
    }

    #[test]
    fn the_neck_is_where_the_fillet_runs_at_the_axis() {
        let trochoid = trochoid(8, 0.0, 0.2);
        let (phi, half_rad) = trochoid.neck();
        let (point, tangent) = (trochoid.point(phi), trochoid.tangent(phi));
        assert!(point.cross(tangent).abs() < 1e-12);
        assert!((point.angle_rad() - half_rad).abs() < 1e-14);
        for near in [phi - 1e-3, phi + 1e-3] {
            assert!(trochoid.point(near).angle_rad() > half_rad);
        }
    }

    #[test]
    fn bisection_ends_at_the_root_or_at_the_nearer_end() {
        assert!((bisect(0.0, 2.0, |t| t * t - 2.0) - 2_f64.sqrt()).abs() < 1e-15);
        assert!(bisect(1.0, 2.0, |t| t) < 1.0 + 1e-9);
        assert!(bisect(1.0, 2.0, |t| t - 3.0) > 2.0 - 1e-9);
    }
}

//! The basic rack.

use super::fault::{GeometryFault, within};
use std::f64::consts::FRAC_PI_4;

/// Valid normal pressure angles, degrees.
const ANGLE_DEG: (f64, f64) = (10.0, 30.0);

/// Fillet radius of the ISO 53 type A rack, modules.
const USUAL_FILLET: f64 = 0.38;

/// A fillet worked out elsewhere may exceed its limit by this, modules.
const LAST_BITS: f64 = 1e-9;

/// The straight flank may end short of the addendum by this, modules: 0.38 on
/// the ISO 53 type A rack is a rounded figure, 0.00005 above the exact limit.
pub(super) const ROUNDED: f64 = 1e-4;

/// The racks that ISO 53 names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RackKind {
    /// For high torque.
    A,
    /// For normal service.
    B,
    /// For normal service, cut with some hobs.
    C,
    /// For high precision and high torque; a full fillet for finished flanks.
    D,
}

/// Greatest fillet radius of a tool whose tip is one arc, modules; negative
/// where the tool is pointed above its depth.
fn full_land(alpha_rad: f64, dedendum: f64) -> f64 {
    (FRAC_PI_4 - dedendum * alpha_rad.tan()) * alpha_rad.cos() / (1.0 - alpha_rad.sin())
}

/// Greatest fillet radius that ends where the mate's tip does, modules.
fn below_flank(alpha_rad: f64, (addendum, dedendum): (f64, f64)) -> f64 {
    (dedendum - addendum) / (1.0 - alpha_rad.sin())
}

/// The fillet where none is given, modules: 0.38 where a rack may have it, else
/// the largest it may have.
fn usual_fillet(alpha_rad: f64, (addendum, dedendum): (f64, f64)) -> f64 {
    let land = full_land(alpha_rad, dedendum);
    let usual = Rack {
        pressure_angle_rad: alpha_rad,
        addendum,
        dedendum,
        fillet: USUAL_FILLET,
    };
    if usual.clears_the_mate() && USUAL_FILLET <= land {
        USUAL_FILLET
    } else {
        below_flank(alpha_rad, (addendum, dedendum)).min(land)
    }
}

/// The basic rack: the tooth shape of a gear with infinitely many teeth, in
/// the normal section, heights in units of the module (ISO 53 type A by
/// default).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rack {
    /// Normal pressure angle α_n, radians, 10° to 30°.
    pub pressure_angle_rad: f64,
    /// Addendum h_aP*.
    pub addendum: f64,
    /// Dedendum h_fP*.
    pub dedendum: f64,
    /// Root fillet radius ρ_fP*.
    pub fillet: f64,
}

impl Rack {
    /// The ISO 53 type A rack with another pressure angle (degrees). The
    /// fillet is 0.38 where such a rack may have it, as at 20°; else the least
    /// of what the clearance allows and a full land.
    pub fn standard(pressure_angle_deg: f64) -> Self {
        let alpha = pressure_angle_deg.to_radians();
        let (addendum, dedendum) = (1.0, 1.25);
        Self {
            pressure_angle_rad: alpha,
            addendum,
            dedendum,
            fillet: usual_fillet(alpha, (addendum, dedendum)),
        }
    }

    /// A rack of any proportions: normal pressure angle in degrees (10 to 30),
    /// addendum h_aP* (0.3 to 1.5), dedendum h_fP* (above the addendum, to 2)
    /// and fillet radius ρ_fP* (0 up), all in modules. Without a fillet it is
    /// 0.38 where that is accepted, else the least of what the clearance allows
    /// and a full land (ISO 53).
    ///
    /// # Errors
    /// Figures outside these ranges; no clearance; a tool that is pointed
    /// above its depth; a fillet above the full-land limit; a fillet that
    /// reaches into the flank the mate needs (h* < h_aP* − 10⁻⁴: 0.38 on the
    /// ISO 53 type A rack is 0.00005 above the exact limit and is the standard).
    pub fn new(
        pressure_angle_deg: f64,
        addendum: f64,
        dedendum: f64,
        fillet: Option<f64>,
    ) -> Result<Self, GeometryFault> {
        let angle_deg = within(
            "the pressure angle, degrees,",
            pressure_angle_deg,
            ANGLE_DEG,
        )?;
        let addendum = within("the addendum, modules,", addendum, (0.3, 1.5))?;
        let dedendum = within("the dedendum, modules,", dedendum, (0.3, 2.0))?;
        let alpha = angle_deg.to_radians();
        if dedendum <= addendum {
            return Err(GeometryFault::NoClearance { addendum, dedendum });
        }
        let land = full_land(alpha, dedendum);
        if land < 0.0 {
            let most = FRAC_PI_4 / alpha.tan();
            return Err(GeometryFault::RackPointed { dedendum, most });
        }
        let fillet = fillet.unwrap_or_else(|| usual_fillet(alpha, (addendum, dedendum)));
        let fillet = within("the fillet, modules,", fillet, (0.0, 2.0))?;
        if fillet > land + LAST_BITS {
            return Err(GeometryFault::FilletPastLand { fillet, most: land });
        }
        let rack = Self {
            pressure_angle_rad: alpha,
            addendum,
            dedendum,
            fillet,
        };
        if !rack.clears_the_mate() {
            let most = below_flank(alpha, (addendum, dedendum));
            return Err(GeometryFault::FilletInFlank { fillet, most });
        }
        Ok(rack)
    }

    /// The four racks of ISO 53:1998 at 20°: addendum 1; dedendum and fillet
    /// 1.25 and 0.38 (A), 1.25 and 0.30 (B), 1.25 and 0.25 (C), 1.40 and 0.39
    /// (D).
    pub fn iso53(kind: RackKind) -> Self {
        let (dedendum, fillet) = match kind {
            RackKind::A => (1.25, 0.38),
            RackKind::B => (1.25, 0.30),
            RackKind::C => (1.25, 0.25),
            RackKind::D => (1.40, 0.39),
        };
        Self {
            pressure_angle_rad: 20_f64.to_radians(),
            addendum: 1.0,
            dedendum,
            fillet,
        }
    }

    /// Clearance c* = h_fP* − h_aP* between a tip and the mate's root, modules.
    pub fn clearance(&self) -> f64 {
        self.dedendum - self.addendum
    }

    /// Least tip clearance to accept in a mesh, modules: 0.15, or 0.6 c* where
    /// the rack has little (common practice, no source).
    pub fn least_tip_clearance(&self) -> f64 {
        0.15_f64.min(0.6 * self.clearance())
    }

    /// Straight-flank height h* = h_fP* − ρ_fP*(1 − sin α_n) below the
    /// reference line.
    pub fn straight_flank(&self) -> f64 {
        self.dedendum - self.fillet * (1.0 - self.pressure_angle_rad.sin())
    }

    /// Whether the fillet begins below the deepest point of the mate's tip.
    fn clears_the_mate(&self) -> bool {
        self.straight_flank() >= self.addendum - ROUNDED
    }

    /// Transverse pressure angle α_t (radians) at helix angle β (radians).
    pub fn transverse_angle_rad(&self, helix_rad: f64) -> f64 {
        (self.pressure_angle_rad.tan() / helix_rad.cos()).atan()
    }

    /// Teeth below which an unshifted gear of helix angle β (radians) is
    /// undercut: 2 h* cos β / sin² α_t.
    pub fn undercut_teeth(&self, helix_rad: f64) -> f64 {
        let sin = self.transverse_angle_rad(helix_rad).sin();
        2.0 * self.straight_flank() * helix_rad.cos() / (sin * sin)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 2.09: undercut limit z = 2/sin²α, any textbook; helical 2cosβ/sin²αt.
    #[test]
    fn undercut_limit_of_the_textbooks() {
        for (alpha, beta, teeth) in [
            (14.5, 0.0_f64, 31.903),
            (20.0, 0.0, 17.097),
            (20.0, 15.0, 15.54),
            (20.0, 25.0, 13.05),
            (20.0, 30.0, 11.54),
        ] {
            let rack = Rack {
                fillet: 0.25 / (1.0 - f64::to_radians(alpha).sin()),
                ..Rack::standard(alpha)
            };
            let got = rack.undercut_teeth(beta.to_radians());
            assert!((got - teeth).abs() < 6e-3, "{alpha} {beta}: {got}");
        }
    }

    // Row 2.11: ISO 53:1998 tables (type A and D radii recomputed).
    #[test]
    fn the_racks_of_the_standard_are_possible_and_its_radii_are_the_limits() {
        for kind in [RackKind::A, RackKind::B, RackKind::C, RackKind::D] {
            let iso = Rack::iso53(kind);
            let made = Rack::new(20.0, 1.0, iso.dedendum, Some(iso.fillet)).unwrap();
            assert_eq!(made, iso);
        }
        assert!((0.25 / (1.0 - 20_f64.to_radians().sin()) - 0.37995).abs() < 1e-5);
        assert!((full_land(20_f64.to_radians(), 1.4) - 0.39394).abs() < 1e-5);
        assert!((full_land(25_f64.to_radians(), 1.25) - 0.31788).abs() < 1e-5);
    }

    #[test]
    fn a_rack_without_a_fillet_is_the_standard_one() {
        for alpha in [14.5, 20.0, 25.0] {
            assert_eq!(Rack::new(alpha, 1.0, 1.25, None), Ok(Rack::standard(alpha)));
        }
    }

    // Row 2.11: ISO 53:1998 type A: 0.38, although c*/(1 − sin 20°) is 0.37995.
    #[test]
    fn the_fillet_is_the_standard_one_wherever_a_rack_may_have_it() {
        assert_eq!(Rack::standard(20.0), Rack::iso53(RackKind::A));
        assert!((Rack::standard(20.0).straight_flank() - 0.999_968).abs() < 1e-6);
        // At 14.5° the clearance ends it, at 25° the land; by hand.
        for (alpha, dedendum, fillet) in [
            (14.5, 1.25, 0.33350),
            (25.0, 1.25, 0.31788),
            (20.0, 1.4, 0.38),
            (20.0, 1.2499, 0.37980),
        ] {
            let rack = Rack::new(alpha, 1.0, dedendum, None).unwrap();
            assert!((rack.fillet - fillet).abs() < 1e-5, "{alpha} {dedendum}");
        }
        // What it makes by itself it accepts when given.
        for alpha in 10..=30 {
            let made = Rack::standard(f64::from(alpha));
            let given = Rack::new(f64::from(alpha), 1.0, 1.25, Some(made.fillet));
            assert_eq!(given, Ok(made), "{alpha}");
        }
    }

    // Row 2.09: a stub rack of addendum 0.8 at 20°, any textbook.
    #[test]
    fn undercut_limit_of_a_stub_rack() {
        let stub = Rack::new(20.0, 0.8, 1.0, None).unwrap();
        assert!((stub.undercut_teeth(0.0) - 13.678).abs() < 1e-3);
    }

    #[test]
    fn impossible_racks_are_refused_for_their_reason() {
        let refused = |alpha, ha, hf, rho| Rack::new(alpha, ha, hf, rho).unwrap_err();
        assert!(matches!(
            refused(25.0, 1.0, 1.25, Some(0.38)),
            GeometryFault::FilletPastLand { most, .. } if (most - 0.31788).abs() < 1e-5
        ));
        assert!(matches!(
            refused(20.0, 1.0, 1.2, Some(0.38)),
            GeometryFault::FilletInFlank { most, .. } if (most - 0.30396).abs() < 1e-5
        ));
        assert!(matches!(
            refused(20.0, 1.0, 1.0, None),
            GeometryFault::NoClearance { .. }
        ));
        assert!(matches!(
            refused(30.0, 1.0, 1.4, None),
            GeometryFault::RackPointed { most, .. } if (most - 1.36035).abs() < 1e-5
        ));
        for (alpha, ha) in [(5.0, 1.0), (f64::NAN, 1.0), (20.0, 0.0), (20.0, f64::NAN)] {
            assert!(matches!(
                refused(alpha, ha, 1.25, None),
                GeometryFault::OutOfRange { .. }
            ));
        }
    }
}

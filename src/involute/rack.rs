//! The basic rack and the involute function.

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
    /// fillet is the least of 0.38, what the clearance allows and a full land.
    pub fn standard(pressure_angle_deg: f64) -> Self {
        let alpha = pressure_angle_deg.to_radians();
        let (addendum, dedendum) = (1.0, 1.25);
        let below_flank = (dedendum - addendum) / (1.0 - alpha.sin());
        let full_land = (std::f64::consts::FRAC_PI_4 - dedendum * alpha.tan()) * alpha.cos()
            / (1.0 - alpha.sin());
        Self {
            pressure_angle_rad: alpha,
            addendum,
            dedendum,
            fillet: 0.38_f64.min(below_flank).min(full_land),
        }
    }

    /// Straight-flank height h* = h_fP* − ρ_fP*(1 − sin α_n) below the
    /// reference line.
    pub fn straight_flank(&self) -> f64 {
        self.dedendum - self.fillet * (1.0 - self.pressure_angle_rad.sin())
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

/// inv α = tan α − α, radians.
pub fn involute(alpha_rad: f64) -> f64 {
    alpha_rad.tan() - alpha_rad
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 2.01: handbook involute tables.
    #[test]
    fn involute_function_of_the_handbook_tables() {
        for (degrees, value) in [
            (10.0_f64, 0.001_794_1),
            (14.5, 0.005_544_8),
            (15.0, 0.006_149_8),
            (20.0, 0.014_904_4),
            (22.5, 0.021_514_5),
            (25.0, 0.029_975_3),
            (30.0, 0.053_751_5),
        ] {
            let got = involute(degrees.to_radians());
            assert!((got - value).abs() < 1e-7, "{degrees}: {got}");
        }
    }

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
}

//! What presses on flanks: the Z factors.
//!
//! Source: ISO 6336-2:2006 method B, from memory; `Z_β` as its correction of 2008
//! has it, 1/√cos β.

use crate::involute::{Meshing, Path};
use std::f64::consts::PI;

/// Flanks this close to a base circle count as so many modules away: the norm's
/// stress there has no bound.
const LEAST_CURVATURE: f64 = 1e-3;

/// `Z_E`, √MPa, of two materials, each as modulus of elasticity in GPa and
/// Poisson's ratio.
pub fn elasticity_factor(materials: [(f64, f64); 2]) -> f64 {
    let soft = materials.map(|(gpa, nu)| (1.0 - nu * nu) / (gpa * 1000.0));
    (1.0 / (PI * (soft[0] + soft[1]))).sqrt()
}

/// `Z_H` of the pitch point.
pub(super) fn zone(mesh: &Meshing) -> f64 {
    let (working, toothing) = (mesh.working_angle_rad(), mesh.toothing());
    let cos = toothing.transverse_angle_rad().cos();
    let (sin_w, cos_w) = working.sin_cos();
    (2.0 * toothing.base_helix_rad().cos() * cos_w / (cos * cos * sin_w)).sqrt()
}

/// `Z_ε` of the contact and overlap ratios.
pub(super) fn contact_ratio(contact: f64, overlap: f64) -> f64 {
    let spur = (4.0 - contact) / 3.0;
    let overlap = overlap.min(1.0);
    (spur * (1.0 - overlap) + overlap / contact).sqrt()
}

/// `Z_B` or `Z_D` of each gear without overlap, 1 up: by how much more the
/// innermost place where its flank carries alone is pressed than the pitch point.
pub(super) fn single_contact(mesh: &Meshing, path: Path) -> [f64; 2] {
    let pitch_mm = mesh.toothing().base_pitch_mm();
    let far_mm = mesh.tangent_points_mm();
    let least = LEAST_CURVATURE * mesh.toothing().module_mm();
    let curved = |at_mm: f64| at_mm.max(least) * (far_mm - at_mm).max(least);
    let [first, second] = mesh.gears();
    let pitch_point = far_mm * first.base_mm() / (first.base_mm() + second.base_mm());
    // Beyond two pairs nobody carries alone; the middle two pitches are taken.
    let inner = (path.to_mm - pitch_mm).max(path.from_mm);
    let outer = (path.from_mm + pitch_mm).min(path.to_mm);
    let [inner, outer] = [inner.min(outer), outer.max(inner)];
    [inner, outer].map(|at| (curved(pitch_point) / curved(at)).sqrt().max(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::involute::{Rack, ShiftedGear, Toothing};

    fn mesh(teeth: [u16; 2], module_mm: f64, helix_deg: f64, centres_mm: f64) -> Meshing {
        let helix = helix_deg.to_radians();
        let toothing = Toothing::new(Rack::standard(20.0), module_mm, helix).unwrap();
        let gear = |z| ShiftedGear::new(toothing, Teeth::new(z), 0.0).unwrap();
        Meshing::new(gear(teeth[0]), gear(teeth[1]), centres_mm).unwrap()
    }

    // Row 6.10: ISO 6336-2; AGMA 2001 (recomputed).
    #[test]
    fn elasticity_of_pairs_of_materials() {
        let steel = (206.0, 0.3);
        for (gpa, expected) in [
            (206.0, 189.81),
            (202.0, 188.88),
            (173.0, 181.36),
            (118.0, 162.00),
            (113.0, 159.77),
        ] {
            let factor = elasticity_factor([steel, (gpa, 0.3)]);
            assert!((factor - expected).abs() < 0.01, "{gpa}: {factor}");
        }
        // In inches: 30 Mpsi on itself and on bronze of 16 Mpsi.
        let psi_in_mpa = 145.037_738;
        let inch = |mpsi: f64| {
            let gpa = mpsi * 1000.0 / psi_in_mpa;
            elasticity_factor([(30_000.0 / psi_in_mpa, 0.3), (gpa, 0.3)]) * psi_in_mpa.sqrt()
        };
        assert!((inch(30.0) - 2290.6).abs() < 0.5, "{}", inch(30.0));
        assert!((inch(16.0) - 1910.0).abs() < 1.0, "{}", inch(16.0));
    }

    // Row 6.12: ISO 6336-2 (recomputed): F_t 1000 N, d₁ 40, b 20, u 2, steel, Z_ε 1.
    #[test]
    fn stress_at_the_pitch_point_of_a_hand_worked_pair() {
        let mesh = mesh([20, 40], 2.0, 0.0, 60.0);
        let steel = (206.0, 0.3);
        let force = 1000.0 / (40.0 * 20.0) * 3.0 / 2.0_f64;
        let stress = zone(&mesh) * elasticity_factor([steel; 2]) * force.sqrt();
        assert!((stress - 648.37).abs() < 0.05, "{stress}");
    }

    // Row 6.08: Shigley Example 14-5 (recomputed): path of contact 0.4501 in.
    #[test]
    fn path_of_a_helical_pair_of_a_textbook() {
        let module = 2.54;
        let centres = module * 69.0 / (2.0 * 30_f64.to_radians().cos());
        let mesh = mesh([17, 52], module, 30.0, centres);
        let inches = mesh.nominal_path().length_mm() / 25.4;
        assert!((inches / 0.4501 - 1.0).abs() < 2e-3, "{inches}");
        assert!((mesh.toothing().transverse_angle_rad().to_degrees() - 22.796).abs() < 1e-3);
        // m_N = p_N / (0.95 Z).
        let load_sharing = module / 25.4 * PI * 20_f64.to_radians().cos() / (0.95 * inches);
        assert!((load_sharing / 0.6903 - 1.0).abs() < 2e-3, "{load_sharing}");
    }

    #[test]
    fn flanks_that_carry_alone() {
        // The formula of the norm for Z_B, from tips and pitches in angles.
        let mesh = mesh([20, 40], 2.0, 0.0, 60.0);
        let [a, b] = mesh.gears();
        let tip = |g: &ShiftedGear| ((g.tip_mm() / g.base_mm()).powi(2) - 1.0).sqrt();
        let ratio = mesh.contact_ratio();
        let first = tip(a) - 2.0 * PI / 20.0;
        let second = tip(b) - (ratio - 1.0) * 2.0 * PI / 40.0;
        let by_norm = mesh.working_angle_rad().tan() / (first * second).sqrt();
        let [z_b, z_d] = single_contact(&mesh, mesh.path());
        assert!(
            by_norm > 1.0 && (z_b - by_norm).abs() < 1e-9,
            "{z_b} {by_norm}"
        );
        assert!((z_d - 1.0).abs() < 1e-12, "{z_d}");
    }

    #[test]
    fn sharing_of_load() {
        assert!((contact_ratio(1.6, 0.0) - 0.8_f64.sqrt()).abs() < 1e-15);
        assert!((contact_ratio(1.6, 1.3) - (1.0_f64 / 1.6).sqrt()).abs() < 1e-15);
        assert!(contact_ratio(1.6, 0.5) < contact_ratio(1.6, 0.2));
    }
}

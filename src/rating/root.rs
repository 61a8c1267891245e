//! What bends a tooth's root: the Y factors.
//!
//! Source: ISO 6336-3:2006 method B, from memory; the section comes from the
//! generated fillet ([`RootSection`]).

use crate::involute::{Meshing, Path, RootSection, ShiftedGear};
use crate::problem::Life;

/// `Y_ST`: the reference test gears' own stress concentration.
pub(super) const Y_ST: f64 = 2.0;
/// What of the root's strength is left where it bends both ways (ISO 6336-3 for
/// idlers).
pub(super) const BOTH_WAYS: f64 = 0.7;
/// A rim of so many tooth heights or more is thick.
const THICK_RIM: f64 = 1.2;

/// `Y_F` and `Y_S` of a load that touches `below_tip` modules before the tip of
/// the virtual gear.
pub(super) fn form_and_notch(gear: &ShiftedGear, below_tip: f64) -> [f64; 2] {
    let section = RootSection::of(gear);
    let bent = section.bent(below_tip);
    let chord = section.chord();
    let alpha = gear.toothing().rack().pressure_angle_rad;
    let form = 6.0 * bent.lever * bent.angle_rad.cos() / (chord * chord * alpha.cos());
    // L and q_s of the norm, whose fit holds for q_s from 1 to 8.
    let slender = chord / bent.lever;
    let sharp = (chord / (2.0 * section.radius())).clamp(1.0, 8.0);
    let notch = (1.2 + 0.13 * slender) * sharp.powf(1.0 / (1.21 + 2.3 / slender));
    [form, notch]
}

/// How far before the tip, in modules of the virtual gear, the outer point of
/// single contact lies on both gears. Where one pair of teeth does not
/// always carry, that is the end of the path; of more than two pairs no help is
/// counted.
pub(super) fn below_tips(mesh: &Meshing, path: Path) -> [f64; 2] {
    let toothing = mesh.toothing();
    let cos = toothing.base_helix_rad().cos();
    let in_normal = |length_mm: f64| length_mm / (cos * toothing.module_mm());
    let pitch_mm = toothing.base_pitch_mm() * cos;
    // Of the virtual gear, whose base pitch is the normal one.
    let ratio = (path.length_mm() / toothing.base_pitch_mm() / (cos * cos)).clamp(1.0, 2.0);
    let shared = pitch_mm * (ratio - 1.0) / toothing.module_mm();
    let far_mm = mesh.tangent_points_mm();
    let [first, second] = mesh.gears();
    [
        shared + in_normal((first.tip_length_mm() - path.to_mm).max(0.0)),
        shared + in_normal((second.tip_length_mm() - (far_mm - path.from_mm)).max(0.0)),
    ]
}

/// `Y_B` of a gear of these diameters over a hole of `hole_mm` (radius); infinite
/// where no rim is left.
pub(super) fn thin_rim((tip_mm, root_mm): (f64, f64), hole_mm: Option<f64>) -> f64 {
    let Some(hole_mm) = hole_mm else {
        return 1.0;
    };
    let rim_mm = root_mm / 2.0 - hole_mm;
    let height_mm = (tip_mm - root_mm) / 2.0;
    if rim_mm <= 0.0 {
        f64::INFINITY
    } else if rim_mm >= THICK_RIM * height_mm {
        1.0
    } else {
        // ISO 6336-3, from memory.
        (1.6 * (2.242 * height_mm / rim_mm).ln()).max(1.0)
    }
}

/// `Y_X`: large teeth are weaker than those that were tested.
pub(super) fn size(life: Life, module_mm: f64) -> f64 {
    let (at_none, fall, least) = match life {
        Life::Through => (1.03, 0.006, 0.85),
        Life::Case => (1.05, 0.01, 0.8),
        Life::Flat => (1.075, 0.015, 0.7),
    };
    (at_none - fall * module_mm).clamp(least, 1.0)
}

/// `Y_β` of an overlap ratio and a helix angle, degrees.
pub(super) fn helix(overlap: f64, helix_deg: f64) -> f64 {
    1.0 - overlap.min(1.0) * helix_deg.min(30.0) / 120.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::involute::{Rack, Toothing};

    fn gear(teeth: u16, shift: f64) -> ShiftedGear {
        let toothing = Toothing::new(Rack::standard(20.0), 2.0, 0.0).unwrap();
        ShiftedGear::new(toothing, Teeth::new(teeth), shift).unwrap()
    }

    #[test]
    fn load_stands_one_pitch_from_the_far_end() {
        let mesh = Meshing::new(gear(20, 0.0), gear(40, 0.0), 60.0).unwrap();
        // Row 2.18: ε_α 1.6352 (ISO 21771).
        let pitches = 0.6352 * std::f64::consts::PI * 20_f64.to_radians().cos();
        for below in below_tips(&mesh, mesh.path()) {
            assert!((below - pitches).abs() < 1e-3, "{below}");
        }
        // Pulled apart until less than one pair carries: at the tip.
        let apart = Meshing::new(gear(20, 0.0), gear(40, 0.0), 62.9).unwrap();
        assert!(apart.contact_ratio() < 1.0);
        assert!(
            below_tips(&apart, apart.path())
                .iter()
                .all(|below| *below < 0.3)
        );
    }

    #[test]
    fn more_teeth_and_shift_stiffen_the_root() {
        let form = |teeth, shift| form_and_notch(&gear(teeth, shift), 1.0)[0];
        assert!(form(17, 0.0) > form(30, 0.0) && form(30, 0.0) > form(100, 0.0));
        assert!(form(17, 0.0) > form(17, 0.4));
    }

    #[test]
    fn rims() {
        let gear = gear(20, 0.0);
        let gear = (gear.tip_mm(), gear.root_mm());
        // Root radius 17.5 mm, tooth height 4.5 mm.
        let rim = |mm: f64| thin_rim(gear, Some(17.5 - mm));
        assert!((thin_rim(gear, None) - 1.0).abs() < 1e-15);
        assert!((rim(5.4) - 1.0).abs() < 1e-12 && (rim(9.0) - 1.0).abs() < 1e-12);
        // At once below 1.2 tooth heights, nearly 1: 1.6 ln(2.242 / 1.2) = 1.00006.
        assert!((rim(5.399_999) - 1.0).abs() < 1e-3);
        assert!((rim(4.5) - 1.6 * 2.242_f64.ln()).abs() < 1e-12);
        assert!(rim(0.0).is_infinite() && rim(-1.0).is_infinite());
    }

    #[test]
    fn helices_and_sizes() {
        assert!((helix(0.5, 15.0) - (1.0 - 0.5 * 15.0 / 120.0)).abs() < 1e-15);
        assert!((helix(2.0, 45.0) - 0.75).abs() < 1e-15);
        assert!((size(Life::Through, 2.0) - 1.0).abs() < 1e-15);
        assert!((size(Life::Case, 10.0) - 0.95).abs() < 1e-15);
        assert!((size(Life::Flat, 100.0) - 0.7).abs() < 1e-15);
    }
}

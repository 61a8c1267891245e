//! Where the involute begins above the fillet that a rack tool leaves.

use super::Toothing;
use super::corner::{Corner, Stand};
use super::undercut::least_shift;
use crate::base::Teeth;
use std::f64::consts::FRAC_PI_2;

/// Way along the base tangent from the base circle to the form circle, mm, of
/// a gear whose tool stands at `shift` when it cuts the root.
pub(super) fn form_length_mm(toothing: &Toothing, teeth: Teeth, shift: f64) -> f64 {
    let above = shift - least_shift(toothing, teeth);
    if above >= 0.0 {
        // The end of the tool's straight flank makes the lowest point, and
        // x − x_min is how far that lies above the base circle.
        above * toothing.module_mm() / toothing.transverse_sin()
    } else {
        undercut_length_mm(toothing, teeth, shift)
    }
}

/// The involute ends where the fillet cuts it.
fn undercut_length_mm(toothing: &Toothing, teeth: Teeth, shift: f64) -> f64 {
    let (rack, z) = (toothing.rack(), f64::from(teeth));
    let radius_mm = toothing.transverse_module_mm() * z / 2.0;
    let stand = Stand {
        module_mm: toothing.module_mm(),
        cos_helix: toothing.helix_cos(),
        radius_mm,
        shift_mm: shift * toothing.module_mm(),
        // A tool that goes aside takes its corner along: the form circle stays.
        side_mm: 0.0,
    };
    let corner = Corner::new(rack, stand);
    let base_mm = radius_mm * toothing.transverse_cos();
    let half_space = (FRAC_PI_2 - 2.0 * shift * toothing.normal_tan()) / z;
    let at_base = half_space - toothing.transverse_involute();
    // The string that unrolls the involute; none inside the base circle.
    let string = |radius: f64| ((radius - base_mm) * (radius + base_mm)).max(0.0).sqrt();
    let cut = corner.cut_rad(corner.neck_rad(), |radius| {
        let roll = string(radius) / base_mm;
        at_base + roll - roll.atan()
    });
    string(corner.polar(cut).0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::involute::{Rack, involute};
    use std::f64::consts::FRAC_PI_4;

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

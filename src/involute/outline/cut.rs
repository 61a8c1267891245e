//! What a gear's teeth are cut from.

use super::OutlineFault;
use crate::base::Teeth;
use crate::involute::Rack;
use crate::involute::corner::half_land;

/// How the teeth of one gear are cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// The basic rack, normal section.
    pub rack: Rack,
    /// Normal module m_n, mm; above 0.
    pub module_mm: f64,
    /// Teeth z, 4 or more.
    pub teeth: Teeth,
    /// Profile shift coefficient x of the drawing, before any thinning;
    /// positive away from the gear's axis, −3 to 3.
    pub profile_shift: f64,
    /// Helix angle β at the reference cylinder, radians; either hand, below 60°.
    pub helix_rad: f64,
    /// Tip shortening k, 0 or below: the tip diameter is
    /// d + 2 m_n (h_aP* + x + k).
    pub tip_shortening: f64,
    /// What is taken off the transverse tooth thickness at the reference
    /// circle, mm; 0 or above.
    pub thinning_mm: f64,
    /// How it is taken off.
    pub thinned: Thinned,
}

/// How a tooth is made thinner than its drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thinned {
    /// The rack goes deeper by Δs / (2 tan α_t); the tip stays.
    ByDepth,
    /// The rack goes sideways by Δs / 2 against either flank; the root stays.
    BySide,
}

impl Cut {
    /// A full-depth gear without shift, helix, shortening or thinning.
    pub fn plain(rack: Rack, module_mm: f64, teeth: Teeth) -> Self {
        Self {
            rack,
            module_mm,
            teeth,
            profile_shift: 0.0,
            helix_rad: 0.0,
            tip_shortening: 0.0,
            thinning_mm: 0.0,
            thinned: Thinned::ByDepth,
        }
    }
}

/// Refuses figures outside their ranges, and racks that cannot exist.
pub(super) fn check(cut: &Cut) -> Result<(), OutlineFault> {
    let Rack {
        pressure_angle_rad,
        addendum,
        dedendum,
        fillet,
    } = cut.rack;
    for (name, value, least, most) in [
        (
            "the rack's pressure angle in degrees",
            pressure_angle_rad.to_degrees(),
            5.0,
            45.0,
        ),
        ("the rack's addendum in modules", addendum, 0.01, 5.0),
        ("the rack's dedendum in modules", dedendum, 0.01, 5.0),
        ("the rack's fillet in modules", fillet, 0.0, 5.0),
        ("the module in mm", cut.module_mm, 0.01, 1000.0),
        ("the number of teeth", f64::from(cut.teeth), 4.0, 1000.0),
        ("the profile shift", cut.profile_shift, -3.0, 3.0),
        (
            "the helix angle in degrees",
            cut.helix_rad.to_degrees(),
            -60.0,
            60.0,
        ),
        (
            "the tip shortening in modules",
            cut.tip_shortening,
            -5.0,
            0.0,
        ),
        ("the thinning in mm", cut.thinning_mm, 0.0, cut.module_mm),
    ] {
        // A little room, for angles that were converted on their way here.
        let slack = 1e-9;
        if !(least - slack..=most + slack).contains(&value) {
            return Err(OutlineFault::Figure {
                name,
                value,
                least,
                most,
            });
        }
    }
    corners(&cut.rack)
}

/// Refuses a rack whose tip has no room for its corners.
fn corners(rack: &Rack) -> Result<(), OutlineFault> {
    if half_land(rack) >= -1e-9 {
        return Ok(());
    }
    let sharp = half_land(&Rack {
        fillet: 0.0,
        ..*rack
    });
    let alpha = rack.pressure_angle_rad;
    Err(OutlineFault::Corners {
        fillet: rack.fillet,
        largest: sharp * alpha.cos() / (1.0 - alpha.sin()),
    })
}

//! All figures of one gear.

use crate::involute::{Foot, Reach, ShiftedGear};
use serde::Serialize;

/// Figures of one gear at full teeth; diameters in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the keys say it, in the words of ISO 21771")]
pub struct GearFigures {
    pub teeth: u32,
    pub profile_shift: f64,
    pub tip_shortening: f64,
    pub reference_diameter_mm: f64,
    pub base_diameter_mm: f64,
    pub tip_diameter_mm: f64,
    pub root_diameter_mm: f64,
    /// Where the involute begins above the fillet or the undercut.
    pub form_diameter_mm: f64,
    pub tooth_depth_mm: f64,
    pub addendum_mm: f64,
    pub dedendum_mm: f64,
    /// Arcs at the reference circle.
    pub normal_thickness_mm: f64,
    pub transverse_thickness_mm: f64,
    /// Normal arc at the tip; negative where the flanks cross below it.
    pub tip_thickness_mm: f64,
    pub tip_thickness_modules: f64,
    /// Where the flanks meet in a point.
    pub pointed_diameter_mm: f64,
    /// Least shift without undercut.
    pub undercut_limit_shift: f64,
    pub undercut: bool,
    pub base_helix_angle_deg: f64,
    /// Teeth of the largest gear without shift that it drives without
    /// interference; none where it drives none, or any.
    pub drives_up_to_teeth: Option<u32>,
    pub drives_a_rack: bool,
    /// The same as textbooks have it: the flank taken to begin on the base
    /// circle, whatever the tool leaves.
    pub textbook_drives_up_to_teeth: Option<u32>,
    pub textbook_drives_a_rack: bool,
}

fn up_to(reach: Reach) -> Option<u32> {
    match reach {
        Reach::Gear(teeth) => Some(teeth.get()),
        Reach::Nothing | Reach::Rack => None,
    }
}

impl GearFigures {
    /// Of `gear`.
    pub fn of(gear: &ShiftedGear) -> Self {
        let m = gear.toothing().module_mm();
        let (reference, tip, root) = (gear.reference_mm(), gear.tip_mm(), gear.root_mm());
        let reach = gear.reach(0.0, Foot::FormCircle);
        let textbook = gear.reach(0.0, Foot::BaseCircle);
        Self {
            teeth: gear.teeth().get(),
            profile_shift: gear.shift(),
            tip_shortening: gear.tip_shortening(),
            reference_diameter_mm: reference,
            base_diameter_mm: gear.base_mm(),
            tip_diameter_mm: tip,
            root_diameter_mm: root,
            form_diameter_mm: gear.form_mm(),
            tooth_depth_mm: (tip - root) / 2.0,
            addendum_mm: (tip - reference) / 2.0,
            dedendum_mm: (reference - root) / 2.0,
            normal_thickness_mm: gear.normal_thickness_mm(),
            transverse_thickness_mm: gear.thickness_mm(),
            tip_thickness_mm: gear.tip_thickness_mm(),
            tip_thickness_modules: gear.tip_thickness_mm() / m,
            pointed_diameter_mm: gear.pointed_mm(),
            undercut_limit_shift: gear.least_shift(),
            undercut: gear.shift() < gear.least_shift() - 1e-12,
            base_helix_angle_deg: gear.toothing().base_helix_rad().to_degrees(),
            drives_up_to_teeth: up_to(reach),
            drives_a_rack: reach == Reach::Rack,
            textbook_drives_up_to_teeth: up_to(textbook),
            textbook_drives_a_rack: textbook == Reach::Rack,
        }
    }
}

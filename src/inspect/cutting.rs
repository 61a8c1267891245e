//! What to set on the machine.

use super::Aim;
use crate::involute::ShiftedGear;
use crate::making::{fine_cutter, form_cutter, virtual_teeth};
use serde::Serialize;
use std::f64::consts::PI;

/// Depths of cut from the blank's outside diameter, mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Depths {
    /// Full teeth.
    pub full_mm: f64,
    /// At the least backlash.
    pub least_mm: f64,
    /// At the most backlash.
    pub most_mm: f64,
}

/// The range of a form cutter. Its number runs both ways from maker to maker:
/// trust the range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct ToolRange {
    /// Its number in the set of eight, 8 (fewest teeth) to 1.
    pub number: u8,
    /// Fewest teeth that it cuts.
    pub from_teeth: u32,
    /// Most teeth that it cuts; none up to a rack.
    pub to_teeth: Option<u32>,
}

/// A cutter of the set of fifteen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FineRange {
    /// Its number as engraved, half numbers among them.
    pub number: String,
    /// Fewest teeth that it cuts.
    pub from_teeth: u32,
    /// Most teeth that it cuts; none up to a rack.
    pub to_teeth: Option<u32>,
}

/// Figures of a helical set-up.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Helix {
    /// Lead of the teeth, one turn, mm.
    pub lead_mm: f64,
    /// How far the mill's table swings, degrees.
    pub table_angle_deg: f64,
}

/// Figures to cut one gear.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cutting {
    /// Depth of cut, form cutters and hobs alike.
    pub depth: Depths,
    /// Teeth of the spur gear that a form cutter sees, to the nearest whole.
    pub virtual_teeth: u32,
    /// The form cutter for it; none below 12.
    pub form_cutter: Option<ToolRange>,
    /// The one of the set of fifteen, which comes closer to the true form.
    pub form_cutter_of_fifteen: Option<FineRange>,
    /// Of a helical gear.
    pub helix: Option<Helix>,
}

impl Cutting {
    /// Of `gear`.
    pub fn of(gear: &ShiftedGear, aim: &Aim) -> Self {
        let beta = gear.toothing().helix_rad();
        let [full, least, most] = aim
            .gears(gear)
            .map(|gear| (gear.tip_mm() - gear.root_mm()) / 2.0);
        let form = form_cutter(gear.teeth(), beta).map(|form| {
            let (from_teeth, to_teeth) = form.range();
            ToolRange {
                number: form.number(),
                from_teeth,
                to_teeth,
            }
        });
        Self {
            depth: Depths {
                full_mm: full,
                least_mm: least,
                most_mm: most,
            },
            virtual_teeth: virtual_teeth(gear.teeth(), beta),
            form_cutter: form,
            form_cutter_of_fifteen: fine_cutter(gear.teeth(), beta).map(|fine| FineRange {
                number: fine.number(),
                from_teeth: fine.least,
                to_teeth: fine.most,
            }),
            helix: (beta > 0.0).then(|| Helix {
                // One turn along the reference cylinder: π d / tan β.
                lead_mm: PI * gear.reference_mm() / beta.tan(),
                table_angle_deg: beta.to_degrees(),
            }),
        }
    }
}

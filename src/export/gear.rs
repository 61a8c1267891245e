//! One gear with what its blank and its cutter need.

use crate::base::Teeth;
use crate::involute::{GearSize, blank_um};
use crate::problem::{Cutting, Problem};
use crate::train::{Gear, form_cutter, um_to_mm};
use serde::Serialize;

/// One gear.
#[derive(Clone, Debug, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct GearRecord {
    pub gear: String,
    pub teeth: u32,
    pub module_mm: f64,
    pub blank_mm: f64,
    pub pitch_mm: f64,
    pub root_mm: f64,
    pub cutter: CutterRecord,
}

/// What cuts a gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the keys say it")]
pub enum CutterRecord {
    /// One of the eight form cutters of a module.
    Form {
        number: u8,
        from_teeth: u32,
        to_teeth: Option<u32>,
    },
    /// A form cutter of its own.
    OwnForm,
    /// The hob or rack tool of the module.
    Generated,
}

/// Everything about `gear`.
pub(super) fn gear_record(problem: &Problem, gear: &Gear) -> GearRecord {
    let shared = problem.gears();
    let beta = shared.helix_angle_deg().to_radians();
    let module = gear.module.of(problem);
    let size = GearSize::new(shared.rack(), module, gear.teeth, beta);
    let blank_um = blank_um(shared.rack(), module, gear.teeth, beta);
    GearRecord {
        gear: gear.name(problem),
        teeth: gear.teeth.get(),
        module_mm: module.mm(),
        blank_mm: um_to_mm(blank_um),
        pitch_mm: size.pitch_mm,
        root_mm: size.root_mm,
        cutter: cutter(problem, gear.teeth, beta),
    }
}

fn cutter(problem: &Problem, teeth: Teeth, beta: f64) -> CutterRecord {
    match problem.gears().cutting() {
        Cutting::Generated => CutterRecord::Generated,
        Cutting::OwnForm => CutterRecord::OwnForm,
        Cutting::Form => match form_cutter(teeth, beta) {
            None => CutterRecord::OwnForm,
            Some(form) => {
                let (from_teeth, to_teeth) = form.range();
                CutterRecord::Form {
                    number: form.number(),
                    from_teeth,
                    to_teeth,
                }
            }
        },
    }
}

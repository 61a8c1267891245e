//! One gear with what its blank and its cutter need.

use crate::base::Teeth;
use crate::involute::GearSize;
use crate::making::blank_um;
use crate::problem::{Cutting, Problem};
use crate::train::{Form, Gear, form_cutter, um_to_mm};
use serde::Serialize;

/// One gear.
#[derive(Clone, Debug, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct GearRecord {
    pub gear: String,
    pub teeth: u32,
    pub module_mm: f64,
    /// Profile shift, modules; only where the problem gives shift or limits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shift: Option<f64>,
    /// Tip shortening, modules, 0 or negative; as the shift.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tip_shortening: Option<f64>,
    pub face_width_mm: f64,
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

/// Everything about `gear`, made as `form` says.
pub(super) fn gear_record(problem: &Problem, gear: &Gear, form: &Form) -> GearRecord {
    let shared = problem.gears();
    let beta = shared.helix_angle_deg().to_radians();
    let module = gear.module.of(problem);
    let size = GearSize::new(shared.rack(), module, gear.teeth, beta);
    let judged = problem.judges();
    GearRecord {
        gear: gear.name(problem),
        teeth: gear.teeth.get(),
        module_mm: module.mm(),
        shift: judged.then(|| tidy(form.shift)),
        tip_shortening: judged.then(|| tidy(form.tip_shortening)),
        face_width_mm: gear.face.mm(),
        blank_mm: um_to_mm(blank_um(shared, module, gear.teeth, form)),
        pitch_mm: size.pitch_mm,
        root_mm: if judged {
            tidy(size.root_mm + 2.0 * module.mm() * form.shift)
        } else {
            size.root_mm
        },
        cutter: cutter(problem, gear.teeth, beta),
    }
}

/// A shift without the last bits: centres worked out from it stay right to
/// far below a micrometre.
pub(super) fn tidy(shift: f64) -> f64 {
    (shift * 1e10).round() / 1e10 + 0.0
}

/// What cuts a gear of so many teeth.
pub(super) fn cutter(problem: &Problem, teeth: Teeth, beta: f64) -> CutterRecord {
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

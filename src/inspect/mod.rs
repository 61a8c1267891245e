//! What the person at the bench needs of a gear and of a mesh: sizes to
//! measure, depths to cut, all figures with their names.
//!
//! In: gears and meshes of `involute`, and what the bench has (pins, face
//! width, the backlash aimed at). Out: plain figures, each at full teeth and at
//! the least and most backlash. Assumed: nothing is rated. Formulas: ISO 21771;
//! default backlash from memory, as said at [`usual_backlash`].

mod cutting;
mod gear;
mod marks;
mod measure;
mod mesh;

pub use cutting::{Cutting, Depths, FineRange, Helix, ToolRange};
pub use gear::GearFigures;
pub use marks::{
    BINDING_MM, Bounds, Defect, Mark, defects_of_gear, defects_of_mesh, marks_of_gear,
    marks_of_mesh,
};
pub use measure::{ChordSizes, Measures, PinSizes, Size, SpanSizes};
pub use mesh::{Backlash, MeshFigures, MeshGear, SlidingEnd};

use crate::involute::{Meshing, ShiftedGear, Thinning};
use crate::problem::{Closing, Problem};
use serde::Serialize;

/// Thinning of each gear's teeth, normal arc at the reference circle, mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Aim {
    /// For the least backlash.
    pub least_mm: f64,
    /// For the most backlash.
    pub most_mm: f64,
    /// Whether the tool goes deeper for it; else it cuts once more on the side.
    pub by_depth: bool,
}

impl Aim {
    /// Full teeth.
    pub const NONE: Self = Self {
        least_mm: 0.0,
        most_mm: 0.0,
        by_depth: true,
    };

    /// The thinning that gives full teeth in `mesh` a normal backlash of `least`
    /// to `most`, mm, shared equally.
    pub fn at(mesh: &Meshing, (least_mm, most_mm): (f64, f64), by_depth: bool) -> Self {
        Self {
            least_mm: mesh.thinning_for_mm(least_mm),
            most_mm: mesh.thinning_for_mm(most_mm),
            by_depth,
        }
    }

    fn thinning(&self, amount_mm: f64) -> Thinning {
        if self.by_depth {
            Thinning::ByDepth(amount_mm)
        } else {
            Thinning::BySide(amount_mm)
        }
    }

    /// The gear at full teeth, at the least and at the most thinning; the full
    /// one in place of one that cannot be.
    fn gears(&self, gear: &ShiftedGear) -> [ShiftedGear; 3] {
        [0.0, self.least_mm, self.most_mm]
            .map(|amount| gear.with_thinning(self.thinning(amount)).unwrap_or(*gear))
    }
}

/// Normal backlash to aim at without a better figure, mm: the least is
/// ⅔ (0.06 + 0.0005 a + 0.03 m) (from memory: gear-standard practice), the most
/// half as much again (common practice, no source).
pub fn usual_backlash(mesh: &Meshing) -> (f64, f64) {
    let least = mesh.usual_normal_backlash_mm();
    (least, 1.5 * least)
}

/// Normal backlash to aim at in a mesh of `problem`, least and most, mm: as
/// asked for, else that of the rule of closing, else the usual.
pub fn wanted_backlash(problem: &Problem, mesh: &Meshing) -> (f64, f64) {
    match (
        problem.inspection().normal_backlash(),
        problem.gears().closing(),
    ) {
        (Some((min, max)), _) => (min.mm(), max.mm()),
        (None, Closing::Backlash { min, max }) => {
            // Given across the working circle.
            let flat = mesh.working_angle_rad().cos() * mesh.toothing().base_helix_rad().cos();
            (min.mm() * flat, max.mm() * flat)
        }
        (None, Closing::Tolerance(_) | Closing::Shift { .. }) => usual_backlash(mesh),
    }
}

/// What the bench has to measure with, and how wide the gear is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tools {
    /// Pins of the workshop, mm; a standard size is taken where there are none.
    pub pins_mm: Vec<f64>,
    /// Teeth to measure over; chosen where not given.
    pub span_teeth: Option<u32>,
    /// Face width, mm, when known.
    pub face_width_mm: Option<f64>,
}

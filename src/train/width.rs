//! How wide the gears of a mesh are.

use super::{Role, Set};
use crate::base::Length;
use crate::problem::{FaceWidth, Problem};

/// Face width of both gears of a mesh, or of the three of reverse.
pub fn face_width(problem: &Problem, set: &Set, role: Role) -> Length {
    let _ = (set, role);
    match problem.gears().face() {
        FaceWidth::Given(width) => width,
        FaceWidth::Auto { step, .. } => step,
    }
}

//! The candidate everybody talks about: a set of gears and its figures.
//!
//! In: a checked [`Problem`](crate::problem::Problem) and tooth counts. Out:
//! ratios, errors, blank volume, cutters, idler centres of one set. Assumed:
//! the set's modules are places in the problem's list. Sources: ISO 21771 for
//! sizes; the order of sets and the figures are the project's own definitions,
//! written at each item.

mod alike;
mod cutter;
mod dividing;
mod figures;
mod forms;
mod idler;
mod mark;
mod marks;
mod meshing;
mod needs;
mod parts;
mod rated;
mod remarks;
mod rough;
mod set;
mod width;

pub use crate::making::{Form, FormCutter, form_cutter, virtual_teeth};
pub use crate::problem::{Role, Seat};
pub use alike::{Distinct, differing_gears, exchanged, exchanges, hunting_pairs};
pub use cutter::{Cutter, cutter_of, cutters_of};
pub use dividing::not_simply_divided;
pub use figures::{Figures, PairFigures, ReverseFigures};
pub(crate) use figures::{um_to_mm, volume_mm3};
pub use forms::{forms_of, reverse_lengths};
pub use idler::{Point, idler_centres, idler_closes, reverse_gap, tips_clear};
pub use mark::{Found, Mark, Register, SHORTEST_MARK};
pub use meshing::{made_of, mesh_of, meshes_of};
pub use needs::{Needs, own_gears};
pub use parts::{Gear, gears_of, pairs_of};
pub use rated::{
    MOST_HUNDREDTHS, RatedMesh, Spot, Weakest, material_of, of_hundredths, rate, rate_made,
    safety_hundredths, weakest,
};
pub use remarks::{Matter, Misfit, Remark, remarks, remarks_made, usual_most_backlash_mm, words};
pub use rough::{bar_sizes_um, finished_length, has_ring, rough_length, rough_um};
pub use set::{ModuleId, Pair, ReverseGears, Set};

//! Facts of a gear train that follow from its tooth counts alone.
//!
//! In: tooth counts, helix angle, centre distances, tip radii. Out: the form
//! cutter of a gear, the place of a reverse idler. Assumed: external gears on
//! parallel axes; axles seen from the input end, the main (or input) shaft at
//! the origin, x to the right, y up, the layshaft (or output shaft) straight
//! below. Formulas: the intersection of two circles; the virtual tooth number
//! z / cos³ β of ISO 21771.

mod cutter;
mod idler;

pub use cutter::{FormCutter, form_cutter, virtual_teeth};
pub use idler::{Point, idler_centres, idler_closes, tips_clear};

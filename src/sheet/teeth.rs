//! One tooth of a gear as a path of true arcs and short chords.

use super::drawing::{Bend, Vertex, at};
use crate::involute::ShiftedGear;
use crate::involute::outline::{Curve, Cut, OutlineFault, Point, Thinned, Tooth};
use crate::train;

/// What a gear's teeth are cut from; `thinning_mm` is taken off the transverse
/// tooth thickness, by going sideways.
pub fn cut_of(gear: &ShiftedGear, thinning_mm: f64) -> Cut {
    Cut {
        rack: *gear.toothing().rack(),
        module_mm: gear.toothing().module_mm(),
        teeth: gear.teeth(),
        profile_shift: gear.shift(),
        helix_rad: gear.toothing().helix_rad(),
        tip_shortening: gear.tip_shortening(),
        thinning_mm,
        thinned: Thinned::BySide,
    }
}

/// One tooth with the space before it, its centre line along +x: corners from
/// the end of the space's root, counter-clockwise. Tip and root are arcs;
/// flanks and fillets are chords.
#[derive(Clone, Debug, PartialEq)]
pub struct ToothPath {
    /// The corners; the first is reached by the root arc from the last of the
    /// tooth before.
    pub corners: Vec<Vertex>,
}

impl ToothPath {
    /// Of a tooth, no chord further than `chord_error_mm` from its curve.
    ///
    /// # Errors
    /// What [`Tooth::new`] refuses.
    pub fn new(cut: &Cut, chord_error_mm: f64) -> Result<Self, OutlineFault> {
        let tooth = Tooth::new(cut)?;
        let flank = tooth.flank(chord_error_mm);
        let (land_rad, space_rad) = Curve::Arc(*tooth.root()).range();
        let root_mm = tooth.root().radius_mm;
        let (_, tip_rad) = Curve::Arc(*tooth.tip()).range();
        let arc = |radius_mm: f64, turn_rad: f64| {
            (radius_mm * turn_rad > 1e-9).then_some(Bend {
                radius_mm,
                turn_rad,
            })
        };
        let mut corners: Vec<Vertex> = flank.iter().rev().map(|p| lower(*p)).collect();
        if let Some(first) = corners.first_mut() {
            first.arc = arc(root_mm, 2.0 * (space_rad - land_rad));
        }
        let mut upper = flank.iter().map(|p| Vertex::corner(at(p.x_mm, p.y_mm)));
        corners.extend(upper.next().map(|tip| Vertex {
            arc: arc(tooth.tip().radius_mm, 2.0 * tip_rad),
            ..tip
        }));
        corners.extend(upper);
        Ok(Self { corners })
    }
}

/// The mirror image below the centre line.
fn lower(point: Point) -> Vertex {
    Vertex::corner(train::Point {
        x_mm: point.x_mm,
        y_mm: -point.y_mm,
    })
}

//! All figures of one mesh.

use super::Aim;
use crate::involute::{Closing, Member, Meshing, Split};
use serde::Serialize;

/// Sliding at an end of the path of contact.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SlidingEnd {
    /// Specific sliding of the first gear's flank; none where it is without
    /// bound, at the base circle.
    pub specific_first: Option<f64>,
    /// Specific sliding of the second gear's flank.
    pub specific_second: Option<f64>,
    /// Sliding speed per turning speed of the first gear, mm per radian.
    pub mm_per_radian: f64,
}

/// Backlash of one state of the teeth, mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Backlash {
    /// Thinning of each gear, normal arc.
    pub thinning_each_mm: f64,
    /// At the working circle, across the axis; negative binds.
    pub transverse_mm: f64,
    /// Between the flanks, as a feeler shows it.
    pub normal_mm: f64,
}

/// What a mesh does to one of its gears; diameters in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the keys say it, in the words of ISO 21771")]
pub struct MeshGear {
    pub working_diameter_mm: f64,
    /// Where contact begins at the foot of the flank.
    pub start_of_active_profile_mm: f64,
    /// Where contact ends at the tip.
    pub end_of_active_profile_mm: f64,
    /// From its tip to the mate's root.
    pub tip_clearance_mm: f64,
    /// How far the mate's tip stays above its form point, along the line of
    /// action; negative fouls.
    pub root_margin_mm: f64,
}

/// Figures of a mesh at full teeth unless said.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the keys say it, in the words of ISO 21771")]
pub struct MeshFigures {
    pub centre_distance_mm: f64,
    pub standard_centre_distance_mm: f64,
    pub working_pressure_angle_deg: f64,
    pub transverse_pressure_angle_deg: f64,
    pub profile_shift_sum: f64,
    /// The sum that closes these centres without backlash.
    pub closing_shift_sum: Option<f64>,
    pub gear_ratio: f64,
    pub contact_ratio_nominal: f64,
    /// On the flanks that the tool leaves.
    pub contact_ratio: f64,
    pub overlap_ratio: Option<f64>,
    pub total_contact_ratio: Option<f64>,
    pub path_of_contact_mm: f64,
    pub first: MeshGear,
    pub second: MeshGear,
    pub sliding_at_start: SlidingEnd,
    pub sliding_at_end: SlidingEnd,
    pub full_teeth: Backlash,
    pub least_backlash: Backlash,
    pub most_backlash: Backlash,
    /// Shifts of the first gear that every limit allows.
    pub legal_first_shift: Option<(f64, f64)>,
    /// The one that balances specific sliding at both ends.
    pub balanced_first_shift: Option<f64>,
}

impl MeshFigures {
    /// Of `mesh`; the split is told where the shifts were solved for.
    pub fn of(
        mesh: &Meshing,
        aim: &Aim,
        face_width_mm: Option<f64>,
        split: Option<&Split>,
    ) -> Self {
        let [first, second] = mesh.gears();
        let closing = Closing::at_centres(
            *mesh.toothing(),
            [first.teeth(), second.teeth()],
            mesh.centres_mm(),
        );
        let path = mesh.path();
        let [start, end] = mesh.sliding_at_ends(&path).map(|end| SlidingEnd {
            specific_first: Some(end.first).filter(|value| value.is_finite()),
            specific_second: Some(end.second).filter(|value| value.is_finite()),
            mm_per_radian: end.mm_per_rad,
        });
        let overlap = face_width_mm.map(|face| mesh.toothing().overlap_ratio(face));
        let closing = closing.ok();
        Self {
            centre_distance_mm: mesh.centres_mm(),
            standard_centre_distance_mm: mesh.standard_centres_mm(),
            working_pressure_angle_deg: mesh.working_angle_rad().to_degrees(),
            transverse_pressure_angle_deg: mesh.toothing().transverse_angle_rad().to_degrees(),
            profile_shift_sum: first.shift() + second.shift(),
            closing_shift_sum: closing.map(|closing| closing.shift_sum()),
            gear_ratio: f64::from(second.teeth()) / f64::from(first.teeth()),
            contact_ratio_nominal: mesh.nominal_contact_ratio(),
            contact_ratio: mesh.contact_ratio(),
            overlap_ratio: overlap,
            total_contact_ratio: overlap.map(|overlap| overlap + mesh.contact_ratio()),
            path_of_contact_mm: path.length_mm(),
            first: gear(mesh, Member::First),
            second: gear(mesh, Member::Second),
            sliding_at_start: start,
            sliding_at_end: end,
            full_teeth: backlash(mesh, aim, 0.0),
            least_backlash: backlash(mesh, aim, aim.least_mm),
            most_backlash: backlash(mesh, aim, aim.most_mm),
            legal_first_shift: split.map(|split| split.legal),
            balanced_first_shift: closing.and_then(|closing| closing.balanced_first_shift()),
        }
    }
}

fn gear(mesh: &Meshing, member: Member) -> MeshGear {
    let (start, end) = mesh.active_flank_mm(member);
    MeshGear {
        working_diameter_mm: mesh.working_mm(member),
        start_of_active_profile_mm: start,
        end_of_active_profile_mm: end,
        tip_clearance_mm: mesh.tip_clearance_mm(member),
        root_margin_mm: mesh.root_margin_mm(member),
    }
}

fn backlash(mesh: &Meshing, aim: &Aim, amount_mm: f64) -> Backlash {
    let thinned = mesh
        .gears()
        .map(|gear| gear.with_thinning(aim.thinning(amount_mm)).unwrap_or(gear));
    let mesh = mesh.with_gears(thinned).unwrap_or(*mesh);
    Backlash {
        thinning_each_mm: amount_mm,
        transverse_mm: mesh.backlash_mm(),
        normal_mm: mesh.normal_backlash_mm(),
    }
}

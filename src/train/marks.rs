//! What is wrong with teeth in mesh, whether or not the problem refuses it.

use super::{Form, Gear, Matter, Remark, Set, made_of, mesh_of, meshes_of};
use crate::base::LENGTH_SLACK_MM;
use crate::inspect::{Bounds, Defect, defects_of_gear, defects_of_mesh};
use crate::involute::{Member, Meshing, ShiftedGear};
use crate::problem::Problem;

/// Remarks on the teeth of `set`, whose gears are made as their forms say: meshes
/// in order, then gears in order.
pub(super) fn marks(
    problem: &Problem,
    set: &Set,
    (gears, forms): (&[Gear], &[Form]),
) -> Vec<Remark> {
    let bounds = Bounds::of(problem);
    let made = made_of(problem, set, forms);
    let mut remarks = Vec::new();
    for ([one, other], centres_mm) in meshes_of(problem, set) {
        if let Some(mesh) = mesh_of(&made, [one, other], centres_mm) {
            of_mesh(&bounds, &mesh, [&gears[one], &gears[other]], &mut remarks);
        }
    }
    let shared = set.shared_place(problem);
    for (place, (gear, made)) in gears.iter().zip(&made).enumerate() {
        // A gear that serves twice is told once.
        if let Some(made) = made.as_ref().filter(|_| Some(place) != shared) {
            of_gear(problem, &bounds, gear, made, &mut remarks);
        }
    }
    remarks
}

fn of_mesh(bounds: &Bounds, mesh: &Meshing, gears: [&Gear; 2], remarks: &mut Vec<Remark>) {
    let defects = defects_of_mesh(mesh, bounds);
    if defects
        .iter()
        .any(|(_, d)| matches!(d, Defect::Binds { .. }))
    {
        // Said already; such gears are not to be cut as they are.
        return;
    }
    // Of two tight tips the tighter one is told.
    let mut tightest: Option<Matter> = None;
    for (tip, defect) in defects {
        let gear = tip.map(|tip| match tip {
            Member::First => *gears[0],
            Member::Second => *gears[1],
        });
        let (gear, matter) = match defect {
            Defect::Interference { below_mm } => (gear, Matter::Interference { below_mm }),
            Defect::FewInContact { ratio, .. } => (None, Matter::FewInContact { ratio }),
            Defect::TightTips { gap_mm, least_mm } => {
                let tighter = !matches!(
                    tightest,
                    Some(Matter::TightTips { gap_mm: other, .. }) if other <= gap_mm
                );
                if tighter {
                    tightest = Some(Matter::TightTips { gap_mm, least_mm });
                }
                continue;
            }
            _ => continue,
        };
        remarks.push(Remark {
            role: gears[0].role,
            gear,
            matter,
        });
    }
    remarks.extend(tightest.map(|matter| Remark {
        role: gears[0].role,
        gear: None,
        matter,
    }));
}

fn of_gear(
    problem: &Problem,
    bounds: &Bounds,
    gear: &Gear,
    made: &ShiftedGear,
    remarks: &mut Vec<Remark>,
) {
    let mut note = |matter| {
        remarks.push(Remark {
            role: gear.role,
            gear: Some(*gear),
            matter,
        });
    };
    for defect in defects_of_gear(made, bounds) {
        match defect {
            Defect::Undercut { needs } => note(Matter::Undercut {
                below_teeth: undercut_teeth(made),
                needs: problem.gears().closing().shifts().then_some(needs),
            }),
            Defect::ThinTip { modules } => note(Matter::ThinTip { modules }),
            Defect::Pointed { .. } => note(Matter::ThinTip { modules: 0.0 }),
            _ => {}
        }
    }
    if let Some(bore) = problem.bores().on(gear.shaft(problem)) {
        let wall_mm = made.root_mm() / 2.0 - bore.reach_mm();
        let least_mm = problem.limits().min_wall().mm();
        if wall_mm < least_mm - LENGTH_SLACK_MM {
            note(Matter::ThinWall { wall_mm, least_mm });
        }
    }
}

fn undercut_teeth(gear: &ShiftedGear) -> f64 {
    let toothing = gear.toothing();
    toothing.rack().undercut_teeth(toothing.helix_rad())
}

//! What is wrong with teeth in mesh, whether or not the problem refuses it.

use super::forms::reverse_lengths;
use super::remarks::BINDING_MM;
use super::{Form, Gear, Matter, Remark, Role, Seat, Set, gears_of, pairs_of};
use crate::base::LENGTH_SLACK_MM;
use crate::involute::{Member, Meshing, ShiftedGear};
use crate::making::{Rules, gear_of};
use crate::problem::{Problem, Shaft};

/// Figures that fall short of their limit by less are as good as it.
const FELT: f64 = 1e-9;

/// Remarks on the teeth of `set`, made as `forms` says: meshes in order, then
/// gears in order.
pub(super) fn marks(problem: &Problem, set: &Set, forms: &[Form]) -> Vec<Remark> {
    let rules = Rules::asked(problem);
    let gears = gears_of(problem, set);
    let made: Vec<Option<ShiftedGear>> = gears
        .iter()
        .zip(forms)
        .map(|(gear, form)| {
            let module = gear.module.of(problem);
            gear_of(problem.gears(), module, gear.teeth, form).ok()
        })
        .collect();
    let mut remarks = Vec::new();
    for ([one, other], centres_mm) in meshes(problem, set, &gears) {
        let (Some(first), Some(second)) = (made[one], made[other]) else {
            continue;
        };
        if let Ok(mesh) = Meshing::new(first, second, centres_mm) {
            of_mesh(&rules, &mesh, [&gears[one], &gears[other]], &mut remarks);
        }
    }
    for (gear, made) in gears.iter().zip(&made) {
        if let Some(made) = made {
            of_gear(problem, &rules, gear, made, &mut remarks);
        }
    }
    remarks
}

/// Places of the gears that mesh, and their centre distance, mm.
fn meshes(problem: &Problem, set: &Set, gears: &[Gear]) -> Vec<([usize; 2], f64)> {
    let pairs = pairs_of(problem, set).len();
    let centres_mm = set.centre_distance.mm();
    let mut all: Vec<_> = (0..pairs)
        .map(|i| ([2 * i, 2 * i + 1], centres_mm))
        .collect();
    if let Some(reverse) = set.reverse {
        let first = gears.len() - 3;
        let ([to_driver, to_driven], _) = reverse_lengths(problem, reverse);
        all.push(([first, first + 1], to_driver));
        all.push(([first + 1, first + 2], to_driven));
    }
    all
}

fn of_mesh(rules: &Rules, mesh: &Meshing, gears: [&Gear; 2], remarks: &mut Vec<Remark>) {
    if mesh.backlash_mm() < BINDING_MM {
        // Said already; such gears are not to be cut as they are.
        return;
    }
    let mut note = |gear: Option<&Gear>, matter| {
        remarks.push(Remark {
            role: gears[0].role,
            gear: gear.copied(),
            matter,
        });
    };
    for (member, gear) in Member::BOTH.into_iter().zip(gears) {
        // The mate's foot is what this tip must keep above.
        let below_mm = -mesh.root_margin_mm(member.mate());
        if below_mm > LENGTH_SLACK_MM {
            note(Some(gear), Matter::Interference { below_mm });
        }
    }
    let ratio = mesh.contact_ratio();
    if ratio < rules.least_contact_ratio() - FELT {
        note(None, Matter::FewInContact { ratio });
    }
    let gap_mm = Member::BOTH
        .into_iter()
        .map(|member| mesh.tip_clearance_mm(member))
        .fold(f64::INFINITY, f64::min);
    let least_mm = rules.least_tip_clearance() * mesh.toothing().module_mm();
    if gap_mm < least_mm - LENGTH_SLACK_MM {
        note(None, Matter::TightTips { gap_mm, least_mm });
    }
}

fn of_gear(
    problem: &Problem,
    rules: &Rules,
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
    let missing = made.least_shift() - made.shift();
    if missing > FELT {
        let below_teeth = made
            .toothing()
            .rack()
            .undercut_teeth(made.toothing().helix_rad());
        let needs = problem
            .gears()
            .closing()
            .shifts()
            .then_some(made.least_shift());
        note(Matter::Undercut { below_teeth, needs });
    }
    let thick = made.tip_thickness_mm() / made.toothing().module_mm();
    if thick < rules.least_tip_thickness() - FELT {
        note(Matter::ThinTip { modules: thick });
    }
    if let Some(bore) = problem.bores().on(shaft_of(problem, gear)) {
        let wall_mm = made.root_mm() / 2.0 - bore.reach_mm();
        let least_mm = problem.limits().min_wall().mm();
        if wall_mm < least_mm - LENGTH_SLACK_MM {
            note(Matter::ThinWall { wall_mm, least_mm });
        }
    }
}

/// The shaft that a gear sits on.
fn shaft_of(problem: &Problem, gear: &Gear) -> Shaft {
    let [driving, driven] = problem.shafts(gear.role == Role::Head);
    match gear.seat {
        Seat::Driver => driving,
        Seat::Idler => Shaft::Idler,
        Seat::Driven => driven,
    }
}

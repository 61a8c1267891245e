//! What the engine remarks of teeth, as findings with figures and next steps.

use super::finding::{Amount, Finding};
use super::meshes::{Mesh, loose, tight_next};
use super::{Examined, called};
use crate::base::{plain, signed};
use crate::problem::Problem;
use crate::train::{Gear, Matter, Remark, usual_most_backlash_mm};

/// A remark of the engine as a finding; none for what is told elsewhere.
pub(super) fn remarked(examined: &Examined<'_>, remark: &Remark) -> Option<Finding> {
    let problem = examined.problem;
    let mesh = examined.meshes.iter().find(|mesh| mesh.role == remark.role);
    if matches!(remark.matter, Matter::Interference { .. }) && runs_free(examined, remark) {
        return None;
    }
    let (what, next, by) = said(problem, mesh?, remark)?;
    let limits = problem.limits();
    let mild = match remark.matter {
        Matter::Thinned { .. } | Matter::Doubtful { .. } => true,
        Matter::Undercut { .. } => limits.allow_undercut(),
        Matter::Interference { .. } => limits.allow_interference(),
        Matter::Binds { .. } => limits.allow_binding(),
        _ => false,
    };
    let place = match &remark.gear {
        Some(gear) => gear.name(problem),
        None => called(problem, remark.role),
    };
    let mut finding = Finding::fault(remark.kind(), place, what, next).remark_if(mild);
    finding.by = by;
    Some(finding)
}

/// Whether a tip that runs below the mate's flank meets nothing there: the
/// rack has cut that root away, which is told of the mate.
fn runs_free(examined: &Examined<'_>, remark: &Remark) -> bool {
    let Some(tip) = remark.gear else { return false };
    let of_tip = |mesh: &&Mesh| mesh.role == tip.role && mesh.gears.contains(&tip);
    let mates = examined.meshes.iter().filter(of_tip);
    let mut mates = mates
        .flat_map(|mesh| mesh.gears)
        .filter(|gear| *gear != tip);
    let is_undercut = |gear: &Gear| {
        let gears = &examined.gears;
        gears
            .iter()
            .any(|(own, figures)| own == gear && figures.undercut)
    };
    mates.any(|mate| is_undercut(&mate))
}

fn said(
    problem: &Problem,
    mesh: &Mesh,
    remark: &Remark,
) -> Option<(String, String, Option<Amount>)> {
    let teeth = remark.gear.map_or(0, |gear| gear.teeth.get());
    let said = match remark.matter {
        Matter::Binds { by_mm, needs_mm } => {
            let how = by_mm.map_or_else(
                || format!("{} do not go in", mesh.named()),
                |by| format!("{} bind by {} mm", mesh.named(), plain(by, 3)),
            );
            let what = format!(
                "{how}: they need {} mm between the shafts, which are {} mm apart",
                plain(needs_mm, 3),
                plain(mesh.centres_mm, 3)
            );
            (what, tight_next(mesh), by_mm.map(Amount::mm))
        }
        Matter::Loose { backlash_mm } => {
            let most =
                usual_most_backlash_mm(mesh.centres_mm, mesh.gears[0].module.of(problem).mm());
            let found = loose(problem, mesh, backlash_mm, most, "usual is at most");
            (found.what, found.next, found.by)
        }
        Matter::Undercut { below_teeth, needs } => {
            let what = match needs {
                Some(needs) => format!(
                    "{teeth} teeth are undercut: the root is cut away, which a shift of {} avoids",
                    signed(needs, 3)
                ),
                None => format!(
                    "{teeth} teeth are undercut: without shift the root is cut away below {} teeth",
                    plain(below_teeth, 1)
                ),
            };
            let next = "look at the foot of a tooth for the notch; if its teeth were cut with a \
                        shift, give gears.profile_shift; else use more teeth, or accept it with \
                        limits.allow_undercut (the contact ratio counts what is lost)";
            let short = Amount {
                value: below_teeth - f64::from(teeth),
                unit: "teeth",
            };
            (what, next.to_owned(), Some(short))
        }
        Matter::Doubtful { .. } => {
            let next = "measure the centres more closely, over better pins in the bores";
            (remark.text(), next.to_owned(), None)
        }
        other => return of_teeth(problem, mesh, other),
    };
    Some(said)
}

/// Tips, contact, doubt.
fn of_teeth(
    problem: &Problem,
    mesh: &Mesh,
    matter: Matter,
) -> Option<(String, String, Option<Amount>)> {
    let m = mesh.gears[0].module.of(problem).mm();
    let said = match matter {
        Matter::Interference { below_mm } => (
            format!(
                "its tips run {} mm below the working flank of the mate and dig into its root",
                plain(below_mm, 3)
            ),
            "turn its tips down, or use more teeth on the mate; look for scoring at the mate's root"
                .to_owned(),
            Some(Amount::mm(below_mm)),
        ),
        Matter::ThinTip { modules } => {
            let least = problem.limits().min_tip_thickness().to_f64();
            (
                format!(
                    "its tips are {} mm thick, and {} mm is the least",
                    plain(modules * m, 3),
                    plain(least * m, 3)
                ),
                "turn the tips down a little, or use less shift".to_owned(),
                Some(Amount::mm((least - modules) * m)),
            )
        }
        Matter::FewInContact { ratio } => {
            let least = problem.limits().min_contact_ratio().to_f64();
            (
                format!(
                    "contact ratio {}, and {} is the least: a tooth leaves before the next one carries",
                    plain(ratio, 3),
                    plain(least, 2)
                ),
                "use more teeth of a smaller module, or a smaller centre distance".to_owned(),
                Some(Amount {
                    value: least - ratio,
                    unit: "",
                }),
            )
        }
        Matter::TightTips { gap_mm, least_mm } => (
            format!(
                "tips stand {} mm from the mate's root, and {} mm is the least",
                plain(gap_mm, 3),
                plain(least_mm, 3)
            ),
            "turn the tips down, or cut the mate deeper; blue a tooth space and look".to_owned(),
            Some(Amount::mm(least_mm - gap_mm)),
        ),
        Matter::Thinned { each_mm, .. } => (
            format!(
                "too little play with full teeth: its gears must have been cut {} mm thinner each",
                plain(each_mm, 3)
            ),
            "measure both over pins or over several teeth against the sizes below".to_owned(),
            Some(Amount::mm(each_mm)),
        ),
        // Walls are looked at with holes that the file does not give, too.
        _ => return None,
    };
    Some(said)
}

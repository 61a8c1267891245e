//! Reverse gears under limits, straight from the definition: each with the
//! shift nearest 0, both meshes with the idler's lower tip.

use super::options::helix_rad;
use crate::base::{LENGTH_SLACK_MM, Module, Teeth};
use crate::involute::{Closing as Mesh, Member, Meshing, ShiftedGear, Toothing};
use crate::making::form_cutter;
use crate::problem::{Bore, Closing, Cutting, Problem, Shaft};

/// The idler's two distances, the sum of the outer gears' tip radii and the
/// idler's tip radius, mm; none where a limit refuses the gears.
pub(super) fn reverse(
    problem: &Problem,
    module: Module,
    teeth: [Teeth; 3],
) -> Option<([f64; 2], f64, f64)> {
    let helix = helix_rad(problem);
    let toothing = Toothing::new(*problem.gears().rack(), module.mm(), helix).ok()?;
    let [outer_one, outer_other] = problem.reverse_seating().holes;
    let holes = [outer_one, problem.bores().on(Shaft::Idler), outer_other];
    let mut gears = Vec::new();
    for (z, hole) in teeth.into_iter().zip(holes) {
        gears.push(alone(problem, toothing, z, hole)?);
    }
    let [driver, idler, driven] = gears[..] else {
        return None;
    };
    let close = |outer: ShiftedGear| {
        let sum = outer.shift() + idler.shift();
        Mesh::from_shift_sum(toothing, [outer.teeth(), idler.teeth()], sum).ok()
    };
    let (one, other) = (close(driver)?, close(driven)?);
    let mut driver = driver.with_tip_shortening(one.tip_shortening()).ok()?;
    let mut driven = driven.with_tip_shortening(other.tip_shortening()).ok()?;
    let lower = one.tip_shortening().min(other.tip_shortening());
    let mut idler = idler.with_tip_shortening(lower).ok()?;
    let least = problem.limits().min_tip_thickness().to_f64() * module.mm();
    let thick = [driver, idler, driven]
        .iter()
        .all(|gear| gear.tip_thickness_mm() >= least - 1e-12);
    if !thick {
        return None;
    }
    let distances = [one.centres_mm(), other.centres_mm()];
    if problem.limits().extra_tip_shortening() && !problem.limits().allow_interference() {
        let with_driver = Meshing::new(driver, idler, distances[0]).ok()?;
        let with_driven = Meshing::new(driven, idler, distances[1]).ok()?;
        let (one, other) = (turned_down(&with_driver)?, turned_down(&with_driven)?);
        (driver, driven) = (one[0], other[0]);
        idler = if other[1].tip_shortening() < one[1].tip_shortening() {
            other[1]
        } else {
            one[1]
        };
    }
    let with_driver = Meshing::new(driver, idler, distances[0]).ok()?;
    let with_driven = Meshing::new(driven, idler, distances[1]).ok()?;
    (runs(problem, &with_driver) && runs(problem, &with_driven)).then(|| {
        let tips = f64::midpoint(driver.tip_mm(), driven.tip_mm());
        (distances, tips, idler.tip_mm() / 2.0)
    })
}

/// Each tip no further out than the mate's flank reaches in.
fn turned_down(mesh: &Meshing) -> Option<[ShiftedGear; 2]> {
    let turned = |member| {
        let gear = *mesh.gear(member);
        if mesh.root_margin_mm(member.mate()) >= -LENGTH_SLACK_MM {
            return Some(gear);
        }
        let excess = gear.tip_mm() - mesh.largest_clear_tip_mm(member);
        let lower = excess / (2.0 * mesh.toothing().module_mm());
        gear.with_tip_shortening(gear.tip_shortening() - lower).ok()
    };
    Some([turned(Member::First)?, turned(Member::Second)?])
}

fn runs(problem: &Problem, mesh: &Meshing) -> bool {
    let limits = problem.limits();
    let m = mesh.toothing().module_mm();
    let clearance = limits.min_tip_clearance().map_or_else(
        || mesh.toothing().rack().least_tip_clearance(),
        crate::base::Decimal::to_f64,
    );
    Member::BOTH.into_iter().all(|member| {
        let clear = mesh.root_margin_mm(member) >= -LENGTH_SLACK_MM;
        (limits.allow_interference() || clear)
            && mesh.tip_clearance_mm(member) >= clearance * m - LENGTH_SLACK_MM
    }) && mesh.contact_ratio() >= limits.min_contact_ratio().to_f64() - 1e-12
}

/// One gear, with the shift nearest 0 that its limits allow.
fn alone(
    problem: &Problem,
    toothing: Toothing,
    teeth: Teeth,
    hole: Option<Bore>,
) -> Option<ShiftedGear> {
    let gears = problem.gears();
    let form = gears.cutting() == Cutting::Form;
    if form && form_cutter(teeth, toothing.helix_rad()).is_none() {
        return None;
    }
    let (mut least, mut most) = match gears.closing() {
        Closing::Shift { min, max } => (min.to_f64(), max.to_f64()),
        Closing::Tolerance(_) | Closing::Backlash { .. } => (0.0, 0.0),
    };
    let tan = gears.rack().pressure_angle_rad.tan();
    if form {
        least = least.max(-gears.max_thinning().mm() / (2.0 * toothing.module_mm() * tan));
        most = most.min(0.0);
    }
    let plain = ShiftedGear::new(toothing, teeth, 0.0).ok()?;
    if !problem.limits().allow_undercut() {
        least = least.max(plain.least_shift());
    }
    if least > most + 1e-12 {
        return None;
    }
    let shift = if least > 0.0 { least } else { most.min(0.0) };
    let gear = ShiftedGear::new(toothing, teeth, shift.min(most)).ok()?;
    let wall = hole.map(|hole| gear.root_mm() / 2.0 - hole.reach_mm());
    let enough = wall.is_none_or(|wall| wall >= problem.limits().min_wall().mm() - 2e-9);
    enough.then_some(gear)
}

//! Gears that are fixed to a shaft together, and what they give to it.

use super::case::Case;
use crate::design::forces::{GearForce, StateForces};
use crate::design::planes::fixed_shaft;
use crate::problem::{Holding, ReverseForm};
use crate::train::{Gear, Role, Seat, gears_of};

/// What passes a joint in a state, shock left out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Passed {
    pub(super) torque_n_m: f64,
    pub(super) thrust_n: f64,
}

/// Gears that are fixed to their shafts by a joint, those of one piece
/// together. The input gear of an in-line box is of one piece with its shaft.
pub(super) fn pieces(case: &Case<'_>) -> Vec<Vec<Gear>> {
    let (problem, set) = case.housed.of();
    let own = fixed_shaft(problem.arrangement());
    let shares = problem.shared_speed().is_some();
    let all = gears_of(problem, set).into_iter();
    let fixed: Vec<Gear> = all
        .filter(|gear| gear.shaft(problem) == own)
        .filter(|gear| !(shares && gear.role == Role::Reverse))
        .collect();
    let mut alone = slid_into(case);
    let together = matches!(
        problem.layout().holding(),
        Holding::Auto | Holding::OnePiece
    );
    if !together {
        alone.extend(fixed.into_iter().map(|gear| vec![gear]));
        return alone;
    }
    let pieces = case.layout.pieces.iter().map(|roles| {
        let mine = fixed.iter().filter(|gear| roles.contains(&gear.role));
        mine.copied().collect::<Vec<_>>()
    });
    alone.extend(pieces.filter(|piece| !piece.is_empty()));
    alone
}

/// The driven gear of a sliding idler is fixed to its shaft.
fn slid_into(case: &Case<'_>) -> Vec<Vec<Gear>> {
    let (problem, set) = case.housed.of();
    if problem.reverse_form() != Some(ReverseForm::SlidingIdler) {
        return Vec::new();
    }
    let all = gears_of(problem, set).into_iter();
    let driven = all.filter(|gear| (gear.role, gear.seat) == (Role::Reverse, Seat::Driven));
    driven.map(|gear| vec![gear]).collect()
}

/// Torque (N m) and thrust (N) that a piece gives to its shaft: what its gears
/// take and give among themselves does not pass the joint.
pub(super) fn piece_load(state: &StateForces, piece: &[Gear]) -> Passed {
    let all = state
        .meshes
        .iter()
        .flat_map(|m| [&m.on_driver, &m.on_driven]);
    let own: Vec<&GearForce> = all.filter(|at| is_of(at, piece)).collect();
    Passed {
        torque_n_m: left(own.iter().map(|at| at.torque_n_m())),
        thrust_n: left(own.iter().map(|at| at.force.z_n)),
    }
}

fn is_of(at: &GearForce, piece: &[Gear]) -> bool {
    let mut gears = piece.iter();
    gears.any(|gear| (gear.role, gear.seat) == (at.gear.role, at.gear.seat))
}

/// Size of a sum; what cancels on paper is not left over by the last bits.
fn left(parts: impl Iterator<Item = f64> + Clone) -> f64 {
    let greatest = parts
        .clone()
        .fold(0.0, |most: f64, part| most.max(part.abs()));
    let left: f64 = parts.sum();
    if left.abs() <= crate::base::FIGURE_SLACK * greatest {
        0.0
    } else {
        left.abs()
    }
}

/// A gear's hub reaches to its root circle; of several the thinnest counts.
pub(super) fn least_root_mm(case: &Case<'_>, piece: &[Gear]) -> f64 {
    let wheels = piece
        .iter()
        .filter_map(|gear| case.housed.wheel(gear.role, gear.seat));
    wheels
        .map(|wheel| 2.0 * wheel.root_radius_mm)
        .fold(f64::INFINITY, f64::min)
}

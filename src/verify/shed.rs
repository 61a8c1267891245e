//! What the workshop can make, gear by gear, where the problem takes no others.

use super::breach::{Breach, Gear, Role};
use super::claims::geared;
use super::figures::form_cutter;
use super::reverse::shared_with;
use crate::base::Teeth;
use crate::problem::{CutterState, Cutting, Problem, WhichCutter};
use crate::train::{ModuleId, Set};

/// A gear of the set, and whether it is cut already.
type Part = (Role, Gear, ModuleId, Teeth, bool);

/// That every gear still to be cut can be divided, and has a cutter that is
/// owned, where the problem asks for it.
pub(super) fn check(problem: &Problem, set: &Set, breaches: &mut Vec<Breach>) {
    let workshop = problem.workshop();
    if !workshop.only_dividable() && !workshop.only_owned_cutters() {
        return;
    }
    let to_cut = parts(problem, set).into_iter().filter(|part| !part.4);
    for (role, gear, module, teeth, _) in to_cut {
        if workshop.only_dividable() && !divides(problem, teeth.get()) {
            let role = role.clone();
            breaches.push(Breach::Dividing { role, gear, teeth });
        }
        if workshop.only_owned_cutters() && !owns(problem, module, teeth) {
            breaches.push(Breach::CutterNotOwned { role, gear, teeth });
        }
    }
}

fn parts(problem: &Problem, set: &Set) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut pair = |role: Role, pair: crate::train::Pair, [driver, driven]: [bool; 2]| {
        parts.push((role.clone(), Gear::Driver, pair.module, pair.driver, driver));
        parts.push((role, Gear::Driven, pair.module, pair.driven, driven));
    };
    let shared = shared_with(problem).map(|(place, _)| place);
    let reverse_cut = problem
        .reverse()
        .is_some_and(|wanted| wanted.cut().is_some());
    if let (Some(wanted), Some(own)) = (problem.head(), set.head) {
        pair(Role::Head, own, [wanted.cut().is_some(); 2]);
    }
    let mut speed_cut = false;
    for (place, ((role, wanted), own)) in geared(problem).zip(&set.pairs).enumerate() {
        let cut = wanted.cut().is_some();
        let shares = shared == Some(place);
        speed_cut |= shares && cut;
        pair(role, *own, [cut || (shares && reverse_cut), cut]);
    }
    if let (Some(_), Some(own)) = (problem.reverse(), set.reverse) {
        let gears = [
            (Gear::Driver, own.driver, reverse_cut || speed_cut),
            (Gear::Idler, own.idler, reverse_cut),
            (Gear::Driven, own.driven, reverse_cut),
        ];
        let all = gears.map(|(gear, teeth, cut)| (Role::Reverse, gear, own.module, teeth, cut));
        parts.extend(all);
    }
    parts
}

/// Whether one tooth is some turns of the crank and whole holes of a circle, or
/// whole notches of a plate on the work.
fn divides(problem: &Problem, teeth: u32) -> bool {
    if teeth == 0 {
        return false;
    }
    let head = problem.workshop().dividing_head();
    // What is left of the last turn, in parts of it: rest / teeth.
    let rest = head.worm() % teeth;
    let whole = |holes: &u32| (rest * (holes % teeth)).is_multiple_of(teeth);
    rest == 0
        || head.plates().iter().flatten().any(whole)
        || head
            .direct()
            .iter()
            .any(|holes| holes.is_multiple_of(teeth))
}

fn owns(problem: &Problem, module: ModuleId, teeth: Teeth) -> bool {
    let (numerator, denominator) = module.of(problem).fraction();
    let beta = problem.gears().helix_angle_deg().to_radians();
    let number = form_cutter(teeth, beta);
    problem.workshop().cutters().iter().any(|cutter| {
        let (own_numerator, own_denominator) = cutter.module().fraction();
        let fits = match (problem.gears().cutting(), cutter.which()) {
            (Cutting::Generated, WhichCutter::Tool) => true,
            (Cutting::OwnForm, WhichCutter::Own(own)) => own == teeth,
            (Cutting::Form, WhichCutter::Form(own)) => u32::from(own) == number,
            (Cutting::Form, WhichCutter::FormSet) => number <= 8,
            (Cutting::Form, WhichCutter::Own(own)) => number > 8 && own == teeth,
            _ => false,
        };
        (own_numerator, own_denominator) == (numerator, denominator)
            && fits
            && cutter.state() == CutterState::AtHand
    })
}

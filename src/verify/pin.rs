//! That the idler's pin is clear of the gears that it passes.

use super::breach::{Breach, Gear, Role};
use super::claims::geared;
use super::tooth::Tooth;
use crate::base::LENGTH_SLACK_MM;
use crate::problem::{Arrangement, HeldIn, Problem};
use crate::train::{Form, Pair, Set};

/// Gears that are to be clear of each other agree to this, mm.
const SLACK_MM: f64 = 2.0 * LENGTH_SLACK_MM;

/// A pin in both walls passes every pair; one in the input wall of an in-line box
/// passes the head pair, which stands next to that wall. `to_idler` are the pin's
/// distances from driver and driven gear of reverse, mm; `forms` are of all gears.
pub(super) fn check(
    problem: &Problem,
    set: &Set,
    to_idler: (f64, f64),
    forms: &[Form],
    breaches: &mut Vec<Breach>,
) {
    let Some(pin) = problem.idler_pin().filter(|pin| pin.clear_place()) else {
        return;
    };
    let in_line = problem.arrangement() == Arrangement::InLine;
    let (with_driver, with_driven) = to_idler;
    // Driver and driven gear of a speed are on the same shafts as those of reverse;
    // the head pair of an in-line box is the other way round.
    let head = [with_driven, with_driver];
    let speed = [with_driver, with_driven];
    let mut passed: Vec<(Role, Pair, [f64; 2])> = Vec::new();
    if pin.held_in() != HeldIn::OutputWall {
        passed.extend(
            set.head
                .filter(|_| in_line)
                .map(|pair| (Role::Head, pair, head)),
        );
    }
    if pin.held_in() == HeldIn::BothWalls {
        let pairs = geared(problem).zip(&set.pairs);
        passed.extend(pairs.map(|((role, _), pair)| (role, *pair, speed)));
    }
    let least_mm = pin.pin().mm() / 2.0 + pin.gap().mm();
    // The head comes first, so forms go on in step with pairs.
    for ((role, pair, apart), forms) in passed.into_iter().zip(forms.chunks(2)) {
        let module = pair.module.of(problem);
        let gears = [(Gear::Driver, pair.driver), (Gear::Driven, pair.driven)];
        for (((gear, teeth), apart_mm), form) in gears.into_iter().zip(apart).zip(forms) {
            let tip_mm = Tooth::new(problem, module, teeth, *form).tip;
            let short_mm = least_mm - (apart_mm - tip_mm);
            if short_mm > SLACK_MM {
                let role = role.clone();
                breaches.push(Breach::PinPasses {
                    role,
                    gear,
                    short_mm,
                });
            }
        }
    }
}

//! What the power passes through.

use super::{Gearing, State};
use crate::problem::Shaft;
use crate::train::{Gear, Role, Seat};

/// One part that the power passes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// A shaft.
    Shaft(Shaft),
    /// A gear.
    Gear(Gear),
}

/// The chains of gears between the shafts that the power passes, in order.
pub(super) fn chains(gearing: &Gearing<'_>, state: State) -> Vec<Role> {
    let role = match state {
        State::Neutral => return Vec::new(),
        State::Speed(place) => Role::Speed(place),
        State::Reverse => Role::Reverse,
    };
    // The direct speed has no gears: the dog joins the two shafts.
    let Some(_) = gearing.gear(role, Seat::Driven) else {
        return Vec::new();
    };
    let head = gearing.head.map(|_| Role::Head);
    head.into_iter().chain([role]).collect()
}

fn chain(gearing: &Gearing<'_>, role: Role) -> Vec<Gear> {
    let seats = [Seat::Driver, Seat::Idler, Seat::Driven].into_iter();
    seats.filter_map(|seat| gearing.gear(role, seat)).collect()
}

/// Shafts and gears from the input to the last shaft; empty in neutral.
pub(super) fn path(gearing: &Gearing<'_>, state: State) -> Vec<Step> {
    if state == State::Neutral {
        return Vec::new();
    }
    let mut steps = vec![Step::Shaft(Shaft::Input)];
    for role in chains(gearing, state) {
        steps.extend(chain(gearing, role).into_iter().map(Step::Gear));
        steps.push(Step::Shaft(gearing.shaft_of(role, Seat::Driven)));
    }
    if let [Step::Shaft(Shaft::Input)] = steps[..] {
        steps.push(Step::Shaft(gearing.last_shaft()));
    }
    steps
}

/// The path as one line: `input -> head 28/52 -> layshaft -> 1st 25/55 -> main`.
pub(super) fn words(gearing: &Gearing<'_>, state: State, path: &[Step]) -> String {
    let last = gearing.last_shaft().word();
    if path.is_empty() {
        return format!("no dog is in: nothing drives the {last} shaft, taken as standing");
    }
    let roles = chains(gearing, state);
    if roles.is_empty() {
        return format!("input -> dog, direct -> {last}");
    }
    let input = Shaft::Input.word().to_owned();
    let passed = roles.into_iter().map(|role| passage(gearing, role));
    std::iter::once(input)
        .chain(passed)
        .collect::<Vec<_>>()
        .join(" -> ")
}

/// A role with its teeth and the shaft that it drives.
fn passage(gearing: &Gearing<'_>, role: Role) -> String {
    let gears = chain(gearing, role);
    let counts: Vec<String> = gears.iter().map(|gear| gear.teeth.to_string()).collect();
    let to = gearing.shaft_of(role, Seat::Driven).word();
    format!("{} {} -> {to}", called(gearing, role), counts.join("/"))
}

/// The role's name; a bare number would read as part of the tooth counts.
fn called(gearing: &Gearing<'_>, role: Role) -> String {
    let name = role.name(gearing.problem);
    if name.ends_with(|c: char| c.is_ascii_digit()) {
        format!("speed {name},")
    } else {
        name.to_owned()
    }
}

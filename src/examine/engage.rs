//! Whether every speed can be engaged, and the box goes together.

use super::finding::{Amount, Finding};
use super::{Examined, called, reverse};
use crate::design::planes::{Fault, Gearbox, PartId};
use crate::problem::Problem;
use crate::train::Role;

pub(super) fn findings(examined: &Examined<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    if let Err(fault) = &examined.plan.motion {
        let next = "give reverse the teeth of that gear, or use \"constant-mesh\"";
        found.push(Finding::fault(
            "shared_driver",
            "reverse".to_owned(),
            fault.to_string(),
            next.to_owned(),
        ));
    }
    match &examined.plan.layout {
        Err(faults) => {
            let told = faults.iter().filter(|fault| !is_told(examined, fault));
            found.extend(told.map(|fault| of_layout(examined, fault)));
        }
        Ok(layout) => {
            if let Err(obstacles) = &layout.assembly {
                let words: Vec<&str> = obstacles.iter().map(|o| o.words.as_str()).collect();
                let next = "the box was put together some way: give layout.case and the order of \
                            its parts, and see layshaft layout";
                let found_so = Finding::fault(
                    "assembly",
                    "box".to_owned(),
                    format!("no order tried puts it together: {}", words.join("; ")),
                    next.to_owned(),
                );
                found.push(found_so.remark_if(true));
            }
        }
    }
    found
}

/// Whether the fault follows from something that is told already.
fn is_told(examined: &Examined<'_>, fault: &Fault) -> bool {
    match fault {
        // An idler without a place leaves the box without reverse.
        Fault::NoSuchGear(Role::Reverse) => examined.plan.gearbox.reverse.is_none(),
        Fault::HoleOverRoot { .. } | Fault::HoleUnderShaft { .. } => {
            examined.walls.iter().any(|w| w.wall_mm <= 0.0)
        }
        Fault::Touch { part, other, .. } => {
            let is_reverse = |part: &PartId| matches!(part, PartId::Gear(Role::Reverse, _));
            (is_reverse(part) || is_reverse(other)) && reverse::tips_foul(examined)
        }
        _ => false,
    }
}

fn of_layout(examined: &Examined<'_>, fault: &Fault) -> Finding {
    let (problem, gearbox) = (examined.problem, &examined.plan.gearbox);
    let (kind, next) = next(fault);
    let mut found = Finding::fault(
        kind,
        place(problem, gearbox, fault),
        fault.words(gearbox),
        next.to_owned(),
    );
    found.by = match fault {
        Fault::RingOverRoot {
            ring_mm, root_mm, ..
        } => Some(Amount::mm(ring_mm - root_mm)),
        Fault::RingTooThin {
            left_mm, least_mm, ..
        } => Some(Amount::mm(least_mm - left_mm)),
        Fault::Touch { short_mm, .. } => Some(Amount::mm(*short_mm)),
        _ => None,
    };
    // A fault of sizes that nobody gave may be one of the sizes taken.
    let rests_on_taken = matches!(
        fault,
        Fault::RingTooThin { .. }
            | Fault::Touch { .. }
            | Fault::NoOrder(_)
            | Fault::Figure(_)
            | Fault::HoleOverRoot { .. }
            | Fault::HoleUnderShaft { .. }
    );
    found.remark_if(rests_on_taken && !examined.plan.housed.taken().is_empty())
}

fn place(problem: &Problem, gearbox: &Gearbox, fault: &Fault) -> String {
    match fault {
        Fault::NotServed(role)
        | Fault::ServedTwice(role)
        | Fault::NoSuchGear(role)
        | Fault::Twice(role)
        | Fault::RingOverRoot { role, .. }
        | Fault::RingTooThin { role, .. } => match role {
            // The dogs of the input gear are those of the direct speed.
            Role::Head => direct(problem),
            other => called(problem, *other),
        },
        Fault::Touch { part, .. } => part.name(gearbox),
        Fault::HoleOverRoot { gear, .. } | Fault::HoleUnderShaft { gear, .. } => gear.name(gearbox),
        Fault::SleeveOf(place) => format!("sleeve {}", place + 1),
        _ => "box".to_owned(),
    }
}

fn direct(problem: &Problem) -> String {
    let direct = problem.speeds().iter().position(|s| s.geared().is_none());
    direct.map_or_else(
        || "head".to_owned(),
        |place| called(problem, Role::Speed(place)),
    )
}

/// The kind of a fault, and what to do.
const fn next(fault: &Fault) -> (&'static str, &'static str) {
    match fault {
        Fault::RingOverRoot { .. } => (
            "engagement",
            "the sleeve would run into the teeth: measure layout.dog_ring_outside_mm; if it is \
             right, this speed cannot be engaged with so few teeth",
        ),
        Fault::RingTooThin { .. } => (
            "engagement",
            "dogs so thin break off: measure ring and hole, or use more teeth",
        ),
        Fault::NotServed(_) => (
            "engagement",
            "this speed cannot be engaged: give it a side of a sleeve in layout.forks",
        ),
        Fault::ServedTwice(_) | Fault::SleeveOf(_) | Fault::Twice(_) => (
            "engagement",
            "name each speed on one sleeve in layout.forks, two at most on each",
        ),
        Fault::NoSuchGear(_) => (
            "engagement",
            "only free gears have dogs, and the input gear of an in-line box: correct layout.forks",
        ),
        Fault::Touch { .. } => (
            "gap",
            "measure both parts again; if they are right, one of them must be smaller",
        ),
        Fault::NoOrder(_) => (
            "planes",
            "give the sizes of the box as they are (layout.*), or see layshaft layout",
        ),
        Fault::HoleOverRoot { .. } | Fault::HoleUnderShaft { .. } => (
            "figure",
            "measure hole and shaft again, and correct shafts or bores in the file",
        ),
        Fault::Figure(_) | Fault::Head | Fault::TooManySleeves => {
            ("figure", "measure it again, and correct the file")
        }
    }
}

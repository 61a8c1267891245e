//! Ratios against what was asked, and against each other.

use super::finding::{Amount, Finding};
use super::{Examined, called};
use crate::base::{plain, signed};
use crate::problem::{Asked, Geared, Problem, Reverse};
use crate::train::Role;
use crate::verify::{Breach, Role as Claimed, verify};

/// Ratios closer than this are the same in use: a hundredth of a per cent, below
/// any slip of a belt or a tyre (common practice, no source).
const SAME: f64 = 1e-4;

pub(super) fn findings(examined: &Examined<'_>) -> Vec<Finding> {
    let (problem, set) = (examined.problem, examined.set);
    let breaches = verify(problem, set);
    let mut found: Vec<Finding> = breaches.iter().filter_map(of_breach).collect();
    found.extend(of_steps(examined));
    found
}

/// Ratios out of what was asked for.
fn of_breach(breach: &Breach) -> Option<Finding> {
    let next = "count the teeth again; if they are right, the box does not do what the file \
                asks: correct the target or its tolerance";
    match breach {
        Breach::Ratio {
            role,
            ratio,
            target,
            tolerance_percent,
        } => {
            let off = 100.0 * (ratio / target.to_f64() - 1.0);
            let what = format!(
                "ratio {}, {} % from the {target} asked for, and {tolerance_percent} % is allowed",
                plain(*ratio, 3),
                signed(off, 2)
            );
            let place = match role {
                Claimed::Head => "head".to_owned(),
                Claimed::Speed(name) => format!("speed {name}"),
                Claimed::Reverse => "reverse".to_owned(),
            };
            let by = Amount {
                value: off,
                unit: "percent",
            };
            Some(Finding::fault("ratio", place, what, next.to_owned()).by(by))
        }
        Breach::HeadRatio { ratio, min, max } => {
            let least = min.map(|min| format!("at least {min}"));
            let most = max.map(|max| format!("at most {max}"));
            let asked: Vec<String> = least.into_iter().chain(most).collect();
            let what = format!(
                "ratio {}, and {} is asked for",
                plain(*ratio, 3),
                asked.join(" and ")
            );
            Some(Finding::fault(
                "ratio",
                "head".to_owned(),
                what,
                next.to_owned(),
            ))
        }
        _ => None,
    }
}

/// The forward ratios in file order, each with its place among the speeds.
pub(super) fn forward(examined: &Examined<'_>) -> Vec<(usize, f64)> {
    let mut geared = examined.figures.speeds.iter();
    let speeds = examined.problem.speeds().iter().enumerate();
    speeds
        .filter_map(|(place, speed)| match speed.geared() {
            Some(_) => Some((place, geared.next()?.ratio)),
            None => Some((place, 1.0)),
        })
        .collect()
}

/// The same ratio twice, and ratios out of their order.
fn of_steps(examined: &Examined<'_>) -> Vec<Finding> {
    let ratios = forward(examined);
    let name = |place: usize| called(examined.problem, Role::Speed(place));
    let mut found = Vec::new();
    for (i, &(place, ratio)) in ratios.iter().enumerate() {
        let twin = ratios[..i]
            .iter()
            .find(|(_, r)| (r / ratio - 1.0).abs() < SAME);
        if let Some(&(other, _)) = twin {
            let what = format!(
                "its ratio, {}, is that of {} too",
                plain(ratio, 3),
                name(other)
            );
            let next = "count the teeth of both again: one of the two does nothing of its own";
            let twice = Finding::fault("same_ratio", name(place), what, next.to_owned());
            found.push(twice.remark_if(true));
        }
    }
    let steps = || ratios.windows(2).map(|two| two[0].1 / two[1].1);
    let falls = steps().all(|step| step > 1.0 - SAME);
    let rises = steps().all(|step| step < 1.0 + SAME);
    if !falls && !rises {
        let list: Vec<String> = ratios
            .iter()
            .map(|(place, ratio)| format!("{} {}", name(*place), plain(*ratio, 3)))
            .collect();
        let next = "count the teeth again, or name the speeds in the order of their ratios";
        let disorder = Finding::fault(
            "order",
            "speeds".to_owned(),
            format!(
                "the ratios neither fall nor rise in order: {}",
                list.join(", ")
            ),
            next.to_owned(),
        );
        found.push(disorder.remark_if(true));
    }
    found
}

/// Whether somebody asked for the ratio of a role, not only its own teeth.
pub fn is_asked(problem: &Problem, role: Role) -> bool {
    let asked = match role {
        Role::Head => None,
        Role::Speed(place) => problem.speeds()[place].geared().map(Geared::asked),
        Role::Reverse => problem.reverse().map(Reverse::asked),
    };
    asked.is_some_and(|asked| asked != Asked::OwnTeeth)
}

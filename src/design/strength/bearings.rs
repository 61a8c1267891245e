//! The bearings of a box over its duty.

use super::Basis;
use super::case::Case;
use super::life::{
    Spell, at_rest_n, equivalent_n, hours, lasting_n, mean, million_turns, reliability,
};
use super::material::STATIC_SAFETY;
use super::utilisation::{Member, Unrated, Utilisation, What, When};
use crate::design::forces::{Flow, Reaction, StateForces, Support};
use crate::problem::{Bearing, Rating, Shaft};

/// A bearing over the duty.
#[derive(Clone, Debug, PartialEq)]
pub struct BearingLife {
    /// Of which shaft.
    pub shaft: Shaft,
    /// Which of its bearings.
    pub support: Support,
    /// Its size and ratings.
    pub bearing: Bearing,
    /// Its load, speed and share in every state of the duty; of driving and
    /// overrun the worse.
    pub spells: Vec<Spell>,
    /// The steady load that wears as much, N; 0 where it never turns loaded.
    pub mean_n: f64,
    /// Its mean speed, rpm.
    pub mean_rpm: f64,
    /// L10, hours: nine in ten reach it; none where nothing wears it.
    pub l10_hours: Option<f64>,
    /// How many in a hundred last the duty.
    pub last_percent: f64,
    /// Greatest load at rest, with shock, N.
    pub at_rest_n: f64,
}

#[derive(Debug, Default)]
pub(super) struct Bearings {
    pub(super) lives: Vec<BearingLife>,
    pub(super) rated: Vec<Utilisation>,
    pub(super) unrated: Vec<Unrated>,
}

pub(super) fn bearings(case: &Case<'_>) -> Bearings {
    let mut all = Bearings::default();
    for (shaft, support) in supports(case) {
        let part = Member::Bearing(shaft, support);
        let bearing = case.housed.size(shaft).and_then(|size| size.bearing());
        let Some((bearing, rating)) = bearing.and_then(|b| Some((b, b.rating()?))) else {
            all.unrated.push(Unrated {
                part,
                why: "its size is no light ball bearing's: give dynamic_rating_n and \
                      static_rating_n of the shaft",
            });
            continue;
        };
        let life = life(case, (shaft, support), bearing, &rating);
        all.rated.extend(ratings(case, &life, &rating));
        all.lives.push(life);
    }
    all
}

/// Bearings of the shafts, not of the pin.
fn supports(case: &Case<'_>) -> Vec<(Shaft, Support)> {
    let Some((_, state)) = case.states.first() else {
        return Vec::new();
    };
    let shafts = state.shafts.iter().filter(|at| at.shaft != Shaft::Idler);
    let all = shafts.flat_map(|at| at.reactions.iter().map(|held| (at.shaft, held.support)));
    all.filter(|(_, support)| *support != Support::Spigot)
        .collect()
}

fn reaction(state: &StateForces, (shaft, support): (Shaft, Support)) -> Option<&Reaction> {
    let held = &state.shaft(shaft)?.reactions;
    held.iter().find(|held| held.support == support)
}

fn life(
    case: &Case<'_>,
    (shaft, support): (Shaft, Support),
    bearing: Bearing,
    rating: &Rating,
) -> BearingLife {
    let loads = |at: &Reaction| (at.radial_n, at.force.z_n.abs());
    let equivalent = |state: &StateForces| {
        let held = reaction(state, (shaft, support));
        held.map_or(0.0, |held| {
            let (radial_n, axial_n) = loads(held);
            equivalent_n(radial_n, axial_n, rating.static_n)
        })
    };
    let driving = case.states.iter().filter(|(flow, _)| *flow == Flow::Drives);
    let spells: Vec<Spell> = driving
        .map(|(_, state)| {
            let same = case.states.iter().filter(|(_, s)| s.state == state.state);
            let motion = case.motion_in(state.state);
            let rate = motion.and_then(|motion| motion.shaft(shaft));
            Spell {
                load_n: same.map(|(_, s)| equivalent(s)).fold(0.0, f64::max),
                rpm: case.rpm(rate.map_or(0.0, |rate| rate.per_input_turn)),
                share: case.service.share(state.state),
            }
        })
        .collect();
    let (mean_n, mean_rpm) = mean(&spells);
    let l10_hours = (mean_n > 0.0)
        .then(|| hours(million_turns(rating.dynamic_n, mean_n), mean_rpm))
        .filter(|hours| hours.is_finite());
    let held = case
        .states
        .iter()
        .filter_map(|(_, s)| reaction(s, (shaft, support)));
    let rest = held.map(|held| {
        let (radial_n, axial_n) = loads(held);
        case.shock() * at_rest_n(radial_n, axial_n)
    });
    BearingLife {
        shaft,
        support,
        bearing,
        mean_n,
        mean_rpm,
        l10_hours,
        last_percent: 100.0 * l10_hours.map_or(1.0, |l10| reliability(case.service.hours / l10)),
        at_rest_n: rest.fold(0.0, f64::max),
        spells,
    }
}

fn ratings(case: &Case<'_>, life: &BearingLife, rating: &Rating) -> Vec<Utilisation> {
    let part = || Member::Bearing(life.shaft, life.support);
    let usual = Basis::defaulted("light ball bearing of that size, roughly (from memory)");
    let basis = |given: bool, words| {
        if given { Basis::given(words) } else { usual }
    };
    let [dynamic, fixed] = rating.given;
    let mut rated = vec![Utilisation::new(
        part(),
        When::Always,
        What::AtRest,
        (life.at_rest_n, rating.static_n / STATIC_SAFETY.value),
        basis(fixed, "static_rating_n of the shaft"),
    )];
    if life.mean_rpm > 0.0 {
        let turns = case.service.hours * 60.0 * life.mean_rpm / 1e6;
        rated.push(Utilisation::new(
            part(),
            When::Duty,
            What::Life,
            (life.mean_n, lasting_n(rating.dynamic_n, turns)),
            basis(dynamic, "dynamic_rating_n of the shaft, ISO 281"),
        ));
    }
    rated
}

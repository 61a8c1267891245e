//! What comes round how often: which part a fault that repeats belongs to.

use crate::design::motion::{Motion, State, StateMotion, Turns};
use crate::examine::Examined;
use crate::problem::Shaft;
use serde::Serialize;

/// Parts that turn alike, and how long they take.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Beat {
    /// Turns of the input for one turn of these.
    pub input_turns: f64,
    /// The shaft, where it is a shaft and what is fixed to it.
    pub shaft: Option<String>,
    /// The gears.
    pub gears: Vec<String>,
    /// The one state in which it is so; none where it always is.
    pub only_in: Option<String>,
}

/// Parts by how fast they turn, fastest first.
pub(super) fn beats(examined: &Examined<'_>, motion: &Motion) -> Vec<Beat> {
    let mut found: Vec<(Turns, Beat)> = Vec::new();
    let mut note =
        |turns: Turns, shaft: Option<String>, gear: Option<String>, only: Option<String>| {
            if turns.is_standing() {
                return;
            }
            let size = turns.to_f64().abs();
            let known = found.iter_mut().find(|(other, beat)| {
                (other.to_f64().abs() - size).abs() < 1e-12 && beat.only_in == only
            });
            match known {
                Some((_, beat)) => {
                    beat.shaft = beat.shaft.take().or(shaft);
                    beat.gears.extend(gear);
                }
                None => found.push((
                    turns,
                    Beat {
                        input_turns: 1.0 / size,
                        shaft,
                        gears: gear.into_iter().collect(),
                        only_in: only,
                    },
                )),
            }
        };
    let neutral = motion.states.iter().find(|at| at.state == State::Neutral);
    if let Some(neutral) = neutral {
        for at in &neutral.shafts {
            let turns_always = !matches!(at.shaft, Shaft::Main | Shaft::Output | Shaft::Idler);
            if turns_always {
                let name = shaft_called(at.shaft);
                note(at.rate.turns, Some(name), None, None);
            }
        }
        for at in &neutral.gears {
            let name = at.gear.name(examined.problem);
            note(at.rate.turns, None, Some(name), None);
        }
    }
    for at in &motion.states {
        in_one(examined, at, &mut note);
    }
    found.sort_by(|a, b| a.1.input_turns.total_cmp(&b.1.input_turns));
    found.into_iter().map(|(_, beat)| beat).collect()
}

/// What turns so in one state alone: the output, and a sliding idler.
fn in_one(
    examined: &Examined<'_>,
    at: &StateMotion,
    note: &mut impl FnMut(Turns, Option<String>, Option<String>, Option<String>),
) {
    if at.state == State::Neutral {
        return;
    }
    let only = Some(super::state_called(examined.problem, at.state));
    for shaft in &at.shafts {
        if matches!(shaft.shaft, Shaft::Main | Shaft::Output) {
            let name = shaft_called(shaft.shaft);
            note(shaft.rate.turns, Some(name), None, only.clone());
        }
    }
}

fn shaft_called(shaft: Shaft) -> String {
    match shaft {
        Shaft::Layshaft => "layshaft and its bearings".to_owned(),
        other => format!("{} shaft and its bearings", other.word()),
    }
}

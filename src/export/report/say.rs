//! What a state does, as a sentence to be read aloud.

use crate::base::{capital, plain};
use crate::design::Plan;
use crate::design::motion::{State, StateMotion, Step};
use crate::design::planes::{Moved, PartId, Rod, free_shaft};
use crate::problem::Problem;
use crate::sheet::state_name;
use crate::train::Role;
use serde_json::{Map, Value, json};

/// One sentence or two for every state of a set's box.
pub(super) fn sayings(problem: &Problem, plan: &Plan<'_>) -> Value {
    let states = plan.motion.iter().flat_map(|motion| &motion.states);
    let said = states.map(|state| {
        let words = say(problem, plan, state);
        (state_name(problem, state.state), json!(words))
    });
    Value::Object(said.collect::<Map<String, Value>>())
}

fn say(problem: &Problem, plan: &Plan<'_>, state: &StateMotion) -> String {
    let name = state_name(problem, state.state);
    let last = free_shaft(problem.arrangement());
    let output = state.shaft(last).map_or(0.0, |rate| rate.per_input_turn);
    let turns = match state.state {
        State::Neutral => {
            return format!(
                "Neutral: no dog is in, nothing drives the {} shaft, and the box holds nothing.",
                last.word()
            );
        }
        _ if output < 0.0 => format!(
            "the {} shaft turns against the input at {} of its speed",
            last.word(),
            plain(-output, 3)
        ),
        _ => format!(
            "the {} shaft turns with the input at {} of its speed",
            last.word(),
            plain(output, 3)
        ),
    };
    let through = through(problem, state);
    let moved = moved(problem, plan, state.state);
    format!("{}: {through}; {turns}.{moved}", capital(&name))
}

/// What the power passes, in words.
fn through(problem: &Problem, state: &StateMotion) -> String {
    let mut pairs: Vec<String> = Vec::new();
    for step in &state.path {
        if let Step::Gear(gear) = step {
            let pair = match gear.role {
                Role::Head => "the head pair".to_owned(),
                Role::Reverse => "the reverse gears and their idler".to_owned(),
                role @ Role::Speed(_) => format!("the pair of {}", role.name(problem)),
            };
            if !pairs.contains(&pair) {
                pairs.push(pair);
            }
        }
    }
    if pairs.is_empty() {
        return "the dog locks the input to the main shaft".to_owned();
    }
    format!("power goes through {}", pairs.join(" and "))
}

/// Which sleeve goes where.
fn moved(problem: &Problem, plan: &Plan<'_>, state: State) -> String {
    let role = match state {
        State::Neutral => return String::new(),
        State::Speed(place) if problem.speeds()[place].geared().is_none() => Role::Head,
        State::Speed(place) => Role::Speed(place),
        State::Reverse => Role::Reverse,
    };
    let Ok(layout) = &plan.layout else {
        return String::new();
    };
    let to = |rod: &Rod| {
        let position = rod.positions.iter().find(|p| p.engages == Some(role))?;
        let what = match rod.moves {
            Moved::Sleeve(place) => PartId::Sleeve(place).name(&plan.gearbox),
            Moved::Idler => "idler".to_owned(),
        };
        let end = position.towards?.word();
        let far = plain(position.move_mm.abs(), 2);
        Some(format!(" The {what} moves {far} mm towards the {end}."))
    };
    layout.rods.iter().find_map(to).unwrap_or_default()
}

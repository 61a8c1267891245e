//! Deflections beside a beam solver in Python (`beams.py`), which is given loads
//! and supports alone.

use super::{Box, boxes};
use crate::python::answer;
use layshaft::design::Plan;
use layshaft::design::forces::{Flow, LoadFrom, ShaftForces, StateForces, Support};
use layshaft::design::strength::{Bent, Service, ShaftBend, Strength, When};
use layshaft::problem::Shaft;
use serde_json::{Value, json};

const ELASTICITY_MPA: f64 = 206e3;

/// What the outside solver answers to all cases.
fn solved(cases: &[Value]) -> Option<Vec<Vec<Bent>>> {
    let answers: Vec<Vec<Value>> = answer("strength/beams.py", &["scipy"], &json!(cases))?;
    let pair = |of: &Value| [0, 1].map(|i| of[i].as_f64().unwrap());
    let bent = |of: &Value| Bent {
        deflection_mm: pair(&of["deflection_mm"]),
        slope_rad: pair(&of["slope_rad"]),
    };
    let bent = |case: &Vec<Value>| case.iter().map(bent).collect();
    Some(answers.iter().map(bent).collect())
}

fn shaft_of(forces: &ShaftForces, bend: &ShaftBend) -> Value {
    // What the main shaft does to the input gear is to be found, not given.
    let given = forces
        .loads
        .iter()
        .filter(|load| load.from != LoadFrom::Spigot);
    let loads: Vec<Value> = given
        .map(|load| {
            json!({ "z_mm": load.z_mm, "offset_mm": load.offset_mm,
                "force_n": [load.force.x_n, load.force.y_n, load.force.z_n] })
        })
        .collect();
    let sections: Vec<Value> = bend
        .sections
        .iter()
        .map(|s| {
            json!({ "from_mm": s.from_mm, "to_mm": s.to_mm,
                "outside_mm": s.outside_mm, "inside_mm": s.inside_mm })
        })
        .collect();
    let held = forces.reactions.iter();
    let supports: Vec<f64> = held
        .clone()
        .filter(|held| matches!(held.support, Support::InputEnd | Support::OutputEnd))
        .map(|held| held.z_mm)
        .collect();
    let wall = held.clone().find(|held| held.support == Support::Wall);
    json!({ "sections": sections, "loads": loads, "supports_mm": supports,
        "wall_mm": wall.map(|held| held.z_mm) })
}

/// One state of a box as a case, and what the library says at its places.
fn case(
    strength: &Strength,
    flow: Flow,
    state: &StateForces,
    plan: &Plan<'_>,
) -> (Value, Vec<Bent>) {
    let when = When::In(state.state, flow);
    let own: Vec<&ShaftBend> = strength.shafts.iter().filter(|s| s.when == when).collect();
    let number = |shaft: Shaft| own.iter().position(|s| s.shaft == shaft).unwrap();
    let shafts: Vec<Value> = own
        .iter()
        .map(|bend| shaft_of(state.shaft(bend.shaft).unwrap(), bend))
        .collect();
    let mut links = Vec::new();
    let (mut asked, mut ours) = (Vec::new(), Vec::new());
    let mut ask = |shaft: Shaft, z_mm: f64, bent: Bent| {
        asked.push(json!({ "shaft": number(shaft), "z_mm": z_mm }));
        ours.push(bent);
    };
    for bend in &own {
        let forces = state.shaft(bend.shaft).unwrap();
        for (held, (_, bent)) in forces.reactions.iter().zip(&bend.at_supports) {
            ask(bend.shaft, held.z_mm, *bent);
            if held.support == Support::Spigot {
                links.push(json!({ "rests": number(Shaft::Main),
                    "holds": number(Shaft::Input), "z_mm": held.z_mm }));
            }
        }
    }
    let problem = plan.housed.of().0;
    for mesh in strength.meshes.iter().filter(|mesh| mesh.when == when) {
        for (gear, bent) in mesh.gears.iter().zip(mesh.bent) {
            ask(gear.shaft(problem), mesh.z_mm, bent);
        }
    }
    let case = json!({ "elasticity_mpa": ELASTICITY_MPA, "shafts": shafts, "links": links,
        "asked": asked });
    (case, ours)
}

fn cases(of: &Box) -> Vec<(String, Value, Vec<Bent>)> {
    of.with_plan(|plan| {
        let strength = Strength::of(plan, Service::of(&of.problem)).unwrap();
        let (driving, overrun) = (
            plan.driving.as_ref().unwrap(),
            plan.overrun.as_ref().unwrap(),
        );
        let both = [(Flow::Drives, driving), (Flow::Overruns, overrun)];
        let states = both.iter().flat_map(|(flow, states)| {
            let states = states.as_ref().unwrap();
            states.iter().map(move |state| (*flow, state))
        });
        let loaded = states.filter(|(_, state)| !state.meshes.is_empty());
        loaded
            .map(|(flow, state)| {
                let (case, ours) = case(&strength, flow, state, plan);
                (
                    format!("{}, {:?} {flow:?}", of.about, state.state),
                    case,
                    ours,
                )
            })
            .collect()
    })
}

#[test]
fn shafts_bend_as_a_beam_solver_says() {
    let all: Vec<_> = boxes().iter().flat_map(cases).collect();
    let values: Vec<Value> = all.iter().map(|(_, case, _)| case.clone()).collect();
    let Some(answers) = solved(&values) else {
        return;
    };
    let mut compared = 0;
    for ((about, _, ours), theirs) in all.iter().zip(&answers) {
        assert_eq!(ours.len(), theirs.len(), "{about}");
        let sizes = theirs
            .iter()
            .flat_map(|b| b.deflection_mm.into_iter().chain(b.slope_rad));
        let largest = sizes.fold(0.0_f64, |most, size| most.max(size.abs()));
        assert!(largest > 1e-6, "{about}: nothing bends");
        for (one, other) in ours.iter().zip(theirs) {
            for i in 0..2 {
                let off = (one.deflection_mm[i] - other.deflection_mm[i])
                    .abs()
                    .max((one.slope_rad[i] - other.slope_rad[i]).abs());
                assert!(off < 1e-6 * largest, "{about}: {one:?} and {other:?}");
                compared += 1;
            }
        }
    }
    assert!(answers.len() == all.len() && compared > 300, "{compared}");
}

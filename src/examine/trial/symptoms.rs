//! From what is felt or heard to what to measure and what it may be, with this
//! box's own figures. The rules are the trade's (common practice, no source).

use super::{Play, state_called};
use crate::base::{plain, signed};
use crate::design::motion::{Hold, Motion, State};
use crate::examine::{Examined, Mesh, called};
use crate::problem::{Duty, Shaft};
use crate::train::Role;
use serde::Serialize;
use std::fmt::Write;

/// One row.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Symptom {
    /// What is felt or heard.
    pub symptom: String,
    /// What to measure, and what it should be.
    pub measure: String,
    /// What it probably is.
    pub cause: String,
}

pub(super) fn symptoms(
    examined: &Examined<'_>,
    motion: Option<&Motion>,
    plays: &[Play],
) -> Vec<Symptom> {
    let mut rows = Vec::new();
    rows.extend(plays.iter().map(|play| noise(examined, play)));
    rows.extend(motion.map(|motion| whine(examined, motion)));
    rows.push(jumps_out(examined));
    rows.push(will_not_engage(examined, motion));
    rows.push(row(
        "tight spot that comes round with one part",
        "count the turns of the input from one tight spot to the next, and look the count up in \
         the table of turns",
        "run-out of the gear or shaft in that row: a bore off centre, a bent shaft, a burr or a \
         chip in one tooth space; three tight spots a turn come from a three-jaw chuck",
    ));
    rows.push(hot_bearing(examined));
    rows.extend(motion.and_then(|motion| hot_bush(examined, motion)));
    rows.push(row(
        "oil on the floor",
        "seals and joints of the case",
        "none of the gears; nothing here is about the case's tightness",
    ));
    rows
}

fn row(symptom: &str, measure: &str, cause: &str) -> Symptom {
    Symptom {
        symptom: symptom.to_owned(),
        measure: measure.to_owned(),
        cause: cause.to_owned(),
    }
}

fn noise(examined: &Examined<'_>, play: &Play) -> Symptom {
    let mut measure = "backlash at the rim:".to_owned();
    // The head pair runs in every speed: noise in one alone is not its.
    let own = play
        .rims
        .iter()
        .filter(|rim| !rim.mesh.starts_with("head "));
    for rim in own {
        let [least, most] = rim.play_mm.map(|mm| plain(mm, 3));
        let _ = write!(measure, " {} should have {least} to {most} mm;", rim.mesh);
    }
    let contact = contact_of(examined, &play.state);
    let _ = write!(measure, " contact ratio {contact} by calculation");
    Symptom {
        symptom: format!("noise in {} alone", play.state),
        measure,
        cause: "this pair: too much backlash rattles when the load turns about, too little howls; \
                blue both flanks and look for contact at one end (shafts out of parallel) or at \
                the tips (centres too far apart)"
            .to_owned(),
    }
}

fn contact_of(examined: &Examined<'_>, state: &str) -> String {
    let own = |mesh: &&Mesh| called(examined.problem, mesh.role) == state;
    let meshes = examined.meshes.iter().filter(own);
    let least = meshes
        .filter_map(|mesh| Some(mesh.figures.as_ref()?.contact_ratio))
        .fold(f64::INFINITY, f64::min);
    plain(least, 2)
}

/// Tooth frequencies, and at which speed of the input.
fn whine(examined: &Examined<'_>, motion: &Motion) -> Symptom {
    let problem = examined.problem;
    let rpm = problem.input_rpm().unwrap_or(Duty::USUAL_INPUT_RPM);
    let mut said: Vec<String> = Vec::new();
    for mesh in &examined.meshes {
        let [driver, _] = mesh.gears;
        let state = motion.states.last();
        let turns = state.and_then(|at| at.gear(driver.role, driver.seat));
        if let Some(turns) = turns {
            let hertz = turns.rate.per_input_turn.abs() * f64::from(driver.teeth) * rpm / 60.0;
            let line = format!("{} {} Hz", called(problem, mesh.role), plain(hertz, 0));
            if !said.contains(&line) {
                said.push(line);
            }
        }
    }
    Symptom {
        symptom: "whine that rises with the speed".to_owned(),
        measure: format!(
            "its pitch: teeth pass, at {} rpm of the input, {}",
            plain(rpm, 0),
            said.join(", ")
        ),
        cause: "the mesh whose teeth pass as often: form or spacing of its teeth, most often a \
                dividing error or a worn cutter; a pitch of its own, far above, is a bearing"
            .to_owned(),
    }
}

fn jumps_out(examined: &Examined<'_>) -> Symptom {
    let layout = examined.problem.layout();
    Symptom {
        symptom: "jumps out of gear".to_owned(),
        measure: format!(
            "how far the dogs overlap (should be {} mm), the float along the shaft ({} mm), and \
             whether the detent's notch stands where the sleeve is fully home",
            layout.dog_overlap(),
            layout.end_float()
        ),
        cause: "a sleeve that does not go home (fork bent or worn, notch out of place), rounded \
                dogs, too much float, or shafts out of line that work the sleeve off once a turn"
            .to_owned(),
    }
}

fn will_not_engage(examined: &Examined<'_>, motion: Option<&Motion>) -> Symptom {
    let problem = examined.problem;
    let shifts = motion.map_or(&[][..], |motion| &motion.shifts);
    let worst = shifts.iter().max_by(|a, b| {
        a.difference_percent
            .abs()
            .total_cmp(&b.difference_percent.abs())
    });
    let mut measure =
        "with everything standing, turn the output by hand until the dogs drop in".to_owned();
    if let Some(shift) = worst {
        let [from, to] = [shift.from, shift.to].map(|place| called(problem, Role::Speed(place)));
        let _ = write!(
            measure,
            "; turning, the change from {from} to {to} asks most: {} % between dog and sleeve",
            signed(shift.difference_percent, 0)
        );
    }
    if let Ok(layout) = &examined.plan.layout {
        let travel = layout.sleeves.iter().map(|sleeve| sleeve.travel_mm);
        let travel = travel.fold(0.0, f64::max);
        let _ = write!(measure, "; travel of a sleeve: {} mm", plain(travel, 2));
    }
    Symptom {
        symptom: "will not engage".to_owned(),
        measure,
        cause: "dog against dog (turn a little and try again), a fork that stops short, burred \
                dogs, two speeds asked for at once by a worn interlock"
            .to_owned(),
    }
}

fn hot_bearing(examined: &Examined<'_>) -> Symptom {
    let housed = &examined.plan.housed;
    let sizes: Vec<String> = housed
        .shafts()
        .iter()
        .filter_map(|&shaft| {
            let bearing = housed.size(shaft)?.bearing()?;
            let [bore, outside] = [bearing.bore(), bearing.outside()];
            Some(format!("{} {bore} × {outside} mm", shaft.word()))
        })
        .collect();
    let of = if sizes.is_empty() {
        String::new()
    } else {
        format!(" ({})", sizes.join(", "))
    };
    let float = examined.problem.layout().end_float();
    Symptom {
        symptom: "one bearing runs hot".to_owned(),
        measure: format!(
            "float along that shaft, cold and warm (should be {float} mm), and how its bearing \
             sits{of}; the hand tells: too hot to touch is above 60 °C"
        ),
        cause: "no float left when warm, a seat too tight, no oil reaching it, or backlash all \
                gone so that the teeth push the shafts apart"
            .to_owned(),
    }
}

/// The free gear that slips most on its shaft.
fn hot_bush(examined: &Examined<'_>, motion: &Motion) -> Option<Symptom> {
    let problem = examined.problem;
    let free = motion.states.iter().filter(|at| at.state != State::Neutral);
    let slips = free.flat_map(|at| {
        let free = at.gears.iter().filter(|gear| gear.hold == Hold::Free);
        free.filter(|gear| gear.shaft != Shaft::Idler)
            .filter_map(move |gear| Some((at.state, gear.gear, gear.slip?.per_input_turn.abs())))
    });
    let (state, gear, slip) = slips.max_by(|a, b| a.2.total_cmp(&b.2))?;
    Some(Symptom {
        symptom: "a free gear runs hot on its shaft".to_owned(),
        measure: format!(
            "play of its bush, and whether oil reaches it; {} slips most: {} turns on its shaft \
             a turn of the input in {}",
            gear.name(problem),
            plain(slip, 3),
            state_called(problem, state)
        ),
        cause: "a dry or tight bush, or a gear squeezed between its washers".to_owned(),
    })
}

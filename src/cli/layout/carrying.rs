//! What meshes, bearings and the idler's pin carry in every state.

use crate::base::plain;
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::design::forces::{ShaftForces, StateForces};
use crate::design::torque_n_m;
use crate::export::LayoutAnswer;
use crate::problem::Shaft;

/// Loads while the input drives; of bearings and pin also while it is overrun.
pub(super) fn carrying(answer: &LayoutAnswer<'_>, width: usize) -> String {
    let (driving, overrun) = match (&answer.plan.driving, &answer.plan.overrun) {
        (Some(Ok(driving)), Some(Ok(overrun))) => (driving, overrun),
        (Some(Err(fault)), _) | (_, Some(Err(fault))) => {
            return format!("\n{}", paragraph(&format!("No forces: {fault}."), 2, width));
        }
        _ => return String::new(),
    };
    let torque = plain(torque_n_m(answer.problem), 2);
    let at = if answer.problem.duty().is_some() {
        format!("at {torque} N m on the input shaft")
    } else {
        format!("for each {torque} N m on the input shaft (the file has no duty)")
    };
    meshes(answer, driving, &at, width)
        + &bearings(answer, (driving, overrun), &at, width)
        + &thrusts(answer, driving, width)
}

fn meshes(answer: &LayoutAnswer<'_>, states: &[StateForces], at: &str, width: usize) -> String {
    let rows: Vec<_> = states
        .iter()
        .flat_map(|state| state.meshes.iter().map(move |mesh| (state, mesh)))
        .collect();
    let newtons = |force: f64| plain(force, 0);
    let mut columns = vec![
        Column::left(
            "in",
            rows.iter()
                .map(|(state, _)| answer.state(state.state))
                .collect(),
        ),
        Column::left(
            "driver",
            rows.iter()
                .map(|(_, m)| m.on_driver.gear.name(answer.problem))
                .collect(),
        ),
        Column::right(
            "tangential\nN",
            rows.iter().map(|(_, m)| newtons(m.tangential_n)).collect(),
        ),
        Column::right(
            "radial\nN",
            rows.iter().map(|(_, m)| newtons(m.radial_n)).collect(),
        ),
    ];
    if answer.problem.gears().helix_angle_deg() > 0.0 {
        columns.push(Column::right(
            "axial\nN",
            rows.iter().map(|(_, m)| newtons(m.axial_n)).collect(),
        ));
    }
    columns.push(Column::right(
        "between flanks\nN",
        rows.iter().map(|(_, m)| newtons(m.normal_n)).collect(),
    ));
    let mut out = format!(
        "\n{}",
        paragraph(&format!("Forces of the teeth {at}"), 2, width)
    );
    for table in Table::new(2, columns).split(width) {
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    out
}

/// Radial loads of every support: driving, and overrun where it differs.
fn bearings(
    answer: &LayoutAnswer<'_>,
    (driving, overrun): (&[StateForces], &[StateForces]),
    at: &str,
    width: usize,
) -> String {
    let mut rows: Vec<(String, Vec<String>)> = Vec::new();
    for shaft in Shaft::ALL {
        let Some(first) = driving.iter().find_map(|state| state.shaft(shaft)) else {
            continue;
        };
        for (i, reaction) in first.reactions.iter().enumerate() {
            let load = |states: &[StateForces], place: usize| {
                let own: Option<&ShaftForces> = states.get(place)?.shaft(shaft);
                Some(own?.reactions.get(i)?.radial_n)
            };
            let cell = |place: usize| {
                let (drive, back) = (load(driving, place), load(overrun, place));
                let text = |n: f64| plain(n, 0);
                match (drive, back) {
                    (Some(drive), Some(back)) if text(drive) == text(back) => text(drive),
                    (Some(drive), Some(back)) => format!("{}/{}", text(drive), text(back)),
                    _ => String::new(),
                }
            };
            let name = match shaft {
                Shaft::Idler => format!("idler pin, {}", reaction.support.word()),
                _ => format!("{}, {}", shaft.word(), reaction.support.word()),
            };
            rows.push((name, (0..driving.len()).map(cell).collect()));
        }
    }
    let mut columns = vec![Column::left(
        "on",
        rows.iter().map(|(name, _)| name.clone()).collect(),
    )];
    for (place, state) in driving.iter().enumerate() {
        if state.meshes.is_empty() && state.input_torque_n_m.abs() < f64::MIN_POSITIVE {
            continue;
        }
        let cells = rows.iter().map(|(_, cells)| cells[place].clone()).collect();
        columns.push(Column::right(&answer.state(state.state), cells));
    }
    let title = format!(
        "Across the shafts on bearings and pin, N, {at}; driving/overrun where they differ"
    );
    let mut out = format!("\n{}", paragraph(&title, 2, width));
    for table in Table::new(2, columns).split(width) {
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    out
}

/// Who takes the thrust; nothing for spur gears.
fn thrusts(answer: &LayoutAnswer<'_>, states: &[StateForces], width: usize) -> String {
    let mut lines = Vec::new();
    for state in states {
        for shaft in &state.shafts {
            let thrust = &shaft.thrust;
            if let (Some(towards), Some(taken)) = (thrust.towards, thrust.taken_by) {
                lines.push(format!(
                    "{}: {} {} N towards the {}, taken by the {}",
                    answer.state(state.state),
                    shaft.shaft.word(),
                    plain(thrust.size_n, 0),
                    towards.word(),
                    taken.word()
                ));
            }
        }
    }
    if lines.is_empty() {
        return String::new();
    }
    let hand = if answer.problem.layout().left_hand() {
        "left"
    } else {
        "right"
    };
    let mut out = format!(
        "\n{}",
        paragraph(
            &format!(
                "Thrust while driving; the driving gears are {hand}-handed, their mates the other \
                 hand, the reverse driven gear {hand}-handed again"
            ),
            2,
            width
        )
    );
    for line in lines {
        out += &paragraph(&line, 4, width);
    }
    out
}

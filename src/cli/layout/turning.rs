//! How everything turns in every state.

use crate::base::{plain, signed};
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::design::motion::{Hold, Motion, Rate, StateMotion};
use crate::export::LayoutAnswer;
use crate::problem::Shaft;

/// Turns of shafts and gears, and what dogs take up.
pub(super) fn turning(answer: &LayoutAnswer<'_>, width: usize) -> String {
    match &answer.plan.motion {
        Ok(motion) => {
            states(answer, motion, width)
                + &slips(answer, motion, width)
                + &shifts(answer, motion, width)
        }
        Err(fault) => paragraph(&fault.to_string(), 2, width),
    }
}

/// In rpm where the input's speed is given, else per turn of the input.
fn said(rate: &Rate) -> String {
    rate.rpm
        .map_or_else(|| signed(rate.per_input_turn, 4), |rpm| signed(rpm, 0))
}

fn unit(answer: &LayoutAnswer<'_>) -> String {
    answer.problem.input_rpm().map_or_else(
        || "turns per turn of the input; + with it, - against it".to_owned(),
        |rpm| {
            format!(
                "rpm with the input at {} rpm; + with it, - against it",
                plain(rpm, 0)
            )
        },
    )
}

fn states(answer: &LayoutAnswer<'_>, motion: &Motion, width: usize) -> String {
    let mut out = format!(
        "\n{}",
        paragraph(&format!("Shafts, {}", unit(answer)), 2, width)
    );
    let cells = |cell: &dyn Fn(&StateMotion) -> String| motion.states.iter().map(cell).collect();
    let mut columns = vec![Column::left("in", cells(&|at| answer.state(at.state)))];
    let shafts: Vec<Shaft> = answer.plan.housed.shafts().to_vec();
    for shaft in shafts {
        let turns = |at: &StateMotion| at.shaft(shaft).map_or_else(String::new, |rate| said(&rate));
        columns.push(Column::right(shaft.word(), cells(&turns)));
    }
    if motion.states.iter().any(|at| answer.road_kmh(at).is_some()) {
        let speed = |at: &StateMotion| {
            let kmh = answer.road_kmh(at);
            kmh.map_or_else(String::new, |kmh| signed(kmh, 1))
        };
        columns.push(Column::right("km/h", cells(&speed)));
    }
    for table in Table::new(2, columns).split(width) {
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    out += "\n  The power goes\n";
    for at in &motion.states {
        let path = at.words.replace("->", "→");
        out += &paragraph(&format!("{}: {path}", answer.state(at.state)), 4, width);
    }
    out
}

/// Free gears on their shaft, state by state.
fn slips(answer: &LayoutAnswer<'_>, motion: &Motion, width: usize) -> String {
    let Some(first) = motion.states.first() else {
        return String::new();
    };
    let free: Vec<usize> = (0..first.gears.len())
        .filter(|&i| {
            motion
                .states
                .iter()
                .any(|at| at.gears[i].hold == Hold::Free)
        })
        .collect();
    let mut columns = vec![Column::left(
        "in",
        motion
            .states
            .iter()
            .map(|at| answer.state(at.state))
            .collect(),
    )];
    for &i in &free {
        let cell = |at: &StateMotion| at.gears[i].slip.as_ref().map_or_else(String::new, said);
        let name = first.gears[i].gear.name(answer.problem).replace(", ", "\n");
        columns.push(Column::right(
            &name,
            motion.states.iter().map(cell).collect(),
        ));
    }
    if first.spigot_slip.is_some() {
        let cell = |at: &StateMotion| at.spigot_slip.as_ref().map_or_else(String::new, said);
        columns.push(Column::right(
            "spigot",
            motion.states.iter().map(cell).collect(),
        ));
    }
    let mut out = format!(
        "\n{}",
        paragraph("How fast free gears slip on what carries them", 2, width)
    );
    for table in Table::new(2, columns).split(width) {
        push_lines(&mut out, &table.head());
        push_lines(&mut out, &table.rows());
    }
    out
}

fn shifts(answer: &LayoutAnswer<'_>, motion: &Motion, width: usize) -> String {
    if motion.shifts.is_empty() {
        return String::new();
    }
    let name = |place: usize| answer.problem.speeds()[place].name().to_owned();
    let all = &motion.shifts;
    let columns = vec![
        Column::left(
            "change",
            all.iter()
                .map(|s| format!("{} to {}", name(s.from), name(s.to)))
                .collect(),
        ),
        Column::right(
            "dog takes up",
            all.iter().map(|s| said(&s.difference)).collect(),
        ),
        Column::right(
            "of the shaft %",
            all.iter()
                .map(|s| signed(s.difference_percent, 1))
                .collect(),
        ),
        Column::right(
            "input then",
            all.iter().map(|s| said(&s.input_after)).collect(),
        ),
    ];
    let table = Table::new(2, columns);
    let title = "Changing speed, the output keeping its own: what the dog must take up";
    let mut out = format!("\n{}", paragraph(title, 2, width));
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    out
}

//! The page for the bench, as Markdown: proving a box by hand.

use super::{page, tables, trouble};
use crate::base::plain;
use crate::cli::layout::over_pins;
use crate::cli::sheets::markdown::plain_text;
use crate::examine::{ARM_MM, Mesh, Play, Turned};
use crate::export::{CheckAnswer, TURNING_CAUTIONS, cautions};
use crate::problem::Turning;
use std::fmt::Write;

/// The whole page.
pub(super) fn page(answer: &CheckAnswer<'_>) -> String {
    let title = match answer.examined.problem.title() {
        "" => format!("set {}", answer.mark),
        title => plain_text(title),
    };
    let mut out = format!("# Trial and fault-finding: {title}\n\n");
    out += &standing(answer);
    out += &centres(answer);
    out += &printed(answer);
    out += &blueing(answer);
    out += &backlash(answer);
    out += &turning(answer);
    out += RUN_IN;
    out += &trouble::symptoms(answer);
    out += &trouble::beats(answer);
    let _ = write!(out, "\n## Before it turns\n\n");
    for caution in TURNING_CAUTIONS {
        let _ = writeln!(out, "- {caution}");
    }
    let _ = write!(out, "\n{}\n", cautions(answer.examined.problem));
    out
}

/// Whether the box may be turned at all.
fn standing(answer: &CheckAnswer<'_>) -> String {
    let mut out = format!("{}\n", plain_text(&page::headline(answer)));
    let faults: Vec<_> = answer.examined.faults().collect();
    if !faults.is_empty() {
        out += "\n**Do not turn the box before these are mended or measured again:**\n\n";
    }
    for fault in faults {
        let text = format!("{}: {}. Do: {}.", fault.place, fault.what, fault.next);
        let _ = writeln!(out, "- {}", plain_text(&text));
    }
    out
}

/// Centres, before anything is bored or pressed in.
fn centres(answer: &CheckAnswer<'_>) -> String {
    let boring = &answer.examined.plan.boring;
    let mut out = "\n## 1. Prove the centres\n\n\
        Drill both plates of scrap 3 mm thick as the walls are to be bored, set pins in the holes \
        and measure over them. Only when all of these read right, bore the walls; measure again in \
        the bores with the bearings' own pins.\n\n"
        .to_owned();
    for check in &boring.checks {
        let _ = writeln!(out, "- `[      ]` {}", plain_text(&over_pins(check)));
    }
    if let Some(true_to) = boring.shafts.filter(|trueness| trueness.reached) {
        let _ = write!(
            out,
            "\nThe shafts may be {} mm closer or {} mm wider before a mesh leaves its backlash.\n",
            plain(true_to.closer_mm, 3),
            plain(true_to.wider_mm, 3)
        );
    }
    out
}

/// Gears to print, and what to measure on them and on the real ones.
fn printed(answer: &CheckAnswer<'_>) -> String {
    let problem = answer.examined.problem;
    let mut out = "\n## 2. Printed trial gears\n\n\
        Print one of each at full size, flat on the bed, and ream the holes. They show whether \
        centres, sense and clearances are right. They are for turning by hand only. Measure a cut \
        gear as below before it replaces a printed one.\n\n\
        | gear | teeth | outside Ø mm | over teeth | mm | pins Ø mm | over pins mm | read mm |\n\
        |---|---:|---:|---:|---:|---:|---:|---|\n"
        .to_owned();
    for (gear, figures) in &answer.examined.gears {
        let name = gear.name(problem);
        let sheet = answer.sheets.iter().find(|sheet| sheet.gear == name);
        let span = sheet.and_then(|sheet| sheet.inspection.span);
        let pins = sheet.and_then(|sheet| sheet.inspection.over_pins);
        let range = |size: crate::inspect::Size| {
            format!(
                "{}-{}",
                plain(size.smallest_mm, 3),
                plain(size.largest_mm, 3)
            )
        };
        let [mut teeth, mut over, mut pin, mut size] = [const { String::new() }; 4];
        if let Some(span) = span {
            (teeth, over) = (span.teeth.to_string(), range(span.size));
        }
        if let Some(pins) = pins {
            (pin, size) = (plain(pins.pin_mm, 2), range(pins.size));
        }
        let _ = writeln!(
            out,
            "| {} | {} | {} | {teeth} | {over} | {pin} | {size} | `[      ]` |",
            plain_text(&name),
            gear.teeth,
            plain(figures.tip_diameter_mm, 2),
        );
    }
    out
}

/// Where blue must show.
fn blueing(answer: &CheckAnswer<'_>) -> String {
    let mut out = "\n## 3. Blue the teeth\n\n\
        A thin coat of blue on the driving gear, three turns by hand against a light drag. The \
        mark should cover the middle two thirds of the width, and stand between these diameters; \
        a mark at one end says that the shafts are not parallel, one at the tips alone that they \
        are too far apart, a line at the foot that a tip digs in.\n\n\
        | mesh | driver Ø mm | driven Ø mm |\n|---|---:|---:|\n"
        .to_owned();
    let row = |mesh: &Mesh| {
        let figures = mesh.figures.as_ref()?;
        let [driver, driven] = [figures.first, figures.second].map(|gear| {
            format!(
                "{}-{}",
                plain(gear.start_of_active_profile_mm, 2),
                plain(gear.end_of_active_profile_mm, 2)
            )
        });
        let name = plain_text(&tables::mesh_name(answer, mesh));
        Some(format!("| {name} | {driver} | {driven} |\n"))
    };
    out.extend(answer.examined.meshes.iter().filter_map(row));
    out
}

/// Backlash at the rims and at the output.
fn backlash(answer: &CheckAnswer<'_>) -> String {
    let mut out = format!(
        "\n## 4. Backlash to expect\n\n\
         At a rim: hold one gear, rock the other, dial gauge across a tooth at the radius given. \
         At the output: hold the input, dial gauge on an arm {} mm from the output's axis. Play of \
         the dogs comes on top of it and is meant to be there. Less than the least: do not run it. \
         More than the most: look up the symptoms.\n\n\
         | in | mesh | at radius mm | rim mm | output ° | arm mm | read mm |\n\
         |---|---|---:|---:|---:|---:|---|\n",
        plain(ARM_MM, 0)
    );
    for play in &answer.trial.plays {
        out += &plays(play);
    }
    out
}

fn plays(play: &Play) -> String {
    let range = |[least, most]: [f64; 2], decimals| {
        format!("{}-{}", plain(least, decimals), plain(most, decimals))
    };
    let mut out = String::new();
    for (place, rim) in play.rims.iter().enumerate() {
        // The output's own play stands with the last mesh before it.
        let last = place + 1 == play.rims.len();
        let [output, arm] = if last {
            [range(play.output_deg, 2), range(play.arm_mm, 2)]
        } else {
            [const { String::new() }; 2]
        };
        let _ = writeln!(
            out,
            "| {} | {} | {} | {} | {output} | {arm} | `[      ]` |",
            plain_text(&play.state),
            plain_text(&rim.mesh),
            plain(rim.radius_mm, 2),
            range(rim.play_mm, 3),
        );
    }
    out
}

/// Every state turned through.
fn turning(answer: &CheckAnswer<'_>) -> String {
    let sense = match answer.examined.problem.input_turns() {
        Turning::Clockwise => "clockwise",
        Turning::Anticlockwise => "anticlockwise",
    };
    let mut out = format!(
        "\n## 5. Turn it by hand, state by state\n\n\
         A mark on the input and one on the output; turn the input {sense}, seen from its end. \
         Count: after the turns of the last column both marks must stand where they stood. \
         Nothing may bind anywhere on the way.\n\n\
         | in | the power goes | output | 10 turns of input give | both marks meet after |\n\
         |---|---|---|---:|---|\n"
    );
    for turned in &answer.trial.turned {
        out += &turns(turned);
    }
    out
}

fn turns(turned: &Turned) -> String {
    let [input, output] = turned.meet;
    let (how, ten, meet) = if output == 0 {
        let free = "stands; free to turn by hand".to_owned();
        (free, String::new(), String::new())
    } else {
        let how = if turned.output > 0.0 {
            "with the input"
        } else {
            "against the input"
        };
        (
            how.to_owned(),
            plain(10.0 * turned.output.abs(), 3),
            format!("{input} of the input = {output} of the output"),
        )
    };
    format!(
        "| {} | {} | {how} | {ten} | {meet} |\n",
        plain_text(&turned.state),
        plain_text(&turned.path.replace("->", "→")),
    )
}

/// The first hours: common practice, no source.
const RUN_IN: &str = "\n## 6. Run in\n\n\
    1. Cover on, oil in, interlock tried. Ten minutes in each speed without load, slowest first, a \
       tenth of full speed; stop, feel every bearing, look at the oil.\n\
    2. Half an hour in each speed at half load. Change only at standstill.\n\
    3. Drain, strain the oil through cloth: bright dust is running in, flakes and chips are not. \
       Blue the teeth again and measure the backlash again; it may have grown by a few hundredths.\n\
    4. Fresh oil, full load.\n";

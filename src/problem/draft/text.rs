//! The text of a new problem file, with comments for the person who edits it.

use super::flags::{Amount, Centres, Flags, Wanted};
use crate::base::Decimal;
use crate::problem::keys::Unit;
use serde_json::Value;

/// The whole file. What a misspelled flag should have given is left out.
pub(super) fn write(flags: &Flags) -> String {
    let mut out = String::from(
        "// A gearbox whose tooth counts are wanted. Lengths in mm, angles in degrees;\n\
         // a ratio is input speed / output speed, so above 1 slows down.\n{\n",
    );
    if let Some(title) = &flags.title {
        let title = Value::String(title.clone());
        line(&mut out, 1, "title", title);
        out.push('\n');
    }
    arrangement(&mut out, flags);
    centres(&mut out, flags);
    gears(&mut out, flags);
    speeds(&mut out, flags);
    reverse(&mut out, flags);
    flags.load.write(&mut out);
    fixed(&mut out, flags);
    out.push_str("}\n");
    out
}

fn arrangement(out: &mut String, flags: &Flags) {
    out.push_str(if flags.offset {
        "  // Input and output shaft side by side; each speed is one pair.\n  \"arrangement\": \"offset\",\n\n"
    } else {
        "  // Input and main shaft on one axis, the layshaft beside them. The head pair\n  \
         // (input shaft to layshaft) drives the layshaft.\n  \"arrangement\": \"in-line\",\n\n"
    });
}

fn centres(out: &mut String, flags: &Flags) {
    out.push_str(match (&flags.centres, flags.case_open) {
        (_, false) => "  // Distance between the shafts; bored already (see \"fixed\" below).\n",
        (Some(Centres::Steps(..)), true) => "  // Distances between the shafts to try.\n",
        (_, true) => "  // Distance between the shafts.\n",
    });
    match &flags.centres {
        Some(Centres::One(Amount(value, unit))) => {
            line(out, 1, &format!("centre_distance_{}", unit.word()), value);
        }
        Some(Centres::Steps([from, to, step], unit)) => {
            let value = format!("{{ \"from\": {from}, \"to\": {to}, \"step\": {step} }}");
            line(out, 1, &format!("centre_distance_{}", unit.word()), value);
        }
        None => {}
    }
}

fn gears(out: &mut String, flags: &Flags) {
    out.push_str("\n  \"gears\": {\n");
    if !flags.modules.is_empty() {
        out.push_str("    // Modules that can be cut: pitch diameter / teeth.\n");
        line(out, 2, "modules_mm", list(&flags.modules));
    }
    if !flags.pitches.is_empty() {
        out.push_str(
            "    // Diametral pitches that can be cut: teeth / pitch diameter in inches.\n",
        );
        line(out, 2, "diametral_pitches", list(&flags.pitches));
    }
    optional(out, 2, "pressure_angle_deg", flags.pressure_angle);
    optional(out, 2, "helix_angle_deg", flags.helix);
    if let Some([least, most]) = flags.teeth {
        out.push_str("    // Fewest and most teeth on a gear.\n");
        line(out, 2, "min_teeth", least);
        line(out, 2, "max_teeth", most);
    }
    if let Some(([least, most], unit)) = flags.backlash {
        out.push_str("    // Backlash wanted in every mesh, at the working pitch circle.\n");
        let value = format!("{{ \"min\": {least}, \"max\": {most} }}");
        line(out, 2, &format!("backlash_{}", unit.word()), value);
    }
    width(out, flags);
    flags.load.write_material(out);
    out.push_str(
        "    // \"form\": bought form cutters, eight to a module; \"generated\": hob or\n    \
         // rack tool; \"own-form\": a form cutter made for each gear.\n    \
         \"cutting\": \"form\"\n  },\n",
    );
}

fn width(out: &mut String, flags: &Flags) {
    if flags.face_width_assumed {
        out.push_str("    // Common practice: 8 times the largest module.\n");
    }
    if flags.face_auto {
        out.push_str("    // Each mesh as wide as duty.min_safety needs.\n");
        line(out, 2, "face_width_mm", "\"auto\"");
    }
    if let Some(Amount(value, unit)) = flags.face_width {
        line(out, 2, &format!("face_width_{}", unit.word()), value);
    }
}

fn speeds(out: &mut String, flags: &Flags) {
    out.push_str("\n  // How far a ratio may lie from its target.\n");
    optional(out, 1, "default_tolerance_percent", flags.tolerance);
    if flags.input_rpm.is_some() {
        out.push_str(
            "\n  // Speed of the input shaft, at which speeds of the output shaft, power and\n  \
             // hours are meant.\n",
        );
        optional(out, 1, "input_rpm", flags.input_rpm);
    }
    out.push_str(
        "\n  // \"direct\" locks input and output together: exactly 1, no gears of its own.\n",
    );
    if flags.wanted.is_empty() {
        out.push_str("  \"speeds\": [],\n");
        return;
    }
    let rows: Vec<String> = (1..).zip(&flags.wanted).map(speed).collect();
    line(out, 1, "speeds", format!("[\n{}\n  ]", rows.join(",\n")));
}

fn speed((position, wanted): (usize, &Wanted)) -> String {
    match wanted {
        Wanted::Ratio(ratio) => {
            format!("    {{ \"name\": \"{position}\", \"ratio\": {ratio} }}")
        }
        Wanted::OutputRpm(rpm) => {
            format!("    {{ \"name\": \"{position}\", \"output_rpm\": {rpm} }}")
        }
        Wanted::Direct => format!("    {{ \"name\": \"{position}\", \"direct\": true }}"),
    }
}

fn reverse(out: &mut String, flags: &Flags) {
    let Some(ratio) = flags.reverse else {
        return;
    };
    out.push_str("\n  // Reverse runs through an idler; its ratio is given without a sign.\n  \"reverse\": {\n");
    line(out, 2, "ratio", ratio);
    optional(out, 2, "tolerance_percent", flags.reverse_tolerance);
    if let Some([least, most]) = flags.idler {
        let value = format!("{{ \"min\": {least}, \"max\": {most} }}");
        line(out, 2, "idler_teeth", value);
    }
    out.push_str(
        "    // Least gap between the tips of the two gears that the idler joins.\n    \
         \"clearance_mm\": 0.5\n  },\n",
    );
    out.push_str(
        "\n  // The idler's pin: its diameter, and which wall holds it: \"output wall\",\n  \
         // \"input wall\" or \"both walls\". Sets without a clear place for the idler\n  \
         // are left out.\n  \
         \"idler\": { \"pin_mm\": 6, \"held_in\": \"output wall\" },\n",
    );
}

/// The last key: the one without a comma.
fn fixed(out: &mut String, flags: &Flags) {
    let keys = match (flags.case_open, &flags.centres) {
        (true, _) => "",
        (false, Some(Centres::One(Amount(_, Unit::Inch)) | Centres::Steps(_, Unit::Inch))) => {
            "\"centre_distance_in\""
        }
        (false, _) => "\"centre_distance_mm\"",
    };
    out.push_str(
        "\n  // Bars, cutters and prices: `layshaft new --workshop shed.json` writes a file\n  \
         // for them, to be filled in and named with --workshop shed.json.\n",
    );
    out.push_str(
        "\n  // What is made already, and may not be proposed for change: keys, as in\n  \
         // \"gears.modules_mm\".\n",
    );
    out.extend(["  \"fixed\": [", keys, "]\n"]);
}

pub(super) fn line(out: &mut String, depth: usize, key: &str, value: impl std::fmt::Display) {
    let indent = "  ".repeat(depth);
    let value = value.to_string();
    out.extend([&indent, "\"", key, "\": ", &value, ",\n"]);
}

fn optional(out: &mut String, depth: usize, key: &str, value: Option<Decimal>) {
    if let Some(value) = value {
        line(out, depth, key, value);
    }
}

fn list(numbers: &[Decimal]) -> String {
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    format!("[{}]", numbers.join(", "))
}

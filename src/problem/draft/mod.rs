//! Flags to the text of a new problem file.
//!
//! In: what a person typed. Out: a complete, commented file that the reader
//! accepts, the problem in it, and what was taken for granted. The rules are
//! the reader's own: the text is parsed like any other, and its faults are
//! told by flag.

mod flags;
mod load;
mod shed;
mod text;

use super::fault::{Fault, Faults};
use super::keys::Unit;
use super::model::Problem;
use super::read::parse;
use crate::base::{Decimal, Length, plain};
use flags::{Amount, Centres, Flags};
pub use shed::WORKSHOP_STARTER;

/// What the flags of `new` say, as typed.
#[derive(Clone, Debug, Default)]
pub struct Wishes {
    /// What the gearbox is for.
    pub title: Option<String>,
    /// Distance between the shafts: `41.37`, `1.625in`, `38..42..0.5`.
    pub centres: String,
    /// Modules, mm.
    pub modules: Vec<String>,
    /// Diametral pitches.
    pub diametral_pitches: Vec<String>,
    /// Ratios of the forward speeds, or `direct`.
    pub ratios: Vec<String>,
    /// Speeds of the output shaft in place of ratios, rpm, or `direct`.
    pub output_rpm: Vec<String>,
    /// Speed of the input shaft, at which these and the power are meant, rpm.
    pub input_rpm: Option<String>,
    /// Ratio of reverse.
    pub reverse: Option<String>,
    /// Fewest and most teeth on a gear: `14..70`.
    pub teeth: Option<String>,
    /// Fewest and most teeth on the idler: `14..30`.
    pub idler: Option<String>,
    /// Tolerance of the forward ratios, percent.
    pub tolerance: Option<String>,
    /// Tolerance of the reverse ratio, percent.
    pub reverse_tolerance: Option<String>,
    /// Face width of every gear, or `auto`: as the load needs.
    pub face_width: Option<String>,
    /// Least and most backlash: `0.03..0.10`.
    pub backlash: Option<String>,
    /// Helix angle, degrees.
    pub helix: Option<String>,
    /// Pressure angle, degrees.
    pub pressure_angle: Option<String>,
    /// Torque on the input shaft, N m.
    pub torque: Option<String>,
    /// Power at the speed of the input shaft, W, in its place.
    pub power: Option<String>,
    /// How long the box must run under it, hours.
    pub hours: Option<String>,
    /// What gears are made of.
    pub material: Option<String>,
    /// Least safety of roots and flanks.
    pub min_safety: Option<String>,
    /// Whether the load turns about in service.
    pub reversing: bool,
    /// Whether the shafts' distance may still be chosen.
    pub case_open: bool,
    /// Whether input and output shaft lie side by side.
    pub offset: bool,
}

/// A new problem file.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Its text.
    pub text: String,
    /// The problem it states.
    pub problem: Problem,
    /// The problem in a line: "in-line, three speeds and reverse, centres
    /// 41.370 mm".
    pub summary: String,
    /// What was taken for granted: a label and the words for it.
    pub assumed: Vec<(&'static str, String)>,
}

/// The problem file that the flags describe.
///
/// # Errors
/// Everything that is wrong with the flags; each fault's key is the flag.
pub fn draft(wishes: &Wishes) -> Result<Draft, Faults> {
    let (flags, mut faults) = flags::read(wishes);
    let text = text::write(&flags);
    let parsed = parse("", &text);
    let misspelled = !faults.is_empty();
    if let Err(found) = &parsed {
        // A flag that is misspelled leaves a hole in the text: told already.
        for fault in found.list() {
            let fault = by_flag(fault);
            let hole = misspelled && fault.what.starts_with("missing");
            if !hole && !faults.iter().any(|known| known.key == fault.key) {
                faults.push(fault);
            }
        }
    }
    match parsed {
        Ok(problem) if faults.is_empty() => Ok(Draft {
            summary: summary(&flags),
            assumed: assumed(&flags),
            text,
            problem,
        }),
        _ => Err(Faults {
            name: "layshaft new".to_owned(),
            text: String::new(),
            list: faults,
        }),
    }
}

/// Which flag decides the keys that start so; the first that fits counts.
const DECIDES: &[(&str, &str)] = &[
    ("title", "--title"),
    ("centre_distance", "--centres"),
    ("gears.modules", "--modules"),
    ("gears.diametral", "--diametral-pitches"),
    ("gears.pressure", "--pressure-angle"),
    ("gears.helix", "--helix"),
    ("gears.backlash", "--backlash"),
    ("gears.face_width", "--face-width"),
    ("gears.material", "--material"),
    ("gears.m", "--teeth"),
    ("gears", "--modules"),
    ("default_tolerance", "--tolerance"),
    ("input_rpm", "--input-rpm"),
    ("duty.input_power", "--power"),
    ("duty.hours", "--hours"),
    ("duty.min_safety", "--min-safety"),
    ("duty", "--torque"),
    ("speeds", "--ratios"),
    ("reverse.tolerance", "--reverse-tolerance"),
    ("reverse.idler", "--idler"),
    ("reverse", "--reverse"),
];

/// A fault of the text as a fault of the flag behind it.
fn by_flag(fault: &Fault) -> Fault {
    let flag = DECIDES.iter().find(|(key, _)| fault.key.starts_with(key));
    let flag = match flag {
        _ if fault.key.ends_with("output_rpm") => "--output-rpm",
        Some((_, flag)) => flag,
        None => "",
    };
    Fault {
        place: None,
        key: flag.to_owned(),
        what: if fault.what.starts_with("it exceeds") {
            "the first number exceeds the second".to_owned()
        } else {
            fault.what.clone()
        },
        next: fault
            .next
            .replace("set arrangement to \"in-line\"", "leave out --offset")
            .replace("input_rpm", "--input-rpm"),
        of_box: false,
    }
}

fn summary(flags: &Flags) -> String {
    let arrangement = if flags.offset { "offset" } else { "in-line" };
    let reverse = match (&flags.reverse, flags.wanted.len()) {
        (Some(_), 0) => "reverse only".to_owned(),
        (Some(_), count) => format!("{} and reverse", speeds(count)),
        (None, count) => speeds(count),
    };
    format!(
        "{arrangement}, {reverse}, centres {}",
        centres(flags.centres.as_ref())
    )
}

fn speeds(count: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    let plural = if count == 1 { "speed" } else { "speeds" };
    match WORDS.get(count) {
        Some(word) => format!("{word} {plural}"),
        None => format!("{count} {plural}"),
    }
}

fn centres(centres: Option<&Centres>) -> String {
    match centres {
        Some(Centres::One(Amount(value, Unit::Mm))) => format!("{} mm", plain(value.to_f64(), 3)),
        Some(Centres::One(Amount(value, Unit::Inch))) => {
            let mm = Length::from_inches(*value).mm();
            format!("{value} in ({} mm)", plain(mm, 3))
        }
        Some(Centres::Steps([from, to, step], unit)) => {
            format!("{from} to {to} {} by {step}", unit.word())
        }
        None => String::new(),
    }
}

/// Rows of the list "Taken for granted".
fn assumed(flags: &Flags) -> Vec<(&'static str, String)> {
    let mut rows = Vec::new();
    if !flags.case_open {
        let words = "bored already: the centre distance stays as it is";
        rows.push(("case", words.to_owned()));
    }
    rows.push(("cutting", "form cutters, so no profile shift".to_owned()));
    rows.extend(joined(
        "teeth",
        (flags.teeth_assumed, span(flags.teeth) + " on a gear"),
        (flags.idler_assumed, span(flags.idler) + " on the idler"),
    ));
    if flags.backlash_assumed {
        rows.push(("backlash", "0.03 to 0.10 mm".to_owned()));
    }
    rows.extend(joined(
        "ratios",
        (flags.tolerance_assumed, within("within", flags.tolerance)),
        (
            flags.reverse_tolerance_assumed,
            within("reverse within", flags.reverse_tolerance),
        ),
    ));
    if flags.reverse.is_some() {
        let words = "stub pin, 6 mm, in the output wall";
        rows.push(("idler", words.to_owned()));
    }
    if let (true, Some(Amount(width, _))) = (flags.face_width_assumed, flags.face_width) {
        let words = format!("{} mm", plain(width.to_f64(), 1));
        rows.push(("face width", words));
    }
    if flags.face_auto {
        let words = "as the load needs, 4 to 12 modules, by 0.5 mm";
        rows.push(("face width", words.to_owned()));
    }
    rows.extend(flags.load.assumed());
    rows
}

fn span(range: Option<[Decimal; 2]>) -> String {
    range.map_or_else(String::new, |[low, high]| format!("{low} to {high}"))
}

fn within(words: &str, percent: Option<Decimal>) -> String {
    percent.map_or_else(String::new, |percent| format!("{words} {percent} %"))
}

/// A row of those of two facts that were assumed.
fn joined(
    label: &'static str,
    (one, first): (bool, String),
    (two, second): (bool, String),
) -> Option<(&'static str, String)> {
    match (one, two) {
        (true, true) => Some((label, format!("{first}, {second}"))),
        (true, false) => Some((label, first)),
        (false, true) => Some((label, second)),
        (false, false) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::arrangement::Arrangement;
    use crate::problem::model::Closing;

    fn words(list: &str) -> Vec<String> {
        list.split(',').map(str::to_owned).collect()
    }

    fn wishes() -> Wishes {
        Wishes {
            centres: "41.37".to_owned(),
            modules: words("0.8,1.0"),
            ratios: words("3.6,1.9,direct"),
            reverse: Some("3.8".to_owned()),
            ..Wishes::default()
        }
    }

    #[test]
    fn the_text_parses_to_the_problem_described() {
        let draft = draft(&wishes()).unwrap();
        let problem = &draft.problem;
        assert_eq!(problem.arrangement(), Arrangement::InLine);
        assert_eq!(problem.centre_distances().at(0).to_string(), "41.37");
        assert_eq!(problem.gears().modules().len(), 2);
        assert_eq!(problem.gears().face().unit().to_string(), "8");
        assert!(matches!(
            problem.gears().closing(),
            Closing::Backlash { .. }
        ));
        let targets: Vec<String> = problem.geared().map(|g| g.target().to_string()).collect();
        assert_eq!(targets, ["3.6", "1.9"]);
        assert!(problem.speeds()[2].geared().is_none());
        let reverse = problem.reverse().unwrap();
        assert_eq!(reverse.target().to_string(), "3.8");
        assert_eq!(reverse.idler_max().get(), 30);
        assert_eq!(problem.fixed(), ["centre_distance_mm"]);
        assert!(!problem.inches());
        assert!(draft.text.lines().all(|line| line.chars().count() <= 80));
    }

    #[test]
    fn every_flag_reaches_the_file() {
        let wishes = Wishes {
            title: Some("A \"test\" winch".to_owned()),
            centres: "1.5..1.75..0.0625in".to_owned(),
            modules: Vec::new(),
            diametral_pitches: words("20,24"),
            ratios: words("3.5,0.9"),
            teeth: Some("16..60".to_owned()),
            idler: Some("17..25".to_owned()),
            tolerance: Some("2.5".to_owned()),
            reverse_tolerance: Some("5".to_owned()),
            face_width: Some("0.375in".to_owned()),
            backlash: Some("0.002..0.005in".to_owned()),
            helix: Some("15".to_owned()),
            pressure_angle: Some("14.5".to_owned()),
            case_open: true,
            offset: true,
            ..wishes()
        };
        let draft = draft(&wishes).unwrap();
        let problem = &draft.problem;
        assert_eq!(problem.title(), "A \"test\" winch");
        assert_eq!(problem.arrangement(), Arrangement::Offset);
        assert_eq!(problem.centre_distances().len(), 5);
        assert_eq!(problem.gears().min_teeth().get(), 16);
        assert_eq!(problem.gears().face().unit().to_string(), "9.525");
        assert!(problem.fixed().is_empty() && problem.inches());
        assert_eq!(
            draft.summary,
            "offset, two speeds and reverse, centres 1.5 to 1.75 in by 0.0625"
        );
        let labels: Vec<&str> = draft.assumed.iter().map(|(label, _)| *label).collect();
        assert_eq!(labels, ["cutting", "idler"]);
    }

    #[test]
    fn speeds_may_be_given_as_rpm() {
        let by_rpm = Wishes {
            ratios: Vec::new(),
            output_rpm: words("900,450,direct"),
            input_rpm: Some("2700".to_owned()),
            ..wishes()
        };
        let draft = draft(&by_rpm).unwrap();
        let targets: Vec<String> = draft
            .problem
            .geared()
            .map(|g| g.target().to_string())
            .collect();
        assert_eq!(targets, ["3", "6"]);
        assert!(draft.problem.speeds()[2].geared().is_none());
        assert!(draft.summary.contains("three speeds and reverse"));
    }

    #[test]
    fn rpm_flags_that_do_not_fit_together_are_told() {
        let told = |output: &str, input: Option<&str>, ratios: &str| -> Vec<String> {
            let split = |list: &str| {
                if list.is_empty() {
                    Vec::new()
                } else {
                    words(list)
                }
            };
            let wishes = Wishes {
                ratios: split(ratios),
                output_rpm: split(output),
                input_rpm: input.map(str::to_owned),
                ..wishes()
            };
            let faults = draft(&wishes).unwrap_err();
            faults.list().iter().map(ToString::to_string).collect()
        };
        assert_eq!(
            told("900", None, ""),
            [
                "--output-rpm: means nothing without --input-rpm (add --input-rpm RPM, or leave this out)"
            ]
        );
        assert_eq!(
            told("", Some("2700"), "3"),
            [
                "--input-rpm: means nothing without --output-rpm (add --output-rpm RPM,RPM, or leave this out)"
            ]
        );
        assert_eq!(
            told("900", Some("2700"), "3"),
            ["--output-rpm: --ratios is given already (keep one of the two)"]
        );
        assert_eq!(
            told("900,2", Some("2700"), ""),
            ["--output-rpm: the ratio for it is above 1000 (correct it, or --input-rpm)"]
        );
    }

    #[test]
    fn a_fault_of_the_text_is_told_by_its_flag() {
        let wishes = Wishes {
            ratios: words("3.6,5000"),
            teeth: Some("70..14".to_owned()),
            idler: Some("14-30".to_owned()),
            ..wishes()
        };
        let faults = draft(&wishes).unwrap_err();
        let told: Vec<String> = faults.list().iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            [
                "--idler: \"14-30\" is not 2 numbers with .. between (write two numbers, as in 14..70)",
                "--teeth: the first number exceeds the second (swap the two, or correct one)",
                "--ratios: 5000 is too large (it must be from 0.001 to 1000)",
            ]
        );
    }
}

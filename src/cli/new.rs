//! `layshaft new`: a working problem file from flags, or a workshop file.

use super::shell::quoted;
use crate::problem::{Draft, WORKSHOP_STARTER, Wishes, draft, save};
use std::path::{Path, PathBuf};

/// What a problem file alone takes.
const OF_A_BOX: [&str; 25] = [
    "file",
    "centres",
    "modules",
    "diametral_pitches",
    "ratios",
    "output_rpm",
    "input_rpm",
    "reverse",
    "title",
    "teeth",
    "idler",
    "tolerance",
    "reverse_tolerance",
    "face_width",
    "backlash",
    "helix",
    "pressure_angle",
    "case_open",
    "offset",
    "torque",
    "power",
    "hours",
    "material",
    "min_safety",
    "reversing",
];

/// Flags of `new`.
#[derive(clap::Args, Clone, Debug)]
#[allow(clippy::struct_excessive_bools, reason = "flags are independent")]
pub struct Args {
    /// File to write
    #[arg(required_unless_present = "workshop")]
    pub file: Option<PathBuf>,
    /// Write a workshop file instead: every key, with comments to fill in
    #[arg(long, value_name = "FILE", conflicts_with_all = OF_A_BOX)]
    pub workshop: Option<PathBuf>,
    /// Distance between the shafts: 41.37, 1.625in, or 38..42..0.5 to try a range
    #[arg(
        long,
        value_name = "LENGTH",
        allow_negative_numbers = true,
        required_unless_present = "workshop",
        default_value = "",
        hide_default_value = true
    )]
    pub centres: String,
    /// Modules that can be cut, mm
    #[arg(long, value_name = "M,M", value_delimiter = ',')]
    pub modules: Vec<String>,
    /// Diametral pitches that can be cut
    #[arg(long, value_name = "P,P", value_delimiter = ',')]
    pub diametral_pitches: Vec<String>,
    /// Forward ratios (input speed / output speed), or `direct`
    #[arg(long, value_name = "R,R,direct", value_delimiter = ',')]
    pub ratios: Vec<String>,
    /// Speeds of the output shaft in place of --ratios, rpm, or `direct`
    #[arg(long, value_name = "RPM,RPM", value_delimiter = ',')]
    pub output_rpm: Vec<String>,
    /// Speed of the input shaft at which speeds and power are meant, rpm
    #[arg(long, visible_alias = "rpm", value_name = "RPM")]
    pub input_rpm: Option<String>,
    /// Reverse ratio, without the sign
    #[arg(long, value_name = "R", allow_negative_numbers = true)]
    pub reverse: Option<String>,
    /// What the gearbox is for
    #[arg(long)]
    pub title: Option<String>,
    /// Fewest and most teeth on a gear (usually 14..70)
    #[arg(long, value_name = "MIN..MAX")]
    pub teeth: Option<String>,
    /// Fewest and most teeth on the idler (usually 14..30)
    #[arg(long, value_name = "MIN..MAX")]
    pub idler: Option<String>,
    /// How far a ratio may lie from its target, percent (usually 3)
    #[arg(long, value_name = "PERCENT", allow_negative_numbers = true)]
    pub tolerance: Option<String>,
    /// The same for reverse (usually 10)
    #[arg(long, value_name = "PERCENT", allow_negative_numbers = true)]
    pub reverse_tolerance: Option<String>,
    /// Face width of every gear (usually 8 times the largest module), or auto: as
    /// the load needs
    #[arg(long, value_name = "LENGTH|auto")]
    pub face_width: Option<String>,
    /// Least and most backlash (usually 0.03..0.10)
    #[arg(long, value_name = "MIN..MAX")]
    pub backlash: Option<String>,
    /// Helix angle, degrees (usually 0)
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true)]
    pub helix: Option<String>,
    /// Pressure angle, degrees (usually 20)
    #[arg(long, value_name = "DEGREES", allow_negative_numbers = true)]
    pub pressure_angle: Option<String>,
    /// Torque on the input shaft, N m: teeth are then rated
    #[arg(long, value_name = "TORQUE", allow_negative_numbers = true)]
    pub torque: Option<String>,
    /// Power at --input-rpm, W, in place of --torque
    #[arg(long, value_name = "W", allow_negative_numbers = true)]
    pub power: Option<String>,
    /// How long the box must run under that load, hours (usually 1000)
    #[arg(long, value_name = "HOURS", allow_negative_numbers = true)]
    pub hours: Option<String>,
    /// What gears are made of (usually C45 normalised)
    #[arg(long, value_name = "NAME")]
    pub material: Option<String>,
    /// Least safety of tooth roots and flanks; sets below it are left out
    #[arg(long, value_name = "SAFETY", allow_negative_numbers = true)]
    pub min_safety: Option<String>,
    /// The load turns about in service
    #[arg(long)]
    pub reversing: bool,
    /// The case is not bored yet: its centre distance may change
    #[arg(long)]
    pub case_open: bool,
    /// Input and output shaft side by side, one pair a speed
    #[arg(long)]
    pub offset: bool,
    /// Replace the file if it is there
    #[arg(long)]
    pub force: bool,
}

/// What the verb has to say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// For stdout.
    pub stdout: String,
    /// For stderr.
    pub stderr: String,
    /// 0 done, 2 bad input, 3 failed.
    pub code: u8,
}

impl Answer {
    fn refused(code: u8, stderr: String) -> Self {
        Self {
            stdout: String::new(),
            stderr,
            code,
        }
    }
}

/// Writes the file; `colour` is for the faults.
pub fn run(args: &Args, colour: bool) -> Answer {
    match (&args.workshop, &args.file) {
        (Some(file), _) => write(file, args.force, WORKSHOP_STARTER, shed_told),
        (None, Some(file)) => match draft(&wishes(args)) {
            Ok(draft) => write(file, args.force, &draft.text, |file| told(file, &draft)),
            Err(faults) => refusal(file, args.force)
                .unwrap_or_else(|| Answer::refused(2, faults.render(colour))),
        },
        (None, None) => {
            let text = "There is no file to write.\n  Next     name one\n".to_owned();
            Answer::refused(2, text)
        }
    }
}

/// Why the file may not be written, where it may not.
fn refusal(file: &Path, force: bool) -> Option<Answer> {
    let name = file.display();
    if file.is_dir() {
        let text =
            format!("{name} is a folder; nothing was written.\n  Next     name a file in it\n");
        return Some(Answer::refused(2, text));
    }
    if !force && file.symlink_metadata().is_ok() {
        let text = format!(
            "{name} is there already; nothing was written.\n  \
             Next     another name, or --force to replace it\n"
        );
        return Some(Answer::refused(2, text));
    }
    None
}

fn write(file: &Path, force: bool, text: &str, told: impl Fn(&Path) -> String) -> Answer {
    if let Some(refused) = refusal(file, force) {
        return refused;
    }
    if let Err(error) = save(file, text) {
        let text = format!("{} can't be written: {error}.\n", file.display());
        return Answer::refused(3, text);
    }
    Answer {
        stdout: told(file),
        stderr: String::new(),
        code: 0,
    }
}

fn wishes(args: &Args) -> Wishes {
    let args = args.clone();
    Wishes {
        title: args.title,
        centres: args.centres,
        modules: args.modules,
        diametral_pitches: args.diametral_pitches,
        ratios: args.ratios,
        output_rpm: args.output_rpm,
        input_rpm: args.input_rpm,
        reverse: args.reverse,
        teeth: args.teeth,
        idler: args.idler,
        tolerance: args.tolerance,
        reverse_tolerance: args.reverse_tolerance,
        face_width: args.face_width,
        backlash: args.backlash,
        helix: args.helix,
        pressure_angle: args.pressure_angle,
        torque: args.torque,
        power: args.power,
        hours: args.hours,
        material: args.material,
        min_safety: args.min_safety,
        reversing: args.reversing,
        case_open: args.case_open,
        offset: args.offset,
    }
}

fn told(file: &Path, draft: &Draft) -> String {
    let name = file.display().to_string();
    let mut out = format!("Wrote {name}: {}.\n", draft.summary);
    out.push_str("\n  Taken for granted; change it in the file where it is wrong\n");
    for (label, words) in &draft.assumed {
        out.extend([format!("    {label:<13}{words}\n")]);
    }
    out + "\n  Next     layshaft solve " + &quoted(&name) + "\n"
}

fn shed_told(file: &Path) -> String {
    let name = file.display();
    let quoted = quoted(&name.to_string());
    format!(
        "Wrote {name}: a workshop file. It says what is taken where you say nothing.\n\n  \
         Put your own bars, offcuts, cutters and prices in place of the examples in it,\n  \
         which are invented and do nothing until you take their slashes away.\n\n  \
         Next     layshaft solve box.json --workshop {quoted}\n"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem;
    use clap::Parser;

    #[derive(Parser)]
    struct Line {
        #[command(flatten)]
        args: Args,
    }

    fn args(folder: &std::path::Path, flags: &str) -> Args {
        let file = folder.join("shunter.json").display().to_string();
        let words = ["new", &file].into_iter().chain(flags.split_whitespace());
        Line::try_parse_from(words).unwrap().args
    }

    const FLAGS: &str = "--centres 41.37 --modules 0.8,1.0 --ratios 3.6,1.9,direct --reverse 3.8";

    #[test]
    fn the_screen_reads_as_designed() {
        let folder = tempfile::tempdir().unwrap();
        let answer = run(&args(folder.path(), FLAGS), false);
        let file = folder.path().join("shunter.json").display().to_string();
        assert_eq!(answer.code, 0, "{}", answer.stderr);
        assert_eq!(
            answer.stdout.replace(&file, "shunter.json"),
            "\
Wrote shunter.json: in-line, three speeds and reverse, centres 41.370 mm.

  Taken for granted; change it in the file where it is wrong
    case         bored already: the centre distance stays as it is
    cutting      form cutters, so no profile shift
    teeth        14 to 70 on a gear, 14 to 30 on the idler
    backlash     0.03 to 0.10 mm
    ratios       within 3 %, reverse within 10 %
    idler        stub pin, 6 mm, in the output wall
    face width   8.0 mm

  Next     layshaft solve shunter.json
"
        );
        assert!(problem::read(&folder.path().join("shunter.json")).is_ok());
    }

    #[test]
    fn a_file_is_replaced_only_by_force() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("shunter.json");
        std::fs::write(&path, "mine").unwrap();
        let answer = run(&args(folder.path(), FLAGS), false);
        assert_eq!(answer.code, 2);
        assert!(answer.stderr.contains("--force"));
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "mine");
        let force = format!("{FLAGS} --force");
        assert_eq!(run(&args(folder.path(), &force), false).code, 0);
        assert_ne!(std::fs::read_to_string(&path).unwrap(), "mine");
    }

    #[test]
    fn bad_flags_write_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let answer = run(&args(folder.path(), "--centres x"), false);
        assert_eq!(answer.code, 2);
        assert_eq!(
            answer.stderr,
            "\
layshaft new: 3 faults; nothing was done.

--modules: missing
  next: give the modules you can cut, as in --modules 0.8,1.0, or
        --diametral-pitches

--ratios: missing
  next: give the ratios wanted, as in --ratios 3.6,1.9,direct

--centres: \"x\" is not a number
  next: write a plain number, as in 3.6
"
        );
        assert!(!folder.path().join("shunter.json").exists());
    }

    #[test]
    fn a_name_with_a_blank_is_quoted_for_the_shell() {
        assert_eq!(quoted("my box.json"), "'my box.json'");
        assert_eq!(quoted("it's.json"), "'it'\\''s.json'");
    }
}

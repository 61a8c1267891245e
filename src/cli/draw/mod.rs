//! `layshaft draw`: drawings at full size, and bodies for CAD and printers.

mod pictures;
mod spell;
mod wanted;

use super::chosen::OfSet;
use super::delivery::Delivers;
use super::exit::{Exit, Failure};
use super::out;
use super::words::series;
use crate::design::Plan;
use crate::export::PRINTED_GEARS;
use crate::problem::Side;
use crate::sheet::too_wide_holes;
use pictures::{Picture, Source, gallery};
use spell::{Spelling, spell};
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use wanted::{SideWord, What, nothing, of_gear, only_one};

/// Arguments of `draw`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: OfSet<To>,
    /// What to draw; several with commas between [default: end with --output,
    /// everything with --into]
    #[arg(long, value_enum, value_delimiter = ',')]
    what: Vec<What>,
    /// Draw this gear alone, as "layshaft, 1"
    #[arg(long, value_name = "NAME")]
    gear: Option<String>,
    /// The speed that is engaged, its teeth and the way of the power shown;
    /// "neutral" or a name
    #[arg(long, value_name = "NAME", default_value = "neutral")]
    state: String,
    /// The side of the reverse idler, seen from the input end [default: where it
    /// is best]
    #[arg(long, value_enum)]
    side: Option<SideWord>,
    /// Taken off the flanks and out of the holes of gears to print, mm; printers
    /// mostly want 0.1 to 0.2
    #[arg(long, value_name = "MM", default_value_t = 0.0, value_parser = allowance)]
    allow: f64,
}

/// Where drawings go, and how they are spelled.
#[derive(Clone, Debug, clap::Args)]
#[group(skip)]
#[command(group(clap::ArgGroup::new("place").args(["output", "into"]).required(true)))]
struct To {
    /// Spelling: svg and dxf for drawings, stl and 3mf for bodies; several with
    /// commas between [default: all with --into, the file's ending with
    /// --output]
    #[arg(long, value_enum, value_delimiter = ',')]
    format: Vec<Spelling>,
    /// Write one drawing to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write a file for everything into a folder
    #[arg(long, value_name = "DIR")]
    into: Option<PathBuf>,
}

impl Delivers for To {
    fn output(&self) -> Option<&Path> {
        self.output.as_deref()
    }
}

/// Most that is taken off, mm: more leaves no teeth worth printing.
const MOST_ALLOWED_MM: f64 = 1.0;

fn allowance(word: &str) -> Result<f64, String> {
    let value = word.parse().ok();
    value
        .filter(|value| (0.0..=MOST_ALLOWED_MM).contains(value))
        .ok_or_else(|| format!("say 0 to {MOST_ALLOWED_MM} mm"))
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let (problem, _) = args.of.read()?;
    let Some(chosen) = args.of.chosen(&problem)? else {
        return Ok(Exit::No);
    };
    let side = args.side.map(Side::from);
    let plan = Plan::on(&problem, &chosen.set, side);
    if let Some(side) = side {
        wanted::check_side(&plan, side)?;
    }
    let source = Source {
        problem: &problem,
        set: &chosen.set,
        mark: &chosen.mark,
        plan: &plan,
        state: wanted::state(&problem, &args.state)?,
        allowance_mm: args.allow,
    };
    let To {
        format,
        output,
        into,
    } = &args.of.delivery;
    let file = output.as_deref();
    let spelling = file
        .map(|file| Spelling::of_file(format, file))
        .transpose()?;
    let wanted = What::meant(&args.what, args.gear.is_some(), spelling);
    let mut pictures = gallery(&source, &wanted);
    if let Some(name) = &args.gear {
        pictures = of_gear(pictures, name, &chosen.mark)?;
    }
    let needs_layout = |what: &What| matches!(what, What::Section | What::Names | What::Set);
    if plan.layout.is_err() && args.gear.is_none() && wanted.iter().any(needs_layout) {
        out::complain(&format!(
            "Nothing can be laid out along the shafts, so drawings of that are left out.\n\n  Next     \
             layshaft layout {}\n",
            args.of.command_file()
        ));
        if pictures.is_empty() {
            return Ok(Exit::No);
        }
    }
    let spellings = match (spelling, &format[..]) {
        (Some(spelling), _) => vec![spelling],
        (None, []) => Spelling::ALL.to_vec(),
        (None, format) => format.to_vec(),
    };
    tell_too_wide(
        &too_wide_holes(&problem, &chosen.set, &plan, args.allow),
        &pictures,
        &spellings,
    );
    match (file.zip(spelling), into) {
        (Some((file, spelling)), _) => {
            let picture = only_one(pictures, spelling)?;
            out::deliver(Some(file), |to| spell(&picture, spelling, to))?;
            told(
                &[picture],
                &[spelling],
                &format!("Wrote {}.", file.display()),
            );
        }
        (None, Some(folder)) => into_folder(args, &pictures, &spellings, folder)?,
        // The command line asks for one of them.
        (None, None) => {}
    }
    Ok(Exit::Done)
}

/// Says which bodies that are written have no hole though they should.
fn tell_too_wide(gears: &[String], pictures: &[Picture], spellings: &[Spelling]) {
    let bodies = pictures.iter().filter(|picture| {
        picture.is_solid() && spellings.iter().any(|spelling| spelling.fits(picture))
    });
    let bodies: Vec<&Picture> = bodies.collect();
    let shows = |body: &&Picture, name: &str| body.gear.as_ref().is_none_or(|gear| gear == name);
    let written = gears.iter().map(String::as_str);
    let names: Vec<&str> = written
        .filter(|name| bodies.iter().any(|body| shows(body, name)))
        .collect();
    if !names.is_empty() {
        out::complain(&format!(
            "The hole goes as far out as the roots: {}. Drawn as bodies without a hole; narrow \
             \"bores\" in the file, or take gears of more teeth.\n",
            series(&names)
        ));
    }
}

/// A file for every picture and spelling that fit each other.
fn into_folder(
    args: &Args,
    pictures: &[Picture],
    spellings: &[Spelling],
    folder: &Path,
) -> Result<(), Failure> {
    let files = |picture: &Picture| {
        let fitting = spellings.iter().filter(|spelling| spelling.fits(picture));
        let files = fitting.map(|spelling| (*spelling, file_of(folder, picture, *spelling)));
        files.collect::<Vec<_>>()
    };
    for (_, file) in pictures.iter().flat_map(files) {
        if args.of.spare(Some(&file)).is_err() {
            return Err(Failure::BadInput(format!(
                "--into: {} is a file that is read, it would be lost: name another folder",
                file.display()
            )));
        }
    }
    fs::create_dir_all(folder).map_err(|error| {
        Failure::Failed(format!(
            "{} can't be made: {error}: name another folder with --into",
            folder.display()
        ))
    })?;
    let mut lines: Vec<(&str, Vec<&str>)> = Vec::new();
    for picture in pictures {
        let mut endings = Vec::new();
        for (spelling, file) in files(picture) {
            out::deliver(Some(&file), |to| spell(picture, spelling, to))?;
            endings.push(spelling.ending());
        }
        match lines.iter_mut().find(|(stem, _)| *stem == picture.stem) {
            Some((_, written)) => written.extend(endings),
            None => lines.push((&picture.stem, endings)),
        }
    }
    lines.retain(|(_, endings)| !endings.is_empty());
    let files: usize = lines.iter().map(|(_, endings)| endings.len()).sum();
    if files == 0 {
        return Err(Failure::BadInput(nothing(pictures, spellings)));
    }
    let what = if files == 1 { "file" } else { "files" };
    let mut written = format!("Wrote {files} {what} into {}:", folder.display());
    let longest = lines.iter().map(|(stem, _)| stem.chars().count()).max();
    let wide = longest.unwrap_or(0);
    for (stem, endings) in lines {
        // Writing to a String cannot fail.
        let _ = write!(written, "\n  {stem:<wide$}  {}", endings.join(" "));
    }
    told(pictures, spellings, &written);
    Ok(())
}

fn file_of(folder: &Path, picture: &Picture, spelling: Spelling) -> PathBuf {
    folder.join(format!("{}.{}", picture.stem, spelling.ending()))
}

/// What was written, and what to mind.
fn told(pictures: &[Picture], spellings: &[Spelling], written: &str) {
    out::complain(written);
    let has = |spelling: &Spelling| pictures.iter().any(|picture| spelling.fits(picture));
    if spellings.iter().any(|s| *s == Spelling::Svg && has(s)) {
        out::complain("Print SVG at full size, then measure the bar of 50 mm.");
    }
    if spellings.iter().any(|s| s.is_solid() && has(s)) {
        out::complain(PRINTED_GEARS);
    }
}

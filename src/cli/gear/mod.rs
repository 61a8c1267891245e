//! `layshaft gear`: one gear, a pair or a reverse train from flags, with all its
//! figures to cut and to measure.

mod asked;
mod made;
mod page;
mod tables;

use super::exit::{Exit, Failure};
use super::out;
use super::screen::Screen;
use crate::export::bench_record;
use asked::Asked;
use made::Made;
use std::path::PathBuf;

/// Flags of `gear`.
#[derive(clap::Args, Clone, Debug)]
pub(super) struct Args {
    /// Teeth: one gear Z, a pair Z,Z, or reverse's driver,idler,driven gear
    #[arg(long, value_name = "Z,Z", value_delimiter = ',', required = true)]
    teeth: Vec<u16>,
    /// Module in the normal section, mm
    #[arg(long, value_name = "MM", conflicts_with = "diametral_pitch")]
    module: Option<f64>,
    /// Diametral pitch in place of the module
    #[arg(long, value_name = "P")]
    diametral_pitch: Option<f64>,
    /// Distance between the shafts of a pair, or of reverse's outer gears, mm
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    centre_distance: Option<f64>,
    /// Profile shift of each gear, modules, in place of the one worked out
    #[arg(
        long,
        value_name = "X,X",
        value_delimiter = ',',
        allow_negative_numbers = true
    )]
    shift: Vec<f64>,
    /// Least shift that may be chosen
    #[arg(
        long,
        value_name = "X",
        default_value_t = -0.5,
        allow_negative_numbers = true
    )]
    shift_min: f64,
    /// Greatest shift that may be chosen
    #[arg(
        long,
        value_name = "X",
        default_value_t = 1.0,
        allow_negative_numbers = true
    )]
    shift_max: f64,
    /// Pressure angle in the normal section, degrees
    #[arg(long, value_name = "DEGREES", default_value_t = 20.0)]
    pressure_angle: f64,
    /// Helix angle, degrees
    #[arg(
        long,
        value_name = "DEGREES",
        default_value_t = 0.0,
        allow_negative_numbers = true
    )]
    helix: f64,
    /// Addendum of the rack, modules
    #[arg(long, value_name = "MODULES", default_value_t = 1.0)]
    addendum: f64,
    /// Dedendum of the rack, modules
    #[arg(long, value_name = "MODULES", default_value_t = 1.25)]
    dedendum: f64,
    /// Fillet radius of the rack, modules (usually 0.38, or as much as fits)
    #[arg(long, value_name = "MODULES")]
    fillet: Option<f64>,
    /// Face width, mm: for the overlap ratio, and spans of helical gears
    #[arg(long, value_name = "MM")]
    face_width: Option<f64>,
    /// Pins at hand, mm
    #[arg(long, value_name = "MM,MM", value_delimiter = ',')]
    pins: Vec<f64>,
    /// Teeth to measure over (usually chosen)
    #[arg(long, value_name = "K")]
    span_teeth: Option<u32>,
    /// Normal backlash to aim at, mm: the least, or the least and the most
    #[arg(
        long,
        value_name = "MM,MM",
        value_delimiter = ',',
        allow_negative_numbers = true
    )]
    backlash: Vec<f64>,
    /// How teeth are thinned for it
    #[arg(long, value_enum, default_value_t = Thin::Depth)]
    thin: Thin,
    /// Accept undercut roots
    #[arg(long)]
    allow_undercut: bool,
    /// Accept tips that run below the mate's working flank
    #[arg(long)]
    allow_interference: bool,
    /// Turn blanks down until their tips clear the mate's root
    #[arg(long)]
    extra_tip_shortening: bool,
    /// Least tip thickness, modules
    #[arg(long, value_name = "MODULES", default_value_t = 0.2)]
    min_tip_thickness: f64,
    /// Least contact ratio
    #[arg(long, value_name = "RATIO", default_value_t = 1.2)]
    min_contact_ratio: f64,
    /// Text for people, JSON for programs
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Write the result to this file
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// How teeth are made thinner.
#[derive(clap::ValueEnum, Clone, Copy, Debug, PartialEq, Eq)]
enum Thin {
    /// The cutter goes deeper
    Depth,
    /// The cutter goes over each flank once more
    Side,
}

/// How the result is written.
#[derive(clap::ValueEnum, Clone, Copy, Debug, PartialEq, Eq)]
enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}

/// Prints the gears asked for; no when no split of the shift is allowed.
pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let asked = Asked::of(args)?;
    let made = Made::of(&asked)?;
    let output = args.output.as_deref();
    match args.format {
        Format::Json => out::deliver_json(output, &bench_record(&made.work))?,
        Format::Text => {
            let screen = Screen::of(output);
            let text = page::page(&made, &screen);
            out::deliver_text(output, &screen, &text)?;
        }
    }
    Ok(if made.work.refusal.is_some() {
        Exit::No
    } else {
        Exit::Done
    })
}

//! `layshaft sheets`: a page a gear, in the order of work.

mod dividing;
pub(super) mod markdown;
mod steps;
mod text;

use super::chosen::{OfSet, Shown};
use super::delivery::Delivers;
use super::exit::{Exit, Failure};
use super::next::next_lines;
use super::out;
use super::screen::Screen;
use crate::export::{Work, svg};
use crate::sheet::{BEFORE_DRILLING, plate as plate_of};
use clap::ValueEnum;
use std::fs;
use std::path::{Path, PathBuf};

/// Arguments of `sheets`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: OfSet<Spelled>,
    /// Print the page of one gear alone: its name, as "layshaft, 1", or the
    /// number of the page
    #[arg(long, value_name = "NAME|N")]
    gear: Option<String>,
    /// Write a plate to print for every count that needs one into a folder
    #[arg(long, value_name = "DIR")]
    plates: Option<PathBuf>,
}

/// How the pages are spelled and where they go.
#[derive(Clone, Debug, clap::Args)]
struct Spelled {
    /// Spelling of the pages
    #[arg(long, value_enum, default_value_t = Spelling::Text)]
    format: Spelling,
    /// Write the pages to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// Spellings of the pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Spelling {
    /// For the screen
    Text,
    /// For a printer, through whatever sets Markdown
    Markdown,
    /// Everything, for programs
    Json,
}

impl Delivers for Spelled {
    fn output(&self) -> Option<&Path> {
        self.output.as_deref()
    }
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let (problem, changes) = args.of.read()?;
    let Some(chosen) = args.of.chosen(&problem)? else {
        return Ok(Exit::No);
    };
    let whole = Work::of(&problem, &chosen.set, &chosen.mark);
    let (work, first) = match &args.gear {
        None => (whole, 1),
        Some(word) => {
            let place = page_of(&whole, word)?;
            (whole.only(place), place + 1)
        }
    };
    if let Some(folder) = &args.plates {
        write_plates(&work, folder)?;
    }
    let Spelled { format, output } = &args.of.delivery;
    let (output, screen) = (output.as_deref(), Screen::of(output.as_deref()));
    let shown = args.of.shown(&chosen, &changes, screen.width);
    let view = View {
        work: &work,
        first,
        alone: args.gear.is_some(),
        plates_written: args.plates.is_some(),
        shown: &shown,
    };
    match format {
        Spelling::Json => out::deliver_json(output, &work.record())?,
        Spelling::Text => out::deliver_text(output, &screen, &text::page(&view))?,
        Spelling::Markdown => {
            let page = markdown::page(&view);
            out::deliver(output, |to| to.write_all(page.as_bytes()))?;
        }
    }
    Ok(Exit::Done)
}

/// What the writers of pages are told.
#[derive(Clone, Copy, Debug)]
struct View<'a> {
    work: &'a Work,
    /// Number of the first page.
    first: usize,
    /// Whether it is one page of several.
    alone: bool,
    plates_written: bool,
    shown: &'a Shown<'a>,
}

impl View<'_> {
    /// Where to go from here.
    fn next(&self) -> String {
        let file = self.shown.command_file();
        let mark = &self.work.set;
        let mut lines = vec![(
            format!("layshaft layout {file} --set {mark}"),
            "where everything stands, what to bore",
        )];
        if !self.work.plates.is_empty() && !self.plates_written {
            let plates = format!("layshaft sheets {file} --set {mark} --plates out");
            lines.insert(0, (plates, "the plates"));
        }
        next_lines(&lines, self.shown.width)
    }
}

/// The place of the page that a word means.
fn page_of(work: &Work, word: &str) -> Result<usize, Failure> {
    let named = |name: &String| name.eq_ignore_ascii_case(word.trim());
    let mut pages = work.pages.iter();
    let by_name = pages.position(|page| page.gears.iter().any(named));
    let number = word.trim().parse().ok();
    let by_number = number.and_then(|number: usize| number.checked_sub(1));
    let by_number = by_number.filter(|place| *place < work.pages.len());
    by_name.or(by_number).ok_or_else(|| {
        let names = work.pages.iter().flat_map(|page| &page.gears);
        let names: Vec<String> = names.map(|name| format!("\"{name}\"")).collect();
        Failure::BadInput(format!(
            "--gear {word}: no gear of set {} is called so: say {}, or a page from 1 to {}",
            work.set,
            names.join(", "),
            work.pages.len()
        ))
    })
}

fn write_plates(work: &Work, folder: &Path) -> Result<(), Failure> {
    let told = |error: std::io::Error| {
        Failure::Failed(format!(
            "{} can't be made: {error}: name another folder with --plates",
            folder.display()
        ))
    };
    if work.plates.is_empty() {
        out::complain("No count needs a printed plate, so none was written.");
        return Ok(());
    }
    fs::create_dir_all(folder).map_err(told)?;
    for plate in &work.plates {
        let path = folder.join(&plate.file);
        let svg = svg(&plate_of(&plate.drawing).on_paper(BEFORE_DRILLING));
        out::deliver(Some(&path), |to| to.write_all(svg.as_bytes()))?;
        let paper = if plate.drawing.fits_a4 {
            ""
        } else {
            " (wider than A4)"
        };
        out::complain(&format!(
            "Wrote {}: print it at full size{paper}, then measure the bar.",
            path.display()
        ));
    }
    Ok(())
}

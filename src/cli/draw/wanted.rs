//! What is asked for, and what to say where it cannot be had.

use super::pictures::Picture;
use super::spell::Spelling;
use crate::cli::exit::Failure;
use crate::cli::out;
use crate::design::Plan;
use crate::design::motion::State;
use crate::problem::{Problem, Side};
use crate::sheet::state_name;
use clap::ValueEnum;

/// Things that can be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum What {
    /// From the input end: gears with their teeth where they work
    End,
    /// Along the shafts, all sleeves in neutral
    Section,
    /// The section with every kind of part named
    Names,
    /// Both boring plans
    Boring,
    /// The input wall's boring plan, seen from the input end
    BoringInput,
    /// The output wall's boring plan, seen from the output end
    BoringOutput,
    /// Every gear alone: a drawing with all its teeth, or a body
    Gear,
    /// Dividing plates to print, where a count needs one
    Plate,
    /// Everything in its place, as bodies
    Set,
}

/// Everything, in the order in which it is told.
const ALL: [What; 7] = [
    What::End,
    What::Section,
    What::Names,
    What::Boring,
    What::Gear,
    What::Plate,
    What::Set,
];

impl What {
    /// What to draw where `asked` names it, or else what is meant: a gear that
    /// is named, one view for one file, everything for a folder.
    pub(super) fn meant(asked: &[Self], gear: bool, file: Option<Spelling>) -> Vec<Self> {
        match (asked, gear, file) {
            ([], true, _) => vec![Self::Gear],
            ([], false, None) => ALL.to_vec(),
            ([], false, Some(spelling)) if spelling.is_solid() => vec![Self::Set],
            ([], false, Some(_)) => vec![Self::End],
            (asked, ..) => asked.to_vec(),
        }
    }
}

/// A side of the idler.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SideWord {
    Left,
    Right,
}

impl From<SideWord> for Side {
    fn from(word: SideWord) -> Self {
        match word {
            SideWord::Left => Self::Left,
            SideWord::Right => Self::Right,
        }
    }
}

/// Refuses a side where there is no idler; tells where it is not clear there.
pub(super) fn check_side(plan: &Plan<'_>, side: Side) -> Result<(), Failure> {
    let Some(study) = &plan.idler else {
        let text = "--side: this box has no reverse, so no idler: leave --side out";
        return Err(Failure::BadInput(text.to_owned()));
    };
    if !study.places.iter().any(|place| place.side == side) {
        out::complain(&format!(
            "The idler is not clear on the {}: layshaft idler says what is in its way.",
            side.word()
        ));
    }
    Ok(())
}

/// The state that a word names, as drawings call it.
pub(super) fn state(problem: &Problem, word: &str) -> Result<String, Failure> {
    let speeds = (0..problem.speeds().len()).map(State::Speed);
    let reverse = problem.reverse().map(|_| State::Reverse);
    let states = [State::Neutral].into_iter().chain(speeds).chain(reverse);
    let names: Vec<String> = states.map(|state| state_name(problem, state)).collect();
    let named = names
        .iter()
        .find(|name| name.eq_ignore_ascii_case(word.trim()));
    named.cloned().ok_or_else(|| {
        let names = names.join(", ");
        Failure::BadInput(format!(
            "--state {word}: this box has no such state: say {names}"
        ))
    })
}

/// The pictures of one gear alone.
pub(super) fn of_gear(
    pictures: Vec<Picture>,
    name: &str,
    mark: &str,
) -> Result<Vec<Picture>, Failure> {
    let is_it = |own: &String| own.eq_ignore_ascii_case(name.trim());
    // A gear has a drawing and a body.
    let mut names: Vec<String> = Vec::new();
    for gear in pictures.iter().filter_map(|picture| picture.gear.as_ref()) {
        if !names.contains(gear) {
            names.push(gear.clone());
        }
    }
    if !names.iter().any(is_it) {
        let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
        let names = names.join(", ");
        return Err(Failure::BadInput(match names.as_str() {
            "" => format!("--gear {name}: say --what gear with it, or leave --what out"),
            names => format!("--gear {name}: no gear of set {mark} is called so: say {names}"),
        }));
    }
    let mut pictures = pictures;
    pictures.retain(|picture| picture.gear.as_ref().is_some_and(is_it));
    Ok(pictures)
}

/// The one picture that goes into one file.
pub(super) fn only_one(pictures: Vec<Picture>, spelling: Spelling) -> Result<Picture, Failure> {
    let untold = nothing(&pictures, &[spelling]);
    let mut fitting = pictures
        .into_iter()
        .filter(|picture| spelling.fits(picture));
    let (first, more) = (fitting.next(), fitting.next());
    match (first, more) {
        (Some(only), None) => Ok(only),
        (None, _) => Err(Failure::BadInput(untold)),
        (Some(first), Some(second)) => {
            let stems: Vec<String> = [first, second]
                .into_iter()
                .chain(fitting)
                .map(|picture| picture.stem)
                .collect();
            Err(Failure::BadInput(format!(
                "--output takes one drawing and these are {}: {}. Say --into DIR for all of them, \
                 or name one with --what or --gear",
                stems.len(),
                stems.join(", ")
            )))
        }
    }
}

/// Why no picture can be written as asked.
pub(super) fn nothing(pictures: &[Picture], spellings: &[Spelling]) -> String {
    let endings: Vec<&str> = spellings.iter().map(|s| s.ending()).collect();
    let endings = endings.join(", ");
    match pictures.first() {
        None => "There is nothing to draw: no count of this set needs a printed plate".to_owned(),
        Some(picture) if picture.is_solid() => {
            format!(
                "{} is a body, not for {endings}: say stl or 3mf",
                picture.stem
            )
        }
        Some(picture) => format!(
            "{} is a drawing, not for {endings}: say svg or dxf",
            picture.stem
        ),
    }
}

//! `--with KEY=VALUE` and `--save`: a problem tried otherwise than its file says.

use super::exit::Failure;
use super::out;
use super::shell::quoted;
use crate::problem::{self, Change, Problem, Source};
use serde_json::Value;
use std::fmt::Write;
use std::path::Path;

/// The flags, for every verb that reads a problem file.
#[derive(Clone, Debug, clap::Args)]
pub(super) struct Wanted {
    /// Try a change without editing the file; may be given several times
    #[arg(long = "with", value_name = "KEY=VALUE")]
    with: Vec<String>,
    /// Keep the changes of --with in the file
    #[arg(long, requires = "with")]
    save: bool,
}

/// Reads a problem file and makes the changes asked for.
pub(super) fn read(path: &Path, args: &Wanted) -> Result<(Source, Problem, Vec<Change>), Failure> {
    let (source, problem) = problem::read(path).map_err(|faults| refused(&faults))?;
    if args.with.is_empty() {
        return Ok((source, problem, Vec::new()));
    }
    let mut text = source.text().to_owned();
    let mut changes = Vec::new();
    for word in &args.with {
        let bad = |error: problem::EditError| Failure::BadInput(format!("--with {word}: {error}"));
        let (key, value) = problem::assignment(word).map_err(bad)?;
        text = problem::set(&text, &key, &value).map_err(bad)?;
        let file = problem::get(source.text(), &key).unwrap_or(Value::Null);
        let saved = args.save;
        changes.push(Change {
            key,
            value,
            file,
            saved,
        });
    }
    let name = format!("{} with {}", path.display(), args.with.join(", "));
    let problem = problem::parse(&name, &text).map_err(|faults| refused(&faults))?;
    if !args.save {
        return Ok((source, problem, changes));
    }
    problem::save(path, &text).map_err(|error| {
        Failure::Failed(format!("{} can't be written: {error}", path.display()))
    })?;
    Ok((source.changed_to(text), problem, changes))
}

/// The text with the changes made, whether or not they are kept.
pub(super) fn applied(text: &str, changes: &[Change]) -> String {
    let made = |text: String, change: &Change| {
        problem::set(&text, &change.key, &change.value).unwrap_or(text)
    };
    changes.iter().fold(text.to_owned(), made)
}

fn refused(faults: &problem::Faults) -> Failure {
    Failure::BadInput(faults.render(out::stderr_has_colour()))
}

/// The flags again, to stand in a command.
pub(super) fn flags(changes: &[Change]) -> String {
    let mut flags = String::new();
    for change in changes.iter().filter(|change| !change.saved) {
        let word = format!("{}={}", change.key, change.value);
        let _ = write!(flags, " --with {}", quoted(&word));
    }
    flags
}

/// What was set otherwise, in a sentence each.
pub(super) fn said(changes: &[Change]) -> Vec<String> {
    let one = |change: &Change| {
        let Change {
            key,
            value,
            file,
            saved,
        } = change;
        let was = match (file, saved) {
            (Value::Null, _) => "the file did not say".to_owned(),
            (file, false) => format!("the file says {file}"),
            (file, true) => format!("it was {file}"),
        };
        let kept = if *saved {
            "Kept in the file: "
        } else {
            "With "
        };
        format!("{kept}{key} = {value} ({was}).")
    };
    changes.iter().map(one).collect()
}

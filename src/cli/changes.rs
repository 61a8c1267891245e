//! `--with KEY=VALUE`, `--save` and `--workshop FILE`: a problem tried otherwise
//! than its file says.

use super::exit::Failure;
use super::out;
use super::shell::quoted;
use crate::problem::{self, Change, Problem, Source};
use serde_json::Value;
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// The flags, for every verb that reads a problem file.
#[derive(Clone, Debug, clap::Args)]
pub(super) struct Wanted {
    /// Try a change without editing the file; may be given several times
    #[arg(long = "with", value_name = "KEY=VALUE")]
    with: Vec<String>,
    /// Keep the changes of --with in the file
    #[arg(long, requires = "with")]
    save: bool,
    /// Take the workshop of this file in place of the problem's own
    #[arg(long, value_name = "FILE")]
    workshop: Option<PathBuf>,
}

impl Wanted {
    /// The flags again as they were given, less those that are kept by now.
    pub(super) fn again(&self) -> String {
        let workshop = self.workshop.iter();
        let workshop = workshop.map(|file| ("--workshop", file.display().to_string()));
        let with = self.with.iter().filter(|_| !self.save);
        let with = with.map(|word| ("--with", word.clone()));
        let mut flags = String::new();
        for (flag, word) in workshop.chain(with) {
            let _ = write!(flags, " {flag} {}", quoted(&word));
        }
        flags
    }

    /// Sees to it that a result is not written over what was read.
    pub(super) fn spare(&self, problem: &Path, output: Option<&Path>) -> Result<(), Failure> {
        out::spare(problem, "problem", output)?;
        let workshop = self.workshop.as_deref();
        workshop.map_or(Ok(()), |file| out::spare(file, "workshop", output))
    }
}

/// Reads a problem file and makes the changes asked for.
pub(super) fn read(path: &Path, args: &Wanted) -> Result<(Source, Problem, Vec<Change>), Failure> {
    let (source, problem) = problem::read(path).map_err(|faults| refused(&faults))?;
    if args.with.is_empty() && args.workshop.is_none() {
        return Ok((source, problem, Vec::new()));
    }
    let workshop = args.workshop.as_deref();
    let mut changes = Vec::new();
    changes.extend(workshop.map(|from| shed(&source, from)).transpose()?);
    for word in &args.with {
        changes.push(change(&source, word, args)?);
    }
    let name = format!("{} with {}", path.display(), tried(args).join(", "));
    let text = made(source.text(), changes.iter())?;
    let problem = problem::parse(&name, &text).map_err(|faults| refused(&faults))?;
    if !args.save {
        return Ok((source, problem, changes));
    }
    let text = made(source.text(), changes.iter().filter(|change| change.saved))?;
    // The file must be sound without the other workshop, too.
    problem::parse(&name, &text).map_err(|faults| refused(&faults))?;
    problem::save(path, &text).map_err(|error| {
        Failure::Failed(format!("{} can't be written: {error}", path.display()))
    })?;
    Ok((source.changed_to(text), problem, changes))
}

/// The same of a gearbox that may be faulty ([`problem::parse_mended`]): the
/// problem without what cannot be built, and that.
pub(super) fn read_mended(
    path: &Path,
    args: &Wanted,
) -> Result<(Problem, Vec<Change>, Vec<problem::Fault>), Failure> {
    if args.save {
        // What is kept in the file must be sound.
        let (_, problem, changes) = read(path, args)?;
        return Ok((problem, changes, Vec::new()));
    }
    let source = problem::read_text(path).map_err(|faults| refused(&faults))?;
    let mut changes = Vec::new();
    let workshop = args.workshop.as_deref();
    changes.extend(workshop.map(|from| shed(&source, from)).transpose()?);
    for word in &args.with {
        changes.push(change(&source, word, args)?);
    }
    let tried = tried(args);
    let name = if tried.is_empty() {
        path.display().to_string()
    } else {
        format!("{} with {}", path.display(), tried.join(", "))
    };
    let text = made(source.text(), changes.iter())?;
    let (problem, unbuilt) =
        problem::parse_mended(&name, &text).map_err(|faults| refused(&faults))?;
    Ok((problem, changes, unbuilt))
}

/// The workshop of another file.
fn shed(source: &Source, from: &Path) -> Result<Change, Failure> {
    let value = problem::read_workshop(from).map_err(|faults| refused(&faults))?;
    Ok(Change {
        key: "workshop".to_owned(),
        value,
        file: problem::get(source.text(), "workshop").unwrap_or(Value::Null),
        saved: false,
        from: Some(from.display().to_string()),
    })
}

/// A change of `--with`.
fn change(source: &Source, word: &str, args: &Wanted) -> Result<Change, Failure> {
    let bad = |error: problem::EditError| Failure::BadInput(format!("--with {word}: {error}"));
    let (key, value) = problem::assignment(word).map_err(bad)?;
    let in_workshop = key == "workshop" || key.starts_with("workshop.");
    if let (Some(from), true, true) = (&args.workshop, args.save, in_workshop) {
        let (file, from) = (source.path().display(), from.display());
        return Err(Failure::BadInput(format!(
            "--with {word}: --save would keep this in {file}, but the workshop is that of \
             {from}; change it there, or leave out --workshop"
        )));
    }
    Ok(Change {
        file: problem::get(source.text(), &key).unwrap_or(Value::Null),
        key,
        value,
        saved: args.save,
        from: None,
    })
}

/// What was asked for, as the flags said it.
fn tried(args: &Wanted) -> Vec<String> {
    let workshop = args.workshop.iter();
    let workshop = workshop.map(|from| format!("the workshop of {}", from.display()));
    workshop.chain(args.with.iter().cloned()).collect()
}

/// The text with changes made.
fn made<'a>(text: &str, changes: impl Iterator<Item = &'a Change>) -> Result<String, Failure> {
    let mut text = text.to_owned();
    for Change { key, value, .. } in changes {
        text = problem::set(&text, key, value)
            .map_err(|error| Failure::BadInput(format!("--with {key}={value}: {error}")))?;
    }
    Ok(text)
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
        let flag = change.from.as_ref().map_or_else(
            || {
                format!(
                    "--with {}",
                    quoted(&format!("{}={}", change.key, change.value))
                )
            },
            |file| format!("--workshop {}", quoted(file)),
        );
        let _ = write!(flags, " {flag}");
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
            from,
        } = change;
        if let Some(from) = from {
            return format!("Workshop from {from}.");
        }
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

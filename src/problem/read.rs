//! A file or a text to a [`Problem`].

use super::fault::{Faults, Log};
use super::keys::Kind;
use super::model::Problem;
use super::shape::{Checker, Spot};
use super::table::PROBLEM;
use super::{check, syntax};
use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

/// Largest problem file, bytes. A sound one has a few thousand.
const LARGEST: u64 = 1 << 20;
static WHOLE_FILE: Kind = Kind::Fields(&PROBLEM);

/// A problem file as it was read, for changing it in place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    path: PathBuf,
    text: String,
}

impl Source {
    pub(super) const fn new(path: PathBuf, text: String) -> Self {
        Self { path, text }
    }

    /// Where it lies.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Its text, byte for byte.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The same file with another text, once that is what lies in it.
    #[must_use]
    pub fn changed_to(self, text: String) -> Self {
        Self { text, ..self }
    }
}

/// Reads and checks a problem file.
///
/// # Errors
/// Everything that is wrong with it, each fault with its place.
pub fn read(path: &Path) -> Result<(Source, Problem), Faults> {
    let name = path.display().to_string();
    let text = load(path, &name, FileKind::Problem)?;
    let problem = parse(&name, &text)?;
    Ok((Source::new(path.to_owned(), text), problem))
}

/// Checks the text of a problem file; `name` is what faults call it.
///
/// # Errors
/// Everything that is wrong with it, each fault with its place.
pub fn parse(name: &str, text: &str) -> Result<Problem, Faults> {
    let text = sized(name, text, FileKind::Problem)?;
    let mut log = Log::default();
    let Some(json) = syntax::parse(text, &mut log) else {
        return Err(log.close(name, text));
    };
    let mut checker = Checker { log, inches: false };
    let root = checker.item(&json, &WHOLE_FILE, &Spot::top());
    let problem = check::problem(&root, checker.inches, &mut checker.log);
    match problem {
        Some(problem) if checker.log.is_empty() => Ok(problem),
        _ => Err(checker.log.close(name, text)),
    }
}

/// What a file is to hold.
#[derive(Clone, Copy, Debug)]
pub(super) enum FileKind {
    Problem,
    Workshop,
}

impl FileKind {
    const fn noun(self) -> &'static str {
        match self {
            Self::Problem => "problem",
            Self::Workshop => "workshop",
        }
    }

    /// The command that makes one.
    const fn maker(self) -> &'static str {
        match self {
            Self::Problem => "`layshaft new`",
            Self::Workshop => "`layshaft new --workshop`",
        }
    }
}

/// The text without a byte order mark; a fault where it is empty or too long.
pub(super) fn sized<'a>(name: &str, text: &'a str, kind: FileKind) -> Result<&'a str, Faults> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.len() as u64 > LARGEST {
        return Err(too_large(name, text.len() as u64, kind));
    }
    if text.trim().is_empty() {
        let next = format!("start from {}", kind.maker());
        return Err(Faults::without_text(
            name,
            "the file is empty".to_owned(),
            &next,
        ));
    }
    Ok(text)
}

fn too_large(name: &str, size: u64, kind: FileKind) -> Faults {
    let noun = kind.noun();
    let what = format!("the file has {size} bytes; a {noun} has at most {LARGEST}");
    Faults::without_text(name, what, "is it the right file?")
}

/// The text of a plain file of sensible size.
pub(super) fn load(path: &Path, name: &str, kind: FileKind) -> Result<String, Faults> {
    let about = fs::metadata(path).map_err(|error| unreadable(name, &error, kind))?;
    if about.is_dir() {
        let what = format!("this is a folder, not a {} file", kind.noun());
        return Err(Faults::without_text(name, what, "name a file in it"));
    }
    // A pipe or device could keep the reader waiting for ever.
    if !about.is_file() {
        let what = "this is not a plain file".to_owned();
        return Err(Faults::without_text(name, what, "copy it to a file first"));
    }
    if about.len() > LARGEST {
        return Err(too_large(name, about.len(), kind));
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes))
        .map_err(|error| unreadable(name, &error, kind))?;
    if bytes.len() as u64 > LARGEST {
        return Err(too_large(name, bytes.len() as u64, kind));
    }
    String::from_utf8(bytes).map_err(|error| not_utf8(name, &error))
}

fn unreadable(name: &str, error: &std::io::Error, kind: FileKind) -> Faults {
    let make = format!("check the name, or make one with {}", kind.maker());
    let (what, next) = match error.kind() {
        ErrorKind::NotFound => ("there is no such file".to_owned(), make.as_str()),
        ErrorKind::PermissionDenied => (
            "this file may not be read".to_owned(),
            "check its permissions",
        ),
        _ => (format!("this file can't be read: {error}"), ""),
    };
    Faults::without_text(name, what, next)
}

fn not_utf8(name: &str, error: &std::string::FromUtf8Error) -> Faults {
    let at = error.utf8_error().valid_up_to();
    let good = &error.as_bytes()[..at];
    let line = 1 + good.split(|byte| *byte == b'\n').count() - 1;
    let what = format!("byte {at} (line {line}) is not UTF-8 text");
    Faults::without_text(name, what, "save the file as UTF-8")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sample_is_a_problem() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
        let mut count = 0;
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let outcome = read(&path);
            assert!(outcome.is_ok(), "{}", outcome.unwrap_err());
            count += 1;
        }
        assert!(count >= 6);
    }
}

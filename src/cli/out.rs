//! Where results and messages go.

use super::exit::Failure;
use super::screen::Screen;
use crate::problem::save_with;
use serde::Serialize;
use std::fs::{self, File};
use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::Path;

/// Writes a result to stdout or into a file.
pub(super) fn deliver(
    output: Option<&Path>,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), Failure> {
    match output {
        None => to_stdout(write),
        Some(path) => to_file(path, write).map_err(|error| {
            Failure::Failed(format!("{} can't be written: {error}", path.display()))
        }),
    }
}

/// Writes a result as JSON for programs, a line end behind it.
pub(super) fn deliver_json(output: Option<&Path>, value: &impl Serialize) -> Result<(), Failure> {
    deliver(output, |to| {
        serde_json::to_writer_pretty(&mut *to, value)?;
        writeln!(to)
    })
}

/// Refuses to write a result over a file that it was made from; `what` is that
/// file.
pub(super) fn spare(file: &Path, what: &str, output: Option<&Path>) -> Result<(), Failure> {
    let place = |path: &Path| path.canonicalize().ok();
    let same = output
        .is_some_and(|output| place(output).is_some_and(|output| Some(output) == place(file)));
    if same {
        let text = format!("--output names the {what} file itself: it would be lost");
        return Err(Failure::BadInput(text));
    }
    Ok(())
}

/// Writes a text as this screen can show it.
pub(super) fn deliver_text(
    output: Option<&Path>,
    screen: &Screen,
    text: &str,
) -> Result<(), Failure> {
    deliver(output, |to| to.write_all(screen.fit(text).as_bytes()))
}

/// A reader that has seen enough closes the pipe: no failure.
fn to_stdout(write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Failure> {
    let mut to = BufWriter::new(io::stdout().lock());
    match write(&mut to).and_then(|()| to.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::Failed(format!(
            "the result can't be written: {error}"
        ))),
        _ => Ok(()),
    }
}

/// A plain file is replaced whole or stays untouched; a device or a pipe is
/// written to directly.
fn to_file(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<()> {
    match fs::metadata(path) {
        Ok(about) if about.is_dir() => return Err(io::Error::other("it is a folder")),
        Ok(about) if !about.is_file() => {
            let mut to = BufWriter::new(File::options().write(true).open(path)?);
            write(&mut to)?;
            return to.flush();
        }
        _ => {}
    }
    save_with(path, write)
}

/// Whether messages may be coloured.
pub(super) fn stderr_has_colour() -> bool {
    anstream::AutoStream::choice(&io::stderr()) != anstream::ColorChoice::Never
}

/// Tells the person something on stderr.
pub(super) fn complain(text: &str) {
    let text = text.trim_end();
    // With stderr gone there is nobody to tell.
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}

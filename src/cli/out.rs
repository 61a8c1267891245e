//! Where results and messages go.

use super::exit::Failure;
use super::screen::Screen;
use std::fs::{self, File};
use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Writes a result to stdout or into a file.
pub(super) fn deliver(
    output: Option<&Path>,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), Failure> {
    match output {
        None => to_stdout(write),
        Some(path) => to_file(path, write)
            .map_err(|error| Failure::Failed(format!("{} can't be written: {error}", path.display()))),
    }
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
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::Failed(format!("the result can't be written: {error}")))
        }
        _ => Ok(()),
    }
}

/// Writes beside the file, then renames: it is whole or untouched. What is
/// there and no plain file (a device, a pipe) is written to directly.
fn to_file(path: &Path, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<()> {
    // A link stays a link: the file that it leads to is replaced.
    let path = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    match fs::metadata(&path) {
        Ok(about) if about.is_dir() => return Err(io::Error::other("it is a folder")),
        Ok(about) if !about.is_file() => {
            let mut to = BufWriter::new(File::options().write(true).open(&path)?);
            write(&mut to)?;
            return to.flush();
        }
        _ => {}
    }
    let beside = name_beside(&path)?;
    let whole = write_whole(&beside, write).and_then(|()| fs::rename(&beside, &path));
    if whole.is_err() {
        // Nothing more can be done about a leftover.
        let _ = fs::remove_file(&beside);
    }
    whole
}

fn name_beside(path: &Path) -> io::Result<PathBuf> {
    let name = path.file_name().ok_or_else(|| io::Error::other("it names no file"))?;
    let mut beside = std::ffi::OsString::from(".");
    beside.push(name);
    beside.push(format!(".{}.part", std::process::id()));
    Ok(path.with_file_name(beside))
}

fn write_whole(
    path: &Path,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> io::Result<()> {
    let mut to = BufWriter::new(File::options().write(true).create_new(true).open(path)?);
    write(&mut to)?;
    to.flush()?;
    to.get_ref().sync_all()
}

/// Tells the person something on stderr.
pub(super) fn complain(text: &str) {
    let text = text.trim_end();
    // With stderr gone there is nobody to tell.
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}

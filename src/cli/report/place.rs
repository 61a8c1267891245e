//! Where the page goes, and that nothing of somebody else's is lost there.

use super::Failure;
use crate::export::WRITTEN_BY;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// So far into a file our own word for it stands.
const HEAD: u64 = 4096;

/// The file asked for, else the problem's name with `.html` beside it.
pub(super) fn of(problem: &Path, output: Option<&Path>) -> PathBuf {
    output.map_or_else(|| problem.with_extension("html"), Path::to_owned)
}

/// Refuses to write over a page that the program did not write.
pub(super) fn spare(page: &Path) -> Result<(), Failure> {
    if !page.is_file() || is_ours(page) {
        return Ok(());
    }
    Err(Failure::BadInput(format!(
        "{} is there and is no report of ours, so it stays as it is: name another file with -o",
        page.display()
    )))
}

fn is_ours(page: &Path) -> bool {
    let mut head = Vec::new();
    let read = File::open(page).and_then(|file| file.take(HEAD).read_to_end(&mut head));
    read.is_ok() && String::from_utf8_lossy(&head).contains(WRITTEN_BY)
}

/// Opens the page with whatever this machine opens pages with.
pub(super) fn open(page: &Path) -> bool {
    let program = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    let started = Command::new(program)
        .arg(page)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status();
    started.is_ok_and(|status| status.success())
}

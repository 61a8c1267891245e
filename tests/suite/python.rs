//! The Python that some tests ask for an outside opinion.
//!
//! Which one: `LAYSHAFT_PYTHON`, else the one below `target/` that the gates
//! make, else `python3`. Where it lacks what a test needs, the test says that it
//! was skipped; where `LAYSHAFT_REQUIRES_OUTSIDE` is set it fails instead.

use serde::de::DeserializeOwned;
use serde_json::Value;
use std::env;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A Python that has these modules; none, told aloud, where there is none.
pub(crate) fn python_with(modules: &[&str]) -> Option<PathBuf> {
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/outside/bin/python");
    let python: PathBuf = match env::var_os("LAYSHAFT_PYTHON") {
        Some(named) => named.into(),
        None if own.exists() => own,
        None => "python3".into(),
    };
    let import = format!("import {}", modules.join(", "));
    let asked = Command::new(&python).args(["-c", &import]).output();
    if asked.is_ok_and(|asked| asked.status.success()) {
        return Some(python);
    }
    let pip = format!("pip install {}", modules.join(" "));
    skipped(&format!(
        "{} has not all of {}. Make a venv, {pip}, and name its python in LAYSHAFT_PYTHON",
        python.display(),
        modules.join(", ")
    ));
    None
}

/// What a script below `tests/suite` answers; none, told aloud, where it cannot
/// be asked.
pub(crate) fn answer<T: DeserializeOwned>(
    script: &str,
    modules: &[&str],
    asked: &Value,
) -> Option<T> {
    let python = python_with(modules)?;
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite");
    let mut run = Command::new(python)
        .arg(folder.join(script))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let text = asked.to_string();
    run.stdin
        .take()
        .unwrap()
        .write_all(text.as_bytes())
        .unwrap();
    let told = run.wait_with_output().unwrap();
    assert!(told.status.success(), "{script} failed");
    Some(serde_json::from_slice(&told.stdout).unwrap())
}

/// Says that a test was skipped, and fails where it must run.
pub(crate) fn skipped(why: &str) {
    let must = env::var_os("LAYSHAFT_REQUIRES_OUTSIDE").is_some();
    assert!(!must, "this test must run: {why}");
    // Past the test's captured output, so that a person sees it.
    let _ = writeln!(std::io::stderr(), "skipped: {why}");
}

//! What programs in Python say beside the tests.
//!
//! Which Python is asked: `LAYSHAFT_PYTHON`, else the one below `target/` that
//! the gates make, else `python3`. Without the packages that a script needs its
//! test says that it was skipped; where `LAYSHAFT_REQUIRES_PYTHON` is set it
//! fails instead.

use serde::de::DeserializeOwned;
use serde_json::Value;
use std::env;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

fn python() -> PathBuf {
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/outside/bin/python");
    match env::var_os("LAYSHAFT_PYTHON") {
        Some(named) => named.into(),
        None if own.exists() => own,
        None => "python3".into(),
    }
}

fn has(python: &Path, packages: &[&str]) -> bool {
    let import = format!("import {}", packages.join(", "));
    let asked = Command::new(python).args(["-c", &import]).output();
    asked.is_ok_and(|asked| asked.status.success())
}

/// What a script below `tests/suite` answers; none where it cannot be asked.
pub(crate) fn answer<T: DeserializeOwned>(
    script: &str,
    packages: &[&str],
    asked: &Value,
) -> Option<T> {
    let python = python();
    if !has(&python, packages) {
        let packages = packages.join(" ");
        let what = format!("{} lacks one of {packages}", python.display());
        assert!(env::var_os("LAYSHAFT_REQUIRES_PYTHON").is_none(), "{what}");
        say(&format!(
            "skipped: {what}. Make a venv, pip install {packages}, and name its python in \
             LAYSHAFT_PYTHON"
        ));
        return None;
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/suite")
        .join(script);
    let mut run = Command::new(python)
        .arg(script)
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
    assert!(
        told.status.success(),
        "{}",
        String::from_utf8_lossy(&told.stderr)
    );
    Some(serde_json::from_slice(&told.stdout).unwrap())
}

#[allow(clippy::print_stderr, reason = "a test that is skipped says so")]
fn say(text: &str) {
    eprintln!("{text}");
}

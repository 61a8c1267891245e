//! The page in a browser, driven by `check_page.py`.
//!
//! It needs Python with selenium ([`crate::python`]), Chromium with its driver
//! (`LAYSHAFT_CHROME`, `LAYSHAFT_CHROMEDRIVER`, else where Debian has them) and
//! axe-core as one file (`LAYSHAFT_AXE`, else below `target/` where the gates put
//! it).

use crate::front_door::{Run, copy_of};
use crate::python::{python_with, skipped};
use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A file that a variable names, else where it usually is; none, told aloud,
/// where it is not there.
fn tool(variable: &str, usual: &str) -> Option<PathBuf> {
    let named = env::var_os(variable).map(PathBuf::from);
    let inside = Path::new(env!("CARGO_MANIFEST_DIR")).join(usual);
    let path = named.unwrap_or(inside);
    if path.exists() {
        return Some(path);
    }
    skipped(&format!(
        "{} is not there: name it in {variable}",
        path.display()
    ));
    None
}

fn check(sample: &str, flags: &[&str]) {
    let Some(python) = python_with(&["selenium"]) else {
        return;
    };
    let (Some(chrome), Some(driver), Some(axe)) = (
        tool("LAYSHAFT_CHROME", "/usr/bin/chromium"),
        tool("LAYSHAFT_CHROMEDRIVER", "/usr/bin/chromedriver"),
        tool("LAYSHAFT_AXE", "target/outside/axe.min.js"),
    ) else {
        return;
    };
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of(sample, folder.path());
    Run::of(&[&["report", file.to_str().unwrap()], flags].concat())
        .ends()
        .with(0);
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/report/check_page.py");
    let told = Command::new(python)
        .arg(script)
        .arg(file.with_extension("html"))
        .args([axe, chrome, driver])
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&told.stdout);
    let passed = said.lines().filter(|line| line.starts_with("ok ")).count();
    assert!(
        told.status.success() && passed > 9,
        "{sample}:\n{said}\n{}",
        String::from_utf8_lossy(&told.stderr)
    );
}

#[test]
fn a_page_does_in_a_browser_what_it_should() {
    check("shunter", &[]);
}

#[test]
fn a_page_with_a_duty_and_offset_shafts_does_so_too() {
    let duty = [
        "--with",
        "duty.input_torque_n_m=2",
        "--with",
        "input_rpm=1500",
        "--sets",
        "20",
    ];
    check("spindle-head", &duty);
}

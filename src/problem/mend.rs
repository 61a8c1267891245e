//! A file that says clearly what cannot be built, read on with what is usual in
//! place of that: so that all else about the gearbox can still be checked.

use super::edit::set;
use super::fault::{Fault, Faults};
use super::model::Problem;
use super::read::{FileKind, Source, load, parse};
use serde_json::Value;
use std::path::Path;

/// What the three keys of a rack say stands or falls together.
const RACK: [&str; 3] = ["gears.fillet", "gears.addendum", "gears.dedendum"];
/// A mended file may show a fault that another one hid; so often at most.
const ROUNDS: usize = 4;

/// Reads a problem file as it is, whether or not it is sound.
///
/// # Errors
/// Where it cannot be read at all.
pub fn read_text(path: &Path) -> Result<Source, Faults> {
    let name = path.display().to_string();
    Ok(Source::new(
        path.to_owned(),
        load(path, &name, FileKind::Problem)?,
    ))
}

/// Checks a text as [`parse`] does, but takes faults of the gearbox itself
/// ([`Fault::of_box`]) out of it, one after another: the problem that is left,
/// and those faults.
///
/// # Errors
/// Faults of the writing, and faults that leaving keys out does not mend.
pub fn parse_mended(name: &str, text: &str) -> Result<(Problem, Vec<Fault>), Faults> {
    let mut text = text.to_owned();
    let mut mended = Vec::new();
    for _ in 0..ROUNDS {
        let faults = match parse(name, &text) {
            Ok(problem) => return Ok((problem, mended)),
            Err(faults) => faults,
        };
        if !faults.list().iter().all(|fault| fault.of_box) {
            return Err(faults);
        }
        for key in faults.list().iter().flat_map(left_out) {
            // What is not there needs no leaving out.
            text = set(&text, &key, &Value::Null).unwrap_or(text);
        }
        mended.extend(faults.list().iter().cloned());
    }
    Err(match parse(name, &text) {
        Ok(problem) => return Ok((problem, mended)),
        Err(faults) => faults,
    })
}

/// The keys without which the fault is gone.
fn left_out(fault: &Fault) -> Vec<String> {
    if fault.key.starts_with("layout.forks") {
        return vec!["layout.forks".to_owned()];
    }
    if RACK.iter().any(|key| fault.key.starts_with(key)) || fault.key == "gears" {
        return RACK.map(str::to_owned).to_vec();
    }
    vec![fault.key.clone()]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(gears: &str, rest: &str) -> String {
        format!(
            r#"{{ "arrangement": "offset", "centre_distance_mm": 40, "gears": {{ "modules_mm": [1],
            "min_teeth": 12, "max_teeth": 70, "face_width_mm": 8{gears} }},
            "speeds": [ {{ "name": "1", "ratio": 2 }}, {{ "name": "2", "ratio": 1 }} ]{rest} }}"#
        )
    }

    #[test]
    fn what_cannot_be_built_is_told_and_the_rest_read() {
        let text = file(
            r#", "fillet": 0.9"#,
            r#", "layout": { "forks": [["1", "2"], ["2"]] }"#,
        );
        let (problem, faults) = parse_mended("test", &text).unwrap();
        let keys: Vec<&str> = faults.iter().map(|fault| fault.key.as_str()).collect();
        assert_eq!(keys, ["gears.fillet", "layout.forks[1][0]"]);
        assert_eq!(problem.layout().forks().len(), 1);
        assert!((problem.gears().rack().fillet - 0.38).abs() < 1e-12);
    }

    #[test]
    fn a_fault_of_writing_is_still_a_fault() {
        let text = file(r#", "fillet": 0.9, "addendum": "high""#, "");
        assert!(parse_mended("test", &text).is_err());
        let text = file("", r#", "layout": { "forks": [["1", "fast"]] }"#);
        assert!(parse_mended("test", &text).is_err());
    }

    #[test]
    fn a_sound_file_is_read_as_ever() {
        let (problem, faults) = parse_mended("test", &file("", "")).unwrap();
        assert_eq!(Ok(problem), parse("test", &file("", "")));
        assert_eq!(faults, []);
    }
}

//! Key paths: `gears.backlash_mm.max`, `speeds[2].ratio` (counted from 0).

use super::keys::{Kind, Shape, Unit};
use super::table::PROBLEM;
use super::{suggest, targets};

static TOP: [&Shape; 1] = [&PROBLEM];

/// One step of a key path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// Into the key of an object.
    Key(String),
    /// To an entry of a list, counted from 0.
    Entry(usize),
}

/// The steps of a path; none when it is not spelled like one.
pub(super) fn steps(path: &str) -> Option<Vec<Step>> {
    let mut steps = Vec::new();
    for part in path.split('.') {
        let (name, entries) = match part.find('[') {
            Some(at) => part.split_at(at),
            None => (part, ""),
        };
        if name.is_empty() {
            return None;
        }
        steps.push(Step::Key(name.to_owned()));
        for entry in entries.split_inclusive(']') {
            let number = entry.strip_prefix('[')?.strip_suffix(']')?;
            steps.push(Step::Entry(number.parse().ok()?));
        }
    }
    Some(steps)
}

/// The one spelling of a known key path that results and `fixed` use: lengths
/// in mm, modules in place of diametral pitches, ratios in place of the speeds
/// that ask for them.
///
/// # Errors
/// What to do about a path that leads to no key.
pub(super) fn canonical(path: &str) -> Result<String, String> {
    let spelled = "write it like gears.modules_mm or speeds[0].ratio";
    let steps = steps(path).ok_or(spelled)?;
    let mut out = String::new();
    let mut at = At::Shapes(&TOP);
    for step in &steps {
        at = match (step, at) {
            (Step::Key(name), At::Shapes(shapes)) => {
                let found = shapes.iter().find_map(|shape| shape.find(name));
                let Some((key, unit)) = found else {
                    return Err(suggest::key(name, shapes));
                };
                if !out.is_empty() {
                    out.push('.');
                }
                out.push_str(&usual(name, key.name, unit));
                inside(&key.kind)
            }
            (Step::Entry(index), At::List(kind)) => {
                out.extend(["[", &index.to_string(), "]"]);
                inside(kind)
            }
            (Step::Entry(index), At::Row(count)) if *index < count => {
                out.extend(["[", &index.to_string(), "]"]);
                At::Value
            }
            _ => return Err(format!("nothing lies inside {out}")),
        };
    }
    Ok(out)
}

fn usual(spelling: &str, name: &str, unit: Option<Unit>) -> String {
    match (unit, spelling) {
        (Some(_), _) => format!("{name}_mm"),
        (None, "diametral_pitches") => "modules_mm".to_owned(),
        (None, "diametral_pitch") => "module_mm".to_owned(),
        (None, _) if targets::WORDS.contains(&spelling) => targets::WORDS[0].to_owned(),
        (None, _) => spelling.to_owned(),
    }
}

/// What a step may lead into.
enum At {
    Shapes(&'static [&'static Shape]),
    List(&'static Kind),
    Row(usize),
    Value,
}

fn inside(kind: &'static Kind) -> At {
    match kind {
        Kind::Fields(shape) => At::Shapes(std::slice::from_ref(shape)),
        Kind::Either(_, shapes) => At::Shapes(shapes),
        Kind::List { of, .. } => At::List(of),
        Kind::Row(places) => At::Row(places.len()),
        _ => At::Value,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_paths_have_one_spelling() {
        for (path, key) in [
            ("centre_distance_in", "centre_distance_mm"),
            ("gears.backlash_in.max", "gears.backlash_mm.max"),
            ("centre_distance_in.step", "centre_distance_mm.step"),
            (
                "centre_distance_mm.pins_in[1]",
                "centre_distance_mm.pins_mm[1]",
            ),
            ("gears.diametral_pitches", "gears.modules_mm"),
            ("speeds[2].ratio", "speeds[2].ratio"),
            ("speeds[2].output_rpm", "speeds[2].ratio"),
            ("reverse.road_speed_mph", "reverse.ratio"),
            ("head.teeth[1]", "head.teeth[1]"),
            ("gears", "gears"),
        ] {
            assert_eq!(canonical(path), Ok(key.to_owned()), "{path}");
        }
    }

    #[test]
    fn other_paths_are_refused_with_a_hint() {
        for (path, hint) in [
            ("gears.module_mm", "did you mean `modules_mm`?"),
            ("gears.min_teeth.x", "nothing lies inside gears.min_teeth"),
            ("head.teeth[2]", "nothing lies inside head.teeth"),
            (
                "speeds[",
                "write it like gears.modules_mm or speeds[0].ratio",
            ),
            ("", "write it like gears.modules_mm or speeds[0].ratio"),
        ] {
            assert_eq!(canonical(path), Err(hint.to_owned()), "{path}");
        }
    }
}

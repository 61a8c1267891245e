//! Stores a set in the problem file as the one picked.

use crate::base::{Decimal, Length};
use crate::cli::exit::Failure;
use crate::export::Answer;
use crate::problem::{self, Problem, Source};
use crate::train::{ModuleId, Set};
use serde_json::{Map, Value, json};

/// Writes `"picked"` into the file and leaves the rest of its text as it is.
pub(super) fn store(source: &Source, answer: &Answer<'_>, set: &Set) -> Result<(), Failure> {
    let path = source.path();
    let name = path.display();
    let there = std::fs::read_to_string(path);
    if there.map_err(|error| Failure::Failed(format!("{name} can't be read: {error}")))?
        != source.text()
    {
        let text = format!("{name} was changed meanwhile; nothing was stored. Solve it again.");
        return Err(Failure::Failed(text));
    }
    let picked = picked(answer.problem, set, &answer.register().shown(set));
    let text = problem::set(source.text(), "picked", &picked)
        .map_err(|error| Failure::BadInput(format!("{name}: {error}")))?;
    problem::save(path, &text)
        .map_err(|error| Failure::Failed(format!("{name} can't be written: {error}")))
}

/// The set as the file keeps it: found again whatever the ranking.
fn picked(problem: &Problem, set: &Set, mark: &str) -> Value {
    let (key, centres) = distance(set.centre_distance);
    let mut map = Map::new();
    map.insert("mark".to_owned(), json!(mark));
    map.insert(key.to_owned(), centres);
    if let Some(head) = set.head {
        let row = json!([
            module(problem, head.module),
            head.driver.get(),
            head.driven.get()
        ]);
        map.insert("head".to_owned(), row);
    }
    let pair =
        |p: &crate::train::Pair| json!([module(problem, p.module), p.driver.get(), p.driven.get()]);
    map.insert("speeds".to_owned(), set.pairs.iter().map(pair).collect());
    if let Some(r) = set.reverse {
        let m = module(problem, r.module);
        let row = json!([m, r.driver.get(), r.idler.get(), r.driven.get()]);
        map.insert("reverse".to_owned(), row);
    }
    Value::Object(map)
}

/// A module in mm to the 6 decimals that a file may have.
fn module(problem: &Problem, id: ModuleId) -> f64 {
    let mm = id.of(problem).mm();
    Decimal::nearest(mm).map_or(mm, Decimal::to_f64)
}

/// A distance in mm, or in inches where only they are exact in 6 decimals.
fn distance(length: Length) -> (&'static str, Value) {
    const STEPS_PER_MICRO_MM: i64 = 1000;
    const STEPS_PER_MICRO_INCH: i64 = 25_400;
    let steps = length.steps();
    let inches = Decimal::from_millionths(steps / STEPS_PER_MICRO_INCH);
    if steps % STEPS_PER_MICRO_MM != 0 && steps % STEPS_PER_MICRO_INCH == 0 {
        return ("centre_distance_in", json!(inches.to_f64()));
    }
    let mm = Decimal::from_millionths(steps / STEPS_PER_MICRO_MM);
    ("centre_distance_mm", json!(mm.to_f64()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_stay_exact() {
        let inches = |text| Length::from_inches(Decimal::parse(text).unwrap());
        assert_eq!(
            distance(inches("1.625")),
            ("centre_distance_mm", json!(41.275))
        );
        assert_eq!(
            distance(inches("1.62501")),
            ("centre_distance_mm", json!(41.275_254))
        );
        assert_eq!(
            distance(inches("1.625001")),
            ("centre_distance_in", json!(1.625_001))
        );
    }
}

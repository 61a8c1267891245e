//! Tooth counts that the dividing head does not divide simply.

use super::Set;
use crate::base::Teeth;
use crate::problem::{Cutting, Problem};

/// The tooth counts of gears still to be cut that need more than a simple
/// setting of the head, ascending, each once. None where teeth are generated:
/// then the hob's or the rack tool's own set-up divides.
pub fn not_simply_divided(problem: &Problem, set: &Set) -> Vec<Teeth> {
    if problem.gears().cutting() == Cutting::Generated {
        return Vec::new();
    }
    let head = problem.workshop().dividing_head();
    let speeds = problem.speeds_made().flatten();
    let made = set.head.iter().flat_map(|_| problem.head_made());
    let made = made.chain(speeds).chain(problem.reverse_made());
    let to_cut = set.gears().zip(made).filter(|(_, made)| !made);
    let mut counts: Vec<Teeth> = to_cut
        .map(|((_, teeth), _)| teeth)
        .filter(|teeth| !head.divides_simply(teeth.get()))
        .collect();
    counts.sort_unstable();
    counts.dedup();
    counts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::parse;
    use crate::train::{ModuleId, Pair};

    fn counts(more: &str, cutting: &str) -> Vec<u32> {
        let text = format!(
            r#"{{ "centre_distance_mm": 41.2, "speeds": [{{ "ratio": 2{more} }}],
            "gears": {{ "modules_mm": [0.8], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8,
            "cutting": "{cutting}" }} }}"#
        );
        let problem = parse("box", &text).unwrap();
        let pair = |driver, driven| Pair {
            module: ModuleId::new(0),
            driver: Teeth::of(driver),
            driven: Teeth::of(driven),
        };
        let set = Set {
            centre_distance: problem.centre_distances().at(0),
            head: Some(pair(36, 67)),
            pairs: vec![pair(52, 51)],
            reverse: None,
        };
        let counts = not_simply_divided(&problem, &set);
        counts.into_iter().map(Teeth::get).collect()
    }

    // A 40:1 head with circles 15 to 49 (row 5.01): 51 = 3 · 17 would need a
    // circle of 51 holes, 67 one of 67; 36 takes 18 holes, 52 takes 39.
    #[test]
    fn counts_that_no_circle_serves_are_told() {
        assert_eq!(counts("", "form"), [51, 67]);
        assert_eq!(counts("", "own-form"), [51, 67]);
        assert_eq!(counts("", "generated"), [0_u32; 0]);
        assert_eq!(counts(", \"teeth\": [52, 51]", "form"), [67]);
    }
}

//! A whole problem as one integer program against plain enumeration.

use crate::front_door::Run;
use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Measure, Problem, Ranking};
use layshaft::search::{Control, Whole, count_plainly, enumerate, least_by_program};
use layshaft::stock::exact;
use layshaft::train::{Figures, Set};
use layshaft::verify::verify;
use num_bigint::BigUint;

/// The measure and, where it is level, the metal.
fn worth(problem: &Problem, set: &Set, measure: Measure) -> (u64, u64) {
    let figures = Figures::of(problem, set);
    let first = exact(problem, set, &figures, measure);
    (first, figures.blank_um2)
}

/// The least by walking every set.
fn plain(problem: &Problem, measure: Measure) -> Option<(u64, u64)> {
    let mut measures = vec![measure, Measure::BlankVolume];
    measures.dedup();
    let ranked = problem.clone().ranked(Ranking::By(measure), measures);
    let best = enumerate(&ranked, 1).sets;
    best.first().map(|set| worth(problem, set, measure))
}

#[test]
fn one_program_finds_what_plain_enumeration_finds() {
    let (mut compared, mut without_sets, mut ranges) = (0, 0, 0);
    for seed in 800_000..800_160 {
        let draw = &mut Draw::new(seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        if count_plainly(&problem).sets > BigUint::from(3000_u32) {
            continue;
        }
        for measure in Measure::USUAL {
            let about = format!("seed {seed}: {file} {measure:?}");
            match least_by_program(&problem, measure, &Control::default()) {
                Whole::TooLarge(_) => continue,
                Whole::Open => panic!("{about}"),
                Whole::NoSet => {
                    assert_eq!(plain(&problem, measure), None, "{about}");
                    without_sets += 1;
                }
                Whole::Best(set, value) => {
                    assert!(verify(&problem, &set).is_empty(), "{about}: {set:?}");
                    let found = worth(&problem, &set, measure);
                    assert_eq!(value, found.0, "{about}");
                    assert_eq!(Some(found), plain(&problem, measure), "{about}");
                }
            }
            compared += 1;
            ranges += u32::from(problem.centre_distances().len() > 1);
        }
    }
    let seen = format!("{compared} {without_sets} {ranges}");
    assert!(compared > 120 && without_sets > 15 && ranges > 15, "{seen}");
}

#[test]
fn solve_by_program_finds_what_the_search_finds() {
    for sort in ["worst_error", "blank_volume", "distinct_cutters"] {
        let json = |args: &[&str]| {
            let all = [&["--format", "json", "--sort", sort], args].concat();
            Run::solve("walking-tractor", &all).ends().with(0).json()
        };
        let program = json(&["--engine", "program"]);
        assert_eq!(program["status"], "proven");
        assert_eq!(program["least"], sort);
        // Where the first measure is level, the program looks at metal.
        let measures = match sort {
            "blank_volume" => sort.to_owned(),
            other => format!("{other},blank_volume"),
        };
        let searched = json(&["--top", "1", "--measures", &measures]);
        let measure = Measure::USUAL
            .into_iter()
            .find(|m| m.word() == sort)
            .unwrap();
        for key in [measure.key(), "blank_volume_mm3"] {
            let (found, best) = (&program["set"][key], &searched["sets"][0][key]);
            assert!(found.is_number());
            assert_eq!(found, best, "{sort} {key}");
        }
    }
}

#[test]
fn solve_by_program_says_what_it_can_not_do() {
    let by = ["--engine", "program"];
    let refused = |sample, args: &[&str]| {
        let all = [&by, args].concat();
        let ended = Run::solve(sample, &all).ends().with(2);
        assert!(ended.stdout.is_empty());
        ended.stderr
    };
    assert!(refused("shunter", &[]).contains("--sort"));
    let large = refused("large", &["--sort", "blank_volume"]);
    assert!(large.contains("unknowns") && large.contains("--certify"));
    let csv = ["--sort", "blank_volume", "--format", "csv"];
    assert!(refused("shunter", &csv).contains("json"));
    refused("shunter", &["--sort", "blank_volume", "--certify"]);
    let none = ["--engine", "program", "--sort", "blank_volume"];
    let none = Run::solve("bored-case", &none).ends().with(1);
    assert!(none.stdout.starts_with("No set fits"));
}

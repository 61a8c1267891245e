//! The re-check accepts what the search returns, and nothing that is spoiled.

use crate::random::{Draw, checked, problem_file};
use layshaft::base::{Decimal, Length, Teeth};
use layshaft::problem::{Problem, parse, read};
use layshaft::search::{Control, Request, count_plainly, enumerate, solve};
use layshaft::train::{Figures, ModuleId, Pair, ReverseGears, Set};
use layshaft::verify::{Breach, verify, verify_figures};
use num_bigint::BigUint;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn samples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    let entries = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let mut files: Vec<_> = entries
        .filter(|path| path.extension().is_some_and(|end| end == "json"))
        .collect();
    files.sort();
    files
}

fn sample(name: &str) -> Problem {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("problems")
        .join(name);
    read(&path).unwrap().1
}

/// The bored case, with more backlash allowed: as it is, nothing closes.
fn looser_case() -> Problem {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems/bored-case.json");
    let text = std::fs::read_to_string(path).unwrap();
    let looser = text.replace("\"max\": 0.1", "\"max\": 0.15");
    assert_ne!(text, looser);
    parse("looser case", &looser).unwrap()
}

fn best(problem: &Problem) -> Set {
    let request = Request {
        top: 1,
        trains: 0,
        threads: 1,
    };
    solve(problem, request, &Control::default()).sets.remove(0)
}

fn kinds(breaches: &[Breach]) -> BTreeSet<&'static str> {
    breaches.iter().map(Breach::kind).collect()
}

fn assert_sound(problem: &Problem, set: &Set, about: &str) {
    let breaches = verify(problem, set);
    assert!(breaches.is_empty(), "{about}: {set:?}\n{breaches:?}");
    let breaches = verify_figures(problem, set, &Figures::of(problem, set));
    assert!(breaches.is_empty(), "{about}: {set:?}\n{breaches:?}");
}

#[test]
fn every_set_of_the_samples_is_sound() {
    let files = samples();
    assert!(files.len() >= 6);
    let mut sets = 0;
    for file in files {
        let problem = read(&file).unwrap().1;
        let request = Request {
            top: 200,
            trains: 0,
            threads: 2,
        };
        let outcome = solve(&problem, request, &Control::default());
        for set in outcome.front.iter().chain(&outcome.sets) {
            assert_sound(&problem, set, &file.display().to_string());
            sets += 1;
        }
    }
    assert!(sets > 900, "{sets}");
}

/// Teeth and modules of every gear, to be changed in place.
fn gear(set: &mut Set, place: usize) -> Option<&mut Teeth> {
    let pairs = set.head.iter_mut().chain(&mut set.pairs);
    let reverse = set.reverse.iter_mut();
    let mut gears = pairs
        .flat_map(|pair| [&mut pair.driver, &mut pair.driven])
        .chain(reverse.flat_map(|r| [&mut r.driver, &mut r.idler, &mut r.driven]));
    gears.nth(place)
}

fn module(set: &mut Set, place: usize) -> Option<&mut ModuleId> {
    let pairs = set
        .head
        .iter_mut()
        .chain(&mut set.pairs)
        .map(|pair| &mut pair.module);
    pairs
        .chain(set.reverse.iter_mut().map(|reverse| &mut reverse.module))
        .nth(place)
}

fn changed(teeth: Teeth, by: i32) -> Teeth {
    let count = i32::try_from(teeth.get()).unwrap() + by;
    Teeth::new(u16::try_from(count).unwrap())
}

/// A set differing from `set` by one small step, if there is such a place.
fn neighbour(draw: &mut Draw, problem: &Problem, set: &Set) -> Option<Set> {
    let mut other = set.clone();
    let place = usize::try_from(draw.whole(0, 12)).unwrap();
    match draw.whole(0, 3) {
        0 => *module(&mut other, place)? = draw_module(draw, problem),
        1 => {
            // A tooth from one gear to the next: the sum of a pair stays.
            let teeth = gear(&mut other, place)?;
            *teeth = changed(*teeth, 1);
            let next = gear(&mut other, place + 1)?;
            *next = changed(*next, -1);
        }
        2 => {
            let distances = problem.centre_distances();
            let i = draw.whole(0, distances.len() as u64 - 1);
            other.centre_distance = distances.at(usize::try_from(i).unwrap());
        }
        _ => {
            let by = draw.pick(&[-2, -1, 1, 2]);
            let teeth = gear(&mut other, place)?;
            *teeth = changed(*teeth, by);
        }
    }
    Some(other)
}

fn draw_module(draw: &mut Draw, problem: &Problem) -> ModuleId {
    let most = problem.gears().modules().len() as u64 - 1;
    ModuleId::new(usize::try_from(draw.whole(0, most)).unwrap())
}

/// On small problems every set is known, so each neighbour of a set is either
/// one of them or unsound.
#[test]
fn exactly_the_enumerated_sets_are_sound() {
    let (mut sound, mut unsound) = (0, 0);
    for seed in 100_000..100_700 {
        let draw = &mut Draw::new(seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        let count = count_plainly(&problem).sets;
        if count == BigUint::ZERO || count > BigUint::from(2000_u32) {
            continue;
        }
        let all: BTreeSet<Set> = enumerate(&problem, usize::MAX).sets.into_iter().collect();
        assert_eq!(BigUint::from(all.len()), count);
        let about = format!("seed {seed}: {file}");
        for set in all.iter().step_by(1 + all.len() / 60) {
            assert_sound(&problem, set, &about);
            for other in (0..8).filter_map(|_| neighbour(draw, &problem, set)) {
                let breaches = verify(&problem, &other);
                let known = all.contains(&other);
                assert_eq!(
                    breaches.is_empty(),
                    known,
                    "{about}\n{other:?}\n{breaches:?}"
                );
                sound += u32::from(known);
                unsound += u32::from(!known);
            }
        }
    }
    assert!(sound > 2000 && unsound > 2000, "{sound} {unsound}");
}

/// Spoils the best set of a sample and expects exactly the kinds given.
fn spoiled(problem: &Problem, expected: &[&str], spoil: impl FnOnce(&mut Set)) {
    let good = best(problem);
    assert_sound(problem, &good, "before spoiling");
    let mut bad = good.clone();
    spoil(&mut bad);
    assert_ne!(good, bad, "{expected:?}: nothing was spoiled");
    let breaches = verify(problem, &bad);
    assert_eq!(
        kinds(&breaches),
        expected.iter().copied().collect(),
        "{bad:?}\n{breaches:?}"
    );
    for breach in breaches {
        let text = breach.to_string();
        assert!(text.len() > 10 && !text.contains('{'), "{text}");
    }
}

#[test]
fn a_tooth_more_or_less_on_any_gear_of_a_pair_is_found() {
    for (problem, kind) in [
        (sample("shunter.json"), "centres"),
        (sample("spindle-head.json"), "centres"),
        (sample("walking-tractor.json"), "centres"),
        (looser_case(), "backlash"),
    ] {
        let good = best(&problem);
        let gears = 2 * (usize::from(good.head.is_some()) + good.pairs.len());
        for (place, by) in (0..gears).flat_map(|place| [(place, 1), (place, -1)]) {
            let mut bad = good.clone();
            let teeth = gear(&mut bad, place).unwrap();
            *teeth = changed(*teeth, by);
            let found = kinds(&verify(&problem, &bad));
            assert!(
                found.contains(kind),
                "{} gear {place} {by}: {found:?}",
                problem.title()
            );
        }
    }
}

#[test]
fn missing_and_surplus_parts_are_found() {
    let shunter = sample("shunter.json");
    spoiled(&shunter, &["head_missing", "ratio"], |set| set.head = None);
    spoiled(&shunter, &["pair_count"], |set| set.pairs.truncate(1));
    spoiled(&shunter, &["pair_count"], |set| {
        set.pairs.push(set.pairs[0]);
    });
    spoiled(&shunter, &["reverse_missing"], |set| set.reverse = None);
    spoiled(
        &sample("walking-tractor.json"),
        &["head_unwanted", "ratio"],
        |set| {
            let pair = set.pairs[0];
            set.head = Some(pair);
        },
    );
    spoiled(&sample("spindle-head.json"), &["reverse_unwanted"], |set| {
        let Pair {
            module,
            driver,
            driven,
        } = set.pairs[0];
        set.reverse = Some(ReverseGears {
            module,
            driver,
            idler: driver,
            driven,
        });
    });
}

#[test]
fn other_modules_and_distances_are_found() {
    let shunter = sample("shunter.json");
    let other = |module: ModuleId| ModuleId::new(1 - module.index());
    spoiled(&shunter, &["centres"], |set| {
        set.pairs[1].module = other(set.pairs[1].module);
    });
    spoiled(&shunter, &["module"], |set| {
        set.pairs[0].module = ModuleId::new(2);
    });
    spoiled(&shunter, &["module"], |set| {
        let reverse = set.reverse.as_mut().unwrap();
        reverse.module = ModuleId::new(9);
    });
    spoiled(&shunter, &["centre_distance", "centres"], |set| {
        set.centre_distance = Length::from_mm(Decimal::parse("45.1").unwrap());
    });
    // Within the tolerance of every pair, but not what the problem asks.
    spoiled(&shunter, &["centre_distance"], |set| {
        set.centre_distance = Length::from_mm(Decimal::parse("45.0005").unwrap());
    });
}

#[test]
fn wrong_ratios_are_found() {
    let shunter = sample("shunter.json");
    let swap = |pair: &mut Pair| std::mem::swap(&mut pair.driver, &mut pair.driven);
    spoiled(&shunter, &["ratio"], |set| swap(&mut set.pairs[0]));
    spoiled(&shunter, &["ratio"], |set| set.pairs.swap(0, 1));
    spoiled(&shunter, &["head_ratio", "ratio"], |set| {
        swap(set.head.as_mut().unwrap());
    });
    spoiled(&shunter, &["ratio"], |set| {
        let reverse = set.reverse.as_mut().unwrap();
        std::mem::swap(&mut reverse.driver, &mut reverse.driven);
    });
}

/// One speed and a reverse at 1:1 in which only the idler's place, its limits
/// and the gap between 20 and 52 teeth can go wrong.
fn reverse_bench() -> Problem {
    let text = r#"{
        "arrangement": "offset", "centre_distance_mm": 40,
        "gears": { "modules_mm": [1], "min_teeth": 20, "max_teeth": 60, "face_width_mm": 8 },
        "speeds": [ { "ratio": 1, "tolerance_percent": 90, "teeth": [30, 50] } ],
        "reverse": { "ratio": 2, "tolerance_percent": 90, "idler_teeth": { "min": 5, "max": 30 },
                     "clearance_mm": 1.5 }
    }"#;
    parse("bench", text).unwrap()
}

#[test]
fn reverse_gears_out_of_place_are_found() {
    let bench = reverse_bench();
    let mut set = best(&bench);
    let mut breaches = |driver, idler, driven| {
        let [driver, idler, driven] = [driver, idler, driven].map(Teeth::new);
        let module = ModuleId::new(0);
        set.reverse = Some(ReverseGears {
            module,
            driver,
            idler,
            driven,
        });
        verify(&bench, &set)
    };
    // d₁ + d₂ = (20 + 2 · 15 + 32) / 2 = 41 mm; with 14 teeth it is 40, on the line.
    assert!(breaches(20, 15, 32).is_empty());
    assert_eq!(kinds(&breaches(20, 14, 32)), ["idler_place"].into());
    // Gap 40 − (20 + 53 + 4) / 2 = 1.5 mm; a tooth more leaves 1 mm.
    assert!(breaches(20, 30, 53).is_empty());
    assert_eq!(kinds(&breaches(20, 30, 54)), ["tip_gap"].into());
    assert_eq!(
        breaches(20, 30, 54)[0].to_string(),
        "reverse: driver and driven gear leave 1.000 mm, 1.5 mm asked for"
    );
    assert_eq!(kinds(&breaches(20, 31, 40)), ["teeth"].into());
    assert_eq!(kinds(&breaches(20, 4, 40)), ["idler_place", "teeth"].into());
    assert_eq!(kinds(&breaches(19, 20, 40)), ["teeth"].into());
    assert_eq!(kinds(&breaches(20, 30, 61)), ["teeth", "tip_gap"].into());
}

#[test]
fn gears_other_than_those_cut_already_are_found() {
    let bench = reverse_bench();
    spoiled(&bench, &["as_cut"], |set| {
        set.pairs[0].driver = Teeth::new(31);
        set.pairs[0].driven = Teeth::new(49);
    });
    // Past the limits, the sum kept: 19 + 61 close 40 mm as well.
    spoiled(&bench, &["as_cut", "ratio", "teeth"], |set| {
        set.pairs[0].driver = Teeth::new(19);
        set.pairs[0].driven = Teeth::new(61);
    });
}

/// Spoils one figure and expects that to be found, alone.
fn misquoted(problem: &Problem, set: &Set, kind: &str, spoil: impl FnOnce(&mut Figures)) {
    let mut figures = Figures::of(problem, set);
    spoil(&mut figures);
    let breaches = verify_figures(problem, set, &figures);
    let about = || {
        breaches
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    };
    assert_eq!(kinds(&breaches), [kind].into(), "{}", about());
    assert!(breaches.len() <= 4, "{}", about());
}

#[test]
fn misquoted_figures_are_found() {
    for problem in [
        sample("shunter.json"),
        sample("walking-tractor.json"),
        looser_case(),
    ] {
        let set = best(&problem);
        let check = |kind, spoil: fn(&mut Figures)| misquoted(&problem, &set, kind, spoil);
        check("figure", |f| f.speeds[0].ratio *= 1.000_001);
        check("figure", |f| f.speeds[1].deviation *= -1.0);
        check("figure", |f| f.speeds[1].target = Decimal::whole(1));
        check("figure", |f| f.worst_error += 1e-15);
        check("figure", |f| f.rms_error *= 1.000_001);
        check("figure", |f| {
            f.step_evenness = f.step_evenness.map(|even| even * 1.000_001);
        });
        check("figure_missing", |f| f.step_evenness = None);
        check("figure", |f| f.blank_um2 += 1);
        check("figure", |f| f.blank_volume_mm3 *= 1.000_001);
        check("figure", |f| f.largest_blank_mm += 0.001);
        check("figure", |f| f.distinct_cutters -= 1);
        check("figure_missing", |f| f.reverse = None);
        check("figure_missing", |f| f.speeds.truncate(1));
        check("figure_missing", |f| {
            f.head_ratio = f.head_ratio.map_or(Some(1.0), |_| None);
        });
    }
}

#[test]
fn misquoted_reverse_figures_are_found() {
    for name in ["shunter.json", "walking-tractor.json"] {
        let problem = sample(name);
        let set = best(&problem);
        let reverse = |kind, spoil: fn(&mut layshaft::train::ReverseFigures)| {
            misquoted(&problem, &set, kind, |f| spoil(f.reverse.as_mut().unwrap()));
        };
        reverse("figure", |r| r.ratio = -r.ratio);
        reverse("figure", |r| r.deviation += 1e-6);
        reverse("figure", |r| r.tip_gap_mm += 0.001);
        reverse("figure_missing", |r| r.idler_centres = None);
        reverse("figure", |r| r.idler_centres.as_mut().unwrap().reverse());
        reverse("figure", |r| {
            r.idler_centres.as_mut().unwrap()[0].x_mm += 0.001;
        });
        reverse("figure", |r| {
            r.idler_centres.as_mut().unwrap()[1].y_mm += 0.001;
        });
    }
}

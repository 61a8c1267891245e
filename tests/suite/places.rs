//! The clear place of the idler as a condition of the search: against the plain
//! twin, the re-check and the count without it, on small random problems.

use crate::judged::judged_file;
use crate::oracle::compare;
use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{HeldIn, Problem};
use layshaft::search::{Control, Request, count_plainly, nearer_reverse, solve};
use layshaft::train::{Figures, Set};
use layshaft::verify::{verify, verify_figures};
use num_bigint::BigUint;
use serde_json::{Value, json};

/// What the random problems covered.
#[derive(Debug, Default)]
struct Covered {
    compared: u64,
    offset: u64,
    judged: u64,
    stubs: [u64; 3],
    taking_some: u64,
    taking_all: u64,
    one_side: u64,
    nearer: u64,
}

/// A random idler block, and shafts for it to keep clear of.
pub(crate) fn housed_file(draw: &mut Draw) -> Value {
    let mut file = if draw.percent(50) {
        problem_file(draw)
    } else {
        judged_file(draw)
    };
    let centres = file["gears"]["modules_mm"][0].as_f64().unwrap()
        * file["gears"]["max_teeth"].as_f64().unwrap();
    let part = |draw: &mut Draw, low, high| {
        let share = f64::from(u32::try_from(draw.whole(low, high)).unwrap()) / 100.0;
        (centres * share * 100.0).round() / 100.0
    };
    let mut idler = json!({
        "pin_mm": part(draw, 2, 15),
        "gap_mm": part(draw, 0, 3),
        "min_wall_mm": part(draw, 0, 8),
        "held_in": draw.pick(&["output wall", "input wall", "both walls"]),
    });
    if draw.percent(40) {
        idler["case"] = json!({ "left_mm": part(draw, 20, 90), "right_mm": part(draw, 20, 90) });
    }
    if draw.percent(30) {
        idler["side"] = json!(draw.pick(&["left", "right"]));
    }
    file["idler"] = idler;
    let offset = file.get("arrangement") == Some(&json!("offset"));
    let shafts: &[&str] = if offset {
        &["input", "output"]
    } else {
        &["input", "layshaft", "main"]
    };
    let mut sizes = json!({});
    for shaft in shafts {
        if draw.percent(80) {
            sizes[*shaft] = json!({
                "diameter_mm": part(draw, 3, 25),
                "bearing_outside_mm": part(draw, 10, 60),
            });
        }
    }
    file["shafts"] = sizes;
    file
}

/// A reverse that is pointed out is one of the problem's, at least twice as near
/// and little dearer; and no reverse of the sets found is so near for less.
pub(crate) fn nearer_holds(problem: &Problem, set: &Set, found: &[Set], about: &str) -> bool {
    let own = Figures::of(problem, set);
    let off = own.reverse.as_ref().map_or(0.0, |r| r.deviation.abs());
    let fits = |figures: &Figures| {
        let error = figures.reverse.as_ref().unwrap().deviation.abs();
        error <= 0.5 * off && figures.blank_volume_mm3 <= 1.05 * own.blank_volume_mm3
    };
    let nearer = nearer_reverse(problem, set);
    let metal = nearer.as_ref().map(|other| {
        let figures = Figures::of(problem, other);
        assert!(set.same_train(other) && fits(&figures), "{about}");
        assert_eq!(verify(problem, other), [], "{about}");
        assert_eq!(verify_figures(problem, other, &figures), [], "{about}");
        figures.blank_um2
    });
    for other in found.iter().filter(|other| set.same_train(other)) {
        let figures = Figures::of(problem, other);
        if off > 0.01 && fits(&figures) {
            assert!(
                metal.is_some_and(|metal| metal <= figures.blank_um2),
                "{about}"
            );
        }
    }
    metal.is_some()
}

/// Returns how many sets have a nearer reverse.
fn everything_holds(problem: &Problem, about: &str) -> u64 {
    let mut nearer = 0;
    let request = Request {
        top: 40,
        trains: 0,
        threads: 1,
    };
    let outcome = solve(problem, request, &Control::until(None));
    for set in outcome.front.iter().chain(&outcome.sets) {
        let figures = Figures::of(problem, set);
        assert_eq!(verify(problem, set), [], "{about}");
        assert_eq!(verify_figures(problem, set, &figures), [], "{about}");
        nearer += u64::from(nearer_holds(problem, set, &outcome.sets, about));
    }
    let anywhere = problem.clone().anywhere();
    let more = count_plainly(&anywhere).sets - count_plainly(problem).sets;
    assert_eq!(outcome.without_place, Some(more), "{about}");
    // What it leaves out, the re-check refuses.
    let all = solve(&anywhere, request, &Control::until(None));
    for set in &all.sets {
        let listed = outcome.sets.len() == 40 || outcome.sets.contains(set);
        let figures = Figures::of(problem, set);
        let broken =
            !verify(problem, set).is_empty() || !verify_figures(problem, set, &figures).is_empty();
        assert!(listed != broken || outcome.sets.len() == 40, "{about}");
    }
    nearer
}

#[test]
fn search_twin_and_recheck_agree_on_the_idlers_place() {
    let mut draw = Draw::new(0x1d1e);
    let mut covered = Covered::default();
    while covered.compared < 150 {
        let file = housed_file(&mut draw);
        if file.get("reverse").is_none() {
            continue;
        }
        let problem = checked(&file);
        let counts = count_plainly(&problem);
        let all = count_plainly(&problem.clone().anywhere());
        if all.sets > BigUint::from(3000_u32) || all.sets == BigUint::ZERO {
            continue;
        }
        let about = file.to_string();
        compare(&problem, 30, &about);
        covered.nearer += everything_holds(&problem, &about);
        covered.compared += 1;
        covered.offset += u64::from(problem.head().is_none());
        covered.judged += u64::from(problem.judges());
        let pin = problem.idler_pin().unwrap();
        covered.stubs[HeldIn::ALL
            .iter()
            .position(|held| *held == pin.held_in())
            .unwrap()] += 1;
        covered.taking_some += u64::from(counts.sets < all.sets && counts.sets > BigUint::ZERO);
        covered.taking_all += u64::from(counts.sets == BigUint::ZERO);
        covered.one_side += u64::from(file["idler"].get("side").is_some());
    }
    println!("{covered:?}");
    assert!(covered.offset > 25 && covered.judged > 25, "{covered:?}");
    assert!(covered.stubs.iter().all(|&n| n > 25), "{covered:?}");
    assert!(
        covered.taking_some > 15 && covered.taking_all > 15,
        "{covered:?}"
    );
    assert!(covered.one_side > 20 && covered.nearer > 20, "{covered:?}");
}

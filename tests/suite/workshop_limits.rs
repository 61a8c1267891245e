//! Only gears that the workshop can divide and cut: against the plain twin and
//! the re-check, on small random problems; and what an explanation says of it.

use crate::explaining::known;
use crate::front_door::Run;
use crate::judged::judged_file;
use crate::oracle::compare;
use crate::places::housed_file;
use crate::random::{Draw, checked, problem_file};
use crate::shared::shared_file;
use layshaft::problem::{Cutting, GearLimit, Problem};
use layshaft::search::{Axis, Control, Request, count_plainly, solve};
use layshaft::train::{Figures, Pair, Set, not_simply_divided};
use layshaft::verify::{verify, verify_figures};
use num_bigint::BigUint;
use serde_json::{Value, json};

/// All sets of a problem are listed up to this many.
const LISTED: usize = 400;

/// What the random problems covered.
#[derive(Debug, Default)]
struct Covered {
    compared: u64,
    taking_some: u64,
    taking_all: u64,
    taking_none: u64,
    dividing: u64,
    cutters: u64,
    cuttings: [u64; 3],
    judged: u64,
    reverses: u64,
    shared: u64,
    made: u64,
}

/// A random dividing head.
fn head(draw: &mut Draw) -> Value {
    let plates: Vec<Vec<u64>> = (0..draw.whole(0, 3))
        .map(|_| {
            let from = draw.whole(5, 30);
            (from..from + 12).filter(|_| draw.percent(40)).collect()
        })
        .filter(|circles: &Vec<u64>| !circles.is_empty())
        .collect();
    let direct = draw.pick(&[vec![], vec![24], vec![60, 36]]);
    json!({ "worm": draw.pick(&[40, 60, 24, 90, 7]), "plates": plates, "direct": direct })
}

/// Random cutters of every module of the file, most of them owned.
fn cutters(draw: &mut Draw, file: &Value) -> Value {
    let mut all = Vec::new();
    for (list, key) in [
        ("modules_mm", "module_mm"),
        ("diametral_pitches", "diametral_pitch"),
    ] {
        for module in file["gears"][list].as_array().into_iter().flatten() {
            let numbers: Vec<u64> = (1..=8).filter(|_| draw.percent(70)).collect();
            let own: Vec<u64> = (5..=70).filter(|_| draw.percent(75)).collect();
            let entries = [
                (!numbers.is_empty()).then(|| json!({ key: module, "numbers": numbers })),
                draw.percent(20)
                    .then(|| json!({ key: module, "set": true })),
                Some(json!({ key: module, "own_teeth": own })),
                draw.percent(80)
                    .then(|| json!({ key: module, "tool": true })),
            ];
            for mut entry in entries.into_iter().flatten() {
                let owned = draw.percent(85);
                let (key, value) = if owned {
                    ("owned", json!(true))
                } else {
                    ("price", json!(0))
                };
                entry[key] = value;
                all.push(entry);
            }
        }
    }
    json!(all)
}

/// A random problem with a workshop that limits it.
fn limited_file(draw: &mut Draw) -> Option<Value> {
    let mut file = match draw.whole(0, 9) {
        0..=3 => problem_file(draw),
        4..=6 => judged_file(draw),
        7 => housed_file(draw),
        _ => shared_file(draw)?,
    };
    // The idler of a box without reverse is a fault.
    if file.get("idler").is_some() && file.get("reverse").is_none() {
        return None;
    }
    let kind = draw.pick(&["form", "own-form", "generated", "as it is"]);
    if kind != "as it is" && file["gears"].get("profile_shift").is_none() {
        file["gears"]["cutting"] = json!(kind);
    }
    let dividing = draw.percent(65);
    file["workshop"] = json!({
        "dividing_head": head(draw),
        "cutters": cutters(draw, &file),
        "only_dividable": dividing,
        "only_owned_cutters": !dividing || draw.percent(50),
    });
    Some(file)
}

fn anything_goes(problem: &Problem) -> Problem {
    let all = problem.clone().without(GearLimit::Dividing);
    all.without(GearLimit::OwnedCutters)
}

/// Names the teeth of one role, those of some set without the limits, as cut
/// already.
fn with_one_role_made(draw: &mut Draw, mut file: Value, problem: &Problem) -> Value {
    let all = solve(&anything_goes(problem), request(), &Control::until(None)).sets;
    let set = draw.pick(&all);
    let geared = problem.speeds().iter().enumerate();
    let geared: Vec<usize> = geared
        .filter(|(_, speed)| speed.geared().is_some())
        .map(|(place, _)| place)
        .collect();
    let pair = |pair: Pair| json!([pair.driver.get(), pair.driven.get()]);
    match (draw.whole(0, 2), set.head, set.reverse) {
        (0, Some(head), _) => file["head"]["teeth"] = pair(head),
        (1, _, Some(gears)) => {
            let teeth = [gears.driver, gears.idler, gears.driven];
            file["reverse"]["teeth"] = json!(teeth.map(layshaft::base::Teeth::get));
        }
        _ if geared.is_empty() => {}
        _ => {
            let place = usize::try_from(draw.whole(0, geared.len() as u64 - 1)).unwrap();
            file["speeds"][geared[place]]["teeth"] = pair(set.pairs[place]);
        }
    }
    file
}

fn request() -> Request {
    Request {
        top: LISTED,
        trains: 0,
        threads: 1,
    }
}

/// Whether a gear of the set that is cut already needs what the head cannot do.
fn is_free(problem: &Problem, set: &Set) -> bool {
    let speeds = problem.speeds_made().flatten();
    let made = set.head.iter().flat_map(|_| problem.head_made());
    let made = made.chain(speeds).chain(problem.reverse_made());
    let head = problem.workshop().dividing_head();
    let divides = |teeth: layshaft::base::Teeth| head.divides_simply(teeth.get());
    let mut gears = set.gears().zip(made);
    problem.workshop().only_dividable() && gears.any(|((_, z), made)| made && !divides(z))
}

impl Covered {
    /// What is listed is sound; of all sets without the limits, those and no
    /// others are refused that are not listed.
    fn holds(&mut self, problem: &Problem, about: &str) {
        let kept = solve(problem, request(), &Control::until(None)).sets;
        for set in &kept {
            let figures = Figures::of(problem, set);
            assert_eq!(verify(problem, set), [], "{about}");
            assert_eq!(verify_figures(problem, set, &figures), [], "{about}");
            if problem.workshop().only_dividable() {
                assert_eq!(not_simply_divided(problem, set), [], "{about}");
            }
            self.made += u64::from(is_free(problem, set));
        }
        let all = solve(&anything_goes(problem), request(), &Control::until(None)).sets;
        for set in &all {
            let breaches = verify(problem, set);
            let of_workshop = ["dividing", "cutter_not_owned"];
            let known = breaches.iter().all(|b| of_workshop.contains(&b.kind()));
            assert!(known, "{breaches:?} {about}");
            assert_eq!(breaches.is_empty(), kept.contains(set), "{set:?} {about}");
        }
        self.taking_all += u64::from(kept.is_empty() && !all.is_empty());
        self.taking_none += u64::from(kept.len() == all.len());
        self.taking_some += u64::from(!kept.is_empty() && kept.len() < all.len());
    }

    fn note(&mut self, problem: &Problem) {
        self.compared += 1;
        let workshop = problem.workshop();
        self.dividing += u64::from(workshop.only_dividable());
        self.cutters += u64::from(workshop.only_owned_cutters());
        let kinds = [Cutting::Form, Cutting::Generated, Cutting::OwnForm];
        for (count, kind) in self.cuttings.iter_mut().zip(kinds) {
            *count += u64::from(problem.gears().cutting() == kind);
        }
        self.judged += u64::from(problem.judges());
        self.reverses += u64::from(problem.reverse().is_some());
        self.shared += u64::from(problem.shared_speed().is_some());
    }
}

/// Reverse gearings that plain loops would look at.
fn gearings(problem: &Problem) -> u64 {
    let gears = problem.gears();
    let outer = u64::from(gears.max_teeth().get() - gears.min_teeth().get() + 1);
    let idlers = problem.reverse().map_or(0, |reverse| {
        u64::from(reverse.idler_max().get() - reverse.idler_min().get() + 1)
    });
    let places = gears.modules().len() * problem.centre_distances().len();
    outer * outer * idlers * places as u64
}

#[test]
fn search_twin_and_recheck_agree_on_what_the_workshop_can_make() {
    let mut draw = Draw::new(0x05ed);
    let mut covered = Covered::default();
    while covered.compared < 200 {
        let Some(mut file) = limited_file(&mut draw) else {
            continue;
        };
        let mut problem = checked(&file);
        if gearings(&problem) > 30_000 {
            continue;
        }
        let all = count_plainly(&anything_goes(&problem)).sets;
        if all > BigUint::from(LISTED) || all == BigUint::ZERO {
            continue;
        }
        if draw.percent(50) {
            file = with_one_role_made(&mut draw, file, &problem);
            problem = checked(&file);
        }
        let about = file.to_string();
        compare(&problem, 30, &about);
        covered.holds(&problem, &about);
        covered.note(&problem);
    }
    println!("{covered:?}");
    let kinds = [
        covered.taking_some,
        covered.taking_all,
        covered.taking_none,
        covered.dividing,
        covered.cutters,
        covered.judged,
        covered.reverses,
        covered.shared,
    ];
    assert!(kinds.iter().all(|&kind| kind >= 10), "{covered:?}");
    assert!(covered.cuttings.iter().all(|&n| n >= 20), "{covered:?}");
    assert!(covered.made >= 3, "{covered:?}");
}

/// One pair alone makes the ratio: 51 and 52 teeth, of which a common head
/// divides the second, by form cutters No. 3.
fn one_pair(workshop: &Value) -> Value {
    json!({
        "arrangement": "offset",
        "centre_distance_mm": 41.2,
        "gears": { "modules_mm": [0.8], "min_teeth": 40, "max_teeth": 60, "face_width_mm": 8 },
        "speeds": [{ "ratio": 1.0196, "tolerance_percent": 0.1 }],
        "workshop": workshop,
    })
}

#[test]
fn an_explanation_names_what_the_workshop_cannot_do() {
    for (workshop, axis, limit, key, words) in [
        (
            json!({ "only_dividable": true }),
            Axis::AnyDividing,
            GearLimit::Dividing,
            "workshop.only_dividable",
            "counts that the dividing head divides simply",
        ),
        (
            json!({ "only_owned_cutters": true,
                "cutters": [{ "module_mm": 0.8, "numbers": [2, 4], "owned": true }] }),
            Axis::AnyCutter,
            GearLimit::OwnedCutters,
            "workshop.only_owned_cutters",
            "cutters that are owned",
        ),
    ] {
        let file = one_pair(&workshop);
        let known = known(&file, 100_000_000).unwrap();
        let way = known
            .ways
            .iter()
            .find(|way| way.steps.len() == 1 && way.steps[0].axis == axis)
            .unwrap();
        assert_eq!(way.steps[0].edits, [(key.to_owned(), json!(false))]);
        assert_eq!(way.sets, BigUint::from(1_u32), "only 51 and 52 teeth");
        let clashes = &known.clashes.limits;
        assert!(!clashes.is_empty());
        assert!(clashes.iter().all(|clash| clash.gears.contains(&limit)));
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("box.json");
        std::fs::write(&path, file.to_string()).unwrap();
        let told = Run::of(&["explain", path.to_str().unwrap()]).ends().with(0);
        let text = told.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(words), "{text}");
        let lines = told
            .stdout
            .lines()
            .filter(|line| !line.contains("layshaft"));
        assert!(
            lines.clone().all(|line| line.chars().count() <= 80),
            "{text}"
        );
        assert!(text.contains(&format!("--with {key}=false")), "{text}");
        let solved = Run::of(&["solve", path.to_str().unwrap()]).ends().with(1);
        assert!(solved.stdout.contains("Only gears"), "{}", solved.stdout);
    }
}

#[test]
fn teeth_that_are_cut_already_need_neither_head_nor_cutter() {
    let mut file = one_pair(&json!({ "only_dividable": true, "only_owned_cutters": true }));
    assert_eq!(count_plainly(&checked(&file)).sets, BigUint::ZERO);
    file["speeds"][0]["teeth"] = json!([51, 52]);
    let problem = checked(&file);
    let outcome = solve(&problem, request(), &Control::until(None));
    assert_eq!(outcome.counts.sets, BigUint::from(1_u32));
    assert_eq!(verify(&problem, &outcome.sets[0]), []);
    assert_eq!(not_simply_divided(&problem, &outcome.sets[0]), []);
}

#[test]
fn counts_that_need_more_than_a_simple_setting_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("box.json");
    let shown = |workshop: &Value, args: &[&str]| {
        std::fs::write(&path, one_pair(workshop).to_string()).unwrap();
        Run::of(&[&["solve", path.to_str().unwrap()], args].concat()).ends()
    };
    let told = shown(&json!({}), &[]).with(0).stdout;
    let line = "  Dividing: 51 teeth needs more than a simple setting on this head.\n";
    assert!(told.contains(line), "{told}");
    let json = shown(&json!({}), &["--format", "json"]).with(0).json();
    assert_eq!(json["sets"][0]["not_simply_divided"], json!([51]));
    let wider = json!({ "dividing_head": { "plates": [[39, 51]] } });
    let told = shown(&wider, &[]).with(0).stdout;
    assert!(!told.contains("Dividing:"), "{told}");
    let json = shown(&wider, &["--format", "json"]).with(0).json();
    assert!(json["sets"][0].get("not_simply_divided").is_none());
}

//! Explanations against plain enumeration, and what the samples are known for.

use crate::front_door::{Run, copy_of};
use crate::random::{Draw, checked, problem_file};
use layshaft::base::{Decimal, Length, Ratio};
use layshaft::mesh::Pairs;
use layshaft::problem::{CentreDistances, GearLimit, Head, Problem, modules_near, parse, set};
use layshaft::search::{
    Axis, Clashes, Control, Edits, Effort, Explanation, Step, Way, count_plainly, explain,
};
use layshaft::train::{Figures, Pair};
use layshaft::verify::verify;
use num_bigint::BigUint;
use serde_json::{Value, json};

/// Every pair that some role may take.
fn pairs_at(problem: &Problem, centres: Length) -> Vec<Pair> {
    let pairs = Pairs::at(problem, centres);
    let lists = pairs.lists().flat_map(|(_, list)| list);
    lists.map(|made| made.pair).collect()
}

/// What is known of a problem without sets.
pub(crate) struct Known {
    file: Value,
    pub(crate) problem: Problem,
    pub(crate) clashes: Clashes,
    pub(crate) ways: Vec<Way>,
    pairs: Vec<Way>,
}

/// Enough for the samples.
const MUCH: u64 = 100_000_000;

pub(crate) fn known(file: &Value, clash_work: u64) -> Option<Known> {
    let problem = checked(file);
    let effort = Effort {
        threads: 1,
        clash_work,
    };
    match explain(&problem, &file.to_string(), effort, &Control::default()) {
        Explanation::NoSet {
            clashes,
            ways,
            pairs,
        } => Some(Known {
            file: file.clone(),
            problem,
            clashes,
            ways,
            pairs,
        }),
        Explanation::Sets { .. } => None,
        Explanation::TooWeak { .. } => panic!("nothing is asked of strength: {file}"),
        Explanation::PinInTheWay { .. } => panic!("there is no pin to pass anything: {file}"),
        Explanation::Stopped { .. } => panic!("{file}"),
    }
}

fn sample(name: &str) -> Value {
    let path = format!("{}/problems/{name}.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

pub(crate) fn with(file: &Value, edits: &Edits) -> Option<Problem> {
    let mut text = file.to_string();
    for (key, value) in edits {
        text = set(&text, key, value).unwrap();
    }
    parse("changed", &text).ok()
}

/// Whether some distance has a set, by plain enumeration from the middle out.
fn opens(problem: &Problem) -> bool {
    let mut distances: Vec<Length> = problem.centre_distances().iter().collect();
    let middle = distances[distances.len() / 2].steps();
    distances.sort_by_key(|a| (a.steps() - middle).abs());
    distances.into_iter().any(|a| {
        let one = CentreDistances::stepped(a, Length::ZERO, 1);
        // No pair, no set, and cheaply known.
        let paired = problem.geared().next().is_none() || Pairs::at(problem, a).count() > 0;
        paired && count_plainly(&problem.clone().at(one)).sets > BigUint::ZERO
    })
}

/// The file without the demands that are not kept; none when nothing is left.
fn only(file: &Value, kept: &[usize]) -> Option<Value> {
    let mut file = file.clone();
    let speeds = file.get("speeds").and_then(Value::as_array).cloned();
    let speeds = speeds.unwrap_or_default();
    let is_direct = |speed: &Value| speed["direct"] == json!(true);
    let geared = speeds.iter().filter(|s| !is_direct(s)).count();
    let mut place = 0;
    let left: Vec<Value> = speeds
        .into_iter()
        .filter(|speed| {
            let own = place;
            place += usize::from(!is_direct(speed));
            !is_direct(speed) && kept.contains(&own)
        })
        .collect();
    let reverse = file.get("reverse").is_some();
    if reverse && !kept.contains(&geared) {
        file.as_object_mut().unwrap().remove("reverse");
    }
    if left.is_empty() && file.get("reverse").is_none() {
        return None;
    }
    if left.is_empty() {
        file.as_object_mut().unwrap().remove("speeds");
    } else {
        file["speeds"] = json!(left);
    }
    let head_range = geared + usize::from(reverse);
    if !kept.contains(&head_range)
        && let Some(head) = file.get_mut("head").and_then(Value::as_object_mut)
    {
        head.remove("ratio");
        if head.is_empty() {
            file.as_object_mut().unwrap().remove("head");
        }
    }
    Some(file)
}

/// Whether only these demands and limits admit a set.
fn admits(file: &Value, demands: &[usize], gears: &[GearLimit]) -> bool {
    let eased = |problem: Problem| {
        let dropped = GearLimit::ALL
            .into_iter()
            .filter(|limit| !gears.contains(limit));
        dropped.fold(problem, Problem::without)
    };
    if let Some(kept) = only(file, demands) {
        return opens(&eased(checked(&kept)));
    }
    // Nothing is asked but a head pair that closes, in its range if that is kept.
    let eased = eased(checked(file));
    let head_range = eased.geared().count() + usize::from(eased.reverse().is_some());
    let window = eased.head().filter(|_| demands.contains(&head_range));
    let window = window.map(Head::window);
    let serves = |pair: &Pair| {
        let ratio = Ratio::of(pair.driven.get(), pair.driver.get());
        window.is_none_or(|window| window.contains(ratio))
    };
    let distances = eased.centre_distances();
    // Offset shafts need no head.
    eased.head().is_none()
        || distances
            .iter()
            .any(|a| pairs_at(&eased, a).iter().any(serves))
}

pub(crate) fn subsets(count: usize) -> impl Iterator<Item = Vec<usize>> {
    (0..1_usize << count).map(move |bits| (0..count).filter(|i| bits & (1 << i) != 0).collect())
}

/// The smallest groups of demands that admit no set with the gears as they are.
fn groups_by_trying_all(known: &Known) -> Vec<Vec<usize>> {
    let demands = known.problem.geared().count() + usize::from(known.problem.reverse().is_some());
    let shut: Vec<Vec<usize>> = subsets(demands + 1)
        .filter(|kept| !admits(&known.file, kept, &GearLimit::ALL))
        .collect();
    let holds = |big: &[usize], small: &[usize]| small.iter().all(|i| big.contains(i));
    let smallest = shut.iter().filter(|group| {
        let inside = |other: &&Vec<usize>| *other != *group && holds(group, other);
        !shut.iter().any(|other| inside(&other))
    });
    let mut smallest: Vec<Vec<usize>> = smallest.cloned().collect();
    smallest.sort();
    smallest
}

#[test]
fn demands_that_clash_are_those_that_trying_all_finds() {
    let (mut compared, mut groups, mut large) = (0, 0, 0);
    for seed in 910_000..910_600 {
        let file = problem_file(&mut Draw::new(seed));
        if file["head"].get("teeth").is_some() {
            // A head that is cut is asked for by no range; trying all can't drop it.
            continue;
        }
        let Some(known) = known(&file, 0) else {
            continue;
        };
        let mut found = known.clashes.roles.clone();
        found.sort();
        assert_eq!(found, groups_by_trying_all(&known), "seed {seed}: {file}");
        compared += 1;
        groups += usize::from(found.len() > 1);
        large += usize::from(found.iter().any(|group| group.len() > 1));
    }
    assert!(
        compared > 80 && groups > 10 && large > 25,
        "{compared} {groups} {large}"
    );
}

/// Small enough for all distances around to be walked plainly.
fn is_small(problem: &Problem) -> bool {
    let gears = problem.gears();
    let last = problem.centre_distances().len() - 1;
    let finest = gears.modules()[0].mm();
    let teeth = 2.0 * problem.centre_distances().at(last).mm() / finest;
    teeth < 32.0 && gears.modules().len() == 1
}

#[test]
fn clashes_of_limits_shut_all_out_and_none_can_be_spared() {
    let (mut compared, mut with_gears, mut sizes) = (0, 0, 0);
    for seed in 920_000..923_000 {
        let file = problem_file(&mut Draw::new(seed));
        if file["head"].get("teeth").is_some() || !is_small(&checked(&file)) {
            continue;
        }
        let Some(known) = known(&file, 3_000_000) else {
            continue;
        };
        if !known.clashes.complete {
            continue;
        }
        assert!(!known.clashes.limits.is_empty(), "seed {seed}: {file}");
        for clash in known.clashes.limits.iter().take(2) {
            let about = format!("seed {seed}: {file} {clash:?}");
            // Plain walks over every distance for every module take too long.
            if !clash.gears.contains(&GearLimit::Centres)
                || !clash.gears.contains(&GearLimit::Closing)
            {
                continue;
            }
            assert!(!admits(&file, &clash.roles, &clash.gears), "{about}");
            for i in 0..clash.roles.len() {
                let mut less = clash.roles.clone();
                less.remove(i);
                assert!(
                    admits(&file, &less, &clash.gears),
                    "{about} less demand {i}"
                );
            }
            for i in 0..clash.gears.len() {
                let mut less = clash.gears.clone();
                less.remove(i);
                assert!(admits(&file, &clash.roles, &less), "{about} less limit {i}");
            }
            compared += 1;
            with_gears += usize::from(clash.gears.len() > 2);
            sizes += clash.roles.len();
        }
        if compared >= 12 {
            break;
        }
    }
    assert!(
        compared >= 12 && with_gears > 5 && sizes > 7,
        "{compared} {with_gears} {sizes}"
    );
}

/// Reverse, limits of the teeth, a clear place and what the workshop can make at
/// once: eleven limits of gears, more than fit eight bits.
#[test]
fn all_limits_of_gears_at_once_are_told_apart() {
    let file = json!({
        "centre_distance_mm": 40,
        "gears": { "modules_mm": [1], "min_teeth": 17, "max_teeth": 63, "face_width_mm": 8 },
        "limits": {},
        "shafts": { "main": { "diameter_mm": 12 }, "layshaft": { "diameter_mm": 12 } },
        "idler": { "pin_mm": 6, "case": { "left_mm": 10, "right_mm": 10 } },
        "workshop": {
            "only_dividable": true,
            "only_owned_cutters": true,
            "dividing_head": { "plates": [(5..=80).collect::<Vec<u32>>()] },
            "cutters": [{ "module_mm": 1, "set": true, "owned": true }],
        },
        "speeds": [{ "ratio": 2, "tolerance_percent": 5 }],
        "reverse": { "ratio": 2, "tolerance_percent": 10 },
    });
    let known = known(&file, 0).unwrap();
    assert_eq!(GearLimit::ALL.len(), 11);
    assert!(
        GearLimit::ALL
            .iter()
            .all(|limit| limit.limits(&known.problem))
    );
    // Without the demand for a clear place there are sets.
    let mut anywhere = file.clone();
    anywhere.as_object_mut().unwrap().remove("idler");
    assert!(opens(&checked(&anywhere)));
    // Nothing else is in the way, so that with it both demands clash with it kept.
    let roles: Vec<usize> = (0..=known.problem.geared().count()).collect();
    for group in &known.clashes.roles {
        assert!(group.iter().all(|role| roles.contains(role)), "{group:?}");
        assert!(!admits(&file, group, &GearLimit::ALL), "{group:?}");
        let less: Vec<GearLimit> = GearLimit::ALL
            .into_iter()
            .filter(|limit| *limit != GearLimit::Room)
            .collect();
        assert!(admits(&file, group, &less), "{group:?}");
    }
    assert!(!known.clashes.roles.is_empty());
}

/// The figure of a way's only step, in millionths.
fn to(way: &Way) -> i64 {
    way.steps[0].to.millionths()
}

fn way_of(known: &Known, axis: Axis) -> Option<&Way> {
    let of = |way: &&Way| way.steps[0].axis == axis;
    known.ways.iter().find(of)
}

fn number(millionths: i64) -> Value {
    serde_json::from_str(&Decimal::from_millionths(millionths).to_string()).unwrap()
}

/// Fails unless the key at that figure lets sets in, and at none of `nearer`.
fn least(known: &Known, way: Option<&Way>, key: &str, nearer: impl Iterator<Item = i64>) {
    let at = |millionths: i64| {
        let edits = vec![(key.to_owned(), number(millionths))];
        with(&known.file, &edits).is_some_and(|problem| opens(&problem))
    };
    if let Some(way) = way {
        assert!(at(to(way)), "{key} {:?} {}", way.steps, known.file);
    }
    for millionths in nearer {
        let about = format!(
            "{key} at {millionths}: {:?} {}",
            way.map(|w| &w.steps),
            known.file
        );
        assert!(!at(millionths), "{about}");
    }
}

/// Tolerances: a hundredth of a percent less does not do.
pub(crate) fn tolerances_are_least(known: &Known) -> usize {
    let mut found = 0;
    for (role, key, now) in demands(known) {
        let way = way_of(known, Axis::Tolerance(role));
        let before = way.map_or(99_990_000, |way| to(way) - 10_000);
        let key = format!("{key}.tolerance_percent");
        least(
            known,
            way,
            &key,
            (before > now).then_some(before).into_iter(),
        );
        found += usize::from(way.is_some());
    }
    found
}

/// Place, key and tolerance (millionths) of each demand.
fn demands(known: &Known) -> Vec<(usize, String, i64)> {
    let problem = &known.problem;
    let speeds = problem.speeds().iter().enumerate();
    let mut all: Vec<(String, i64)> = speeds
        .filter_map(|(i, s)| {
            let tolerance = s.geared()?.tolerance_percent().millionths();
            Some((format!("speeds[{i}]"), tolerance))
        })
        .collect();
    let reverse = problem.reverse();
    all.extend(reverse.map(|r| ("reverse".to_owned(), r.tolerance_percent().millionths())));
    let placed = all.into_iter().enumerate();
    placed.map(|(i, (key, now))| (i, key, now)).collect()
}

/// Targets: no thousandth nearer to what is asked does.
fn targets_are_least(known: &Known) -> usize {
    let mut found = 0;
    for (role, key, _) in demands(known) {
        let Some(way) = way_of(known, Axis::Target(role)) else {
            continue;
        };
        let now = way.steps[0].now.unwrap().millionths();
        let off = (to(way) - now).abs();
        if off > 300_000 {
            continue;
        }
        let first = (now - off).div_euclid(1000) * 1000;
        let grid = (0..).map(|i| first + 1000 * i);
        let nearer = grid
            .take_while(|t| *t <= now + off)
            .filter(|t| (t - now).abs() < off && *t > 0);
        least(known, Some(way), &format!("{key}.ratio"), nearer);
        found += 1;
    }
    found
}

/// Whole figures: none between the way's and the file's does.
pub(crate) fn gears_are_least(known: &Known) -> usize {
    let gears = known.problem.gears();
    let (min, max) = (gears.min_teeth().get(), gears.max_teeth().get());
    let most = known.problem.most_useful_teeth().get();
    let one = Decimal::SCALE;
    let mut found = 0;
    let mut teeth = |axis, key: &str, now: u32, last: u32| {
        let way = way_of(known, axis);
        let (now, last) = (i64::from(now), i64::from(last));
        let end = way.map_or(last, |way| to(way) / one);
        let nearer = (now.min(end)..=now.max(end)).filter(|&z| z != now);
        let nearer = nearer.filter(|&z| way.is_none() || z != end);
        least(known, way, key, nearer.map(|z| z * one));
        found += usize::from(way.is_some());
    };
    teeth(Axis::MinTeeth, "gears.min_teeth", min, 5);
    teeth(Axis::MaxTeeth, "gears.max_teeth", max, most);
    let Some(reverse) = known.problem.reverse().filter(|r| r.cut().is_none()) else {
        return found;
    };
    let (min, max) = (reverse.idler_min().get(), reverse.idler_max().get());
    teeth(Axis::IdlerMin, "reverse.idler_teeth.min", min, 5);
    teeth(
        Axis::IdlerMax,
        "reverse.idler_teeth.max",
        max,
        most.max(2 * max),
    );
    let way = way_of(known, Axis::TipGap);
    let end = way.map_or(0, to);
    let now = reverse.clearance().steps() / 1000;
    let grid = (1..).map(|i| end + 10_000 * i).take_while(|gap| *gap < now);
    least(known, way, "reverse.clearance_mm", grid);
    found + usize::from(way.is_some())
}

/// Centres: no hundredth nearer to a given distance does.
fn centres_are_least(known: &Known) -> bool {
    let Some(way) = way_of(known, Axis::Centres) else {
        return false;
    };
    let given: Vec<i64> = known
        .problem
        .centre_distances()
        .iter()
        .map(Length::steps)
        .collect();
    let off = |a: i64| given.iter().map(|g| (g - a).abs()).min().unwrap();
    let reach = off(to(way) * 1000);
    if reach > 400_000_000 {
        return false;
    }
    let (first, last) = (given[0] - reach, given[given.len() - 1] + reach);
    let grid = (first / 10_000_000..=last / 10_000_000).map(|i| i * 10_000_000);
    let nearer = grid.filter(|a| off(*a) > 0 && off(*a) < reach);
    least(
        known,
        Some(way),
        "centre_distance_mm",
        nearer.map(|a| a / 1000),
    );
    true
}

/// Modules: the nearest of the series that do, and none nearer.
fn modules_are_nearest(known: &Known) -> usize {
    let given = known.problem.gears().modules();
    if given.iter().any(|module| module.pitch().is_some()) {
        return 0;
    }
    let found: Vec<i64> = known
        .ways
        .iter()
        .filter(|way| way.steps[0].axis == Axis::Module)
        .map(to)
        .collect();
    let off = |mm: f64| {
        let apart = given.iter().map(|own| (mm / own.mm()).ln().abs());
        apart.fold(f64::INFINITY, f64::min)
    };
    let mut all: Vec<f64> = modules_near(given).iter().map(|m| m.mm()).collect();
    all.sort_by(|x, y| off(*x).total_cmp(&off(*y)));
    let list: Vec<f64> = given.iter().map(|module| module.mm()).collect();
    let with_it = |mm: f64| {
        let edits = vec![(
            "gears.modules_mm".to_owned(),
            json!([list.clone(), vec![mm]].concat()),
        )];
        with(&known.file, &edits).is_some_and(|problem| opens(&problem))
    };
    let nearest = all.into_iter().filter(|&mm| with_it(mm)).take(3);
    let nearest: Vec<i64> = nearest
        .map(|mm| Decimal::nearest(mm).unwrap().millionths())
        .collect();
    assert_eq!(found, nearest, "{}", known.file);
    found.len()
}

#[test]
fn every_change_is_the_least_of_its_kind() {
    let mut seen = [0; 6];
    for seed in 930_000..930_250 {
        let file = problem_file(&mut Draw::new(seed));
        let Some(known) = known(&file, 0) else {
            continue;
        };
        seen[0] += 1;
        seen[1] += tolerances_are_least(&known);
        seen[2] += targets_are_least(&known);
        seen[3] += gears_are_least(&known);
        seen[4] += usize::from(centres_are_least(&known));
        if known.problem.centre_distances().len() == 1 {
            seen[5] += modules_are_nearest(&known);
        }
        every_way_is_solved(&known);
    }
    let enough = seen.iter().zip([40, 25, 20, 25, 10, 8]);
    assert!(
        enough.clone().all(|(seen, least)| *seen >= least),
        "{seen:?}"
    );
}

/// Count, best set and edits of every way, against plain enumeration.
pub(crate) fn every_way_is_solved(known: &Known) {
    for way in known.ways.iter().chain(&known.pairs) {
        let edits: Edits = way.steps.iter().flat_map(|s| s.edits.clone()).collect();
        let problem = with(&known.file, &edits).unwrap();
        assert_eq!(count_plainly(&problem).sets, way.sets, "{}", known.file);
        assert!(way.sets > BigUint::ZERO);
        assert!(verify(&problem, &way.best).is_empty(), "{}", known.file);
        let reaches = |step: &Step| !step.edits.is_empty();
        assert!(way.steps.iter().all(reaches));
    }
}

/// Two tolerances: both together grow least.
#[test]
fn two_tolerances_grow_least_together() {
    let mut compared = 0;
    for seed in 940_000..940_500 {
        let file = problem_file(&mut Draw::new(seed));
        let Some(known) = known(&file, 0) else {
            continue;
        };
        for way in &known.pairs {
            let [Axis::Tolerance(one), Axis::Tolerance(other)] =
                [way.steps[0].axis, way.steps[1].axis]
            else {
                continue;
            };
            let demands = demands(&known);
            let key = |role: usize| format!("{}.tolerance_percent", demands[role].1);
            let opens_at = |x: i64, y: i64| {
                let edits = vec![(key(one), number(x)), (key(other), number(y))];
                with(&known.file, &edits).is_some_and(|problem| opens(&problem))
            };
            let [x, y] = [&way.steps[0], &way.steps[1]].map(|step| step.to.millionths());
            let (own, its) = (demands[one].2, demands[other].2);
            let together = (x - own) + (y - its);
            // Along the line of a hundredth less in all nothing opens.
            let less = together - 20_000;
            let steps = 40;
            for i in 0..=steps {
                let part = (less * i / steps).max(0);
                assert!(
                    !opens_at(own + part, its + (less - part)),
                    "seed {seed}: {file}"
                );
            }
            compared += 1;
        }
    }
    assert!(compared > 5, "{compared}");
}

#[test]
fn the_impossible_sample_has_the_ways_out_it_is_known_for() {
    let known = known(&sample("impossible"), MUCH).unwrap();
    // The third speed is direct: the fourth stands third among the geared.
    assert_eq!(known.clashes.roles, [vec![2, 3]]);
    let told: Vec<(Axis, String, String)> = known
        .ways
        .iter()
        .map(|way| {
            (
                way.steps[0].axis,
                way.steps[0].to.to_string(),
                way.sets.to_string(),
            )
        })
        .collect();
    let has = |axis, to: &str, sets: &str| {
        let wanted = (axis, to.to_owned(), sets.to_owned());
        assert!(told.contains(&wanted), "{wanted:?} in {told:?}");
    };
    has(Axis::Tolerance(3), "9.74", "11");
    has(Axis::Tolerance(2), "7.52", "11");
    has(Axis::MinTeeth, "20", "88");
    has(Axis::Centres, "36.5", "11");
    has(Axis::Module, "0.9", "924");
    has(Axis::Module, "0.8", "319");
    // Only tips that touch would let sets in.
    let touching = vec![("reverse.clearance_mm".to_owned(), json!(0))];
    assert!(opens(&with(&known.file, &touching).unwrap()));
    assert!(told.iter().all(|(axis, ..)| *axis != Axis::TipGap));
    for way in &known.ways {
        let figures = Figures::of(&way.problem, &way.best);
        assert!(figures.worst_error >= 0.0);
    }
}

#[test]
fn what_is_made_is_never_proposed() {
    let file = sample("bored-case");
    let found = known(&file, MUCH).unwrap();
    let limits = [GearLimit::Centres, GearLimit::Modules, GearLimit::Closing];
    assert_eq!(found.clashes.limits.len(), 1);
    assert_eq!(found.clashes.limits[0].gears, limits);
    assert!(found.clashes.limits[0].roles.is_empty());
    let axes = |known: &Known| {
        known
            .ways
            .iter()
            .map(|w| w.steps[0].axis)
            .collect::<Vec<_>>()
    };
    let found_axes = axes(&found);
    assert!(found_axes.contains(&Axis::BacklashMax) && found_axes.contains(&Axis::Bush));
    assert!(!found_axes.contains(&Axis::Centres) && !found_axes.contains(&Axis::Module));
    let mut free = file.clone();
    free.as_object_mut().unwrap().remove("fixed");
    let free_axes = axes(&known(&free, 0).unwrap());
    assert!(free_axes.contains(&Axis::Centres) && !free_axes.contains(&Axis::Bush));
    assert!(free_axes.contains(&Axis::Module));
    let mut kept = file;
    kept["fixed"] = json!(["gears", "centre_distance_mm"]);
    assert_eq!(axes(&known(&kept, 0).unwrap()), [Axis::Bush]);
}

#[test]
fn the_verb_tells_ways_that_solve_takes() {
    let ended = Run::of(&["explain", "problems/impossible.json"])
        .ends()
        .with(0);
    assert!(
        ended
            .stdout
            .starts_with("No set fits: speed 4 and reverse shut each other out.")
    );
    let json = Run::of(&["explain", "problems/impossible.json", "--format", "json"]);
    let json = json.ends().with(0).json();
    assert_eq!(json["clashes"]["demands"], json!([["4", "reverse"]]));
    for way in json["ways"].as_array().unwrap() {
        let words = way["with"]
            .as_array()
            .unwrap()
            .iter()
            .map(|w| w.as_str().unwrap());
        let mut args = vec!["--format", "json", "--top", "0"];
        for word in words {
            args.extend(["--with", word]);
        }
        let solved = Run::solve("impossible", &args).ends().with(0).json();
        assert_eq!(solved["feasible_sets"], way["feasible_sets"]);
        let best = &solved["best"]["worst_error_percent"];
        assert_eq!(best, &way["best"]["worst_error_percent"]);
        let line = format!("--with {}", way["with"][0].as_str().unwrap());
        assert!(
            ended.stdout.contains(&line.replace("--with ", "")),
            "{line}"
        );
    }
}

#[test]
fn the_verb_keeps_what_it_is_told_to_keep() {
    let keep = ["--keep", "gears,reverse,centre_distance_mm"];
    let args = [&["explain", "problems/impossible.json"], &keep[..]].concat();
    let text = Run::of(&args).ends().with(0).stdout;
    assert!(text.contains("speed 4 within 7.52 %") && !text.contains("reverse within"));
    assert!(text.contains("Left alone, as marked made already"));
    let wrong = Run::of(&["explain", "problems/impossible.json", "--keep", "gear"]).ends();
    assert!(wrong.with(2).stderr.contains("--keep gear"));
    let all = "gears,reverse,speeds,head,centre_distance_mm,default_tolerance_percent";
    let none = Run::of(&["explain", "problems/impossible.json", "--keep", all]).ends();
    // An eccentric bush leaves the case as it is.
    let text = none.with(0).stdout;
    assert!(
        text.contains("  A  bush one shaft: 36.500 mm") && !text.contains("  B "),
        "{text}"
    );
}

#[test]
fn a_problem_with_sets_is_told_what_binds() {
    let json = Run::of(&["explain", "problems/shunter.json", "--format", "json"]);
    let json = json.ends().with(0).json();
    assert_eq!(json["clashes"], Value::Null);
    assert_eq!(json["now"]["feasible_sets"], "80708");
    let gains = json["gains"].as_array().unwrap();
    assert!(gains.len() > 8);
    for gain in gains {
        let word = gain["with"][0].as_str().unwrap();
        let args = ["--with", word, "--format", "json", "--top", "0"];
        let solved = Run::solve("shunter", &args).ends().with(0).json();
        assert_eq!(
            solved["feasible_sets"], gain["reach"]["feasible_sets"],
            "{word}"
        );
        assert_eq!(
            solved["best"]["worst_error_percent"],
            gain["reach"]["worst_error_percent"]
        );
    }
    let text = Run::of(&["explain", "problems/shunter.json"])
        .ends()
        .with(0)
        .stdout;
    assert!(text.starts_with("80\u{2009}708 sets fit") && text.contains("binds"));
}

#[test]
fn threads_and_the_clock() {
    let args = |threads| {
        let all = [
            "explain",
            "problems/impossible.json",
            "--format",
            "json",
            "--threads",
            threads,
        ];
        Run::of(&all).ends().with(0).stdout
    };
    assert_eq!(args("1"), args("3"));
    for sample in ["impossible", "shunter"] {
        let file = format!("problems/{sample}.json");
        let late = Run::of(&["explain", &file, "--time-limit", "0"])
            .ends()
            .with(4);
        assert!(
            late.stdout
                .starts_with("Stopped before anything was known.")
        );
    }
}

#[test]
fn changes_on_the_command_line_are_explained_with() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy_of("shunter", folder.path());
    let file = file.to_str().unwrap();
    let args = [
        "explain",
        file,
        "--with",
        "speeds[0].tolerance_percent=0.0001",
    ];
    let text = Run::of(&args).ends().with(0).stdout;
    assert!(text.contains("With speeds[0].tolerance_percent"), "{text}");
    assert!(
        text.contains("--with 'speeds[0].tolerance_percent=0.0001' --with "),
        "{text}"
    );
    // A key that a way sets is not set twice.
    let args = [
        "explain",
        "problems/impossible.json",
        "--with",
        "gears.min_teeth=22",
    ];
    let text = Run::of(&args).ends().with(0).stdout;
    assert!(
        text.contains("solve problems/impossible.json --with gears.min_teeth=20\n"),
        "{text}"
    );
}

// All limits of the teeth and the gears at once, and room for the idler among them.
#[test]
fn a_clear_place_that_nothing_has_is_a_way_out() {
    let answer = Run::of(&[
        "explain",
        "problems/orchard-cart.json",
        "--with",
        "idler.min_wall_mm=22",
    ])
    .ends()
    .with(0)
    .stdout;
    assert!(answer.contains("idler pin"), "{answer}");
    assert!(answer.contains("pin-hole wall"), "{answer}");
}

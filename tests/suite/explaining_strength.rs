//! Explanations of problems that ask for strength: against plain enumeration on
//! small random problems, and through the front door on invented boxes.

use crate::explaining::with;
use crate::front_door::{Ended, Run};
use crate::holding::rated_file;
use crate::random::{Draw, checked};
use layshaft::base::Decimal;
use layshaft::problem::{FaceWidth, MATERIAL_ROWS, Problem};
use layshaft::search::{
    Axis, Control, Edits, Effort, Explanation, Shortfall, Step, Way, count_plainly, explain,
};
use layshaft::train::{rate, weakest};
use layshaft::verify::verify;
use num_bigint::BigUint;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

fn explained(file: &Value) -> Explanation {
    let effort = Effort {
        threads: 1,
        clash_work: 0,
    };
    explain(
        &checked(file),
        &file.to_string(),
        effort,
        &Control::default(),
    )
}

fn opens(problem: &Problem) -> bool {
    count_plainly(problem).sets > BigUint::ZERO
}

fn edits(way: &Way) -> Edits {
    way.steps.iter().flat_map(|s| s.edits.clone()).collect()
}

/// Count, set and strength of every way, by plain enumeration of the edited text.
fn every_way_is_solved(file: &Value, ways: &[Way]) {
    for way in ways {
        let problem = with(file, &edits(way)).unwrap();
        let about = format!("{:?} {file}", way.steps);
        assert!(way.sets > BigUint::ZERO, "{about}");
        assert_eq!(count_plainly(&problem).sets, way.sets, "{about}");
        assert!(verify(&problem, &way.best).is_empty(), "{about}");
    }
}

/// What is said of the strongest set holds, and nothing holds a hundredth more.
fn the_strongest_is_told(file: &Value, shortfall: &Shortfall) {
    let problem = checked(file);
    let free = count_plainly(&problem.clone().unrated()).sets;
    assert_eq!(shortfall.sets, free, "{file}");
    let holds = |hundredths: i64| {
        let safety = Decimal::from_millionths(10_000 * hundredths);
        opens(&problem.clone().holding(safety.to_f64()))
    };
    let Some(strongest) = &shortfall.strongest else {
        assert!(!holds(10), "{file}");
        return;
    };
    let best = strongest.safety.millionths() / 10_000;
    assert!(holds(best) && !holds(best + 1), "{best} {file}");
    let rated = rate(&strongest.problem, &strongest.set).unwrap();
    assert_eq!(weakest(&rated), Some(strongest.weakest), "{file}");
    let safety = strongest.weakest.safety;
    let low = strongest.safety.to_f64();
    assert!(safety >= low, "{safety} {file}");
    // Wider gears than are needed are not told of where widths follow from load.
    assert!(
        safety < low + 0.01 || problem.sizes_faces(),
        "{safety} {file}"
    );
}

/// The figure just before that of a step, in millionths: nearer to what the file
/// says, and not beyond it.
fn before(problem: &Problem, step: &Step) -> Option<i64> {
    let (now, to) = (step.now?.millionths(), step.to.millionths());
    let back = match step.axis {
        Axis::LeastSafety | Axis::FlankSafety => to + 10_000,
        Axis::FaceWidth => to - 500_000,
        Axis::MostWidth => to - problem.gears().face().unit().steps() / 1000,
        Axis::Torque | Axis::Power => {
            let mut unit = 1;
            while to / unit >= 100 {
                unit *= 10;
            }
            to + unit
        }
        _ => return None,
    };
    let between = (now.min(to)..now.max(to)).contains(&back) && back != now;
    between.then_some(back)
}

fn number(millionths: i64) -> Value {
    serde_json::from_str(&Decimal::from_millionths(millionths).to_string()).unwrap()
}

/// One step less does not let sets in.
fn each_is_the_least(file: &Value, ways: &[Way], seen: &mut BTreeMap<Axis, usize>) {
    let problem = checked(file);
    for way in ways {
        let [step] = way.steps.as_slice() else {
            continue;
        };
        *seen.entry(step.axis).or_default() += 1;
        let Some(back) = before(&problem, step) else {
            continue;
        };
        let [(key, _)] = step.edits.as_slice() else {
            continue;
        };
        let less = with(file, &vec![(key.clone(), number(back))]);
        let opens = less.is_some_and(|less| opens(&less));
        assert!(!opens, "{step:?} but {back} does: {file}");
    }
    materials_are_the_first(file, &problem, ways);
}

/// Of the stronger materials, weakest first, the first two that open.
fn materials_are_the_first(file: &Value, problem: &Problem, ways: &[Way]) {
    let told: Vec<&Value> = ways
        .iter()
        .filter(|way| way.steps[0].axis == Axis::Material)
        .map(|way| &way.steps[0].edits[0].1)
        .collect();
    if told.is_empty() {
        return;
    }
    let now = problem.materials().head()[0].bending_mpa();
    let mut rows: Vec<_> = MATERIAL_ROWS.iter().collect();
    rows.retain(|row| row.limits_mpa()[1] > now);
    rows.sort_by(|x, y| x.limits_mpa()[1].total_cmp(&y.limits_mpa()[1]));
    // 20MnCr5 is as strong as 16MnCr5.
    rows.retain(|row| row.name != "20MnCr5 case-hardened");
    let opening = rows.iter().filter(|row| {
        let edits = vec![("gears.material".to_owned(), json!(row.name))];
        with(file, &edits).is_some_and(|problem| opens(&problem))
    });
    let first: Vec<Value> = opening.take(2).map(|row| json!(row.name)).collect();
    assert_eq!(told, first.iter().collect::<Vec<_>>(), "{file}");
}

#[test]
fn what_strength_shuts_out_is_what_the_plain_twin_says() {
    let mut seen: BTreeMap<Axis, usize> = BTreeMap::new();
    let (mut none, mut weak, mut fits, mut sized, mut pairs) = (0, 0, 0, 0, 0);
    for seed in 950_000..951_000 {
        let draw = &mut Draw::new(seed);
        let Some(mut file) = rated_file(draw) else {
            continue;
        };
        // Loads at which about as many problems have sets as have none.
        let load = file["duty"]["input_torque_n_m"].as_f64().unwrap();
        let times = draw.pick(&[1.0, 3.0, 8.0]);
        file["duty"]["input_torque_n_m"] = json!((1000.0 * times * load).round() / 1000.0);
        let problem = checked(&file);
        let free = count_plainly(&problem.clone().unrated()).sets;
        if free > BigUint::from(400_u32) {
            continue;
        }
        let held = count_plainly(&problem).sets;
        match explained(&file) {
            Explanation::Sets { now, .. } => {
                assert_eq!(now.sets, held, "{file}");
                fits += 1;
            }
            Explanation::NoSet {
                ways, pairs: two, ..
            } => {
                assert_eq!(free, BigUint::ZERO, "{file}");
                every_way_is_solved(&file, &ways);
                every_way_is_solved(&file, &two);
                none += 1;
            }
            Explanation::TooWeak {
                shortfall,
                ways,
                pairs: two,
            } => {
                assert!(held == BigUint::ZERO && free > held, "{file}");
                the_strongest_is_told(&file, &shortfall);
                every_way_is_solved(&file, &ways);
                every_way_is_solved(&file, &two);
                each_is_the_least(&file, &ways, &mut seen);
                weak += 1;
                sized += usize::from(matches!(problem.gears().face(), FaceWidth::Auto { .. }));
                pairs += two.len();
            }
            Explanation::Stopped { .. } => panic!("{file}"),
        }
        if weak >= 60 && none >= 10 && fits >= 10 {
            break;
        }
    }
    let about = format!("{none} {weak} {fits} {sized} {pairs} {seen:?}");
    println!("{about}");
    assert!(none >= 10 && weak >= 60 && fits >= 10, "{about}");
    assert!(sized > 5 && pairs > 2, "{about}");
    for axis in [
        Axis::LeastSafety,
        Axis::FlankSafety,
        Axis::FaceWidth,
        Axis::MostWidth,
        Axis::Torque,
        Axis::Material,
    ] {
        assert!(seen.get(&axis).is_some_and(|n| *n > 2), "{axis:?}: {about}");
    }
}

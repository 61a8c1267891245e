//! The idler study: places, gaps and loads worked out again by other means.

use crate::front_door::Run;
use crate::places::housed_file;
use crate::random::{Draw, checked};
use layshaft::design::forces::Flow;
use layshaft::design::idler::{Place, nearby, study};
use layshaft::design::planes::{Gearbox, Part, PartId, lay_out};
use layshaft::design::{Housed, Plan, gear_forces};
use layshaft::problem::{Problem, ReverseForm, Shaft, Side};
use layshaft::search::{Control, Request, solve};
use layshaft::train::{Point, ReverseGears, Seat, Set, reverse_lengths};
use serde_json::{Value, json};

fn near(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within * (1.0 + a.abs())
}

/// A point in space: x, y across the shafts, z along.
type Space = [f64; 3];

/// The point of a solid cylinder that is nearest to `point`.
fn onto(axis: Point, part: &Part, [x, y, z]: Space) -> Space {
    let (dx, dy) = (x - axis.x_mm, y - axis.y_mm);
    let out = dx.hypot(dy);
    let shrink = if out > part.outer_radius_mm {
        part.outer_radius_mm / out
    } else {
        1.0
    };
    [
        axis.x_mm + dx * shrink,
        axis.y_mm + dy * shrink,
        z.clamp(part.from_mm, part.to_mm),
    ]
}

/// The distance of two solid cylinders by walking from one to the other and
/// back: both are convex, so this ends at their nearest points.
fn walked_mm(one: (Point, &Part), other: (Point, &Part)) -> f64 {
    let mut here = [one.0.x_mm, one.0.y_mm, one.1.from_mm];
    let mut there = here;
    for _ in 0..200 {
        there = onto(other.0, other.1, here);
        here = onto(one.0, one.1, there);
    }
    let [dx, dy, dz] = [0, 1, 2].map(|i| here[i] - there[i]);
    (dx * dx + dy * dy + dz * dz).sqrt()
}

fn axis(gearbox: &Gearbox, shaft: Shaft) -> Point {
    let y_mm = match shaft {
        Shaft::Layshaft | Shaft::Output => -gearbox.centre_distance_mm,
        _ => 0.0,
    };
    match shaft {
        Shaft::Idler => gearbox.reverse.as_ref().unwrap().idler.place,
        _ => Point { x_mm: 0.0, y_mm },
    }
}

/// The set with another idler.
fn with_idler(set: &Set, place: &Place) -> Set {
    let reverse = set.reverse.map(|own| ReverseGears {
        idler: place.teeth,
        ..own
    });
    Set {
        reverse,
        ..set.clone()
    }
}

/// Gaps to every part, recomputed for the layout of that idler.
fn gaps_hold(problem: &Problem, set: &Set, place: &Place, about: &str) -> usize {
    let set = with_idler(set, place);
    let housed = Housed::new(problem, &set);
    let gearbox = housed.boxed(&gear_forces(&housed, place.side, Flow::Drives), place.side);
    let layout = lay_out(&gearbox).unwrap();
    let mut seen = 0;
    for near_by in &place.near {
        let own = |part: &&Part| match part.id {
            PartId::Pin => near_by.from_pin,
            PartId::Gear(_, Seat::Idler) => !near_by.from_pin,
            _ => false,
        };
        let mut least = f64::INFINITY;
        let rods = layout.rods.iter().flat_map(|rod| &rod.positions);
        for state in rods.map(|position| position.engages) {
            let parts = layout.parts_in(state);
            for mine in parts.iter().filter(own) {
                for part in parts.iter().filter(|part| part.id == near_by.part) {
                    let here = (axis(&gearbox, mine.shaft), mine);
                    let there = (axis(&gearbox, part.shaft), part);
                    least = least.min(walked_mm(here, there));
                }
            }
        }
        assert!(near_by.gap_mm >= 0.0, "{near_by:?} {about}");
        assert!(
            near(near_by.gap_mm, least, 1e-6),
            "{near_by:?} {least} {about}"
        );
        seen += 1;
    }
    seen
}

/// The load of the pin from the two lines of action: tangents to base circles,
/// each pressing so that the idler turns as it must.
fn loads_hold(problem: &Problem, set: &Set, place: &Place, torque_n_m: f64, about: &str) {
    let set = with_idler(set, place);
    let gears = set.reverse.unwrap();
    let ([d1, d2], _) = reverse_lengths(problem, gears);
    let toothing = problem.gears();
    let beta = toothing.helix_angle_deg().to_radians();
    let alpha_t = (toothing.rack().pressure_angle_rad.tan() / beta.cos()).atan();
    let base = |teeth: layshaft::base::Teeth| {
        gears.module.of(problem).mm() / beta.cos() * f64::from(teeth) / 2.0 * alpha_t.cos()
    };
    let a = set.centre_distance.mm();
    let (driver_y, driven_y) = if set.head.is_some() {
        (-a, 0.0)
    } else {
        (0.0, -a)
    };
    let head = set
        .head
        .map_or(1.0, |h| f64::from(h.driven) / f64::from(h.driver));
    let input = problem.input_turns().sign();
    let driver_turns = if set.head.is_some() { -input } else { input };
    let (x, y) = (place.centre.x_mm, place.centre.y_mm);
    for (drive, load) in [(1.0, place.loads[0]), (-1.0, place.loads[1])] {
        // Moment on the idler, clockwise positive: the driver turns it against
        // its own sense, the driven gear holds it back.
        let mut sum = (0.0, 0.0);
        for (mate_y, mate, apart, moment_sign) in [
            (driver_y, gears.driver, d1, -driver_turns * drive),
            (driven_y, gears.driven, d2, driver_turns * drive),
        ] {
            let moment = 1000.0 * torque_n_m * head * base(gears.idler) / base(gears.driver);
            let force = moment / base(gears.idler);
            // Unit vector from the mate; the pitch point in between.
            let (ux, uy) = (x / apart, (y - mate_y) / apart);
            let share = base(gears.idler) / (base(gears.idler) + base(mate));
            let (px, py) = (x - ux * apart * share, y - uy * apart * share);
            let angle = ((base(gears.idler) + base(mate)) / apart).acos();
            let direction = [1.0, -1.0].map(|turn: f64| {
                let rot = turn * (std::f64::consts::FRAC_PI_2 - angle);
                (
                    ux * rot.cos() - uy * rot.sin(),
                    ux * rot.sin() + uy * rot.cos(),
                )
            });
            let fits = |(fx, fy): &&(f64, f64)| {
                let counter = (px - x) * fy - (py - y) * fx;
                -counter * moment_sign > 0.0
            };
            let (fx, fy) = direction.iter().find(fits).unwrap();
            sum = (sum.0 + force * fx, sum.1 + force * fy);
        }
        assert!(
            near(load.x_n, sum.0, 1e-9) && near(load.y_n, sum.1, 1e-9),
            "{load:?} {sum:?} {about}"
        );
        assert!(near(load.across_n(), sum.0.hypot(sum.1), 1e-9), "{about}");
    }
}

/// Distances, and what a hundredth of error does, in the first order.
fn place_holds(problem: &Problem, set: &Set, place: &Place, about: &str) {
    let set = with_idler(set, place);
    let a = set.centre_distance.mm();
    let (to_driver, to_driven) = if set.head.is_some() {
        (-a, 0.0)
    } else {
        (0.0, -a)
    };
    let gears = set.reverse.unwrap();
    let (x, y) = (place.centre.x_mm, place.centre.y_mm);
    for (i, mate_y) in [to_driver, to_driven].into_iter().enumerate() {
        let apart = x.hypot(y - mate_y);
        assert!(near(apart, place.distances_mm[i], 1e-9), "{about}");
        let beta = problem.gears().helix_angle_deg().to_radians();
        let alpha_t = (problem.gears().rack().pressure_angle_rad.tan() / beta.cos()).atan();
        let mate = [gears.driver, gears.driven][i];
        let standard = gears.module.of(problem).mm() / beta.cos()
            * (f64::from(mate) + f64::from(place.teeth))
            / 2.0;
        let working = (standard * alpha_t.cos() / apart).min(1.0).acos();
        // dj = 2 tan α_wt dd, second order left out.
        let along = |dx: f64, dy: f64| (dx * x + dy * (y - mate_y)) / apart;
        let lower = 2.0 * working.tan() * along(0.0, -0.01);
        let right = 2.0 * working.tan() * along(0.01, 0.0);
        assert!(
            (place.lower_mm[i] - lower).abs() < 1e-4,
            "{} {lower} {about}",
            place.lower_mm[i]
        );
        assert!(
            (place.right_mm[i] - right).abs() < 1e-4,
            "{} {right} {about}",
            place.right_mm[i]
        );
    }
    assert_eq!(place.side == Side::Right, x > 0.0, "{about}");
}

/// Whether a speed's gear may drive reverse: there is one, and no shift.
fn may_share(file: &Value) -> bool {
    let speeds = file.get("speeds").and_then(Value::as_array);
    let geared = speeds.is_some_and(|all| all.iter().any(|s| s.get("ratio").is_some()));
    let turned_down = &file["limits"]["extra_tip_shortening"];
    geared && file["gears"].get("profile_shift").is_none() && turned_down != true
}

#[test]
fn places_gaps_and_loads_hold_on_random_boxes() {
    let mut draw = Draw::new(0xd1e);
    let (mut places, mut gaps, mut offset, mut helical, mut judged, mut kept) = (0, 0, 0, 0, 0, 0);
    let (mut sliding, mut shared) = (0, 0);
    while places < 400 {
        let mut file = housed_file(&mut draw);
        if file.get("reverse").is_none() {
            continue;
        }
        file["input_turns"] = json!(draw.pick(&["clockwise", "anticlockwise"]));
        let spur = file["gears"]
            .get("helix_angle_deg")
            .is_none_or(|helix| helix == 0.0);
        if spur && draw.percent(40) {
            file["reverse"]["form"] = json!("sliding-idler");
        } else if draw.percent(60) && may_share(&file) {
            file["reverse"]["form"] = json!("shared-driver");
            // Only a slower reverse has room beside the first speed.
            file["reverse"]["tolerance_percent"] = json!(60);
        }
        // Small rings and sleeves, so that boxes go together at all.
        file["layout"] = json!({ "dog_wall_mm": 0, "dog_ring_mm": 2 });
        let problem = checked(&file);
        let request = Request {
            top: 2,
            trains: 0,
            threads: 1,
        };
        let outcome = solve(&problem, request, &Control::until(None));
        for set in outcome.sets.iter().take(1) {
            let study = study(&problem, set).unwrap();
            kept += 1;
            for place in study.places.iter().take(6) {
                let about = format!("{file} {set:?} {place:?}");
                place_holds(&problem, set, place, &about);
                loads_hold(&problem, set, place, study.torque_n_m, &about);
                gaps += gaps_hold(&problem, set, place, &about);
                places += 1;
                offset += u64::from(set.head.is_none());
                helical += u64::from(problem.gears().helix_angle_deg() > 0.0);
                judged += u64::from(problem.judges());
                shared += u64::from(problem.reverse_form() == Some(ReverseForm::SharedDriver));
                sliding += u64::from(problem.reverse_form() == Some(ReverseForm::SlidingIdler));
                // Every gap is as wide as asked.
                let pin = problem.idler_pin().unwrap();
                let least = pin.gap().mm() - 1e-6;
                assert!(place.near.iter().all(|n| n.gap_mm >= least), "{about}");
                assert!(
                    place.gaps.iter().all(|g| g.gap_mm >= g.least_mm - 1e-6),
                    "{about}"
                );
            }
        }
    }
    let covered =
        format!("{kept} sets, {gaps} gaps, {offset} {helical} {judged} {sliding} {shared}");
    assert!(
        gaps > 1000 && offset > 40 && helical > 40 && judged > 40 && sliding > 40 && shared > 10,
        "{covered}"
    );
}

/// The idler has the neighbours that the layout gives it: ties between orders
/// fall by the bending of the shafts, so that both must know the forces.
#[test]
fn the_study_and_the_layout_are_of_one_box() {
    let mut compared = 0;
    for sample in ["shunter", "walking-tractor", "orchard-cart", "odd-centres"] {
        let path = format!("{}/problems/{sample}.json", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        let mut file: Value = serde_json::from_str(&text).unwrap();
        for order in ["shortest", "least-bending"] {
            file["layout"] = json!({ "order": order });
            let problem = checked(&file);
            let request = Request {
                top: 3,
                trains: 0,
                threads: 1,
            };
            for set in solve(&problem, request, &Control::until(None)).sets {
                let plan = Plan::new(&problem, &set);
                let near = nearby(&plan.gearbox, &plan.layout.unwrap());
                let study = study(&problem, &set).unwrap();
                let idler = set.reverse.unwrap().idler;
                let own = |place: &&Place| place.teeth == idler && place.side == plan.side;
                let place = study.places.iter().find(own).unwrap();
                assert_eq!(place.near, near, "{sample} {order} {set:?}");
                compared += 1;
            }
        }
    }
    assert!(compared >= 18, "{compared}");
}

/// The box of row 1.15, module 2, its reverse tips just touching.
fn textbook() -> Value {
    json!({
        "centre_distance_mm": 60,
        "gears": { "modules_mm": [2], "min_teeth": 18, "max_teeth": 42, "face_width_mm": 15 },
        "head": { "teeth": [20, 40] },
        "layout": { "gap_mm": 0 },
        "speeds": [ { "name": "1", "ratio": 4, "teeth": [20, 40] } ],
        "reverse": { "ratio": 4.2222, "tolerance_percent": 1, "teeth": [18, 20, 38],
            "idler_teeth": { "min": 5, "max": 30 }, "clearance_mm": 0 },
    })
}

// Row 10.02: gear counts from 1.15 (an online course text), places recomputed:
// m 2, a 60: idler at (14.0, 35.32704) from the layshaft's axis. Row 10.05: the
// tips of 18 T and 38 T just touch: gap 0.
#[test]
fn the_idler_of_the_textbook_gearbox_by_command() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("textbook.json");
    std::fs::write(&file, textbook().to_string()).unwrap();
    let file = file.to_str().unwrap();
    let answer = Run::of(&["idler", file, "--format", "json"])
        .ends()
        .with(0)
        .json();
    let own = answer["places"].as_array().unwrap().iter();
    let own: Vec<_> = own
        .filter(|place| place["own_idler"] == json!(true))
        .collect();
    assert_eq!(own.len(), 2, "{answer}");
    for place in own {
        let (x, y) = (
            place["x_mm"].as_f64().unwrap(),
            place["y_mm"].as_f64().unwrap(),
        );
        assert!(
            (x.abs() - 35.32704).abs() < 1e-5 && (60.0 + y - 14.0).abs() < 1e-9,
            "{place}"
        );
    }
    // With any clearance asked for there is no such box.
    let refused = Run::of(&["idler", file, "--with", "reverse.clearance_mm=0.1"]).ends();
    assert_eq!(refused.code, 1);
    assert!(
        refused.stderr.contains("layshaft explain"),
        "{}",
        refused.stderr
    );
}

#[test]
fn what_is_asked_of_a_box_without_reverse_is_said() {
    let ended = Run::of(&["idler", "problems/spindle-head.json"]).ends();
    assert_eq!(ended.code, 2);
    assert!(ended.stderr.contains("no reverse"), "{}", ended.stderr);
    let text = Run::of(&["idler", "problems/shunter.json"])
        .ends()
        .with(0)
        .stdout;
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    assert!(text.contains("Kinder side"), "{text}");
}

//! How sets turn: worked boxes and random ones.

use crate::random::{Draw, checked, problem_file};
use layshaft::base::{Decimal, Length, Teeth};
use layshaft::design::motion::{
    Hold, Motion, MotionFault, State, StateMotion, Step, Turns, Way, motion,
};
use layshaft::problem::{Problem, ReverseForm, Shaft, parse};
use layshaft::search::{Control, Request, solve};
use layshaft::train::{Figures, ModuleId, Pair, ReverseGears, Role, Seat, Set};

/// Invented: an in-line box of module 1 on centres of 40 mm.
const IN_LINE: &str = r#"{ "centre_distance_mm": 40.0,
    "gears": { "modules_mm": [1.0], "min_teeth": 10, "max_teeth": 70, "face_width_mm": 8.0 },
    "speeds": [ { "name": "1st", "ratio": 4.0857 }, { "name": "2nd", "ratio": 2.2286 },
        { "name": "3", "direct": true } ],
    "reverse": { "ratio": 3.5, "tolerance_percent": 30.0 } }"#;

/// Invented: an offset box of module 1 on centres of 40 mm.
const OFFSET: &str = r#"{ "arrangement": "offset", "centre_distance_mm": 40.0,
    "gears": { "modules_mm": [1.0], "min_teeth": 10, "max_teeth": 70, "face_width_mm": 8.0 },
    "speeds": [ { "name": "1st", "ratio": 2.2 }, { "name": "2nd", "ratio": 1.2857 } ],
    "reverse": { "ratio": 3.5, "tolerance_percent": 30.0 } }"#;

fn problem(text: &str) -> Problem {
    parse("worked", text).unwrap_or_else(|faults| panic!("{}", faults.render(false)))
}

fn pair((driver, driven): (u16, u16)) -> Pair {
    Pair {
        module: ModuleId::new(0),
        driver: Teeth::new(driver),
        driven: Teeth::new(driven),
    }
}

fn set(head: Option<(u16, u16)>, pairs: &[(u16, u16)], (l, i, m): (u16, u16, u16)) -> Set {
    Set {
        centre_distance: Length::from_mm(Decimal::whole(40)),
        head: head.map(pair),
        pairs: pairs.iter().copied().map(pair).collect(),
        reverse: Some(ReverseGears {
            module: ModuleId::new(0),
            driver: Teeth::new(l),
            idler: Teeth::new(i),
            driven: Teeth::new(m),
        }),
    }
}

fn in_line() -> (Problem, Set) {
    let set = set(Some((28, 52)), &[(25, 55), (45, 35)], (18, 20, 38));
    (problem(IN_LINE), set)
}

fn offset() -> (Problem, Set) {
    (
        problem(OFFSET),
        set(None, &[(25, 55), (35, 45)], (18, 20, 38)),
    )
}

fn all(box_: &(Problem, Set), form: ReverseForm) -> Motion {
    motion(&box_.0, &box_.1, form, Some(1000.0)).unwrap()
}

fn state(motion: &Motion, state: State) -> &StateMotion {
    motion.states.iter().find(|at| at.state == state).unwrap()
}

fn parts(turns: Turns) -> (i64, i64) {
    (turns.numerator(), turns.denominator())
}

fn turns(state: &StateMotion, role: Role, seat: Seat) -> (i64, i64) {
    parts(state.gear(role, seat).unwrap().rate.turns)
}

fn slip(state: &StateMotion, role: Role, seat: Seat) -> Option<(i64, i64)> {
    let gear = state.gear(role, seat).unwrap();
    gear.slip.map(|slip| parts(slip.turns))
}

fn shaft(state: &StateMotion, shaft: Shaft) -> (i64, i64) {
    parts(state.shaft(shaft).unwrap().turns)
}

// By hand: 28/52 = 7/13 turns the layshaft against the input; 25/55 of that is
// 35/143, 45/35 of it 9/13, 18/38 of it 63/247.
#[test]
fn first_speed_of_an_in_line_box_by_hand() {
    let motion = all(&in_line(), ReverseForm::ConstantMesh);
    let first = state(&motion, State::Speed(0));
    assert_eq!(shaft(first, Shaft::Input), (1, 1));
    assert_eq!(shaft(first, Shaft::Layshaft), (-7, 13));
    assert_eq!(shaft(first, Shaft::Main), (35, 143));
    assert_eq!(turns(first, Role::Speed(0), Seat::Driver), (-7, 13));
    assert_eq!(slip(first, Role::Speed(0), Seat::Driver), None);
    let gear = first.gear(Role::Speed(0), Seat::Driven).unwrap();
    assert_eq!((gear.hold, gear.shaft), (Hold::Locked, Shaft::Main));
    assert_eq!(slip(first, Role::Speed(0), Seat::Driven), Some((0, 1)));
    let free = first.gear(Role::Speed(1), Seat::Driven).unwrap();
    assert_eq!(free.hold, Hold::Free);
    assert_eq!(turns(first, Role::Speed(1), Seat::Driven), (9, 13));
    // 99/143 − 35/143.
    assert_eq!(slip(first, Role::Speed(1), Seat::Driven), Some((64, 143)));
    let rpm = free.slip.and_then(|slip| slip.rpm).unwrap();
    assert!((rpm - 64_000.0 / 143.0).abs() < 1e-9, "{rpm}");
    assert_eq!(turns(first, Role::Reverse, Seat::Idler), (63, 130));
    assert_eq!(slip(first, Role::Reverse, Seat::Idler), Some((63, 130)));
    assert_eq!(turns(first, Role::Reverse, Seat::Driven), (-63, 247));
    let spigot = first.spigot_slip.unwrap();
    assert_eq!(parts(spigot.turns), (-108, 143));
    assert_eq!(
        first.words,
        "input -> head 28/52 -> layshaft -> 1st 25/55 -> main"
    );
    assert_eq!(first.path.len(), 7);
    assert!(matches!(first.path[3], Step::Shaft(Shaft::Layshaft)));
}

// Common practice, no source: in direct drive the output turns as the input
// does, in the same sense; what is fixed to the layshaft turns with it in every
// speed.
#[test]
fn direct_turns_as_the_input_and_the_layshaft_turns_along() {
    let motion = all(&in_line(), ReverseForm::ConstantMesh);
    let direct = state(&motion, State::Speed(2));
    assert_eq!(shaft(direct, Shaft::Main), (1, 1));
    assert_eq!(direct.words, "input -> dog, direct -> main");
    let ends = [Step::Shaft(Shaft::Input), Step::Shaft(Shaft::Main)];
    assert_eq!(direct.path, ends);
    assert!(direct.spigot_slip.unwrap().turns.is_standing());
    for at in &motion.states {
        assert_eq!(shaft(at, Shaft::Layshaft), (-7, 13));
        for role in [Role::Speed(0), Role::Speed(1), Role::Reverse] {
            assert_eq!(turns(at, role, Seat::Driver), (-7, 13));
        }
        assert_eq!(at.output_taken_as_standing, at.state == State::Neutral);
    }
    let neutral = state(&motion, State::Neutral);
    assert_eq!(shaft(neutral, Shaft::Main), (0, 1));
    assert!(neutral.path.is_empty());
    assert!(neutral.words.contains("taken as standing"));
    assert_eq!(slip(neutral, Role::Speed(0), Seat::Driven), Some((35, 143)));
}

#[test]
fn reverse_turns_against_the_forward_speeds_in_every_form() {
    for form in [ReverseForm::ConstantMesh, ReverseForm::SlidingIdler] {
        let motion = all(&in_line(), form);
        let reverse = state(&motion, State::Reverse);
        assert_eq!(shaft(reverse, Shaft::Main), (-63, 247));
        let words = "input -> head 28/52 -> layshaft -> reverse 18/20/38 -> main";
        assert_eq!(reverse.words, words);
        let motion = all(&offset(), form);
        let reverse = state(&motion, State::Reverse);
        assert_eq!(shaft(reverse, Shaft::Output), (9, 19));
        let first = state(&motion, State::Speed(0));
        assert_eq!(shaft(first, Shaft::Output), (-5, 11));
        assert_eq!(first.words, "input -> 1st 25/55 -> output");
        assert!(first.spigot_slip.is_none() && first.shaft(Shaft::Main).is_none());
    }
}

#[test]
fn a_sliding_idler_stands_until_it_is_in_and_its_mate_turns_with_the_main_shaft() {
    let motion = all(&in_line(), ReverseForm::SlidingIdler);
    for at in &motion.states {
        let idler = at.gear(Role::Reverse, Seat::Idler).unwrap();
        let engaged = at.state == State::Reverse;
        assert_eq!((idler.in_mesh, idler.hold), (engaged, Hold::Free));
        assert_eq!(idler.rate.turns.is_standing(), !engaged);
        let driven = at.gear(Role::Reverse, Seat::Driven).unwrap();
        assert_eq!((driven.hold, driven.slip), (Hold::Fixed, None));
        assert_eq!(Some(driven.rate), at.shaft(Shaft::Main));
    }
}

#[test]
fn a_shared_driver_is_one_gear_of_the_first_speed() {
    let (problem, mut set) = in_line();
    let shared = ReverseForm::SharedDriver;
    let refused = motion(&problem, &set, shared, None);
    assert_eq!(refused, Err(MotionFault::NotShared));
    set.reverse = set.reverse.map(|gears| ReverseGears {
        driver: Teeth::new(25),
        ..gears
    });
    let motion = motion(&problem, &set, shared, None).unwrap();
    let reverse = state(&motion, State::Reverse);
    assert!(reverse.gear(Role::Reverse, Seat::Driver).is_none());
    assert_eq!(reverse.gears.len(), 8);
    // −7/13 · 25/38.
    assert_eq!(shaft(reverse, Shaft::Main), (-175, 494));
    let words = "input -> head 28/52 -> layshaft -> reverse 25/20/38 -> main";
    assert_eq!(reverse.words, words);
}

#[test]
fn a_set_of_another_problem_is_refused() {
    let ((problem, mut set), (other, _)) = (in_line(), offset());
    let form = ReverseForm::ConstantMesh;
    let fault = Err(MotionFault::OtherProblem);
    assert_eq!(motion(&other, &set, form, None), fault);
    set.pairs.pop();
    assert_eq!(motion(&problem, &set, form, None), fault);
}

// By hand: 1st to 2nd at 1000 rpm. The main shaft turns 244.76 rpm, the gear of
// 2nd 692.31: 447.55 rpm or 182.857 % too fast (9/13 ÷ 35/143 = 99/35). The
// input ends at 1000 · 35/99.
#[test]
fn what_a_dog_takes_up_by_hand() {
    let motion = all(&in_line(), ReverseForm::ConstantMesh);
    let ways: Vec<_> = motion
        .shifts
        .iter()
        .map(|s| (s.from, s.to, s.way))
        .collect();
    let expected = [
        (0, 1, Way::Up),
        (1, 2, Way::Up),
        (2, 1, Way::Down),
        (1, 0, Way::Down),
    ];
    assert_eq!(ways, expected);
    let up = motion.shifts[0];
    assert_eq!(parts(up.difference.turns), (64, 143));
    assert!((up.difference_percent - 6400.0 / 35.0).abs() < 1e-9);
    assert!((up.input_after.rpm.unwrap() - 35_000.0 / 99.0).abs() < 1e-9);
    let down = motion.shifts[3];
    assert_eq!(parts(down.difference.turns), (-64, 143));
    assert!((down.difference_percent + 6400.0 / 99.0).abs() < 1e-9);
    assert_eq!(parts(down.input_after.turns), (99, 35));
    // Against the input, as in an offset box, "too fast" is still positive.
    let motion = all(&offset(), ReverseForm::ConstantMesh);
    assert!(motion.shifts[0].difference.per_input_turn < 0.0);
    assert!(motion.shifts[0].difference_percent > 0.0);
}

#[test]
fn neighbours_are_told_by_ratio_not_by_place() {
    let text = IN_LINE.replace(
        r#"{ "name": "1st", "ratio": 4.0857 }, { "name": "2nd", "ratio": 2.2286 }"#,
        r#"{ "name": "2nd", "ratio": 2.2286 }, { "name": "1st", "ratio": 4.0857 }"#,
    );
    let mixed = set(Some((28, 52)), &[(45, 35), (25, 55)], (18, 20, 38));
    let motion = all(&(problem(&text), mixed), ReverseForm::ConstantMesh);
    let ups = motion.shifts.iter().filter(|shift| shift.way == Way::Up);
    let ups: Vec<_> = ups.map(|shift| (shift.from, shift.to)).collect();
    assert_eq!(ups, [(1, 0), (0, 2)]);
}

/// Teeth that pass the pitch point, signed: of two gears in mesh they are equal
/// and opposite.
fn passing(state: &StateMotion, role: Role, seat: Seat) -> Option<(i64, i64)> {
    let gear = state.gear(role, seat)?;
    let turns = gear.rate.turns;
    let teeth = i64::from(gear.gear.teeth.get());
    gear.in_mesh
        .then(|| (turns.numerator() * teeth, turns.denominator()))
}

fn mesh_runs(state: &StateMotion, role: Role, seats: [Seat; 2]) -> bool {
    let [one, other] = seats.map(|seat| passing(state, role, seat));
    let (Some((a, b)), Some((c, d))) = (one, other) else {
        return true;
    };
    i128::from(a) * i128::from(d) + i128::from(c) * i128::from(b) == 0
}

// Whatever turns what: teeth in mesh pass together in every state, locked and
// fixed gears turn with their shafts, and each speed has the ratio that the
// set's figures tell.
#[test]
fn random_boxes_run_together_in_every_state() {
    let mut draw = Draw::new(0x3071);
    let mut seen = [0_u32; 2];
    for _ in 0..150 {
        let problem = checked(&problem_file(&mut draw));
        let request = Request {
            top: 1,
            trains: 0,
            threads: 1,
        };
        let Some(set) = solve(&problem, request, &Control::default()).front.pop() else {
            continue;
        };
        let forms = [ReverseForm::ConstantMesh, ReverseForm::SlidingIdler];
        let told = motion(&problem, &set, draw.pick(&forms), None).unwrap();
        for at in &told.states {
            let roles = (0..problem.speeds().len()).map(Role::Speed);
            for role in roles.chain([Role::Head]) {
                assert!(mesh_runs(at, role, [Seat::Driver, Seat::Driven]), "{at:#?}");
            }
            for seats in [[Seat::Driver, Seat::Idler], [Seat::Idler, Seat::Driven]] {
                assert!(mesh_runs(at, Role::Reverse, seats), "{at:#?}");
            }
            for gear in &at.gears {
                let on = at.shaft(gear.shaft).unwrap();
                let along = gear.rate.turns == on.turns;
                assert!(along || gear.hold == Hold::Free, "{gear:?}");
            }
        }
        let figures = Figures::of(&problem, &set);
        let mut geared = figures.speeds.iter();
        let sign = if set.head.is_some() { 1.0 } else { -1.0 };
        for (place, speed) in problem.speeds().iter().enumerate() {
            let ratio = speed.geared().map_or(1.0, |_| geared.next().unwrap().ratio);
            let output = state(&told, State::Speed(place)).shafts[output_place(&set)];
            let off = output.rate.per_input_turn * ratio * sign - 1.0;
            assert!(off.abs() < 1e-12, "{off}");
            seen[0] += 1;
        }
        if let Some(reverse) = figures.reverse {
            let output = state(&told, State::Reverse).shafts[output_place(&set)];
            let off = output.rate.per_input_turn * reverse.ratio * sign - 1.0;
            assert!(off.abs() < 1e-12, "{off}");
            seen[1] += 1;
        }
    }
    assert!(seen.iter().all(|&count| count > 20), "{seen:?}");
}

const fn output_place(set: &Set) -> usize {
    if set.head.is_some() { 2 } else { 1 }
}

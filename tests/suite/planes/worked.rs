//! Boxes small enough to be worked by hand. All figures are invented.

use layshaft::design::planes::{
    Blanks, End, Fault, Gearbox, Goal, Idler, InputShaft, Layout, Load, Moved, Pair, PartId, Pin,
    Reverse, ReverseForm, ShaftSize, Shafts, Sizes, Wheel, lay_out,
};
use layshaft::problem::{Arrangement, Case, Shaft};
use layshaft::train::{Point, Role, Seat};

const fn wheel(pitch_radius_mm: f64, hole_radius_mm: f64) -> Wheel {
    Wheel {
        tip_radius_mm: pitch_radius_mm + 1.0,
        root_radius_mm: pitch_radius_mm - 1.25,
        hole_radius_mm,
    }
}

/// Module 1, centres 30 mm, by the driver's pitch radius.
fn pair(role: Role, driver_mm: f64) -> Pair {
    let hole_mm = if role == Role::Head { 5.0 } else { 6.0 };
    Pair {
        role,
        name: match role {
            Role::Speed(place) => format!("speed {}", place + 1),
            _ => "head".to_owned(),
        },
        face_width_mm: 8.0,
        driver: wheel(driver_mm, hole_mm),
        driven: wheel(30.0 - driver_mm, 6.0),
    }
}

const SHAFT: ShaftSize = ShaftSize {
    radius_mm: 5.0,
    bearing_bore_radius_mm: 4.0,
    bearing_outside_radius_mm: 9.0,
    beyond_input_mm: 10.0,
    beyond_output_mm: 10.0,
};

/// In line, head, two speeds and direct: 1 and 2 on one sleeve, direct alone.
fn in_line() -> Gearbox {
    Gearbox {
        arrangement: Arrangement::InLine,
        centre_distance_mm: 30.0,
        head: Some(pair(Role::Head, 12.0)),
        speeds: vec![pair(Role::Speed(0), 10.0), pair(Role::Speed(1), 16.0)],
        reverse: None,
        sleeves: vec![vec![Role::Speed(0), Role::Speed(1)], vec![Role::Head]],
        sizes: Sizes {
            dog_ring_length_mm: 3.0,
            sleeve_width_mm: 7.0,
            sleeve_radius_mm: 15.0,
            neutral_gap_mm: 0.5,
            dog_overlap_mm: 2.5,
            dog_ring_radius_mm: None,
            least_ring_mm: 2.0,
            thrust_washer_mm: 1.0,
            circlip_mm: 0.0,
            end_float_mm: 0.2,
            least_gap_mm: 0.5,
            cutter_radius_mm: 25.0,
            wall_mm: 10.0,
        },
        shafts: Shafts {
            fixed: SHAFT,
            free: SHAFT,
            input: Some(InputShaft {
                size: SHAFT,
                spigot_radius_mm: 4.0,
                spigot_length_mm: 6.0,
            }),
        },
        blanks: Blanks::Separate,
        goal: Goal::Shortest,
        loads: Vec::new(),
        case: Case::Plates,
    }
}

/// The same with an idler of pitch radius 9 beside gears of 9 and 16.
fn with_reverse(pin: Pin) -> Gearbox {
    let mut gearbox = in_line();
    let (upper, lower): (f64, f64) = (25.0, 18.0);
    let y_mm = (lower * lower - upper * upper - 900.0) / 60.0;
    gearbox.sleeves.push(vec![Role::Reverse]);
    gearbox.reverse = Some(Reverse {
        name: "reverse".to_owned(),
        form: ReverseForm::ConstantMesh,
        face_width_mm: 8.0,
        driver: wheel(9.0, 6.0),
        idler: Idler {
            wheel: wheel(9.0, 4.0),
            place: Point {
                x_mm: (upper * upper - y_mm * y_mm).sqrt(),
                y_mm,
            },
            pin_radius_mm: 4.0,
            pin,
        },
        driven: wheel(16.0, 6.0),
    });
    gearbox
}

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-9
}

fn roles(layout: &Layout) -> Vec<Role> {
    layout.planes.iter().map(|plane| plane.role).collect()
}

// wall 1.2 head 8 ring 3 gap .5 sleeve 7 | 1.2 | 8 3 .5 7 .5 3 8 | 1.2 wall:
// 1.2 + 18.5 + 1.2 + 30 + 1.2 = 52.1.
#[test]
fn a_box_is_as_long_as_its_parts() {
    let layout = lay_out(&in_line()).unwrap();
    assert!(close(layout.length_mm, 52.1), "{}", layout.length_mm);
    assert_eq!(roles(&layout), [Role::Head, Role::Speed(0), Role::Speed(1)]);
    let middles = [5.2, 24.9, 46.9];
    for (plane, middle_mm) in layout.planes.iter().zip(middles) {
        assert!(close(plane.middle_mm, middle_mm), "{plane:?}");
    }
    let sleeves: Vec<f64> = layout.sleeves.iter().map(|s| s.middle_mm).collect();
    assert!(
        close(sleeves[0], 16.2) && close(sleeves[1], 35.9),
        "{sleeves:?}"
    );
}

// A sleeve between 1 (towards the input) and 2: 3 mm either way, and the
// notches on the rod lie against the moves.
#[test]
fn the_shift_pattern_says_which_way_each_rod_moves() {
    let layout = lay_out(&in_line()).unwrap();
    let rod = layout
        .rods
        .iter()
        .find(|rod| rod.moves == Moved::Sleeve(0))
        .unwrap();
    let read: Vec<_> = rod
        .positions
        .iter()
        .map(|p| (p.engages, p.towards))
        .collect();
    let (input, output) = (Some(End::Input), Some(End::Output));
    let expected = [
        (Some(Role::Speed(0)), input),
        (None, None),
        (Some(Role::Speed(1)), output),
    ];
    assert_eq!(read, expected);
    for (position, move_mm) in rod.positions.iter().zip([-3.0, 0.0, 3.0]) {
        assert!(close(position.move_mm, move_mm) && close(position.notch_mm, -move_mm));
        assert!(close(position.middle_mm, 35.9 + move_mm));
    }
    let direct = layout
        .rods
        .iter()
        .find(|rod| rod.moves == Moved::Sleeve(1))
        .unwrap();
    assert_eq!(direct.positions.len(), 2);
    assert_eq!(direct.positions[0].engages, Some(Role::Head));
}

// The smaller of the two gears has root 14 − 1.25; the ring of direct stays
// under the input gear's 12 − 1.25.
#[test]
fn dog_rings_stay_under_the_smallest_root() {
    let layout = lay_out(&in_line()).unwrap();
    let radius = |sleeve| {
        layout
            .sleeves
            .iter()
            .find(|s| s.sleeve == sleeve)
            .unwrap()
            .ring_radius_mm
    };
    assert!(close(radius(0), 12.75) && close(radius(1), 10.75));

    let mut gearbox = in_line();
    gearbox.sizes.dog_ring_radius_mm = Some(10.75);
    assert!(lay_out(&gearbox).is_ok());
    gearbox.sizes.dog_ring_radius_mm = Some(10.76);
    let faults = lay_out(&gearbox).unwrap_err();
    assert!(
        matches!(
            faults[..],
            [Fault::RingOverRoot {
                role: Role::Head,
                ..
            }]
        ),
        "{faults:?}"
    );

    // Least metal: 10.75 − 5 of the input gear, 12.75 − 6 of the others.
    let mut gearbox = in_line();
    gearbox.sizes.least_ring_mm = 5.75;
    assert!(lay_out(&gearbox).is_ok());
    gearbox.sizes.least_ring_mm = 5.76;
    let faults = lay_out(&gearbox).unwrap_err();
    assert!(
        matches!(
            faults[..],
            [Fault::RingTooThin {
                role: Role::Head,
                ..
            }]
        ),
        "{faults:?}"
    );
}

// Layshaft gears: head 18 (root 16.75, tip 19), 1 of 10 (8.75, 11), 2 of 16
// (14.75, 17). Of one piece the smaller needs the run-out under the larger:
// head-1: h = 19 − 8.75 = 10.25, √(50 h − h²) = √407.4375 = 20.18508;
// 1-2: h = 8.25, √344.4375 = 18.55903; head-2: h = 4.25, √194.4375.
// As given: the head's gap is 18.5 − 8 + 1.2 = 11.7 and grows to 20.18508; the
// gap 1-2 is 14 and grows to 18.55903. Turned round: head-2 needs 13.94408,
// and head to 1 is farther than 20.2 by itself.
#[test]
fn one_piece_needs_room_for_the_cutter_and_picks_the_order_for_it() {
    let mut gearbox = in_line();
    gearbox.blanks = Blanks::OnePiece;
    let layout = lay_out(&gearbox).unwrap();
    assert_eq!(roles(&layout), [Role::Head, Role::Speed(1), Role::Speed(0)]);
    let expected = 1.2 + 8.0 + 194.4375_f64.sqrt() + 8.0 + 344.4375_f64.sqrt() + 8.0 + 1.2;
    assert!(
        (layout.length_mm - expected).abs() < 1e-5,
        "{}",
        layout.length_mm
    );
    assert_eq!(
        layout.pieces,
        [[Role::Head, Role::Speed(1), Role::Speed(0)]]
    );
    // Rods keep their travel: it is the dog rings that are longer.
    let rod = &layout.rods[0];
    assert!(close(rod.positions[0].move_mm, -3.0));

    // Of the same box with keyed gears no two could be of one piece.
    let layout = lay_out(&in_line()).unwrap();
    assert_eq!(layout.pieces.len(), 3);
    let beside = &layout.fixed_gears[1].beside;
    assert!((beside[0].run_out_mm - 407.4375_f64.sqrt()).abs() < 1e-9 && !beside[0].fits);
    assert!(close(beside[0].gap_mm, 11.7) && close(beside[1].gap_mm, 14.0));

    // A cutter of radius 12 reaches √(24·4.25 − 4.25²) = 9.16 beside the
    // head: now 2 stands there, of one piece with it.
    let mut gearbox = in_line();
    gearbox.blanks = Blanks::Auto;
    gearbox.sizes.cutter_radius_mm = 12.0;
    let layout = lay_out(&gearbox).unwrap();
    assert!(close(layout.length_mm, 52.1));
    let joined = layout.pieces.iter().any(|piece| piece.len() > 1);
    assert!(joined, "{:?}", layout.pieces);
}

// 1000 N on 1 alone. Nearest the wall its middle is 5.2 from the output:
// M = 1000 · 5.2 (L − 5.2) / L, L = 52.1, on the main shaft; no load on the
// layshaft's head.
#[test]
fn least_bending_puts_the_load_next_to_a_wall() {
    let mut gearbox = in_line();
    gearbox.goal = Goal::LeastBending;
    gearbox.loads = vec![Load {
        role: Role::Speed(0),
        on_driver_n: [600.0, 800.0],
        on_driven_n: [-600.0, -800.0],
        on_head_n: [0.0, 0.0],
    }];
    let layout = lay_out(&gearbox).unwrap();
    assert_eq!(roles(&layout), [Role::Head, Role::Speed(1), Role::Speed(0)]);
    let expected_n_m = 5.2 * (52.1 - 5.2) / 52.1;
    assert!(
        close(layout.bending_n_m, expected_n_m),
        "{}",
        layout.bending_n_m
    );
}

// The pin of radius 4 is 25 from the main shaft and 18 from the layshaft. The
// main gear of 1 (tip 21) and the layshaft gear of 2 (tip 17) leave it less
// than 0.5, so both stand on the other side of reverse; so does the layshaft
// gear of the head (tip 19), which no order puts behind a pin from the input.
#[test]
fn a_stub_pin_keeps_large_gears_off_its_side() {
    let layout = lay_out(&with_reverse(Pin::Stub(End::Output))).unwrap();
    let order = [Role::Head, Role::Speed(0), Role::Speed(1), Role::Reverse];
    assert_eq!(roles(&layout), order);
    let head = PartId::Gear(Role::Head, Seat::Driven);
    for pin in [Pin::Stub(End::Input), Pin::Through] {
        let faults = lay_out(&with_reverse(pin)).unwrap_err();
        match &faults[..] {
            [Fault::NoOrder(pairs)] => assert!(pairs.contains(&(head, PartId::Pin)), "{pairs:?}"),
            other => panic!("{other:?}"),
        }
    }
}

// The pin passes 3 (tips 13 and 19), its idler of tip 10 does not: where 3 is
// behind reverse the plate that holds the pin lies at the bottom, else it
// closes and brings the idler.
#[test]
fn an_idler_that_cannot_pass_goes_on_with_the_shafts() {
    let idler = PartId::Gear(Role::Reverse, Seat::Idler);
    let third = Role::Speed(2);
    for (served, plate) in [
        ([third, Role::Reverse], "output"),
        ([Role::Reverse, third], "input"),
    ] {
        let mut gearbox = with_reverse(Pin::Stub(End::Output));
        gearbox.speeds.push(pair(third, 12.0));
        gearbox.sleeves.pop();
        gearbox.sleeves.push(served.to_vec());
        let layout = lay_out(&gearbox).unwrap();
        assert_eq!(roles(&layout).last(), served.last());
        let steps = layout.assembly.unwrap();
        let closing = steps.last().unwrap();
        assert!(
            closing.words.contains(&format!("{plate} plate")),
            "{}",
            closing.words
        );
        assert_eq!(closing.parts.contains(&idler), plate == "output");
    }
}

// A hole of 9 in a closed case: no gear passes it, so all are lowered in and
// the shafts pushed through; a hole of 22 lets the whole layshaft in.
#[test]
fn a_closed_case_takes_through_its_holes_what_passes_them() {
    let mut gearbox = in_line();
    gearbox.arrangement = Arrangement::Offset;
    gearbox.head = None;
    gearbox.shafts.input = None;
    gearbox.sleeves.truncate(1);
    gearbox.case = Case::Closed;
    let words = |gearbox: &Gearbox| -> Vec<String> {
        let steps = lay_out(gearbox).unwrap().assembly.unwrap();
        steps.into_iter().map(|step| step.words).collect()
    };
    let narrow = words(&gearbox);
    let through = |words: &[String]| {
        words
            .iter()
            .filter(|w| w.contains("all that is there"))
            .count()
    };
    let whole = |words: &[String]| {
        words
            .iter()
            .filter(|w| w.contains("all that is on it in"))
            .count()
    };
    assert_eq!((through(&narrow), whole(&narrow)), (2, 0), "{narrow:?}");
    gearbox.shafts.fixed.bearing_outside_radius_mm = 17.0;
    let wide = words(&gearbox);
    assert_eq!((through(&wide), whole(&wide)), (1, 1), "{wide:?}");
}

// The main shaft's end lies 6 mm inside the input gear (z 1.2 to 9.2).
#[test]
fn the_main_shaft_runs_in_the_input_gear() {
    let layout = lay_out(&in_line()).unwrap();
    let main = layout
        .parts
        .iter()
        .filter(|part| part.id == PartId::Shaft(Shaft::Main));
    let begins = main.map(|part| part.from_mm).fold(f64::INFINITY, f64::min);
    assert!(close(begins, 3.2), "{begins}");
    let gear = PartId::Gear(Role::Head, Seat::Driver);
    let gear = layout.parts.iter().find(|part| part.id == gear).unwrap();
    assert!(close(gear.from_mm, 1.2) && close(gear.to_mm, 9.2));
}

#[test]
fn who_serves_whom_is_checked() {
    let faults = |change: fn(&mut Gearbox)| {
        let mut gearbox = in_line();
        change(&mut gearbox);
        lay_out(&gearbox).unwrap_err()
    };
    let second = Role::Speed(1);
    assert_eq!(
        faults(|g| g.sleeves[0].truncate(1)),
        [Fault::NotServed(second)]
    );
    assert_eq!(
        faults(|g| g.sleeves[1].push(Role::Speed(1))),
        [Fault::ServedTwice(second)]
    );
    let reverse = Fault::NoSuchGear(Role::Reverse);
    assert_eq!(faults(|g| g.sleeves.push(vec![Role::Reverse])), [reverse]);
    assert_eq!(faults(|g| g.sleeves.push(vec![])), [Fault::SleeveOf(2)]);
    assert!(faults(|g| g.head = None).contains(&Fault::Head));
    let overlap = Fault::Figure("the dogs' overlap");
    assert_eq!(faults(|g| g.sizes.dog_overlap_mm = 3.01), [overlap]);
    assert_eq!(
        faults(|g| g.speeds[1].role = Role::Speed(0)).first(),
        Some(&Fault::Twice(Role::Speed(0)))
    );
    assert!(!faults(|g| g.sizes.wall_mm = f64::NAN).is_empty());
}

/// Holes by hand, both sides of the limit: a hole must stay inside the roots,
/// and let the shaft through.
#[test]
fn a_hole_that_is_no_hole_names_its_gear() {
    let shaft_mm = in_line().shafts.free.radius_mm;
    let root_mm = in_line().speeds[0].driven.root_radius_mm;
    let with_hole = |radius_mm: f64| {
        let mut gearbox = in_line();
        gearbox.speeds[0].driven.hole_radius_mm = radius_mm;
        let found = lay_out(&gearbox).err().unwrap_or_default();
        let holes = found.iter().filter(|fault| {
            matches!(
                fault,
                Fault::HoleOverRoot { .. } | Fault::HoleUnderShaft { .. }
            )
        });
        holes.map(|fault| fault.words(&gearbox)).collect::<Vec<_>>()
    };
    assert_eq!(with_hole(shaft_mm), [""; 0]);
    let narrow = with_hole(shaft_mm - 0.01);
    assert!(
        narrow.len() == 1 && narrow[0].contains("does not go on the main shaft"),
        "{narrow:?}"
    );
    assert_eq!(with_hole(root_mm - 0.01), [""; 0]);
    let wide = with_hole(root_mm);
    let name = format!("the main gear of {}", in_line().speeds[0].name);
    assert!(
        wide.len() == 1 && wide[0].starts_with(&name) && wide[0].contains("must be thinner"),
        "{wide:?}"
    );
}

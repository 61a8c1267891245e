//! Laws of shifted gears, on gears that nobody chose.

use crate::random::Draw;
use layshaft::base::{Decimal, Module, Teeth};
use layshaft::involute::{
    Closing, GearSize, Member, Meshing, NoSplit, PinFault, Rack, ShiftedGear, Split, SplitLimit,
    SplitLimits, Thinning, Toothing,
};

fn thousandths(draw: &mut Draw, low: u64, high: u64) -> f64 {
    f64::from(u32::try_from(draw.whole(low, high)).unwrap()) / 1000.0
}

fn count(draw: &mut Draw, low: u64, high: u64) -> Teeth {
    Teeth::new(u16::try_from(draw.whole(low, high)).unwrap())
}

/// Racks of a workshop: ISO 53, stub, old and steep angles, sharp corners.
fn rack(draw: &mut Draw) -> Rack {
    let (alpha, addendum, dedendum, fillet) = draw.pick(&[
        (20.0, 1.0, 1.25, None),
        (20.0, 1.0, 1.25, Some(0.25)),
        (20.0, 1.0, 1.4, Some(0.39)),
        (20.0, 0.8, 1.0, None),
        (14.5, 1.0, 1.157, None),
        (25.0, 1.0, 1.25, None),
        (25.0, 1.0, 1.25, Some(0.0)),
    ]);
    Rack::new(alpha, addendum, dedendum, fillet).unwrap()
}

fn toothing(draw: &mut Draw) -> Toothing {
    let module = thousandths(draw, 300, 5000);
    let beta = if draw.percent(50) {
        thousandths(draw, 1, 35_000)
    } else {
        0.0
    };
    Toothing::new(rack(draw), module, beta.to_radians()).unwrap()
}

/// A mesh with a sum of shifts from −0.8 to 1.2.
fn closing(draw: &mut Draw) -> Closing {
    let toothing = toothing(draw);
    let teeth = [count(draw, 8, 60), count(draw, 8, 120)];
    let sum = thousandths(draw, 0, 2000) - 0.8;
    let least = Closing::from_shift_sum(toothing, teeth, sum);
    least.unwrap_or_else(|_| Closing::from_shift_sum(toothing, teeth, 0.3).unwrap())
}

fn limits() -> SplitLimits {
    SplitLimits::within(-0.5, 0.8)
}

fn swapped(closing: &Closing) -> Closing {
    let [first, second] = closing.teeth();
    Closing::at_centres(*closing.toothing(), [second, first], closing.centres_mm()).unwrap()
}

#[test]
fn split_meshes_close_their_centres_and_hold_every_limit() {
    let (mut draw, mut splits, mut refused) = (Draw::new(11), 0, 0);
    for _ in 0..2000 {
        let closing = closing(&mut draw);
        let Ok(split) = closing.split(&limits()) else {
            refused += 1;
            continue;
        };
        splits += 1;
        let mesh = Meshing::closed(&closing, split.first).unwrap();
        let [first, second] = mesh.gears();
        assert!((split.first + split.second - closing.shift_sum()).abs() < 1e-12);
        assert!(mesh.backlash_mm().abs() < 1e-9, "{closing:?}");
        let again = Closing::from_shift_sum(
            *closing.toothing(),
            closing.teeth(),
            first.shift() + second.shift(),
        );
        assert!((again.unwrap().centres_mm() - closing.centres_mm()).abs() < 1e-9);
        let module = closing.toothing().module_mm();
        for member in Member::BOTH {
            let gear = mesh.gear(member);
            assert!((-0.5 - 1e-9..=0.8 + 1e-9).contains(&gear.shift()));
            assert!(gear.shift() >= gear.least_shift() - 1e-9);
            assert!(gear.tip_thickness_mm() >= (0.2 - 1e-9) * module);
            assert!(mesh.root_margin_mm(member) >= -1e-8 * module, "{mesh:?}");
            let clearance = closing.toothing().rack().clearance() * module;
            assert!((mesh.tip_clearance_mm(member) - clearance).abs() < 1e-9);
        }
        assert!(mesh.nominal_contact_ratio() >= 1.2 - 1e-9);
        // Nothing undercut and nothing fouled: nominal and true are one.
        let lost = mesh.nominal_contact_ratio() - mesh.contact_ratio();
        assert!(lost.abs() < 1e-7, "{lost}");
    }
    assert!(splits > 400 && refused > 200, "{splits} {refused}");
}

/// Whether x₁ holds every limit, asked of the gears themselves.
fn is_legal(closing: &Closing, first: f64, slack: f64) -> bool {
    let module = closing.toothing().module_mm();
    let Ok(mesh) = Meshing::closed(closing, first) else {
        return false;
    };
    mesh.nominal_contact_ratio() >= 1.2 - slack
        && Member::BOTH.iter().all(|&member| {
            let gear = mesh.gear(member);
            gear.shift() >= gear.least_shift().max(-0.5) - slack
                && gear.shift() <= 0.8 + slack
                && gear.tip_thickness_mm() >= (0.2 - slack) * module
                && mesh.root_margin_mm(member) >= -slack * module
        })
}

#[test]
fn the_legal_interval_is_all_that_is_legal() {
    let mut draw = Draw::new(12);
    let (mut inside, mut outside) = (0, 0);
    for _ in 0..400 {
        let closing = closing(&mut draw);
        let legal = closing.split(&limits()).map(|split| split.legal);
        for step in -60..=90 {
            let first = f64::from(step) * 0.01;
            match legal {
                Ok((from, to)) if first > from + 1e-6 && first < to - 1e-6 => {
                    assert!(is_legal(&closing, first, 1e-7), "{closing:?} {first}");
                    inside += 1;
                }
                Ok((from, to)) if first > from - 1e-6 && first < to + 1e-6 => {}
                _ => {
                    assert!(!is_legal(&closing, first, -1e-7), "{closing:?} {first}");
                    outside += 1;
                }
            }
        }
    }
    assert!(inside > 3000 && outside > 10_000, "{inside} {outside}");
}

#[test]
fn a_balanced_split_slides_alike_at_both_ends() {
    let (mut draw, mut balanced) = (Draw::new(13), 0);
    for _ in 0..1000 {
        let closing = closing(&mut draw);
        let Some(first) = closing.balanced_first_shift() else {
            continue;
        };
        let Ok(mesh) = Meshing::closed(&closing, first) else {
            continue;
        };
        let [start, end] = mesh.sliding_at_ends(&mesh.nominal_path());
        let off = (start.first - end.second).abs() / (1.0 + start.first.abs());
        assert!(off < 1e-6, "{start:?} {end:?}");
        balanced += 1;
    }
    assert!(balanced > 500, "{balanced}");
}

#[test]
fn a_swapped_pair_is_split_the_other_way_round() {
    let mut draw = Draw::new(14);
    for _ in 0..1000 {
        let closing = closing(&mut draw);
        let (one, other) = (closing.split(&limits()), swapped(&closing).split(&limits()));
        match (one, other) {
            (Ok(one), Ok(other)) => same_split(&one, &other, closing.shift_sum()),
            (Err(NoSplit { limit: one, .. }), Err(NoSplit { limit: other, .. })) => {
                assert_eq!(one, other);
            }
            both => panic!("{closing:?} {both:?}"),
        }
    }
}

fn same_split(one: &Split, other: &Split, sum: f64) {
    assert!((one.first - other.second).abs() < 1e-8, "{one:?} {other:?}");
    assert!((one.legal.0 + other.legal.1 - sum).abs() < 1e-8);
    assert!((one.legal.1 + other.legal.0 - sum).abs() < 1e-8);
}

#[test]
fn each_limit_can_be_the_one_that_refuses() {
    let mut draw = Draw::new(15);
    let mut seen = std::collections::BTreeSet::new();
    for _ in 0..3000 {
        let closing = closing(&mut draw);
        let bored = draw.percent(20);
        // Little room, so that the last limit gets its turn.
        let narrow = SplitLimits {
            least: [if bored { -0.2 } else { -2.0 }, f64::NEG_INFINITY],
            contact_ratio: 1.55,
            tip_thickness: 0.45,
            ..SplitLimits::within(-0.3, 0.4)
        };
        if let Err(none) = closing.split(&narrow) {
            seen.insert(none.limit);
        }
    }
    let all = [
        SplitLimit::Shift,
        SplitLimit::Wall,
        SplitLimit::Undercut,
        SplitLimit::TipThickness,
        SplitLimit::Interference,
        SplitLimit::ContactRatio,
    ];
    assert!(all.iter().all(|limit| seen.contains(limit)), "{seen:?}");
}

/// Limits of any strength, so that the split is moved by each of them.
fn drawn_limits(draw: &mut Draw) -> SplitLimits {
    let wall = |draw: &mut Draw| thousandths(draw, 0, 1500) - 1.2;
    SplitLimits {
        shift: (
            thousandths(draw, 0, 500) - 0.7,
            thousandths(draw, 0, 900) + 0.1,
        ),
        least: [wall(draw), wall(draw)],
        undercut_allowed: draw.percent(50),
        interference_allowed: draw.percent(30),
        tip_thickness: thousandths(draw, 0, 700),
        contact_ratio: thousandths(draw, 1000, 1600),
    }
}

#[test]
fn the_short_way_to_a_split_ends_at_the_same_shift() {
    let mut draw = Draw::new(22);
    let (mut same, mut refused, mut moved) = (0, 0, 0);
    for _ in 0..5000 {
        let closing = closing(&mut draw);
        let limits = drawn_limits(&mut draw);
        match (closing.split(&limits), closing.first_shift(&limits)) {
            (Ok(split), Ok(first)) => {
                assert!(
                    (split.first - first).abs() < 1e-12,
                    "{closing:?} {limits:?}"
                );
                same += 1;
                let away = split.balanced.is_none_or(|x| (x - first).abs() > 1e-9);
                moved += usize::from(away);
            }
            (Err(long), Err(short)) => {
                assert_eq!(long, short);
                refused += 1;
            }
            both => panic!("{closing:?} {limits:?} {both:?}"),
        }
    }
    assert!(same > 1000 && refused > 1000, "{same} {refused}");
    assert!(moved > 500 && same - moved > 300, "{moved} of {same}");
}

/// The plain twin: every thousandth of x₁, each asked of the gears themselves.
#[test]
fn a_dense_scan_finds_the_same_legal_splits() {
    let (mut draw, mut found) = (Draw::new(23), 0);
    for _ in 0..300 {
        let closing = closing(&mut draw);
        let limits = drawn_limits(&mut draw);
        let legal = closing.split(&limits).map(|split| split.legal).ok();
        // Off the whole thousandths, where limits stand.
        let scan = || (-800..=1200).map(|step| f64::from(step) * 1e-3 + 3.7e-4);
        let kept = scan().filter(|&first| keeps_all(&closing, &limits, first));
        let kept: Vec<f64> = kept.collect();
        let Some((from, to)) = legal else {
            assert!(kept.is_empty(), "{closing:?} {limits:?}");
            continue;
        };
        let inside: Vec<f64> = scan().filter(|first| (from..=to).contains(first)).collect();
        assert!(kept == inside, "{closing:?} {limits:?} {from} {to}");
        found += usize::from(inside.len() > 5);
    }
    assert!(found > 50, "{found}");
}

fn keeps_all(closing: &Closing, limits: &SplitLimits, first: f64) -> bool {
    let second = closing.shift_sum() - first;
    let module = closing.toothing().module_mm();
    let Ok(mesh) = Meshing::closed(closing, first) else {
        return false;
    };
    let both = [(Member::First, first), (Member::Second, second)];
    mesh.nominal_contact_ratio() >= limits.contact_ratio
        && both
            .iter()
            .zip(limits.least)
            .all(|(&(member, shift), wall)| {
                let gear = mesh.gear(member);
                gear.tip_mm() >= gear.reference_mm()
                    && shift >= limits.shift.0.max(wall)
                    && shift <= limits.shift.1
                    && (limits.undercut_allowed || shift >= gear.least_shift())
                    && gear.tip_thickness_mm() >= limits.tip_thickness * module
                    && (limits.interference_allowed || mesh.root_margin_mm(member) >= -1e-9)
            })
}

/// A wall above a bore asks a least shift of one gear, whatever the others ask.
#[test]
fn walls_cut_the_legal_interval_where_they_stand() {
    let (mut draw, mut cut, mut refused) = (Draw::new(21), 0, 0);
    for _ in 0..1000 {
        let closing = closing(&mut draw);
        let Ok(free) = closing.split(&limits()) else {
            continue;
        };
        let least = [(); 2].map(|()| thousandths(&mut draw, 0, 1200) - 0.6);
        let walled = SplitLimits { least, ..limits() };
        let from = free.legal.0.max(least[0]);
        let to = free.legal.1.min(closing.shift_sum() - least[1]);
        match closing.split(&walled) {
            Ok(split) => {
                assert!((split.legal.0 - from).abs() < 1e-9);
                assert!((split.legal.1 - to).abs() < 1e-9);
                cut += 1;
            }
            Err(none) => {
                assert!(from > to - 1e-9, "{none:?}");
                // The wall is asked first of what is left, and alone it leaves
                // what its two shifts leave.
                let alone = (least[0], closing.shift_sum() - least[1]);
                let any = alone.0 <= alone.1;
                if none.limit == SplitLimit::Wall {
                    assert_eq!(none.alone, any.then_some(alone));
                }
                refused += 1;
            }
        }
    }
    assert!(cut > 100 && refused > 100, "{cut} {refused}");
}

#[test]
fn figures_are_numbers_and_do_not_jump_with_the_shift() {
    let (mut draw, mut steps) = (Draw::new(16), 0);
    for _ in 0..60 {
        let closing = closing(&mut draw);
        let mut before: Option<[f64; 4]> = None;
        for step in -500..=900 {
            let Ok(mesh) = Meshing::closed(&closing, f64::from(step) * 0.001) else {
                before = None;
                continue;
            };
            let module = closing.toothing().module_mm();
            let now = [
                mesh.gears()[0].tip_thickness_mm() / module,
                mesh.gears()[1].tip_thickness_mm() / module,
                mesh.nominal_contact_ratio(),
                mesh.contact_ratio(),
            ];
            assert!(now.iter().all(|figure| figure.is_finite()));
            if let Some(before) = before {
                for (now, before) in now.iter().zip(before) {
                    assert!((now - before).abs() < 0.03, "{closing:?} {step}");
                }
                steps += 1;
            }
            before = Some(now);
        }
    }
    assert!(steps > 20_000, "{steps}");
}

#[test]
fn tips_that_foul_are_turned_down_just_enough() {
    let (mut draw, mut turned, mut whole) = (Draw::new(17), 0, 0);
    for _ in 0..1000 {
        let closing = closing(&mut draw);
        let Ok(mesh) = Meshing::closed(&closing, closing.shift_sum() / 2.0) else {
            continue;
        };
        let Ok(clear) = mesh.with_clear_tips() else {
            continue;
        };
        for member in Member::BOTH {
            let margin = mesh.root_margin_mm(member);
            let after = clear.root_margin_mm(member);
            let wanted = margin.max(0.0);
            assert!((after - wanted).abs() < 1e-9, "{margin} {after}");
            // The mate's fillet decides how much of this gear's tip goes.
            let mate = member.mate();
            let lower = mesh.gear(mate).tip_shortening() - clear.gear(mate).tip_shortening();
            assert_eq!(lower > 0.0, margin < -1e-9, "{margin} {lower}");
            turned += usize::from(margin < -1e-6);
        }
        assert!((clear.contact_ratio() - mesh.contact_ratio()).abs() < 1e-9);
        // Off the fillets, whatever contact is left is between the tips.
        let nominal = clear.nominal_contact_ratio().max(0.0);
        assert!((clear.contact_ratio() - nominal).abs() < 1e-9);
        let fouls = Member::BOTH.iter().any(|&m| mesh.root_margin_mm(m) < -1e-9);
        assert_eq!(clear == mesh, !fouls);
        whole += usize::from(!fouls);
    }
    assert!(turned > 100 && whole > 100, "{turned} {whole}");
}

#[test]
fn without_shift_it_is_the_plain_gear() {
    let mut draw = Draw::new(18);
    for _ in 0..200 {
        let rack = rack(&mut draw);
        let module = draw.pick(&["0.5", "0.8", "1", "1.25", "3"]);
        let module = Module::metric(Decimal::parse(module).unwrap());
        let beta = thousandths(&mut draw, 0, 30_000).to_radians();
        let teeth = count(&mut draw, 12, 90);
        let toothing = Toothing::new(rack, module.mm(), beta).unwrap();
        let gear = ShiftedGear::new(toothing, teeth, 0.0).unwrap();
        let plain = GearSize::new(&rack, module, teeth, beta);
        assert!((gear.reference_mm() - plain.pitch_mm).abs() < 1e-11);
        assert!((gear.tip_mm() - plain.tip_mm).abs() < 1e-11);
        assert!((gear.root_mm() - plain.root_mm).abs() < 1e-11);
        let undercut = f64::from(teeth) < rack.undercut_teeth(beta);
        assert_eq!(gear.least_shift() > 0.0, undercut);
    }
}

/// A gear of any shift that may be cut.
fn gear(draw: &mut Draw) -> ShiftedGear {
    let toothing = toothing(draw);
    let plain = ShiftedGear::new(toothing, count(draw, 8, 100), 0.0).unwrap();
    let shift = plain.least_shift().max(-0.4) + thousandths(draw, 0, 500);
    ShiftedGear::new(toothing, plain.teeth(), shift).unwrap()
}

#[test]
fn thickness_sinks_along_the_flank_to_the_point() {
    let mut draw = Draw::new(19);
    for _ in 0..300 {
        let gear = gear(&mut draw);
        let at = |diameter| gear.thickness_at_mm(diameter).unwrap();
        assert!((at(gear.reference_mm()) - gear.thickness_mm()).abs() < 1e-9);
        assert!(at(gear.pointed_mm()).abs() < 1e-9 * gear.pointed_mm());
        assert!(gear.thickness_at_mm(gear.base_mm() * 0.999).is_none());
        let pointed = gear.pointed_mm() < gear.tip_mm();
        assert_eq!(gear.tip_thickness_mm() < 0.0, pointed);
    }
}

#[test]
fn thinner_teeth_measure_less_and_pins_stand_where_they_touch() {
    let (mut draw, mut pinned, mut spanned) = (Draw::new(20), 0, 0);
    for _ in 0..1000 {
        let full = gear(&mut draw);
        let amount = 0.03 * full.toothing().module_mm();
        let thin = full.with_thinning(Thinning::BySide(amount)).unwrap();
        if let Some(span) = full.best_span(full.flank_mm()) {
            let less = span.size_mm - thin.span(span.teeth).size_mm;
            let cos = full.toothing().rack().pressure_angle_rad.cos();
            assert!((less - amount * cos).abs() < 1e-9);
            assert!(span.touches(full.flank_mm()));
            spanned += 1;
        }
        let Some(pin) = full.best_pin_mm() else {
            continue;
        };
        let (Ok(over), Ok(under)) = (
            full.over_pins(pin, full.flank_mm()),
            thin.over_pins(pin, full.flank_mm()),
        ) else {
            continue;
        };
        let aim = full.reference_mm() + 2.0 * full.shift() * full.toothing().module_mm();
        assert!((over.contact_mm - aim).abs() < 1e-8 * aim);
        assert!(under.size_mm < over.size_mm);
        pinned += 1;
    }
    assert!(pinned > 500 && spanned > 500, "{pinned} {spanned}");
}

/// The space that a pin lies in, built from thicknesses alone: at the centre's
/// circle, the normal from the pin's centre to the flank is one pin radius.
#[test]
fn a_pin_lies_a_radius_from_the_flank() {
    let toothing = Toothing::new(Rack::standard(20.0), 2.0, 0.0).unwrap();
    for (z, x) in [(17, 0.2), (18, 0.0), (25, -0.2), (41, 0.4)] {
        let gear = ShiftedGear::new(toothing, Teeth::new(z), x).unwrap();
        let pin = gear.over_pins(3.5, gear.flank_mm()).unwrap();
        let centre = pin.centres_mm / 2.0;
        let mut nearest = f64::INFINITY;
        for step in 0..=20_000 {
            let share = f64::from(step) / 20_000.0;
            let diameter = gear.base_mm() + share * (gear.tip_mm() - gear.base_mm());
            // Half the space there, seen from the gear's centre.
            let tooth = gear.thickness_at_mm(diameter).unwrap() / diameter;
            let angle = std::f64::consts::PI / f64::from(z) - tooth;
            let (across, along) = (diameter / 2.0 * angle.sin(), diameter / 2.0 * angle.cos());
            nearest = nearest.min(across.hypot(along - centre));
        }
        assert!((nearest - 1.75).abs() < 1e-6, "{z} {x}: {nearest}");
    }
}

#[test]
fn unfit_pins_are_refused_for_their_reason() {
    let toothing = Toothing::new(Rack::standard(20.0), 1.0, 0.0).unwrap();
    let gear = ShiftedGear::new(toothing, Teeth::new(20), 0.0).unwrap();
    let refused = |pin| gear.over_pins(pin, gear.flank_mm()).unwrap_err();
    assert_eq!(refused(0.0), PinFault::NoSize);
    assert_eq!(refused(f64::NAN), PinFault::NoSize);
    assert_eq!(refused(0.6), PinFault::TooThin);
    assert_eq!(refused(4.5), PinFault::TooHigh);
    assert!(gear.over_pins(1.7, gear.flank_mm()).is_ok());
    let owned = [0.6, 1.5, 1.75, 4.5];
    let best = gear.over_best_of(&owned, gear.flank_mm()).unwrap();
    assert!((best.pin_mm - 1.75).abs() < 1e-12);
}

//! Shifted gears in mesh. *GMTH*: Elements of Metric Gear Technology.

use layshaft::base::Teeth;
use layshaft::involute::{Closing, Member, Meshing, Rack, ShiftedGear, Toothing};

fn toothing(alpha_deg: f64, module_mm: f64, beta_deg: f64) -> Toothing {
    Toothing::new(Rack::standard(alpha_deg), module_mm, beta_deg.to_radians()).unwrap()
}

fn teeth(counts: [u16; 2]) -> [Teeth; 2] {
    counts.map(Teeth::new)
}

fn unshifted(toothing: Toothing, counts: [u16; 2]) -> Meshing {
    let closing = Closing::from_shift_sum(toothing, teeth(counts), 0.0).unwrap();
    Meshing::closed(&closing, 0.0).unwrap()
}

#[track_caller]
fn near(got: f64, published: f64, within: f64) {
    assert!((got - published).abs() <= within, "{got}, not {published}");
}

// Row 2.02: GMTH Table 4-1 (from memory, recomputed): spur m 3, z 12/24. The
// published 1.5111 is nominal; the true figure, with the generated undercut, is
// recomputed.
#[test]
fn a_standard_pair() {
    let mesh = unshifted(toothing(20.0, 3.0, 0.0), [12, 24]);
    near(mesh.centres_mm(), 54.0, 1e-9);
    for (gear, [d, db, da, df]) in mesh
        .gears()
        .iter()
        .zip([[36.0, 33.8289, 42.0, 28.5], [72.0, 67.6579, 78.0, 64.5]])
    {
        near(gear.reference_mm(), d, 1e-9);
        near(gear.base_mm(), db, 1e-4);
        near(gear.tip_mm(), da, 1e-9);
        near(gear.root_mm(), df, 1e-9);
    }
    near(mesh.nominal_contact_ratio(), 1.5111, 1e-4);
    near(mesh.contact_ratio(), 1.27456, 1e-5);
    // Limited at the base tangent point alone.
    let path = mesh.nominal_path();
    let limited = (path.to_mm - path.from_mm.max(0.0)) / mesh.toothing().base_pitch_mm();
    near(limited, 1.4053, 1e-4);
}

// Row 2.04: GMTH Table 4-3 (from memory, recomputed): spur m 3, z 12/24, x
// 0.6/0.36; and without tip shortening.
#[test]
fn a_shifted_pair() {
    let closing = Closing::from_shift_sum(toothing(20.0, 3.0, 0.0), teeth([12, 24]), 0.96).unwrap();
    let mesh = Meshing::closed(&closing, 0.6).unwrap();
    near(mesh.working_mm(Member::First), 37.6666, 1e-4);
    near(mesh.working_mm(Member::Second), 75.3332, 1e-4);
    for (gear, [da, df, ha]) in mesh
        .gears()
        .iter()
        .zip([[44.8397, 32.100, 4.4199], [79.3997, 66.660, 3.6999]])
    {
        near(gear.tip_mm(), da, 1e-4);
        near(gear.root_mm(), df, 1e-9);
        near((gear.tip_mm() - gear.reference_mm()) / 2.0, ha, 1e-4);
        near((gear.tip_mm() - gear.root_mm()) / 2.0, 6.3699, 1e-4);
    }
    near(mesh.nominal_contact_ratio(), 1.2021, 1e-4);
    near(mesh.contact_ratio(), 1.2021, 1e-4);
    for member in Member::BOTH {
        near(mesh.tip_clearance_mm(member), 0.25 * 3.0, 1e-9);
    }
    let full = mesh
        .gears()
        .map(|gear| gear.with_tip_shortening(0.0).unwrap());
    let full = mesh.with_gears(full).unwrap();
    near(full.gears()[0].tip_mm(), 45.6, 1e-9);
    near(full.gears()[1].tip_mm(), 80.16, 1e-9);
    near(full.nominal_contact_ratio(), 1.3478, 1e-4);
}

// Row 2.10: ISO 21771 / DIN 3960 geometry (recomputed), for h* = 1.
#[test]
fn least_shifts() {
    let rack = Rack::new(
        20.0,
        1.0,
        1.25,
        Some(0.25 / (1.0 - 20_f64.to_radians().sin())),
    )
    .unwrap();
    let spur = Toothing::new(rack, 1.0, 0.0).unwrap();
    for (z, least) in [
        (8, 0.5321),
        (9, 0.4736),
        (10, 0.4151),
        (11, 0.3566),
        (12, 0.2981),
        (13, 0.2396),
        (14, 0.1812),
        (15, 0.1227),
        (16, 0.0642),
        (17, 0.0057),
    ] {
        let gear = ShiftedGear::new(spur, Teeth::new(z), 0.0).unwrap();
        near(gear.least_shift(), least, 1e-4);
    }
}

// Row 2.18: ISO 21771 (recomputed): contact ratios without shift.
#[test]
fn contact_ratios() {
    for (counts, ratio) in [
        ([17, 17], 1.5148),
        ([20, 20], 1.5568),
        ([20, 40], 1.6352),
        ([18, 36], 1.6111),
        ([30, 60], 1.7191),
        ([23, 68], 1.6976),
    ] {
        let mesh = unshifted(toothing(20.0, 1.0, 0.0), counts);
        near(mesh.nominal_contact_ratio(), ratio, 1e-4);
    }
    let helical = unshifted(toothing(20.0, 3.0, 15.0), [20, 40]);
    near(helical.centres_mm(), 93.1749, 1e-4);
    near(helical.nominal_contact_ratio(), 1.5609, 1e-4);
    near(helical.contact_ratio(), 1.5609, 1e-4);
}

// Row 2.17: TOM 12.2, recomputed (a stored output prints 6.17): 40/40, m 6,
// arc of contact 1.75 circular pitches.
#[test]
fn the_addendum_of_a_wanted_arc() {
    let rack = Rack::new(20.0, 6.1444 / 6.0, 1.3, None).unwrap();
    let mesh = unshifted(Toothing::new(rack, 6.0, 0.0).unwrap(), [40, 40]);
    near(mesh.nominal_contact_ratio(), 1.75, 1e-4);
}

// Row 2.03: GMTH Table 4-2: m 3, a 54, speed ratio 0.8: 36 teeth together, 16
// and 20.
#[test]
fn teeth_from_the_centres_and_the_ratio() {
    let text = r#"{ "arrangement": "offset", "centre_distance_mm": 54,
        "gears": { "modules_mm": [3], "min_teeth": 5, "max_teeth": 60, "face_width_mm": 20 },
        "speeds": [{ "ratio": 0.8, "tolerance_percent": 0.001 }] }"#;
    let problem = layshaft::problem::parse("row", text).unwrap();
    let request = layshaft::search::Request {
        top: 5,
        trains: 0,
        threads: 1,
    };
    let found = layshaft::search::solve(&problem, request, &layshaft::search::Control::default());
    let pairs: Vec<_> = found.sets.iter().map(|set| set.pairs[0]).collect();
    let teeth: Vec<_> = pairs
        .iter()
        .map(|p| (p.driver.get(), p.driven.get()))
        .collect();
    assert_eq!(teeth, [(20, 16)]);
}

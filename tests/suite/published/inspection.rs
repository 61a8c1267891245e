//! Sizes to measure. *GMTH*: Elements of Metric Gear Technology.

use layshaft::base::Teeth;
use layshaft::involute::{Rack, ShiftedGear, Thinning, Toothing};

fn gear(alpha: f64, module: f64, beta_deg: f64, z: u16, x: f64) -> ShiftedGear {
    let toothing = Toothing::new(Rack::standard(alpha), module, beta_deg.to_radians()).unwrap();
    ShiftedGear::new(toothing, Teeth::new(z), x).unwrap()
}

#[track_caller]
fn near(got: f64, published: f64, within: f64) {
    assert!((got - published).abs() <= within, "{got}, not {published}");
}

fn over(gear: &ShiftedGear, pin_mm: f64) -> f64 {
    // The tables do not ask where the pin touches: any flank above the base.
    let flank = (gear.base_mm(), gear.tip_mm());
    gear.over_pins(pin_mm, flank).unwrap().size_mm
}

// Row 3.01: DIN 3960 / handbook constants (from memory, recomputed).
#[test]
fn the_constants_of_the_span() {
    for (z, x, k) in [(17, 0.0, 2), (40, 0.3, 5), (61, -0.2, 7)] {
        let wanted =
            2.952_131 * (f64::from(k) - 0.5) + 0.014_005_54 * f64::from(z) + 0.684_040_3 * x;
        near(gear(20.0, 1.0, 0.0, z, x).span(k).size_mm, wanted, 1e-5);
    }
    let wanted = 3.041_526 * 3.5 + 0.005_368_23 * 30.0;
    near(gear(14.5, 1.0, 0.0, 30, 0.0).span(4).size_mm, wanted, 1e-5);
}

// Row 3.02: GMTH Table 10-10 (from memory, recomputed).
#[test]
fn a_published_span() {
    let gear = gear(20.0, 3.0, 0.0, 24, 0.4);
    let best = gear.best_span(gear.flank_mm()).unwrap();
    assert_eq!(best.teeth, 4);
    near(best.size_mm, 32.8266, 1e-4);
    near(best.face_over_mm, 0.0, 1e-300);
}

// Row 3.04: standard base-tangent tables, m 1 (recomputed); at z = 9n two
// counts tie and the table takes the smaller.
#[test]
fn the_span_table() {
    let table = [
        (8, 2, 4.5402),
        (9, 2, 4.5542),
        (12, 2, 4.5963),
        (17, 2, 4.6663),
        (19, 3, 7.6464),
        (26, 3, 7.7445),
        (28, 4, 10.7246),
        (35, 4, 10.8227),
        (37, 5, 13.8028),
        (44, 5, 13.9008),
        (46, 6, 16.8810),
        (53, 6, 16.9790),
        (55, 7, 19.9592),
        (60, 7, 20.0292),
        (80, 9, 26.2136),
        (100, 12, 35.3501),
        (127, 15, 44.5846),
    ];
    for (z, k, size) in table {
        let gear = gear(20.0, 1.0, 0.0, z, 0.0);
        near(gear.span(k).size_mm, size, 5e-5);
        // Below 17 teeth undercut takes the flank that the table counts on.
        let best = gear.best_span((gear.base_mm(), gear.tip_mm())).unwrap();
        assert_eq!(best.teeth, k, "{z}");
    }
    for (z, k, size, next) in [(18, 2, 4.6803, 7.6324), (54, 6, 16.9930, 19.9452)] {
        let gear = gear(20.0, 1.0, 0.0, z, 0.0);
        near(gear.span(k).size_mm, size, 5e-5);
        near(gear.span(k + 1).size_mm, next, 5e-5);
    }
}

// Rows 3.05 and 3.06: MH wire tables (from memory, recomputed; 32 T in print),
// 1 DP in inches, wire 1.728.
#[test]
fn over_wires_of_the_american_tables() {
    let table = [
        (6, 8.3032),
        (8, 10.3271),
        (10, 12.3445),
        (16, 18.3769),
        (20, 22.3900),
        (24, 26.3997),
        (32, 34.4130),
        (50, 52.4292),
        (100, 102.4456),
        (25, 27.3511),
        (31, 33.3710),
        (33, 35.3761),
        (41, 43.3920),
        (51, 53.4053),
    ];
    for (z, size) in table {
        near(over(&gear(20.0, 1.0, 0.0, z, 0.0), 1.728), size, 1e-4);
    }
    // 4 DP: module a quarter.
    near(over(&gear(20.0, 0.25, 0.0, 32, 0.0), 0.432), 8.6032, 1e-4);
}

// Row 3.07: MH (from memory, recomputed), 14.5°.
#[test]
fn over_wires_at_the_old_angle() {
    for (z, size) in [
        (8, 10.3160),
        (10, 12.3399),
        (12, 14.3590),
        (16, 18.3877),
        (24, 26.4247),
        (25, 27.3774),
        (41, 43.4348),
    ] {
        near(over(&gear(14.5, 1.0, 0.0, z, 0.0), 1.728), size, 1e-4);
    }
}

// Row 3.08: recomputed.
#[test]
fn over_metric_pins() {
    for (pin, z, size) in [
        (1.7, 17, 19.2112),
        (1.7, 18, 20.2891),
        (1.7, 20, 22.2941),
        (1.7, 21, 23.2359),
        (1.7, 25, 27.2533),
        (1.7, 30, 32.3108),
        (1.75, 20, 22.4646),
        (1.75, 21, 23.4070),
    ] {
        near(over(&gear(20.0, 1.0, 0.0, z, 0.0), pin), size, 1e-4);
    }
}

// Rows 3.09 (method GMTH Table 10-13) and 3.10, recomputed.
#[test]
fn pins_that_touch_where_they_should() {
    let shifted = gear(20.0, 3.0, 0.0, 20, 0.3);
    near(shifted.best_pin_mm().unwrap(), 5.6088, 1e-4);
    near(over(&shifted, 5.5), 69.5729, 1e-4);
    let plain = gear(20.0, 5.0, 0.0, 24, 0.0);
    let pin = plain.best_pin_mm().unwrap();
    near(pin, 8.5745, 1e-3);
    near(over(&plain, pin), 131.7710, 1e-3);
}

// Row 3.11: recomputed: helical, m_n 3, z 20, β 15°.
#[test]
fn over_pins_of_helical_gears() {
    near(over(&gear(20.0, 3.0, 15.0, 20, 0.0), 5.5), 70.3719, 1e-3);
    near(over(&gear(20.0, 3.0, 15.0, 20, 0.4), 5.5), 72.1813, 1e-3);
}

// Row 3.12: GMTH Table 10-1: m 10, z 12, x 0.3.
#[test]
fn a_published_chord() {
    let gear = gear(20.0, 10.0, 0.0, 12, 0.3);
    near(gear.normal_thickness_mm(), 17.8918, 1e-4);
    let chord = gear.chord().unwrap();
    near(chord.thickness_mm, 17.8256, 1e-4);
    near(chord.height_mm, 13.6657, 1e-4);
}

// Row 3.15: MH chordal table (from memory, recomputed). Eight and ten teeth
// are undercut past the reference circle only below 8.
#[test]
fn the_chord_table() {
    for (z, thickness, height) in [
        (8, 1.5607, 1.0769),
        (10, 1.5643, 1.0616),
        (12, 1.5663, 1.0513),
        (17, 1.5686, 1.0363),
        (26, 1.5698, 1.0237),
        (55, 1.5706, 1.0112),
    ] {
        let chord = gear(20.0, 1.0, 0.0, z, 0.0).chord().unwrap();
        near(chord.thickness_mm, thickness, 1e-4);
        near(chord.height_mm, height, 1e-4);
    }
}

// Row 3.16: textbook (recomputed).
#[test]
fn constant_chords() {
    for (alpha, thickness, height) in [(20.0, 1.38705, 0.74758), (14.5, 1.47232, 0.80962)] {
        for z in [12, 40] {
            let chord = gear(alpha, 1.0, 0.0, z, 0.0).constant_chord();
            near(chord.thickness_mm, thickness, 1e-5);
            near(chord.height_mm, height, 1e-5);
        }
    }
}

// Row 3.18: recomputed: 32 T m 1 thinned by an arc of 0.05.
#[test]
fn thinning_in_inspection_sizes() {
    let full = gear(20.0, 1.0, 0.0, 32, 0.0);
    for thinning in [Thinning::BySide(0.05), Thinning::ByDepth(0.05)] {
        let thin = full.with_thinning(thinning).unwrap();
        let span = thin.span(4).size_mm - full.span(4).size_mm;
        near(span, -0.046_985, 1e-6);
        near(over(&thin, 1.728) - over(&full, 1.728), -0.12113, 1e-5);
    }
}

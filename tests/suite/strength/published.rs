//! Section 7 of the check values. Their sources stand beside them; *Shigley*
//! is Budynas & Nisbett, Mechanical Engineering Design.

use layshaft::design::strength::{
    Bush, Press, Section, Spline, bond_thrust_n, bond_torque_n_m, counted_length_mm,
    equivalent_moment, hours, key_pressure_mpa, key_shear_mpa, life_factor, million_turns,
    reliability, torsion_mpa, twist_rad, von_mises_mpa,
};

fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{got}, not {expected}");
}

fn round(diameter_mm: f64, length_mm: f64) -> Section {
    Section {
        from_mm: 0.0,
        to_mm: length_mm,
        outside_mm: diameter_mm,
        inside_mm: 0.0,
    }
}

// Row 7.04: Shigley ch. 11 exercise: 25 kh, 350 rpm, 2.5 kN, load factor 1.2,
// reliability 0.90: x_D 525, C10 24.26 kN; with C 25.5 kN reliability 0.9195.
#[test]
fn a_bearing_for_a_reliability() {
    let catalogue_kn =
        |turns: f64, load_kn: f64, of: f64| load_kn * (turns / life_factor(of)).cbrt();
    let turns = 25e3 * 60.0 * 350.0 / 1e6;
    near(turns, 525.0, 0.5);
    near(hours(turns, 350.0), 25e3, 1e-6);
    let load_kn = 1.2 * 2.5;
    let needed = catalogue_kn(turns, load_kn, 0.90);
    near(needed, 24.26, 0.001 * 24.26);
    let share = turns / million_turns(25.5, load_kn);
    near(reliability(share), 0.9195, 0.001 * 0.9195);
    // The second of the row, recomputed: 18 kh, 470 rpm, R .95, 3 kN with the
    // load factor.
    let turns = 18e3 * 60.0 * 470.0 / 1e6;
    near(turns, 507.6, 0.1);
    near(catalogue_kn(turns, 3.0, 0.95), 28.08, 0.001 * 28.08);
}

// Row 7.07: ISO 281: C 14 kN, P 2 kN, 1000 rpm: 343 million turns, 5716.7 h.
#[test]
fn life_of_a_ball_bearing() {
    let turns = million_turns(14_000.0, 2000.0);
    near(turns, 343.0, 0.1);
    near(hours(turns, 1000.0), 5716.7, 0.1);
}

// Row 7.08: Lamé: p = E δ / (2 d) (1 − d²/D²): d 20, D 40, L 20, δ .020, E 207
// GPa, μ .12: p 77.625 MPa, T 117.06 N·m, hub hoop 129.4 MPa.
#[test]
fn a_pressed_hub() {
    let press = Press {
        shaft_mm: 20.0,
        hub_mm: 40.0,
        length_mm: 20.0,
        interference_mm: 0.020,
        elasticity_mpa: 207e3,
    };
    near(press.pressure_mpa(), 77.625, 0.01);
    near(press.torque_n_m(0.12), 117.06, 0.01);
    near(press.hub_tension_mpa(), 129.4, 0.05);
}

// Row 7.09: a textbook's exercise: aluminium gear on aluminium shaft, d 30, D
// 55, δ .10, E 69 GPa: p 80.79 MPa, bore hoop 149.2, von Mises 202.1 MPa.
#[test]
fn a_pressed_hub_of_aluminium() {
    let press = Press {
        shaft_mm: 30.0,
        hub_mm: 55.0,
        length_mm: 1.0,
        interference_mm: 0.10,
        elasticity_mpa: 69e3,
    };
    near(press.pressure_mpa(), 80.79, 0.1);
    near(press.hub_tension_mpa(), 149.2, 0.1);
    near(press.hub_stress_mpa(), 202.1, 0.1);
}

// Row 7.10: retaining compound, pin-and-collar area of ISO 10123: τ 20, d 15, L
// 12: 84.82 N·m, axial 11.31 kN; τ 15, d 12, L 10: 33.93 N·m.
#[test]
fn a_bonded_joint() {
    near(bond_torque_n_m(20.0, 15.0, 12.0), 84.82, 0.01);
    near(bond_thrust_n(20.0, 15.0, 12.0) / 1e3, 11.31, 0.01);
    near(bond_torque_n_m(15.0, 12.0, 10.0), 33.93, 0.01);
    // No more than 1.5 d counted (common practice, no source).
    near(counted_length_mm(15.0, 12.0), 12.0, 1e-12);
    near(counted_length_mm(10.0, 40.0), 15.0, 1e-12);
}

// Row 7.11: bush maker's data and p = F/(dL), v = π d n: d 20, L 20, 400 N,
// 1000 rpm: p 1.0, v 1.0472, PV 1.0472; at .10 m/s p ≤ 17.5 for PV 1.75.
#[allow(clippy::approx_constant, reason = "a speed as it is printed")]
#[test]
fn a_bronze_bush() {
    let bush = Bush {
        diameter_mm: 20.0,
        length_mm: 20.0,
    };
    near(bush.pressure(400.0), 1.0, 1e-9);
    near(bush.speed_m_s(1000.0), 1.0472, 5e-5);
    near(bush.pressure(400.0) * bush.speed_m_s(1000.0), 1.0472, 5e-5);
    // By hand: a couple of 1 N m over 20 mm: 6 C / (d L²).
    near(bush.edge_pressure(1.0), 0.75, 1e-9);
}

// Row 7.12: formula p = 2T/(z d_m h L φ): T 50 N·m, z 6, dm 24, h 1.5, L 20, φ
// .75: 30.86 MPa.
#[test]
fn a_spline() {
    let spline = Spline {
        count: 6,
        mean_mm: 24.0,
        height_mm: 1.5,
        length_mm: 20.0,
        share: 0.75,
    };
    near(spline.pressure_mpa(50.0), 30.86, 0.01);
    near(spline.shear_mpa(50.0, 3.0), 15.43, 0.01);
}

// Row 7.13: formula: key 6×6×20 in d 20, T 50 N·m: shear 41.67, bearing 83.33
// MPa.
#[test]
fn a_key() {
    near(key_shear_mpa(50.0, 20.0, 6.0, 20.0), 41.67, 0.01);
    near(key_pressure_mpa(50.0, 20.0, 6.0, 20.0), 83.33, 0.01);
}

// Row 7.14: formula: solid shaft d 20, T 50 N·m, G 79.3 GPa: τ 31.83 MPa, twist
// .2300° per 100 mm.
#[test]
fn torsion_of_a_solid_shaft() {
    let shaft = round(20.0, 100.0);
    near(torsion_mpa(&shaft, 50.0), 31.83, 0.01);
    near(twist_rad(&shaft, 50.0, 79.3e3).to_degrees(), 0.2300, 5e-5);
    // Torsion alone is √3 τ by von Mises (handbooks).
    near(
        von_mises_mpa(&shaft, 0.0, 50.0),
        3.0_f64.sqrt() * torsion_mpa(&shaft, 50.0),
        1e-9,
    );
}

/// Golinski's reducer with both shafts just stressed as much as they may be:
/// its weight, from the diameters that the stress formula asks for.
#[allow(clippy::approx_constant, reason = "the published coefficients")]
fn golinski(x5: f64) -> (f64, [f64; 2]) {
    let (x1, x2, x3, x4) = (3.5_f64, 0.7_f64, 17.0_f64, 7.3_f64);
    // Its terms 16.9e6 and 157.5e6 are the square of what torque adds to the
    // bending moment, ¾ T² here; its section modulus is 0.1 d³, its limits
    // 1100 and 850.
    let diameter = |length: f64, torque_term: f64, limit: f64| {
        let bending = 745.0 * length / (x2 * x3);
        let torque = (torque_term / 0.75).sqrt();
        (equivalent_moment(bending, torque) / (0.1 * limit)).cbrt()
    };
    let (x6, x7) = (diameter(x4, 16.9e6, 1100.0), diameter(x5, 157.5e6, 850.0));
    let weight = 0.7854 * x1 * x2 * x2 * (3.3333 * x3 * x3 + 14.9334 * x3 - 43.0934)
        - 1.508 * x1 * (x6 * x6 + x7 * x7)
        + 7.4777 * (x6.powi(3) + x7.powi(3))
        + 0.7854 * (x4 * x6 * x6 + x5 * x7 * x7);
    (weight, [x6, x7])
}

// Row 7.01: Golinski 1970; Ray 2003, AIAA J. 41(3):556: f 2994.47107 with x6
// 3.350215 and x7 5.286654, where the two stress limits g5 and g6 are met; x5
// 7.715320 follows from g11.
#[test]
fn golinski_s_shafts() {
    let (weight, [x6, x7]) = golinski(7.715_320);
    near(x6, 3.350_215, 1e-6);
    near(x7, 5.286_654, 1e-6);
    near(weight, 2_994.471_07, 1e-4);
    near((1.1 * x7 + 1.9) / 7.715_320, 1.0, 1e-6);
}

// Row 7.02: as 7.01 with x5 ≥ 7.8: f 2996.34819, x7 5.286683.
#[test]
fn golinski_s_shafts_on_a_longer_span() {
    let (weight, [_, x7]) = golinski(7.8);
    near(x7, 5.286_683, 1e-6);
    near(weight, 2_996.348_19, 1e-4);
}

//! A set rated whole, by hand and by name.

use layshaft::base::Teeth;
use layshaft::problem::{Problem, parse};
use layshaft::rating::{Factor, Origin};
use layshaft::train::{
    ModuleId, Pair, RatedMesh, ReverseGears, Role, Seat, Set, Spot, rate, weakest,
};
use std::f64::consts::PI;

/// An in-line box with two geared speeds, a direct one and reverse (invented).
fn problem(more: &str, gears: &str) -> Problem {
    let text = format!(
        r#"{{ "centre_distance_mm": 45, {more} "gears": {{ "modules_mm": [1.5], "min_teeth": 15,
        "max_teeth": 56, "face_width_mm": 12 {gears} }}, "speeds": [{{ "ratio": 3.4 }},
        {{ "ratio": 1.8 }}, {{ "direct": true }}], "reverse": {{ "ratio": 3.4 }} }}"#
    );
    parse("box", &text).unwrap()
}

fn set(problem: &Problem) -> Set {
    let module = ModuleId::new(0);
    let pair = |driver: u16, driven: u16| Pair {
        module,
        driver: Teeth::new(driver),
        driven: Teeth::new(driven),
    };
    Set {
        centre_distance: problem.centre_distances().at(0),
        head: Some(pair(22, 38)),
        pairs: vec![pair(20, 40), pair(30, 30)],
        reverse: Some(ReverseGears {
            module,
            driver: Teeth::new(18),
            idler: Teeth::new(20),
            driven: Teeth::new(36),
        }),
    }
}

const DUTY: &str = r#""duty": { "input_torque_n_m": 4, "shock": 1.25 }, "input_rpm": 900,"#;

fn rated(more: &str, gears: &str) -> Vec<RatedMesh> {
    let problem = problem(more, gears);
    rate(&problem, &set(&problem)).unwrap()
}

fn factor<'a>(mesh: &'a RatedMesh, symbol: &str, gear: Option<usize>) -> &'a Factor {
    let mut all = mesh.factors.iter();
    let found = all.find(|factor| factor.symbol == symbol && factor.gear == gear);
    found.unwrap_or_else(|| panic!("no {symbol}"))
}

fn close(got: f64, expected: f64) {
    assert!((got / expected - 1.0).abs() < 1e-9, "{got} {expected}");
}

#[test]
fn every_mesh_is_rated_and_reverse_has_two() {
    let meshes = rated(DUTY, "");
    let roles: Vec<Role> = meshes.iter().map(|mesh| mesh.role).collect();
    let [a, b] = [Role::Speed(0), Role::Speed(1)];
    assert_eq!(roles, [Role::Head, a, b, Role::Reverse, Role::Reverse]);
    let seats = |place: usize| meshes[place].gears.map(|gear| gear.seat);
    assert_eq!(seats(3), [Seat::Driver, Seat::Idler]);
    assert_eq!(seats(4), [Seat::Idler, Seat::Driven]);
    assert!(rate(&problem("", ""), &set(&problem("", ""))).is_none());
}

/// The stresses must follow from the factors printed beside them, by the
/// formulas as the norm writes them.
#[test]
fn stresses_follow_from_the_factors_that_are_told() {
    let helical = r#", "helix_angle_deg": 12, "centre_tolerance_mm": 2"#;
    for mesh in rated(DUTY, "").iter().chain(&rated(DUTY, helical)) {
        let of_mesh = |symbol| factor(mesh, symbol, None).value;
        let line = of_mesh("F_t") / of_mesh("b");
        let loads = of_mesh("K_A") * of_mesh("K_v") * of_mesh("K_Fβ, K_Hβ") * of_mesh("K_Fα, K_Hα");
        let cos = if mesh
            .factors
            .iter()
            .any(|f| f.symbol == "ε_β" && f.value > 0.0)
        {
            12_f64.to_radians().cos()
        } else {
            1.0
        };
        let diameters = mesh.gears.map(|gear| 1.5 * f64::from(gear.teeth) / cos);
        let smaller = diameters[0].min(diameters[1]);
        let u = diameters[0].max(diameters[1]) / smaller;
        let torque_n_mm = of_mesh("F_t") * diameters[0] / 2.0;
        close(torque_n_mm, mesh.load.driver_torque_n_m * 1000.0);
        close(of_mesh("v"), PI * diameters[0] * of_mesh("n") / 60_000.0);
        for gear in 0..2 {
            let own = |symbol| factor(mesh, symbol, Some(gear)).value;
            let root = line / 1.5 * own("Y_F") * own("Y_S") * own("Y_B") * of_mesh("Y_β") * loads;
            close(mesh.stress.root_mpa[gear], root);
            let limit = own("σ_Flim") * own("Y_ST") * own("Y_NT") * own("Y_X") * own("Y_A");
            close(mesh.stress.root_limit_mpa[gear], limit.min(own("σ_y Y_S")));
            close(
                mesh.safety.root[gear],
                mesh.stress.root_limit_mpa[gear] / root,
            );
            let flank = own("Z_B, Z_D")
                * of_mesh("Z_H")
                * of_mesh("Z_E")
                * of_mesh("Z_ε")
                * of_mesh("Z_β")
                * (line / smaller * (u + 1.0) / u * loads).sqrt();
            close(mesh.stress.flank_mpa[gear], flank);
            let limit = own("σ_Hlim") * own("Z_NT") * of_mesh("Z_L Z_v Z_R") * of_mesh("Z_oil");
            close(mesh.safety.flank[gear], limit / flank);
        }
    }
}

#[test]
fn origins_say_what_was_given() {
    let plain = &rated(r#""duty": { "input_torque_n_m": 4 },"#, "")[1];
    let origin = |mesh, symbol| factor(mesh, symbol, None).origin;
    for symbol in ["K_A", "n_in", "h", "share", "grade", "K_Fα, K_Hα", "Z_oil"] {
        assert_eq!(origin(plain, symbol), Origin::Defaulted, "{symbol}");
    }
    assert_eq!(origin(plain, "K_v"), Origin::Derived);
    let full = r#""duty": { "input_torque_n_m": 4, "shock": 1.5, "hours": 1000, "lubrication":
        "grease", "dynamic_factor": 1.3, "face_load_factor": 1.4, "transverse_factor": 1.2 },
        "input_rpm": 1000,"#;
    let given = &rated(full, r#", "accuracy_grade": 9"#)[1];
    for symbol in [
        "K_A",
        "K_v",
        "K_Fβ, K_Hβ",
        "K_Fα, K_Hα",
        "n_in",
        "h",
        "grade",
        "Z_oil",
    ] {
        assert_eq!(origin(given, symbol), Origin::Given, "{symbol}");
    }
    close(factor(given, "K_v", None).value, 1.3);
    close(factor(given, "K_Fβ, K_Hβ", None).value, 1.4);
    // Grease takes a tenth of the flanks (common practice, no source).
    close(factor(given, "Z_oil", None).value, 0.9);
}

#[test]
fn idler_teeth_bend_both_ways_and_so_does_all_that_reverses() {
    let left = |meshes: &[RatedMesh], mesh: usize| {
        [0, 1].map(|gear| format!("{:.3}", factor(&meshes[mesh], "Y_A", Some(gear)).value))
    };
    let plain = rated(DUTY, "");
    assert_eq!(left(&plain, 0), ["1.000", "1.000"]);
    assert_eq!(left(&plain, 3), ["1.000", "0.700"]);
    assert_eq!(left(&plain, 4), ["0.700", "1.000"]);
    let reversing = rated(&DUTY.replace("4,", r#"4, "reversing": true,"#), "");
    for mesh in 0..5 {
        assert_eq!(left(&reversing, mesh), ["0.700", "0.700"]);
    }
}

#[test]
fn the_weakest_place_has_a_name() {
    let duty = r#""bores": { "layshaft": { "bore_mm": 26 } }, "duty": { "input_torque_n_m": 4 },"#;
    let meshes = rated(duty, "");
    // Root of 20 teeth: 26.25 mm; the layshaft's driver of the first speed has
    // next to no rim left, that of reverse none at all.
    let worst = weakest(&meshes).unwrap();
    assert_eq!((worst.mesh, worst.spot), (3, Spot::Root));
    assert_eq!(
        (worst.gear.role, worst.gear.seat),
        (Role::Reverse, Seat::Driver)
    );
    assert!(worst.safety.abs() < 1e-12);
    let safeties = meshes.iter().map(|mesh| mesh.safety.least());
    assert!((safeties.fold(f64::INFINITY, f64::min) - worst.safety).abs() < 1e-12);
    assert!(weakest(&[]).is_none());
}

#[test]
fn materials_go_to_the_gears_that_were_meant() {
    let problem = parse(
        "box",
        r#"{ "centre_distance_mm": 45, "duty": { "input_torque_n_m": 4 },
        "gears": { "modules_mm": [1.5], "min_teeth": 15, "max_teeth": 56, "face_width_mm": 12,
        "material": "S355" }, "head": { "driver_material": "42CrMo4 tempered" },
        "speeds": [{ "direct": true }, { "ratio": 3.4, "driven_material": "EN-GJL-250" },
        { "ratio": 1.8, "material": "CW614N" }], "reverse": { "ratio": 3.4,
        "idler_material": "CuSn12" } }"#,
    )
    .unwrap();
    let meshes = rate(&problem, &set(&problem)).unwrap();
    let names = |mesh: &RatedMesh| mesh.materials.clone().map(|m| m.name().to_owned());
    assert_eq!(names(&meshes[0]), ["42CrMo4 tempered", "S355"]);
    assert_eq!(names(&meshes[1]), ["S355", "EN-GJL-250"]);
    assert_eq!(names(&meshes[2]), ["CW614N", "CW614N"]);
    assert_eq!(names(&meshes[3]), ["S355", "CuSn12"]);
    assert_eq!(names(&meshes[4]), ["CuSn12", "S355"]);
    for mesh in &meshes {
        for gear in 0..2 {
            let limit = factor(mesh, "σ_Flim", Some(gear)).value;
            close(limit, mesh.materials[gear].bending_mpa());
        }
    }
    // Row 6.10: ISO 6336-2: steel on grey iron 162.00 √MPa.
    assert!((factor(&meshes[1], "Z_E", None).value - 162.0).abs() < 0.01);
}

#[test]
fn lewis_stands_beside_where_its_table_holds() {
    let meshes = rated(DUTY, "");
    // The first speed's driver: 20 teeth, Y 0.322 (row 6.01: Shigley Table 14-2),
    // velocity factor (6.1 + V)/6.1.
    let first = &meshes[1];
    let lewis = first.lewis[0].unwrap();
    let of_mesh = |symbol| factor(first, symbol, None).value;
    let velocity = (6.1 + of_mesh("v")) / 6.1;
    let load = of_mesh("F_t") * of_mesh("K_A");
    close(lewis.stress_mpa, velocity * load / (12.0 * 1.5 * 0.322));
    // Yield of C45 normalised: 305 MPa, of which a third is allowed.
    close(lewis.allowed_mpa.unwrap(), 305.0 / 3.0);
    assert!(
        meshes
            .iter()
            .flat_map(|mesh| mesh.lewis)
            .all(|lewis| lewis.is_some())
    );
    let other = rated(DUTY, r#", "pressure_angle_deg": 25"#);
    assert!(other.iter().all(|mesh| mesh.lewis == [None; 2]));
}

//! One planted fault a test; next to each the box with the fault taken out.

use super::boxes::{checked, faults, only_fault, sound, told, with};
use serde_json::{Value, json};

fn is_about(value: &Value, wanted: f64) {
    let value = value["value"].as_f64().expect("a figure");
    assert!(
        (value - wanted).abs() < 5e-3 * wanted.abs().max(0.1),
        "{value} {wanted}"
    );
}

/// Backlash of full teeth, transverse, mm: 2a (inv α_w − inv α) with
/// cos α_w = a0 cos α / a (ISO 21771), spur gears of 20°.
fn play(standard: f64, centres: f64) -> f64 {
    let alpha = 20_f64.to_radians();
    let working = (standard * alpha.cos() / centres).acos();
    let inv = |angle: f64| angle.tan() - angle;
    2.0 * centres * (inv(working) - inv(alpha))
}

fn kinds(list: &Value) -> Vec<String> {
    let list = list.as_array().unwrap().iter();
    list.map(|one| one["kind"].as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn a_sound_box_has_no_fault_and_no_remark() {
    let (code, record) = checked(&sound());
    assert_eq!((code, &record["sound"]), (0, &json!(true)), "{record:#}");
    assert_eq!(record["remarks"], json!([]));
}

#[test]
fn a_pair_that_binds_is_found() {
    // Head, low and mid alike; 2 · 0.1 · tan 20° is 0.0728 in the first order.
    let found = faults(&with(sound(), "/centre_distance_mm", json!(59.9)));
    let places: Vec<String> = found.iter().map(|one| told(one).1).collect();
    assert_eq!(places, ["head", "speed low", "speed mid"]);
    let (kind, _, what, by) = told(&found[1]);
    assert_eq!(kind, "binds");
    assert!(
        what.contains("need 60.000 mm between the shafts, which are 59.900 mm"),
        "{what}"
    );
    is_about(&by, -play(60.0, 59.9));

    // One tooth too many in one pair: a0 = 61 mm.
    let one = with(sound(), "/speeds/0/teeth", json!([20, 41]));
    let (kind, place, what, _) = only_fault(&one);
    assert_eq!((kind.as_str(), place.as_str()), ("binds", "speed low"));
    assert!(what.contains("need 61.000 mm"), "{what}");
}

#[test]
fn a_pair_that_is_loose_is_found() {
    // The usual most is 0.06 + 0.0005 a + 0.03 m.
    let found = faults(&with(sound(), "/centre_distance_mm", json!(60.3)));
    let (kind, place, what, by) = told(&found[1]);
    assert_eq!((kind.as_str(), place.as_str()), ("loose", "speed low"));
    assert!(
        what.contains("60.000 mm") && what.contains("60.300 mm"),
        "{what}"
    );
    is_about(&by, play(60.0, 60.3) - 0.15015);
    assert_eq!(found.len(), 3, "{found:#?}");
    assert_eq!(
        faults(&with(sound(), "/centre_distance_mm", json!(60.15))),
        [] as [Value; 0]
    );

    // One tooth too few in one pair costs contact, too.
    let one: Vec<_> = faults(&with(sound(), "/speeds/1/teeth", json!([28, 31])));
    let one: Vec<(String, String)> = one.iter().map(told).map(|t| (t.0, t.1)).collect();
    let mid = |kind: &str| (kind.to_owned(), "speed mid".to_owned());
    assert_eq!(one, [mid("loose"), mid("contact_ratio")]);
}

#[test]
fn backlash_is_held_against_the_range_that_the_file_gives() {
    let range = |min: f64, max: f64| {
        let file = with(sound(), "/centre_distance_mm", json!(60.1));
        with(
            file,
            "/gears/backlash_mm",
            json!({ "min": min, "max": max }),
        )
    };
    // 0.073 mm from the centres.
    assert_eq!(faults(&range(0.03, 0.1)), [] as [Value; 0]);
    assert!(
        faults(&range(0.01, 0.05))
            .iter()
            .all(|one| told(one).0 == "loose")
    );
    assert!(
        faults(&range(0.2, 0.3))
            .iter()
            .all(|one| told(one).0 == "binds")
    );
    assert_eq!(faults(&range(0.2, 0.3)).len(), 3);
}

// Row 10.05: 18 T and 38 T on a sum-60 centre distance: tip radii 10 m + 20 m
// = 30 m = a, gap 0 (recomputed; the textbook claims adequate clearance).
#[test]
fn reverse_gears_whose_tips_touch_are_found() {
    let touching = with(sound(), "/reverse/teeth", json!([18, 20, 38]));
    let (kind, place, what, by) = only_fault(&touching);
    assert_eq!((kind.as_str(), place.as_str()), ("tip_gap", "reverse"));
    assert!(
        what.contains("18 and 38 teeth") && what.contains("touch: gap 0.00 mm"),
        "{what}"
    );
    is_about(&by, 0.5);

    let clear = with(sound(), "/reverse/teeth", json!([18, 20, 37]));
    assert_eq!(faults(&clear), [] as [Value; 0]);
    let over = with(sound(), "/reverse/teeth", json!([18, 20, 39]));
    assert!(only_fault(&over).2.contains("overlap by 1.00 mm"));
}

// Row 2.09: undercut limit z = 2/sin²α, any textbook.
#[test]
fn an_undercut_pinion_is_found_and_can_be_allowed() {
    let file = with(sound(), "/speeds/0/teeth", json!([15, 45]));
    let (kind, place, what, by) = only_fault(&file);
    assert_eq!(
        (kind.as_str(), place.as_str()),
        ("undercut", "layshaft, low")
    );
    assert!(what.contains("below 17.1 teeth"), "{what}");
    is_about(&by, 17.097 - 15.0);
    let allowed = with(file, "/limits", json!({ "allow_undercut": true }));
    let (code, record) = checked(&allowed);
    assert_eq!(code, 0, "{record:#}");
    assert_eq!(kinds(&record["remarks"]), ["undercut"]);
}

#[test]
fn a_rack_that_fouls_is_found_and_all_else_is_looked_at() {
    // The straight flank ends above the mate's tip; tips run on roots; the two
    // corners of the tool overlap.
    for (key, value) in [("fillet", 0.45), ("dedendum", 1.0), ("fillet", 0.9)] {
        let file = with(sound(), &format!("/gears/{key}"), json!(value));
        let (kind, place, what, _) = only_fault(&file);
        assert_eq!((kind.as_str(), place.as_str()), ("rack", "rack"), "{what}");
        assert!(what.contains(&format!("gears.{key}")), "{what}");
        let both = with(file, "/speeds/0/teeth", json!([20, 41]));
        let kinds: Vec<String> = faults(&both).iter().map(|one| told(one).0).collect();
        assert_eq!(kinds, ["rack", "binds"]);
    }
    assert_eq!(
        faults(&with(sound(), "/gears/fillet", json!(0.3))),
        [] as [Value; 0]
    );
}

#[test]
fn a_dog_ring_over_the_roots_is_found() {
    // Root diameters: main low 75, main mid 59, input 45, main reverse 61 mm.
    let ring = |mm: f64| with(sound(), "/layout", json!({ "dog_ring_outside_mm": mm }));
    let found = faults(&ring(50.0));
    // The direct speed needs the input gear, which is the smallest.
    assert_eq!(found.len(), 1, "{found:#?}");
    let (kind, place, what, by) = told(&found[0]);
    assert_eq!((kind.as_str(), place.as_str()), ("engagement", "speed top"));
    assert!(what.contains("the input gear"), "{what}");
    is_about(&by, 2.5);
    assert_eq!(faults(&ring(44.0)), [] as [Value; 0]);
}

#[test]
fn a_speed_without_a_side_of_a_sleeve_is_found() {
    let forks = |forks: Value| with(sound(), "/layout", json!({ "forks": forks }));
    let three = forks(json!([["low", "mid", "top"], ["reverse"]]));
    let (kind, place, what, _) = only_fault(&three);
    assert_eq!((kind.as_str(), place.as_str()), ("engagement", "sleeves"));
    assert!(
        what.contains("two sides") && what.contains("layout.forks[0][2]"),
        "{what}"
    );

    let twice = forks(json!([["low", "mid"], ["mid", "top"]]));
    assert!(
        only_fault(&twice)
            .2
            .contains("\"mid\" is no speed that is left")
    );
    let right = forks(json!([["low", "mid"], ["top"], ["reverse"]]));
    assert_eq!(faults(&right), [] as [Value; 0]);
}

#[test]
fn a_helical_idler_that_slides_is_found() {
    // Centres of 60 helical teeth: 60 / cos 15° mm.
    let helical = with(sound(), "/gears/helix_angle_deg", json!(15));
    let helical = with(helical, "/centre_distance_mm", json!(62.116_57));
    assert_eq!(faults(&helical), [] as [Value; 0]);
    let slides = with(helical, "/reverse/form", json!("sliding-idler"));
    let (kind, place, what, _) = only_fault(&slides);
    assert_eq!((kind.as_str(), place.as_str()), ("engagement", "reverse"));
    assert!(what.contains("helical"), "{what}");
    let spur = with(sound(), "/reverse/form", json!("sliding-idler"));
    assert_eq!(faults(&spur), [] as [Value; 0]);
}

#[test]
fn a_gear_too_small_for_its_bore_is_found() {
    // Roots of 20 teeth: 35 mm. A keyway of 2 mm in a bore of 28 leaves 1.5 mm.
    let bore = |mm: f64, keyway: f64| {
        let hole = json!({ "layshaft": { "bore_mm": mm, "keyway_mm": keyway } });
        let file = with(sound(), "/bores", hole);
        with(file, "/shafts/layshaft", json!({ "diameter_mm": mm }))
    };
    assert_eq!(faults(&bore(28.0, 2.0)), [] as [Value; 0]);
    let thin: Vec<_> = faults(&bore(28.0, 2.2)).iter().map(told).collect();
    let places: Vec<&str> = thin.iter().map(|one| one.1.as_str()).collect();
    assert_eq!(places, ["layshaft, low", "layshaft, reverse"]);
    assert!(thin[0].2.contains("1.30 mm of wall"), "{}", thin[0].2);
    is_about(&thin[0].3, 0.2);
    let none: Vec<_> = faults(&bore(36.0, 0.0)).iter().map(told).collect();
    assert!(
        none.iter()
            .any(|one| one.0 == "thin_wall" && one.2.contains("0.50 mm into the teeth"))
    );
}

// Row 10.06: A-B 50, rA 15, rB 30: none, as 15 + 30 < 50 (recomputed).
#[test]
fn an_idler_without_a_place_is_found() {
    let file = |idler: u32| {
        json!({
            "arrangement": "offset",
            "centre_distance_mm": 50,
            "gears": { "modules_mm": [1], "min_teeth": 12, "max_teeth": 80, "face_width_mm": 8 },
            "limits": { "allow_undercut": true },
            "speeds": [ { "name": "1", "teeth": [40, 60] } ],
            "reverse": { "teeth": [16, idler, 46] }
        })
    };
    let (kind, place, what, by) = only_fault(&file(14));
    assert_eq!((kind.as_str(), place.as_str()), ("idler_place", "reverse"));
    assert!(
        what.contains("5.00 mm short of reaching both gears"),
        "{what}"
    );
    assert!(
        what.contains("15.000 mm from the driver and 30.000 mm"),
        "{what}"
    );
    is_about(&by, 5.0);
    // Row 10.01's sides, 30 and 40 on 50, close: 20 teeth give 18 and 33.
    assert_eq!(faults(&file(20)), [] as [Value; 0]);
}

#[test]
fn an_idler_in_the_way_of_something_is_found() {
    let idler = |case: f64| {
        let block = json!({ "pin_mm": 8, "case": { "right_mm": case, "left_mm": case } });
        with(sound(), "/idler", block)
    };
    assert_eq!(faults(&idler(80.0)), [] as [Value; 0]);
    let (kind, place, what, _) = only_fault(&idler(20.0));
    assert_eq!((kind.as_str(), place.as_str()), ("idler_room", "reverse"));
    assert!(what.contains("inside of the case"), "{what}");
}

#[test]
fn the_same_ratio_twice_and_ratios_out_of_order_are_remarks() {
    // 20→40 and, of the same ratio to a hundredth of a per cent, itself.
    let same = with(sound(), "/speeds/1/teeth", json!([20, 40]));
    let (code, record) = checked(&same);
    assert_eq!(
        (code, kinds(&record["remarks"])),
        (0, vec!["same_ratio".to_owned()])
    );
    assert_eq!(record["remarks"][0]["where"], "speed mid");
    let disorder = with(sound(), "/speeds/0/teeth", json!([32, 28]));
    let (code, record) = checked(&disorder);
    assert_eq!(
        (code, kinds(&record["remarks"])),
        (0, vec!["order".to_owned()])
    );
}

#[test]
fn a_ratio_other_than_asked_is_found() {
    // 35/25 · 40/20 = 2.8.
    let asked = |ratio: f64| with(sound(), "/speeds/0/ratio", json!(ratio));
    assert_eq!(faults(&asked(2.75)), [] as [Value; 0]);
    let (kind, place, what, by) = only_fault(&asked(2.5));
    assert_eq!((kind.as_str(), place.as_str()), ("ratio", "speed low"));
    assert!(
        what.contains("ratio 2.800") && what.contains("2.5 asked"),
        "{what}"
    );
    is_about(&by, 12.0);
}

#[test]
fn a_driver_that_reverse_does_not_share_is_found() {
    let shared = |driver: u32| {
        let file = with(sound(), "/reverse/form", json!("shared-driver"));
        with(file, "/reverse/teeth", json!([driver, 16, 44]))
    };
    let allowed = |file| with(file, "/limits", json!({ "allow_undercut": true }));
    let found = faults(&allowed(shared(21)));
    assert!(
        found.iter().any(|one| told(one).0 == "shared_driver"),
        "{found:#?}"
    );
    let found = faults(&allowed(shared(20)));
    assert!(
        found.iter().all(|one| told(one).0 != "shared_driver"),
        "{found:#?}"
    );
}

#[test]
fn shifts_outside_the_files_are_found_and_the_box_is_still_looked_at() {
    let shift = |centres: f64| {
        let file = with(
            sound(),
            "/gears/profile_shift",
            json!({ "min": -0.2, "max": 0.3 }),
        );
        with(file, "/centre_distance_mm", json!(centres))
    };
    assert_eq!(faults(&shift(60.5)), [] as [Value; 0]);
    let found = faults(&shift(61.8));
    assert!(
        found.iter().take(3).all(|one| told(one).0 == "shift"),
        "{found:#?}"
    );
    let (_, record) = checked(&shift(61.8));
    // As found, the pairs are cut to close their centres whatever shift it takes.
    let backlash = &record["meshes"][0]["figures"]["full_teeth"]["transverse_mm"];
    assert!(backlash.as_f64().unwrap().abs() < 1e-6, "{backlash}");
}

#[test]
fn a_doubtful_measurement_is_a_remark() {
    let measured = |to: f64| {
        let centres = json!({ "over_pins_mm": 72.0, "pins_mm": [12, 12], "measured_to_mm": to });
        let file = with(sound(), "/centre_distance_mm", centres);
        with(file, "/gears/centre_tolerance_mm", json!(0.05))
    };
    let (code, record) = checked(&measured(0.2));
    assert_eq!(code, 0, "{record:#}");
    assert!(
        kinds(&record["remarks"])
            .iter()
            .all(|kind| kind == "doubtful")
    );
    assert!(!record["remarks"].as_array().unwrap().is_empty());
    assert_eq!(checked(&measured(0.01)).1["remarks"], json!([]));
}

/// Teeth that are there go before a set that was picked once.
#[test]
fn what_is_checked_is_what_the_file_gives_not_what_it_has_picked() {
    let picked = json!({
        "mark": "ABCD", "centre_distance_mm": 60, "head": [2, 25, 35],
        "speeds": [[2, 20, 40], [2, 28, 32]], "reverse": [2, 20, 21, 30]
    });
    let (_, record) = checked(&with(sound(), "/picked", picked));
    assert_eq!(record["ratios"][4]["teeth"], json!([20, 21, 33]));
}

//! What holds whatever the box.

use super::{Box, boxes, in_line, offset, set};
use layshaft::design::forces::{Bending, Couple};
use layshaft::design::strength::{
    Hold, Line, Member, Section, Service, Standing, Strength, Utilisation, What,
};
use layshaft::problem::Arrangement;
use layshaft::train::Role;
use serde_json::json;

fn same<'a>(of: &Utilisation, list: &'a [Utilisation]) -> Option<&'a Utilisation> {
    let is = |one: &&Utilisation| one.part == of.part && one.what == of.what && one.when == of.when;
    list.iter().find(is)
}

/// Every utilisation of `less` is in `more`, no lower; how many are higher.
fn none_falls(less: &Strength, more: &Strength, about: &str) -> usize {
    let mut higher = 0;
    for one in &less.all {
        let other = same(one, &more.all).unwrap_or_else(|| panic!("{about}: {one:?} is gone"));
        assert!(
            other.share >= one.share * (1.0 - 1e-12),
            "{about}: {one:?} falls to {other:?}"
        );
        higher += usize::from(other.share > one.share * (1.0 + 1e-9));
    }
    higher
}

#[test]
fn more_torque_never_lowers_a_utilisation() {
    for file in [
        in_line(),
        offset(),
        super::helical(in_line()),
        super::helical(offset()),
    ] {
        let with = |torque: f64| {
            let file = set(file.clone(), "duty.input_torque_n_m", json!(torque));
            Box::new("torque", &file).usual()
        };
        let shares: Vec<Strength> = [2.0, 2.6, 11.0].map(with).into();
        for pair in shares.windows(2) {
            let higher = none_falls(&pair[0], &pair[1], "more torque");
            // Only slip speeds, lost overlap and detents stay.
            assert!(
                2 * higher > pair[0].all.len(),
                "{higher} of {}",
                pair[0].all.len()
            );
        }
    }
}

#[test]
fn longer_or_faster_running_never_lowers_a_utilisation() {
    for of in boxes() {
        let usual = of.usual();
        let longer = of.strength(Service {
            hours: 2.5 * usual.service.hours,
            ..usual.service.clone()
        });
        let faster = of.strength(Service {
            input_rpm: 1.7 * usual.service.input_rpm,
            ..usual.service.clone()
        });
        let bearings = usual.bearings.len();
        assert_eq!(
            none_falls(&usual, &longer, "longer"),
            bearings,
            "{}",
            of.about
        );
        assert!(
            none_falls(&usual, &faster, "faster") > bearings,
            "{}",
            of.about
        );
        for (one, other) in usual.bearings.iter().zip(&longer.bearings) {
            assert_eq!(one.l10_hours, other.l10_hours, "{}", of.about);
            assert!(other.last_percent <= one.last_percent);
        }
    }
}

/// ISO 281 says what the share of a bearing's load means: the cube of it is the
/// share of its life that the duty takes.
#[test]
fn a_bearing_s_share_and_its_hours_tell_the_same() {
    let mut seen = 0;
    for of in boxes() {
        let told = of.usual();
        for life in &told.bearings {
            let part = Member::Bearing(life.shaft, life.support);
            let mut all = told.all.iter();
            let rated = all
                .find(|one| one.part == part && one.what == What::Life)
                .unwrap();
            let Some(l10) = life.l10_hours else { continue };
            let taken = told.service.hours / l10;
            assert!(
                (rated.share.powi(3) - taken).abs() < 1e-9 * taken,
                "{}",
                of.about
            );
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}

/// Maxwell: a load here gives as much there as the same load there gives here.
#[test]
fn loads_and_deflections_are_mutual() {
    let sections = [(0.0, 30.0, 12.0), (30.0, 75.0, 17.0), (75.0, 100.0, 10.0)].map(
        |(from_mm, to_mm, outside_mm)| Section {
            from_mm,
            to_mm,
            outside_mm,
            inside_mm: 4.0,
        },
    );
    let span_mm = 100.0;
    let deflected = |load_mm: f64, asked_mm: f64| {
        let most_n_m = 0.1 * load_mm * (span_mm - load_mm) / span_mm;
        let at = |z_mm, x_n_m| {
            let couple = Couple { x_n_m, y_n_m: 0.0 };
            Bending {
                z_mm,
                before: couple,
                behind: couple,
                size_n_m: x_n_m,
            }
        };
        let bending = [at(0.0, 0.0), at(load_mm, most_n_m), at(span_mm, 0.0)];
        let hold = Hold::Two([(0.0, [0.0; 2]), (span_mm, [0.0; 2])]);
        let line = Line::new(&bending, &sections, 206e3, hold).unwrap();
        line.at(asked_mm).deflection_mm[1]
    };
    for (one, other) in [(20.0, 85.0), (33.0, 50.0), (5.0, 99.0)] {
        let (here, there) = (deflected(one, other), deflected(other, one));
        assert!(
            here < 0.0 && (here - there).abs() < 1e-9 * here.abs(),
            "{here} {there}"
        );
    }
}

/// What one piece of the layshaft gives to it the others take: nothing else
/// turns it.
#[test]
fn torques_through_the_joints_of_a_layshaft_balance() {
    let keyed = set(in_line(), "layout", json!({ "layshaft": "keyed" }));
    let told = Box::new("keyed", &keyed).usual();
    let mut seen = 0;
    for load in &told.joints {
        let Member::Joint(gears) = &load.part else {
            continue;
        };
        if gears[0].role != Role::Head {
            continue;
        }
        let others = told.joints.iter().filter(|other| {
            other.when == load.when && matches!(&other.part, Member::Joint(g) if *g != *gears)
        });
        let torques: Vec<f64> = others.map(|other| other.torque_n_m).collect();
        assert_eq!(torques.len(), 1, "{:?}", load.when);
        assert!((torques[0] - load.torque_n_m).abs() < 1e-9 * load.torque_n_m);
        seen += 1;
    }
    // Two geared speeds and reverse, driving and overrun.
    assert_eq!(seen, 6);
}

#[test]
fn every_figure_is_complete_and_the_weakest_stands_first() {
    for of in boxes() {
        let told = of.usual();
        assert!(told.all.len() > 60, "{}", of.about);
        assert!(told.all.windows(2).all(|w| w[0].share >= w[1].share));
        assert!(told.weakest.windows(2).all(|w| w[0].share >= w[1].share));
        for one in &told.all {
            assert!(
                one.value >= 0.0 && one.value.is_finite(),
                "{}: {one:?}",
                of.about
            );
            assert!(
                one.limit > 0.0 && one.limit.is_finite(),
                "{}: {one:?}",
                of.about
            );
            assert!((one.share * one.limit - one.value).abs() <= 1e-9 * one.value);
            assert!(!one.unit.is_empty() && !one.limit_from.words.is_empty());
            assert!(!one.part.name(&of.problem).contains("  "));
            let mut weakest = told.weakest.iter();
            let worst = weakest.find(|w| w.part == one.part && w.what == one.what);
            assert!(worst.unwrap().share >= one.share);
        }
        assert!(
            told.factors
                .iter()
                .all(|f| f.value > 0.0 && !f.basis.words.is_empty())
        );
        let given = told
            .factors
            .iter()
            .filter(|f| f.basis.standing == Standing::Given);
        // A shock that was taken is not told as given.
        let shock = of.problem.duty().filter(|duty| duty.shock_taken().given());
        let expected: Vec<&str> = shock.map(|_| "shock").into_iter().collect();
        assert_eq!(given.map(|f| f.name).collect::<Vec<_>>(), expected);
    }
}

/// The main shaft's end lies where the input shaft has bent to.
#[test]
fn the_spigot_goes_with_the_input_gear() {
    let mut seen = 0;
    for of in boxes() {
        if of.problem.arrangement() == Arrangement::Offset {
            continue;
        }
        let told = of.usual();
        let spigots = told.shafts.iter().flat_map(|s| &s.at_supports);
        let spigot = spigots.filter(|(s, _)| *s == layshaft::design::forces::Support::Spigot);
        for (_, bent) in spigot {
            let [x, y] = bent.deflection_mm;
            seen += usize::from(x.hypot(y) > 1e-6);
        }
    }
    assert!(seen > 6, "{seen}");
}

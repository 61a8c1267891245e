//! What cannot be drawn, and how long it takes to draw what can.

use std::time::{Duration, Instant};

use crate::random::Draw;
use layshaft::base::Teeth;
use layshaft::involute::Rack;
use layshaft::involute::outline::{CHORD_ERROR_MM, Cut, OutlineFault, Tooth};

use super::polygons::crossings;
use super::{cut, drawn};

#[test]
fn impossible_teeth_say_what_to_do() {
    let fault = |cut: &Cut| Tooth::new(cut).unwrap_err();
    let text = |cut: &Cut| fault(cut).to_string();
    let pointed = cut(8, 0.9);
    assert!(matches!(fault(&pointed), OutlineFault::Pointed { .. }));
    assert!(text(&pointed).contains("turn the blank smaller"));
    // Turned down to where the flanks meet, less a hair, there is a tooth.
    let OutlineFault::Pointed {
        tip_mm,
        point_mm: Some(point_mm),
    } = fault(&pointed)
    else {
        panic!("{}", text(&pointed));
    };
    for (below_mm, good) in [(0.001, true), (-0.001, false)] {
        let turned_down = Cut {
            tip_shortening: (point_mm - below_mm - tip_mm) / 2.0,
            ..pointed
        };
        assert_eq!(Tooth::new(&turned_down).is_ok(), good, "{below_mm}");
    }
    let wide = Cut {
        rack: Rack {
            fillet: 0.38,
            ..Rack::standard(25.0)
        },
        ..cut(20, 0.0)
    };
    assert_eq!(
        text(&wide),
        "a fillet of 0.38 modules does not fit the rack's tip; take 0.31788 or less"
    );
    assert!(matches!(fault(&cut(4, -1.0)), OutlineFault::Root { .. }));
    assert!(matches!(
        fault(&cut(6, -0.8)),
        OutlineFault::Severed { .. } | OutlineFault::Stunted { .. }
    ));
    assert!(text(&cut(12, f64::NAN)).starts_with("the profile shift is NaN; give a number from"));
    assert!(text(&cut(3, 0.0)).starts_with("the number of teeth is 3"));
    let tall = Cut::plain(Rack::standard(20.0), 1.0, Teeth::new(20));
    let fine = Tooth::new(&tall).unwrap().outline(1e-7).unwrap_err();
    assert_eq!(
        fine.to_string(),
        "the chord error in mm is 0.0000001; give a number from 0.000001 to 0.05"
    );
}

#[test]
fn forty_teeth_to_a_micrometre_take_well_under_a_millisecond() {
    let cut = cut(40, 0.1);
    let once = || {
        let start = Instant::now();
        let outline = Tooth::new(&cut).unwrap().outline(CHORD_ERROR_MM).unwrap();
        assert!(outline.points().len() > 400);
        start.elapsed()
    };
    // The best of some tries: other work on the machine must not count.
    let best = (0..50).map(|_| once()).min().unwrap();
    assert!(best < Duration::from_millis(1), "{best:?}");
}

#[test]
fn random_teeth_are_sound_or_refused_with_a_way_out() {
    let mut draw = Draw::new(12);
    let mut refused = [0; 6];
    let mut good = 0;
    for _ in 0..3000 {
        let cut = drawn(&mut draw);
        let tooth = match Tooth::new(&cut) {
            Ok(tooth) => tooth,
            Err(fault) => {
                let text = fault.to_string();
                assert!(!text.contains("NaN") && text.contains(';'), "{text}");
                refused[match fault {
                    OutlineFault::Figure { .. } => 0,
                    OutlineFault::Corners { .. } => 1,
                    OutlineFault::Root { .. } => 2,
                    OutlineFault::Pointed { .. } => 3,
                    OutlineFault::Stunted { .. } => 4,
                    OutlineFault::Severed { .. } => 5,
                }] += 1;
                continue;
            }
        };
        good += 1;
        let form = tooth.form_radius_mm();
        let about = format!("{cut:?}");
        assert!(form >= tooth.involute().base_radius_mm, "{about}");
        assert!((tooth.root().radius_mm..tooth.tip().radius_mm).contains(&form));
        let outline = tooth.outline(0.005 * cut.module_mm).unwrap();
        let points = outline.points();
        let one = points.len() / cut.teeth.get() as usize;
        let sector = std::f64::consts::PI / f64::from(cut.teeth);
        assert!(
            points[..one]
                .iter()
                .all(|p| p.angle_rad().abs() < sector + 1e-12),
            "{about}"
        );
        let radii = tooth.root().radius_mm - 1e-9..tooth.tip().radius_mm + 1e-9;
        assert!(
            points.iter().all(|p| radii.contains(&p.radius_mm())),
            "{about}"
        );
        assert_eq!(crossings(&points[..=one]), 0, "{about}");
    }
    // All sound figures and racks; every other fault comes up.
    assert_eq!(refused[..2], [0, 0]);
    assert!(
        good > 1000 && refused[3..].iter().all(|&n| n > 0),
        "{good} {refused:?}"
    );
}

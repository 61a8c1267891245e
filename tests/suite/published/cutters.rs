//! Form cutters.

use layshaft::base::Teeth;
use layshaft::making::fine_cutter;
use layshaft::train::{FormCutter, form_cutter};

// Row 4.01: J. Rose, Modern Machine-Shop Practice; MH: the set of eight, every
// count of it. Rose lists No. 8 as 12-14; modern lists 12-13.
#[test]
fn eight_form_cutters_cover_every_count_from_12() {
    for (number, least, most) in [
        (8, 12, Some(13)),
        (7, 14, Some(16)),
        (6, 17, Some(20)),
        (5, 21, Some(25)),
        (4, 26, Some(34)),
        (3, 35, Some(54)),
        (2, 55, Some(134)),
        (1, 135, None),
    ] {
        for teeth in least..=most.unwrap_or(1000) {
            let cutter = form_cutter(Teeth::new(teeth), 0.0);
            assert_eq!(cutter.map(FormCutter::number), Some(number), "{teeth}");
            let range = (u32::from(least), most.map(u32::from));
            assert_eq!(cutter.map(FormCutter::range), Some(range), "{teeth}");
        }
    }
    assert!((1..12).all(|teeth| form_cutter(Teeth::new(teeth), 0.0).is_none()));
}

// Row 4.04: from 4.01 (recomputed).
#[test]
fn form_cutter_picks() {
    for (teeth, number) in [
        (12, 8),
        (13, 8),
        (14, 7),
        (17, 6),
        (20, 6),
        (21, 5),
        (25, 5),
        (26, 4),
        (34, 4),
        (35, 3),
        (54, 3),
        (55, 2),
        (134, 2),
        (135, 1),
    ] {
        let got = form_cutter(Teeth::new(teeth), 0.0).map(FormCutter::number);
        assert_eq!(got, Some(number), "{teeth}");
    }
}

// Row 4.02: as 4.01: the tooth counts for which the forms of the 1880s were
// exact lie each in its cutter's range.
#[test]
fn the_forms_of_old_are_exact_inside_their_ranges() {
    for (number, exact) in (1..).zip([200, 68, 40, 29, 22, 18, 16, 13]) {
        let cutter = form_cutter(Teeth::new(exact), 0.0);
        assert_eq!(cutter.map(FormCutter::number), Some(number), "{exact}");
    }
}

// Row 4.03: MH / cutter makers (contiguous from 12 to a rack). Row 4.04: picks.
#[test]
fn fifteen_form_cutters_cover_every_count_from_12() {
    for (number, least, most) in [
        ("8", 12, Some(12)),
        ("7½", 13, Some(13)),
        ("7", 14, Some(14)),
        ("6½", 15, Some(16)),
        ("6", 17, Some(18)),
        ("5½", 19, Some(20)),
        ("5", 21, Some(22)),
        ("4½", 23, Some(25)),
        ("4", 26, Some(29)),
        ("3½", 30, Some(34)),
        ("3", 35, Some(41)),
        ("2½", 42, Some(54)),
        ("2", 55, Some(79)),
        ("1½", 80, Some(134)),
        ("1", 135, None),
    ] {
        for teeth in least..=most.unwrap_or(1000) {
            let cutter = fine_cutter(Teeth::new(teeth), 0.0).unwrap();
            assert_eq!(cutter.number(), number, "{teeth}");
            assert_eq!(
                (cutter.least, cutter.most),
                (least.into(), most.map(u32::from))
            );
        }
    }
    assert!((1..12).all(|teeth| fine_cutter(Teeth::new(teeth), 0.0).is_none()));
}

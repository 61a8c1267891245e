//! The dividing head: index tables, compound and differential dividing.

use layshaft::problem::DividingHead;
use layshaft::shop::dividing::{
    Compound, Turns, compound, crank_error, differential, nearest, nearest_turns, printed, simple,
    simple_turns,
};

/// Row 5.01: the circles of the three plates.
fn three_plates() -> Vec<Vec<u32>> {
    vec![
        vec![15, 16, 17, 18, 19, 20],
        vec![21, 23, 27, 29, 31, 33],
        vec![37, 39, 41, 43, 47, 49],
    ]
}

fn head(worm: u32) -> DividingHead {
    DividingHead::new(worm, three_plates(), vec![24], Vec::new())
}

/// Row 5.02: the large reversible plate, a side each.
fn reversible() -> DividingHead {
    let sides = vec![
        vec![24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43],
        vec![46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66],
    ];
    DividingHead::new(40, sides, Vec::new(), Vec::new())
}

/// `turns+(holes/circle ...)` as index tables have it.
fn entry(head: &DividingHead, count: u32) -> String {
    simple(head, count).map_or_else(
        || "—".to_owned(),
        |simple| {
            let circles = simple.circles.iter();
            let circles = circles.map(|c| format!("{}/{}", c.move_holes, c.circle_holes));
            let circles = circles.collect::<Vec<_>>().join(" ");
            match (simple.whole_turns, circles.as_str()) {
                (whole, "") => whole.to_string(),
                (0, holes) => format!("({holes})"),
                (whole, holes) => format!("{whole}+({holes})"),
            }
        },
    )
}

fn not_simple(head: &DividingHead) -> Vec<u32> {
    (2..=100)
        .filter(|count| simple(head, *count).is_none())
        .collect()
}

// Row 5.06: handbook index tables.
#[test]
fn the_index_list_of_the_three_plates() {
    let list = LIST
        .split("; ")
        .map(|entry| entry.split_once(": ").unwrap());
    let mut counts = 2..=100;
    for (count, published) in list {
        assert_eq!(counts.next(), count.parse().ok());
        assert_eq!(
            entry(&head(40), count.parse().unwrap()),
            published,
            "{count}"
        );
    }
    assert_eq!(counts.next(), None);
}

// Row 5.03: Practical Treatise on Milling, p. 80: all to 50 and evens to 100
// except 96. Row 5.02: US Army training text.
#[test]
fn counts_that_no_circle_gives() {
    let fail = [
        51, 53, 57, 59, 61, 63, 67, 69, 71, 73, 77, 79, 81, 83, 87, 89, 91, 93, 96, 97, 99,
    ];
    assert_eq!(not_simple(&head(40)), fail);
    let fail = [
        61, 63, 67, 69, 71, 73, 77, 79, 81, 83, 87, 89, 91, 93, 97, 99,
    ];
    assert_eq!(not_simple(&reversible()), fail);
}

/// Turns and holes of a move, on the circles named.
fn gives(head: &DividingHead, turns: Turns, whole: u32, on: &[(u32, u32)]) {
    let simple = simple_turns(head, turns).unwrap();
    assert_eq!(simple.whole_turns, whole, "{turns}");
    for &(holes, circle) in on {
        let mut circles = simple.circles.iter();
        assert!(
            circles.any(|c| (c.move_holes, c.circle_holes) == (holes, circle)),
            "{turns}: {holes}/{circle} in {simple:?}"
        );
    }
}

// Row 5.04: Army text pages 30, 33; 40/7 shop page. A turn is 9 degrees.
#[test]
fn worked_moves() {
    let head = head(40);
    gives(&head, Turns::of(40, 6), 6, &[(12, 18), (26, 39)]);
    gives(&head, Turns::of(40, 42), 0, &[(20, 21)]);
    gives(&head, Turns::of(40, 7), 5, &[(15, 21)]);
    gives(&head, Turns::of(54, 60 * 9), 0, &[(2, 20)]);
}

// Row 5.05: MH 1916 excerpt, first two; the third recomputed.
#[test]
fn angles_of_the_work() {
    let head = head(40);
    gives(&head, Turns::of(35, 9), 3, &[(16, 18)]);
    gives(&head, Turns::of(23, 2 * 9), 1, &[(5, 18)]);
    gives(&head, Turns::of(48 * 60 + 40, 60 * 9), 5, &[(11, 27)]);
}

// Row 5.07: 60:1; practice sheet gives cases 92, 14, 37, 90, 18, answers
// recomputed. Row 5.09: 90:1; same sheet.
#[test]
fn other_worms() {
    for (worm, count, whole, holes, circle) in [
        (60, 7, 8, 12, 21),
        (60, 11, 5, 15, 33),
        (60, 13, 4, 24, 39),
        (60, 14, 4, 6, 21),
        (60, 17, 3, 9, 17),
        (60, 19, 3, 3, 19),
        (60, 23, 2, 14, 23),
        (60, 29, 2, 2, 29),
        (60, 31, 1, 29, 31),
        (60, 37, 1, 23, 37),
        (60, 63, 0, 20, 21),
        (60, 92, 0, 15, 23),
        (60, 18, 3, 11, 33),
        (90, 7, 12, 18, 21),
        (90, 11, 8, 6, 33),
        (90, 12, 7, 11, 22),
        (90, 13, 6, 36, 39),
        (90, 17, 5, 5, 17),
        (90, 27, 3, 7, 21),
        (90, 37, 2, 16, 37),
        (90, 40, 2, 4, 16),
        (90, 44, 2, 1, 22),
        (90, 50, 1, 24, 30),
        (90, 63, 1, 9, 21),
    ] {
        // The sheet's plates have circles of 22, 28 and 30 too.
        let mut plates = three_plates();
        plates.push(vec![22, 28, 30]);
        let head = DividingHead::new(worm, plates, Vec::new(), Vec::new());
        let turns = Turns::of(i64::from(worm), count);
        gives(&head, turns, whole, &[(holes, circle)]);
    }
}

/// Whole turns, holes and circle of the crank, holes and circle of the plate,
/// whether it goes back.
fn moves(whole_turns: u32, crank: (u32, u32), plate: (u32, u32), back: bool) -> Compound {
    let of = |circles: &Vec<u32>| circles.contains(&crank.1) && circles.contains(&plate.1);
    Compound {
        plate: 1 + three_plates().iter().position(of).unwrap(),
        whole_turns,
        crank_holes: crank.0,
        crank_circle: crank.1,
        plate_holes: plate.0,
        plate_circle: plate.1,
        back,
    }
}

fn circles(way: &Compound) -> [u32; 2] {
    let mut circles = [way.crank_circle, way.plate_circle];
    circles.sort_unstable();
    circles
}

// Row 5.11: classic compound tables.
#[test]
fn compound_moves_are_exact() {
    let head = head(40);
    for (count, crank, plate, back) in [
        (51, (10, 15), (2, 17), false),
        (63, (11, 21), (3, 27), false),
        (69, (21, 23), (11, 33), true),
        (77, (9, 21), (3, 33), false),
        (87, (23, 29), (11, 33), true),
        (91, (6, 39), (14, 49), false),
        (93, (3, 31), (11, 33), false),
        (96, (3, 18), (5, 20), false),
        (99, (15, 27), (5, 33), true),
    ] {
        let published = moves(0, crank, plate, back);
        assert_eq!(published.turns(), Turns::of(40, count), "{count}");
        let found = compound(&head, count);
        let same = |way: &&Compound| circles(way) == circles(&published);
        let ours = found.iter().find(same).expect("the same two circles");
        assert!(
            ours.crank_holes + ours.plate_holes <= crank.0 + plate.0,
            "{ours:?}"
        );
        assert!(found.iter().all(|way| way.turns() == Turns::of(40, count)));
        if count == 91 {
            assert!(found.iter().all(|way| circles(way) == [39, 49]));
        }
        if count == 69 {
            assert!(found.iter().any(|way| circles(way) == [21, 23]));
        }
    }
}

// Row 5.12: MH 27th p. 1995; each pair on two circles of one plate.
#[test]
fn fractions_of_a_turn_that_two_circles_come_near() {
    for (ten_thousandths, crank, plate, back, published) in [
        (1910, (17, 39), (12, 49), true, 0.190_999_5),
        (1920, (7, 41), (1, 47), false, 0.192_008_3),
        (1930, (10, 19), (5, 15), true, 0.192_982_5),
        (1980, (2, 29), (4, 31), false, 0.197_997_8),
        (2310, (28, 49), (16, 47), true, 0.231_003_0),
    ] {
        let wanted = Turns::of(ten_thousandths, 10_000);
        let theirs = moves(0, crank, plate, back).turns();
        assert!((theirs.to_f64() - published).abs() < 6e-8, "{theirs}");
        let off = |turns: Turns| turns.and(wanted.back()).abs();
        assert!(off(theirs).to_f64() < 2e-5, "{theirs}");
        let ours = nearest_turns(&head(40), wanted).unwrap().turns();
        assert!(off(ours) <= off(theirs), "{ours}");
    }
}

// Row 5.13: MH: 106 divisions by stepping 5 at a time.
#[test]
fn a_hundred_and_six_nearly() {
    let head = head(40);
    let wanted = Turns::of(200, 106);
    let published = moves(1, (7, 39), (29, 41), false).turns();
    assert!((published.to_f64() - 1.886_804_252_657_911).abs() < 1e-9);
    assert!((wanted.to_f64() - 1.886_792_452_830_189).abs() < 1e-9);
    let error = published.and(wanted.back());
    assert!((error.to_f64() - 1.18e-5).abs() < 1e-9, "{error}");
    let of_a_move = crank_error(&head, error, 10.0);
    assert!((of_a_move.arc_seconds - 0.382).abs() < 5e-4);
    let of_all = crank_error(&head, error.times(106), 10.0);
    assert!((of_all.arc_seconds / 3600.0 - 0.01126).abs() < 5e-6);
    let ours = nearest_turns(&head, wanted).unwrap().turns();
    assert!(ours.and(wanted.back()).abs() <= error.abs());
}

/// Row 5.15: the change gears.
fn with_gears() -> DividingHead {
    let gears = vec![24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100];
    DividingHead::new(40, three_plates(), Vec::new(), gears)
}

// Row 5.14: common practice; the compound recomputed.
#[test]
fn a_hundred_and_twenty_seven() {
    let head = with_gears();
    assert!(simple(&head, 127).is_none() && compound(&head, 127).is_empty());
    let near = nearest(&head, 127, 1).unwrap();
    assert_eq!(
        near.moves.turns(),
        moves(0, (26, 37), (19, 49), true).turns()
    );
    assert!((near.error.abs().to_f64() - 1.303e-5).abs() < 5e-9);
    let ways = differential(&head, 127);
    let way = ways.iter().find(|way| way.set_for == 120).unwrap();
    assert_eq!(way.ratio, Turns::of(-7, 3));
    assert_eq!(way.gears, [[56, 24]]);
    let circles: Vec<_> = way
        .crank
        .circles
        .iter()
        .map(|c| (c.move_holes, c.circle_holes))
        .collect();
    assert!(circles.contains(&(13, 39)) && circles.contains(&(5, 15)));
    assert_eq!(printed(&head, 127).unwrap().circle_holes, 127);
}

// Row 5.15: rule; 57 with 40/56 is the usual book case.
#[test]
fn differential_moves() {
    for (count, base, on, gears, with) in [
        (53, 55, Some((24, 33)), [64, 44], true),
        (57, 56, Some((15, 21)), [40, 56], false),
        (59, 60, Some((10, 15)), [32, 48], true),
        (61, 60, None, [32, 48], false),
        (63, 64, Some((10, 16)), [40, 64], true),
        (67, 70, Some((12, 21)), [48, 28], true),
        (71, 70, None, [32, 56], false),
        (73, 70, None, [48, 28], false),
        (79, 80, None, [24, 48], true),
        (83, 80, None, [48, 32], false),
        (89, 90, Some((8, 18)), [32, 72], true),
        (97, 100, Some((8, 20)), [48, 40], true),
        (99, 100, None, [40, 100], true),
        (119, 120, None, [24, 72], true),
    ] {
        let ways = differential(&with_gears(), count);
        let way = ways.iter().find(|way| way.set_for == base).unwrap();
        assert_eq!(way.gears, [gears], "{count}");
        assert_eq!(way.with_the_crank(), with, "{count}");
        assert_eq!(way.crank_turns(count), Turns::of(40, count), "{count}");
        let mut circles = way.crank.circles.iter();
        assert!(on.is_none_or(|on| circles.any(|c| (c.move_holes, c.circle_holes) == on)));
        // For 73 the plates also give 72, which is nearer.
        let first = if count == 73 { 72 } else { base };
        assert_eq!(ways.first().unwrap().set_for, first, "{count}");
    }
}

/// Row 5.06, from 2 to 100.
const LIST: &str = "\
    2: 20; 3: 13+(5/15 6/18 7/21 9/27 11/33 13/39); 4: 10; 5: 8; 6: 6+(10/15 12/18 14/21 \
    18/27 22/33 26/39); 7: 5+(15/21 35/49); 8: 5; 9: 4+(8/18 12/27); 10: 4; 11: \
    3+(21/33); 12: 3+(5/15 6/18 7/21 9/27 11/33 13/39); 13: 3+(3/39); 14: 2+(18/21 \
    42/49); 15: 2+(10/15 12/18 14/21 18/27 22/33 26/39); 16: 2+(8/16 9/18 10/20); 17: \
    2+(6/17); 18: 2+(4/18 6/27); 19: 2+(2/19); 20: 2; 21: 1+(19/21); 22: 1+(27/33); 23: \
    1+(17/23); 24: 1+(10/15 12/18 14/21 18/27 22/33 26/39); 25: 1+(9/15 12/20); 26: \
    1+(21/39); 27: 1+(13/27); 28: 1+(9/21 21/49); 29: 1+(11/29); 30: 1+(5/15 6/18 7/21 \
    9/27 11/33 13/39); 31: 1+(9/31); 32: 1+(4/16 5/20); 33: 1+(7/33); 34: 1+(3/17); 35: \
    1+(3/21 7/49); 36: 1+(2/18 3/27); 37: 1+(3/37); 38: 1+(1/19); 39: 1+(1/39); 40: 1; \
    41: (40/41); 42: (20/21); 43: (40/43); 44: (30/33); 45: (16/18 24/27); 46: (20/23); \
    47: (40/47); 48: (15/18); 49: (40/49); 50: (12/15 16/20); 51: —; 52: (30/39); 53: —; \
    54: (20/27); 55: (24/33); 56: (15/21 35/49); 57: —; 58: (20/29); 59: —; 60: (10/15 \
    12/18 14/21 18/27 22/33 26/39); 61: —; 62: (20/31); 63: —; 64: (10/16); 65: (24/39); \
    66: (20/33); 67: —; 68: (10/17); 69: —; 70: (12/21 28/49); 71: —; 72: (10/18 15/27); \
    73: —; 74: (20/37); 75: (8/15); 76: (10/19); 77: —; 78: (20/39); 79: —; 80: (8/16 \
    9/18 10/20); 81: —; 82: (20/41); 83: —; 84: (10/21); 85: (8/17); 86: (20/43); 87: —; \
    88: (15/33); 89: —; 90: (8/18 12/27); 91: —; 92: (10/23); 93: —; 94: (20/47); 95: \
    (8/19); 96: —; 97: —; 98: (20/49); 99: —; 100: (6/15 8/20)";

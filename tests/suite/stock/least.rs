//! The least money and its bound against every plan there is.

use super::racks::{Case, Size, every_plan, mm, random};
use crate::random::Draw;
use layshaft::stock::{Least, Piece, Rod, Stock, least_money, least_money_within, money_bound};
use std::time::Instant;

const SMALL: Size = Size {
    pieces: 6,
    rack: 3,
    kinds: 3,
};

#[test]
fn the_least_money_is_that_of_every_plan() {
    let mut draw = Draw::new(41);
    let (mut impossible, mut free, mut bought) = (0, 0, 0);
    for case in 0..600 {
        let Case { pieces, stock } = random(&mut draw, &SMALL);
        let expected = every_plan(&Case {
            pieces: pieces.clone(),
            stock: stock.clone(),
        });
        let expected = expected.map(|(money, _, _)| money);
        assert_eq!(least_money(&pieces, &stock), expected, "case {case}");
        match expected {
            None => impossible += 1,
            Some(0) => free += 1,
            Some(_) => bought += 1,
        }
        let bound = money_bound(&pieces, &stock);
        assert!(
            expected.is_none_or(|money| bound.is_some_and(|b| b <= money)),
            "case {case}: {bound:?} {expected:?}"
        );
    }
    // Each kind of answer was met.
    assert!(
        impossible > 30 && free > 30 && bought > 100,
        "{impossible} {free} {bought}"
    );
}

/// Nothing counts as more than any money.
fn rank(bound: Option<u64>) -> u64 {
    bound.unwrap_or(u64::MAX)
}

#[test]
fn the_bound_never_falls_with_more_or_larger_pieces() {
    let mut draw = Draw::new(42);
    let mut rises = 0;
    for case in 0..2000 {
        let Case { pieces, stock } = random(
            &mut draw,
            &Size {
                pieces: 9,
                rack: 5,
                kinds: 6,
            },
        );
        let whole = rank(money_bound(&pieces, &stock));
        let fewer = rank(money_bound(&pieces[1..], &stock));
        assert!(fewer <= whole, "case {case}");
        let mut larger = pieces.clone();
        if draw.percent(50) {
            larger[0].diameter = mm(draw.whole(41, 45));
        } else {
            larger[0].length = mm(draw.whole(30, 40));
        }
        let larger = rank(money_bound(&larger, &stock));
        assert!(whole <= larger, "case {case}");
        rises += usize::from(whole < larger) + usize::from(fewer < whole);
    }
    assert!(rises > 500, "{rises}");
}

#[test]
fn a_search_that_is_stopped_says_between_what_the_money_is() {
    let mut stock = Stock::new(mm(0), mm(0));
    let steel = stock.material("steel");
    for (length, price_millionths) in [(10, 7), (13, 9)] {
        stock.sells(Rod {
            diameter: mm(20),
            length: mm(length),
            material: steel,
            price_millionths,
            count: 1,
        });
    }
    let piece = |length| Piece {
        diameter: mm(20),
        length: mm(length),
        material: None,
    };
    let pieces = [6, 5, 4, 4, 3, 3, 2].map(piece);
    // 27 mm: too much for two bars; three of 10 do: 6+4, 5+3+2, 4+3.
    assert_eq!(least_money(&pieces, &stock), Some(21));
    match least_money_within(&pieces, &stock, 3) {
        Least::Between(low, high) => assert!(low <= 21 && high.is_none_or(|high| high >= 21)),
        other => panic!("{other:?}"),
    }
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_the_least_money() {
    let mut draw = Draw::new(43);
    let size = Size {
        pieces: 10,
        rack: 10,
        kinds: 12,
    };
    let cases: Vec<Case> = (0..2000).map(|_| random(&mut draw, &size)).collect();
    let full: Vec<&Case> = cases.iter().filter(|case| case.pieces.len() >= 8).collect();
    let start = Instant::now();
    let bought = full
        .iter()
        .filter(|case| least_money(&case.pieces, &case.stock) > Some(0));
    let bought = bought.count();
    let each = start.elapsed() / u32::try_from(full.len()).unwrap();
    assert!(bought > 100, "{bought}");
    assert!(each.as_micros() < 50, "{each:?}");
}

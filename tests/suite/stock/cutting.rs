//! Cutting plans: against every plan there is, and published ones.

use super::racks::{Case, Size, every_plan, mm, random};
use crate::random::Draw;
use layshaft::base::Length;
use layshaft::search::Control;
use layshaft::shop::cutting::{Plan, Why, plan};
use layshaft::stock::{Piece, Rod, Source, Stock, least_money};
use std::time::Instant;

fn planned(case: &Case) -> Option<Plan> {
    plan(&case.pieces, &case.stock, &Control::default()).ok()
}

/// Every piece once, every bar full to the last step, no more than there is.
fn holds(case: &Case, plan: &Plan) {
    let mut seen = vec![0; case.pieces.len()];
    let mut used = vec![0; case.stock.rack().len()];
    for cut in &plan.cuts {
        assert_eq!(case.stock.rod_of(cut.source), Some(&cut.rod));
        if let Source::Rack(place) = cut.source {
            used[place] += 1;
        }
        let mut sum = cut.left.steps();
        for (place, [from, to]) in &cut.pieces {
            let piece = &case.pieces[*place];
            seen[*place] += 1;
            assert!(piece.diameter <= cut.rod.diameter);
            assert!(piece.material.is_none_or(|m| m == cut.rod.material));
            assert_eq!(to.steps() - from.steps(), piece.length.steps());
            sum += piece.length.steps();
        }
        sum += cut.kerfs.iter().map(|kerf| kerf.steps()).sum::<i64>();
        assert_eq!(sum, cut.rod.length.steps());
        assert!(cut.left >= case.stock.grip());
    }
    assert!(seen.iter().all(|count| *count == 1), "{seen:?}");
    let rack = case.stock.rack().iter().zip(used);
    assert!(rack.into_iter().all(|(rod, used)| used <= rod.count));
}

#[test]
fn a_plan_is_the_best_of_all() {
    let mut draw = Draw::new(51);
    let size = Size {
        pieces: 6,
        rack: 3,
        kinds: 3,
    };
    let (mut proved, mut none) = (0, 0);
    for number in 0..300 {
        let case = random(&mut draw, &size);
        let expected = every_plan(&case);
        let Some(plan) = planned(&case) else {
            assert_eq!(expected, None, "case {number}");
            none += 1;
            continue;
        };
        holds(&case, &plan);
        let got = (plan.money_millionths, plan.bars, plan.metal);
        assert_eq!(Some(got), expected, "case {number}");
        let proof = plan.proof;
        proved += usize::from(plan.money_is_proved() && proof.bars && proof.metal);
    }
    assert_eq!(proved + none, 300);
    assert!(none > 50 && proved > 100, "{none} {proved}");
}

/// Bars of one length and pieces of some lengths (mm), counts behind them.
fn of_one_bar(bar: u64, kerf: u64, pieces: &[(u64, usize)]) -> Case {
    let mut stock = Stock::new(mm(kerf), mm(0));
    let material = stock.material("steel");
    stock.sells(Rod {
        diameter: mm(20),
        length: mm(bar),
        material,
        price_millionths: 1_000_000,
        count: 1,
    });
    let all = pieces.iter().flat_map(|&(length, count)| {
        let piece = Piece {
            diameter: mm(20),
            length: mm(length),
            material: None,
        };
        std::iter::repeat_n(piece, count)
    });
    Case {
        pieces: all.collect(),
        stock,
    }
}

fn bars_of(case: &Case) -> usize {
    let plan = planned(case).unwrap();
    holds(case, &plan);
    assert!(plan.money_is_proved() && plan.proof.bars && plan.proof.metal);
    plan.bars
}

/// Row 8.01: a paper mill's order, 219 pieces.
const PAPER_MILL: [(u64, usize); 13] = [
    (1380, 22),
    (1520, 25),
    (1560, 12),
    (1710, 14),
    (1820, 18),
    (1880, 18),
    (1930, 20),
    (2000, 10),
    (2050, 12),
    (2100, 14),
    (2140, 16),
    (2150, 18),
    (2200, 20),
];

// Row 8.01: paper-mill example; worked thread: 73 bars. Row 8.02: none; the same
// with a kerf, by a program of all patterns: 74.
#[test]
fn published_orders_of_many_pieces_are_proved() {
    assert_eq!(bars_of(&of_one_bar(5600, 0, &PAPER_MILL)), 73);
    assert_eq!(bars_of(&of_one_bar(5600, 5, &PAPER_MILL)), 74);
    assert_eq!(bars_of(&of_one_bar(5600, 10, &PAPER_MILL)), 74);
}

// Row 8.04: Winston, Operations Research, column-generation example: 19. Row
// 8.06: none; by a program: 3.
#[test]
fn published_orders_of_few_pieces_are_proved() {
    assert_eq!(
        bars_of(&of_one_bar(17, 0, &[(3, 25), (5, 20), (9, 15)])),
        19
    );
    for kerf in [0, 2, 3, 4] {
        let pieces = [(22, 6), (18, 8), (30, 4), (45, 3)];
        assert_eq!(bars_of(&of_one_bar(250, kerf, &pieces)), 3, "{kerf}");
    }
}

#[test]
fn pieces_that_no_bar_yields_are_named() {
    let mut case = of_one_bar(250, 2, &[(10, 2)]);
    let why = |case: &Case| plan(&case.pieces, &case.stock, &Control::default()).map(|_| ());
    case.pieces[1].diameter = mm(21);
    let thick = why(&case).unwrap_err();
    assert_eq!(thick.piece, 1);
    assert_eq!(
        thick.why,
        Why::TooThick {
            needs: mm(21),
            largest: mm(20)
        }
    );
    case.pieces[1].diameter = mm(20);
    case.pieces[1].length = Length::from_steps(mm(250).steps() + 1);
    assert!(matches!(why(&case).unwrap_err().why, Why::TooLong { .. }));
    case.pieces[1].length = mm(250);
    assert_eq!(why(&case), Ok(()));
}

fn timed(pieces: usize, rack: u64) -> (usize, std::time::Duration) {
    let mut draw = Draw::new(52);
    let size = Size {
        pieces: 1,
        rack: 0,
        kinds: 12,
    };
    let (mut proved, mut longest) = (0, std::time::Duration::ZERO);
    for _ in 0..6 {
        let mut case = random(&mut draw, &size);
        let steel = case.stock.material("steel");
        for _ in 0..rack {
            case.stock.owns(Rod {
                diameter: mm(draw.whole(2, 8) * 5),
                length: mm(draw.whole(12, 70)),
                material: steel,
                price_millionths: 0,
                count: 1,
            });
        }
        case.stock.sells(Rod {
            diameter: mm(60),
            length: mm(100),
            material: steel,
            price_millionths: 40_000_000,
            count: 1,
        });
        let piece = |draw: &mut Draw| Piece {
            diameter: mm(draw.whole(10, 55)),
            length: mm(draw.whole(8, 30)),
            material: None,
        };
        case.pieces = (0..pieces).map(|_| piece(&mut draw)).collect();
        let start = Instant::now();
        let plan = planned(&case).unwrap();
        longest = longest.max(start.elapsed());
        holds(&case, &plan);
        let least = least_money_is(&case);
        assert!(plan.proof.money_at_least_millionths <= least.unwrap_or(u64::MAX));
        proved += usize::from(plan.money_is_proved() && plan.proof.bars && plan.proof.metal);
    }
    (proved, longest)
}

fn least_money_is(case: &Case) -> Option<u64> {
    (case.pieces.len() < 12)
        .then(|| least_money(&case.pieces, &case.stock))
        .flatten()
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_sixteen_and_thirty_blanks() {
    let (proved, longest) = timed(16, 20);
    assert!(
        proved == 6 && longest.as_secs_f64() < 2.0,
        "{proved} {longest:?}"
    );
    let (_, longest) = timed(30, 20);
    assert!(longest.as_secs_f64() < 5.0, "{longest:?}");
}

#[test]
#[ignore = "run alone, in release: timed"]
fn bars_of_the_paper_mill() {
    for kerf in [0, 5] {
        let case = of_one_bar(5600, kerf, &PAPER_MILL);
        let start = Instant::now();
        assert!(planned(&case).unwrap().money_is_proved());
        assert!(start.elapsed().as_secs_f64() < 0.1, "{:?}", start.elapsed());
    }
}

//! Compound dividing: two moves on two circles of one plate. The crank moves
//! on the first circle; then the plate, with the crank pinned to it, moves on
//! the second, on or back.

use super::Turns;
use crate::problem::DividingHead;
use serde::Serialize;

/// Two moves on two circles of one plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Compound {
    /// The plate's place on the head, from 1.
    pub plate: usize,
    /// Whole turns of the crank.
    pub whole_turns: u32,
    /// Holes that the crank moves beyond them on the first circle.
    pub crank_holes: u32,
    /// Holes of the first circle.
    pub crank_circle: u32,
    /// Holes that plate and crank then move together on the second circle.
    pub plate_holes: u32,
    /// Holes of the second circle.
    pub plate_circle: u32,
    /// Whether the second move goes back.
    pub back: bool,
}

impl Compound {
    /// Turns of both moves together.
    pub fn turns(&self) -> Turns {
        let whole = Turns::of(i64::from(self.whole_turns), 1);
        let crank = Turns::of(i64::from(self.crank_holes), self.crank_circle);
        let plate = Turns::of(i64::from(self.plate_holes), self.plate_circle);
        let plate = if self.back { plate.back() } else { plate };
        whole.and(crank).and(plate)
    }

    /// Fewer holes are fewer to miscount; on is easier than back.
    fn labour(&self) -> (u32, bool, u32, u32) {
        let holes = self.crank_holes + self.plate_holes;
        (holes, self.back, self.crank_circle, self.plate_circle)
    }
}

/// Nearest two moves on one plate that step `step` divisions at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Nearest {
    /// The two moves.
    pub moves: Compound,
    /// Divisions of a move. Where it is not 1, the work goes round as many
    /// times before every division has had its turn.
    pub step: u32,
    /// By how much one move goes too far, turns of the crank.
    pub error: Turns,
}

/// Every pair of circles of one plate that gives `turns` exactly, each with
/// the fewest holes; fewest holes first. Moves of which one is nothing are no
/// pairs.
pub fn compound_turns(head: &DividingHead, turns: Turns) -> Vec<Compound> {
    let mut found = Vec::new();
    for_each_pair(head, |plate, first, second| {
        let exact = |back| {
            let plain = (1..second).map(move |holes| (holes, back));
            plain.filter_map(|(holes, back)| {
                let moves = finished(turns, (plate, first, second), holes, back)?;
                (moves.turns() == turns).then_some(moves)
            })
        };
        // Two moves on are the same in either order.
        let on = exact(false).filter(|_| first < second);
        let all = on.chain(exact(true));
        found.extend(all.min_by_key(Compound::labour));
    });
    found.sort_by_key(Compound::labour);
    found
}

/// Every exact pair of circles for `count`; see [`compound_turns`].
pub fn compound(head: &DividingHead, count: u32) -> Vec<Compound> {
    compound_turns(head, Turns::of(i64::from(head.worm()), count))
}

/// The two moves on one plate that come nearest to `turns`; the fewest holes
/// where several do. None without a plate of two circles.
pub fn nearest_turns(head: &DividingHead, turns: Turns) -> Option<Compound> {
    let mut best: Option<((Turns, _), Compound)> = None;
    for_each_pair(head, |plate, first, second| {
        for holes in 1..second {
            for back in [false, true] {
                let Some(moves) = finished(turns, (plate, first, second), holes, back) else {
                    continue;
                };
                let off = moves.turns().and(turns.back()).abs();
                let key = (off, moves.labour());
                if best.as_ref().is_none_or(|(least, _)| key < *least) {
                    best = Some((key, moves));
                }
            }
        }
    });
    best.map(|(_, moves)| moves)
}

/// The nearest two moves for `count` that step up to `most_step` divisions at
/// a time: of all steps without a common factor with the count the one that
/// errs least over the whole work, the smallest where several do.
pub fn nearest(head: &DividingHead, count: u32, most_step: u32) -> Option<Nearest> {
    let steps = (1..=most_step.min(count))
        .filter(|step| Turns::of(i64::from(*step), count).denominator() == i128::from(count));
    let tried = steps.filter_map(|step| {
        let wanted = Turns::of(i64::from(head.worm()), count).times(step);
        let moves = nearest_turns(head, wanted)?;
        Some(Nearest {
            moves,
            step,
            error: moves.turns().and(wanted.back()),
        })
    });
    tried.min_by_key(|nearest| (nearest.error.abs(), nearest.step))
}

/// The move on the second circle given, that on the first which comes nearest
/// to `turns`; none where the first would be nothing or go back.
fn finished(
    turns: Turns,
    (plate, first, second): (usize, u32, u32),
    holes: u32,
    back: bool,
) -> Option<Compound> {
    let second_move = Turns::of(i64::from(holes), second);
    let rest = turns.and(if back {
        second_move
    } else {
        second_move.back()
    });
    let nearest = u32::try_from(rest.nearest_holes(first)).ok()?;
    let (whole_turns, crank_holes) = (nearest / first, nearest % first);
    (crank_holes > 0).then_some(Compound {
        plate: plate + 1,
        whole_turns,
        crank_holes,
        crank_circle: first,
        plate_holes: holes,
        plate_circle: second,
        back,
    })
}

/// Two different circles of one plate, in both orders.
fn for_each_pair(head: &DividingHead, mut each: impl FnMut(usize, u32, u32)) {
    for (plate, circles) in head.plates().iter().enumerate() {
        for &first in circles {
            for &second in circles {
                if first != second && first > 0 && second > 0 {
                    each(plate, first, second);
                }
            }
        }
    }
}

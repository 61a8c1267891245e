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
    let exact = |circles: Circles| {
        let all = circles.nearest_to(turns).filter(|(off, _)| *off == 0);
        // Two moves on are the same in either order.
        let all = all.filter(|(_, moves)| moves.back || circles.first < circles.second);
        all.map(|(_, moves)| moves).min_by_key(Compound::labour)
    };
    let mut found: Vec<Compound> = pairs(head).filter_map(exact).collect();
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
    let best = |circles: Circles| {
        let all = circles.nearest_to(turns);
        all.min_by_key(|(off, moves)| (*off, moves.labour()))
    };
    let bests = pairs(head).filter_map(best);
    let key = |moves: &Compound| (moves.turns().and(turns.back()).abs(), moves.labour());
    bests.map(|(_, moves)| moves).min_by_key(key)
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

/// Two different circles of a plate.
#[derive(Clone, Copy)]
struct Circles {
    plate: usize,
    first: u32,
    second: u32,
}

/// Two circles of one plate, in both orders.
fn pairs(head: &DividingHead) -> impl Iterator<Item = Circles> {
    let plates = head.plates().iter().enumerate();
    plates.flat_map(|(plate, circles)| {
        let firsts = circles.iter().filter(|holes| **holes > 0);
        firsts.flat_map(move |&first| {
            let others = circles.iter().filter(move |holes| **holes > 0);
            let seconds = others.filter(move |second| **second != first);
            seconds.map(move |&second| Circles {
                plate,
                first,
                second,
            })
        })
    })
}

impl Circles {
    /// For every move on the second circle, on and back, that on the first which
    /// comes nearest to `turns`, and how far off it is in parts of a turn that
    /// are the same for all of them; none where the first would be nothing or go
    /// back. Counted in these parts no sum is ever reduced.
    fn nearest_to(self, turns: Turns) -> impl Iterator<Item = (i128, Compound)> {
        let (first, second) = (i128::from(self.first), i128::from(self.second));
        let wanted = turns.numerator() * first * second;
        let crank = turns.denominator() * second;
        let plate = turns.denominator() * first;
        let ways = (1..self.second).flat_map(|holes| [(holes, false), (holes, true)]);
        ways.filter_map(move |(holes, back)| {
            let moved = plate * i128::from(holes);
            let rest = if back { wanted + moved } else { wanted - moved };
            let nearest = (2 * rest + crank).div_euclid(2 * crank);
            let off = (nearest * crank - rest).abs();
            Some((off, self.moves(u32::try_from(nearest).ok()?, holes, back)?))
        })
    }

    /// So many holes of the first circle and of the second.
    fn moves(self, crank: u32, plate_holes: u32, back: bool) -> Option<Compound> {
        let (whole_turns, crank_holes) = (crank / self.first, crank % self.first);
        (crank_holes > 0).then_some(Compound {
            plate: self.plate + 1,
            whole_turns,
            crank_holes,
            crank_circle: self.first,
            plate_holes,
            plate_circle: self.second,
            back,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_what_moves_are_off() {
        let circles = Circles {
            plate: 0,
            first: 18,
            second: 15,
        };
        for turns in [Turns::of(40, 51), Turns::of(1, 37), Turns::of(40, 3)] {
            let mut seen = 0;
            for (off, moves) in circles.nearest_to(turns) {
                let error = moves.turns().and(turns.back()).abs();
                let parts = error.times(18 * 15).numerator() * turns.denominator();
                assert_eq!(parts, off * error.times(18 * 15).denominator());
                // No hole of the first circle is nearer.
                assert!(error <= Turns::of(1, 36), "{moves:?}");
                seen += 1;
            }
            // One for each hole of the second circle at least.
            assert!(seen >= 14, "{seen}");
        }
    }

    #[test]
    fn half_a_hole_is_rounded_up() {
        // Half a turn on 8 holes is 4, less a quarter of a turn 2; an eighth of
        // a turn on 4 holes is half a hole.
        let moves = |first, turns: Turns| {
            let second = 4;
            let circles = Circles {
                plate: 0,
                first,
                second,
            };
            let all = circles.nearest_to(turns).map(|(_, moves)| moves);
            let mut on = all.filter(|moves| !moves.back && moves.plate_holes == 1);
            on.next().map(|moves| moves.crank_holes)
        };
        assert_eq!(moves(8, Turns::of(1, 2)), Some(2));
        assert_eq!(moves(4, Turns::of(3, 8)), Some(1));
    }
}

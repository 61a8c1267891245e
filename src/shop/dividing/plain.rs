//! Direct dividing, and turns and holes of one circle.

use super::Turns;
use crate::problem::DividingHead;
use serde::Serialize;

/// A plate on the work's own spindle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Direct {
    /// Its holes or notches.
    pub plate_holes: u32,
    /// By how many of them the work moves from tooth to tooth.
    pub move_holes: u32,
}

/// Turns and holes on one circle of a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct OnCircle {
    /// Holes of the circle.
    pub circle_holes: u32,
    /// Holes to move beyond the whole turns.
    pub move_holes: u32,
}

/// Whole turns and holes from tooth to tooth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Simple {
    /// Whole turns of the crank.
    pub whole_turns: u32,
    /// Every circle that serves for the rest, ascending; none where whole
    /// turns do it, in any hole.
    pub circles: Vec<OnCircle>,
}

/// Every direct plate that is a multiple of `count`, in the order of the head.
pub fn direct(head: &DividingHead, count: u32) -> Vec<Direct> {
    let serves = |holes: &&u32| count > 0 && **holes > 0 && holes.is_multiple_of(count);
    let plates = head.direct().iter().filter(serves);
    plates
        .map(|&plate_holes| Direct {
            plate_holes,
            move_holes: plate_holes / count,
        })
        .collect()
}

/// Whole turns and every circle that divides `count`; none where none does.
pub fn simple(head: &DividingHead, count: u32) -> Option<Simple> {
    if count == 0 {
        return None;
    }
    simple_turns(head, Turns::of(i64::from(head.worm()), count))
}

/// Whole turns and every circle that gives `turns` of the crank, 0 or more;
/// none where none does.
pub fn simple_turns(head: &DividingHead, turns: Turns) -> Option<Simple> {
    if let Some((whole_turns, _)) = turns.on_circle(1) {
        return Some(Simple {
            whole_turns,
            circles: Vec::new(),
        });
    }
    let mut whole_turns = 0;
    let mut circles = Vec::new();
    for &circle_holes in head.plates().iter().flatten() {
        if let Some((whole, move_holes)) = turns.on_circle(circle_holes) {
            whole_turns = whole;
            circles.push(OnCircle {
                circle_holes,
                move_holes,
            });
        }
    }
    circles.sort_unstable_by_key(|circle| circle.circle_holes);
    circles.dedup();
    (!circles.is_empty()).then_some(Simple {
        whole_turns,
        circles,
    })
}

impl Direct {
    /// Turns of the work from tooth to tooth.
    pub fn work_turns(&self) -> Turns {
        Turns::of(i64::from(self.move_holes), self.plate_holes)
    }
}

impl Simple {
    /// Turns of the crank from tooth to tooth, on one of its circles.
    pub fn crank_turns(&self, circle: Option<&OnCircle>) -> Turns {
        let whole = Turns::of(i64::from(self.whole_turns), 1);
        circle.map_or(whole, |circle| {
            whole.and(Turns::of(i64::from(circle.move_holes), circle.circle_holes))
        })
    }
}

//! Differential dividing: the work turns the plate through change gears while
//! the crank moves as for a count nearby.

use super::{Simple, Turns, simple};
use crate::problem::DividingHead;
use serde::Serialize;

/// How far the count set may be from the one wanted. With 40:1 it is a ratio
/// of gears of 20 for 40 teeth: more than change gears give.
const MOST_APART: u32 = 20;

/// Change gears and a count nearby that together give a count.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Differential {
    /// The count that the crank is set for.
    pub set_for: u32,
    /// How the crank moves for it.
    pub crank: Simple,
    /// Turns of the plate for one turn of the work; positive with the crank.
    pub ratio: Turns,
    /// The gears in pairs, driver first; the first driver is on the work's
    /// spindle, the last driven gear turns the plate.
    pub gears: Vec<[u32; 2]>,
    /// Idlers between: one more, or one less, where the head itself turns the
    /// plate the other way (try it by hand before cutting).
    pub idlers: u32,
}

impl Differential {
    /// Turns of the crank from tooth to tooth of `count`, the plate's own turn
    /// counted: worked out from the gears and the crank's circle, not from
    /// what was wanted.
    pub fn crank_turns(&self, count: u32) -> Turns {
        let over_plate = self.crank.crank_turns(self.crank.circles.first());
        let gears = self.gears.iter();
        let geared = gears.fold(Turns::of(1, 1), |ratio, [driver, driven]| {
            ratio.times(*driver).over(*driven)
        });
        let with = self.ratio > Turns::NONE;
        let geared = if with { geared } else { geared.back() };
        over_plate.and(geared.over(count))
    }

    /// Whether the plate turns with the crank.
    pub fn with_the_crank(&self) -> bool {
        self.ratio > Turns::NONE
    }
}

/// Every count nearby for which the change gears serve, in one pair where one
/// does, else in two. One pair before two, then the nearest count, the smaller
/// of two as near.
pub fn differential(head: &DividingHead, count: u32) -> Vec<Differential> {
    let mut found = Vec::new();
    for apart in 1..=MOST_APART {
        let near = [count.checked_sub(apart), count.checked_add(apart)];
        for set_for in near.into_iter().flatten().filter(|near| *near > 1) {
            found.extend(set_for_near(head, count, set_for));
        }
    }
    found.sort_by_key(|way: &Differential| way.gears.len());
    found
}

fn set_for_near(head: &DividingHead, count: u32, set_for: u32) -> Option<Differential> {
    let crank = simple(head, set_for)?;
    let apart = i64::from(set_for) - i64::from(count);
    let ratio = Turns::of(apart * i64::from(head.worm()), set_for);
    let gears = gears_for(head.change_gears(), ratio.abs())?;
    // One idler turns driver and driven gear the same way; common practice, no
    // source: that is with the crank. A second pair reverses by itself.
    let pairs = u32::try_from(gears.len()).ok()?;
    let idlers = 2 - pairs + u32::from(ratio < Turns::NONE);
    Some(Differential {
        set_for,
        crank,
        ratio,
        gears,
        idlers,
    })
}

fn gears_for(owned: &[u32], ratio: Turns) -> Option<Vec<[u32; 2]>> {
    let mut owned = owned.to_vec();
    owned.sort_unstable();
    one_pair(&owned, ratio)
        .map(|pair| vec![pair])
        .or_else(|| two_pairs(&owned, ratio))
}

/// The pair with the smallest driver.
fn one_pair(owned: &[u32], ratio: Turns) -> Option<[u32; 2]> {
    let mut drivers = owned.iter().enumerate();
    drivers.find_map(|(i, &driver)| {
        let mut others = owned.iter().enumerate().filter(|(j, _)| *j != i);
        let gives = |driven: u32| driven > 0 && Turns::of(i64::from(driver), driven) == ratio;
        others
            .find(|(_, driven)| gives(**driven))
            .map(|(_, &driven)| [driver, driven])
    })
}

/// Two pairs, the smallest first pair of them.
fn two_pairs(owned: &[u32], ratio: Turns) -> Option<Vec<[u32; 2]>> {
    for (i, &driver) in owned.iter().enumerate() {
        for (j, &driven) in owned.iter().enumerate() {
            if i == j || driven == 0 || driver == 0 {
                continue;
            }
            let rest = ratio.times(driven).over(driver);
            let others = owned.iter().enumerate();
            let others = others.filter(|(k, _)| *k != i && *k != j);
            let others: Vec<u32> = others.map(|(_, &gear)| gear).collect();
            if let Some(second) = one_pair(&others, rest) {
                return Some(vec![[driver, driven], second]);
            }
        }
    }
    None
}

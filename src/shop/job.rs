//! All work at the bench for one set: parts, bars, cutters, money.

use super::blanks::{Blank, Kind, blanks};
use super::cutting::{Impossible, Plan, Why, plan};
use crate::base::Decimal;
use crate::design::Plan as Design;
use crate::problem::Problem;
use crate::search::Control;
use crate::stock::{Cutters, Least, Stock, cutters, gear_pieces, least_money_within};
use crate::train::Set;

/// Partial plans looked at for the money of the gears alone.
const STEPS: u64 = 1_000_000;

/// What to buy and to cut for a set.
#[derive(Clone, Debug)]
pub struct Job {
    /// What there is, and what materials are called.
    pub stock: Stock,
    /// Every part that is cut; pieces of the plan are places in this list.
    pub blanks: Vec<Blank>,
    /// Parts of the box that no bar yields, and why.
    pub left_out: Vec<(Blank, Why)>,
    /// Whether the box could be laid out, so that its other parts are known.
    pub laid_out: bool,
    /// The bars.
    pub plan: Plan,
    /// The cutters.
    pub cutters: Cutters,
    /// Money for bars if the gears alone were made.
    pub gears_alone: Least,
}

/// Why a job cannot be done.
#[derive(Clone, Debug, PartialEq)]
pub struct Undoable {
    /// The part.
    pub blank: Blank,
    /// Why it cannot be had.
    pub why: Why,
}

impl Job {
    /// For a set and its box.
    ///
    /// # Errors
    /// A gear or a further part that cannot be had. Other parts of the box that
    /// no bar yields are left out: they may well come from elsewhere.
    pub fn new(
        problem: &Problem,
        set: &Set,
        design: &Design<'_>,
        control: &Control,
    ) -> Result<Self, std::boxed::Box<Undoable>> {
        let mut stock = Stock::of(problem);
        let mut blanks = blanks(problem, set, design, &mut stock);
        let gears = gear_pieces(problem, set, &mut stock);
        let mut left_out = Vec::new();
        let plan = loop {
            let pieces: Vec<_> = blanks.iter().map(|blank| blank.piece).collect();
            match plan(&pieces, &stock, control) {
                Ok(plan) => break plan,
                Err(Impossible { piece, why }) => {
                    let blank = blanks.remove(piece.min(blanks.len() - 1));
                    if matches!(blank.kind, Kind::Gear(..) | Kind::Further) {
                        return Err(std::boxed::Box::new(Undoable { blank, why }));
                    }
                    left_out.push((blank, why));
                }
            }
        };
        Ok(Self {
            gears_alone: least_money_within(&gears, &stock, STEPS),
            stock,
            blanks,
            left_out,
            laid_out: design.layout.is_ok(),
            plan,
            cutters: cutters(problem, set),
        })
    }

    /// Money for bars.
    pub fn bars_money(&self) -> Decimal {
        money(self.plan.money_millionths)
    }

    /// Money for everything.
    pub fn money(&self) -> Decimal {
        sum(self.bars_money(), self.cutters.money)
    }

    /// Money for gears and cutters alone; none where it was not settled.
    pub fn gears_money(&self) -> Option<Decimal> {
        match self.gears_alone {
            Least::Money(bars) => Some(sum(money(bars), self.cutters.money)),
            Least::Impossible | Least::Between(..) => None,
        }
    }

    /// Parts that are alike, each group's places in order.
    pub fn alike(&self) -> Vec<Vec<usize>> {
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for (place, blank) in self.blanks.iter().enumerate() {
            let is_alike = |group: &&mut Vec<usize>| {
                let first = group.first().and_then(|first| self.blanks.get(*first));
                first.is_some_and(|first| first.is_alike(blank))
            };
            match groups.iter_mut().find(is_alike) {
                Some(group) => group.push(place),
                None => groups.push(vec![place]),
            }
        }
        groups
    }
}

/// Money in millionths as a decimal.
pub fn money(millionths: u64) -> Decimal {
    Decimal::from_millionths(i64::try_from(millionths).unwrap_or(i64::MAX))
}

fn sum(one: Decimal, other: Decimal) -> Decimal {
    Decimal::from_millionths(one.millionths().saturating_add(other.millionths()))
}

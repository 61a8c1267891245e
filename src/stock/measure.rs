//! What a set costs, and any measure of it as a number to compare.

use super::{Material, Piece, Stock, least_money};
use crate::problem::{Measure, Problem, WhichCutter};
use crate::train::{Cutter, Figures, Set, cutter_of, own_gears};
use std::collections::{BTreeMap, BTreeSet};

/// Stands for the cost of a set with a gear that no bar holds: more than any.
pub const NO_BAR: u64 = u64::MAX - 1;

/// Money for everything that the gears of a set need and that is not at hand,
/// millionths: cutters, and bars for the blanks of its gears by the plan that
/// costs least. None where no bar holds some gear.
pub fn cost(problem: &Problem, set: &Set) -> Option<u64> {
    let bars = bar_money(problem, set)?;
    Some(bars.saturating_add(cutter_money(problem, set)))
}

/// Money for bars for the blanks of a set's gears, millionths.
pub fn bar_money(problem: &Problem, set: &Set) -> Option<u64> {
    let mut stock = Stock::of(problem);
    let named = problem.workshop().gear_material();
    let material: Option<Material> = named.map(|name| stock.material(name));
    let pieces: Vec<Piece> = own_gears(problem, set)
        .iter()
        .map(|(gear, _, od_um)| Piece::of_gear(problem, gear, *od_um, material))
        .collect();
    least_money(&pieces, &stock)
}

/// Money for the cutters of a set's gears that are not at hand, millionths: for
/// each module the cheaper of its form cutters one by one and its set of eight.
pub fn cutter_money(problem: &Problem, set: &Set) -> u64 {
    let workshop = problem.workshop();
    let cutters: BTreeSet<Cutter> = own_gears(problem, set)
        .iter()
        .map(|(gear, form, _)| cutter_of(problem.gears(), gear.module, gear.teeth, form))
        .collect();
    let mut singly: BTreeMap<_, u64> = BTreeMap::new();
    let mut total = 0_u64;
    for cutter in cutters {
        let (module, which) = cutter.in_workshop(problem);
        let price = millionths(workshop.cutter_price(module, which));
        match which {
            WhichCutter::Form(_) => *singly.entry(module).or_default() += price,
            _ => total += price,
        }
    }
    for (module, sum) in singly {
        let set = workshop.form_set_price(module).map(millionths);
        total += set.map_or(sum, |set| set.min(sum));
    }
    total
}

/// A measure of a set as a whole number that compares as the measure does: for
/// the cost millionths, and [`NO_BAR`] where no bar holds some gear.
pub fn exact(problem: &Problem, set: &Set, figures: &Figures, measure: Measure) -> u64 {
    match measure {
        // The bits of doubles that are not negative rise with them.
        Measure::WorstError => figures.worst_error.to_bits(),
        Measure::BlankVolume => figures.blank_um2,
        Measure::DistinctCutters => figures.distinct_cutters.into(),
        Measure::Bars => figures.needs.bars.into(),
        Measure::Blanks => figures.needs.blanks.into(),
        Measure::Setups => figures.needs.setups.into(),
        Measure::Cost => cost(problem, set).unwrap_or(NO_BAR),
    }
}

fn millionths(money: crate::base::Decimal) -> u64 {
    u64::try_from(money.millionths()).unwrap_or(0)
}

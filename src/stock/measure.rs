//! What a set costs, and any measure of it as a number to compare.

use super::{Piece, Stock, cutters, least_money};
use crate::problem::{Measure, Problem};
use crate::train::{Figures, Form, Gear, MOST_HUNDREDTHS, Set, own_gears, safety_hundredths};

/// Stands for the cost of a set with a gear that no bar holds: more than any.
pub const NO_BAR: u64 = u64::MAX - 1;

/// Money for everything that the gears of a set need and that is not at hand,
/// millionths: cutters, for each module the cheaper of its form cutters one by one and its
/// set of eight, and bars for the blanks of its gears by the plan that costs
/// least. None where no bar holds some gear.
pub fn cost(problem: &Problem, set: &Set) -> Option<u64> {
    let bars = bar_money(problem, set)?;
    let cutters = cutters(problem, set).money.millionths();
    Some(bars.saturating_add(u64::try_from(cutters).unwrap_or(0)))
}

/// Money for bars for the blanks of a set's gears, millionths.
pub fn bar_money(problem: &Problem, set: &Set) -> Option<u64> {
    let mut stock = Stock::of(problem);
    let pieces = gear_pieces(problem, set, &mut stock);
    least_money(&pieces, &stock)
}

/// The pieces that a set's gears are made from.
pub fn gear_pieces(problem: &Problem, set: &Set, stock: &mut Stock) -> Vec<Piece> {
    let material = stock.gear_material(problem);
    let piece =
        |(gear, _, od_um): &(Gear, Form, u64)| Piece::of_gear(problem, gear, *od_um, material);
    own_gears(problem, set).iter().map(piece).collect()
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
        Measure::LeastSafety => u64::from(MOST_HUNDREDTHS - safety_hundredths(problem, set)),
    }
}

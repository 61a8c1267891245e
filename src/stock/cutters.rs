//! Cutters that a set needs, and what they cost.

use crate::base::{Decimal, Module, Teeth};
use crate::making::FormCutter;
use crate::problem::{Problem, WhichCutter, Workshop};
use crate::train::{Cutter, Gear, Set, cutter_of, form_cutter, forms_of, gears_of};
use std::collections::BTreeMap;

/// A cutter and what it cuts.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterNeed {
    /// The cutter.
    pub cutter: Cutter,
    /// Its module.
    pub module: Module,
    /// What the workshop calls it.
    pub which: WhichCutter,
    /// The range of teeth engraved on a form cutter; no end for a rack.
    pub range: Option<(u32, Option<u32>)>,
    /// Tooth counts that it cuts, ascending, each once.
    pub teeth: Vec<Teeth>,
    /// Whether it is in the drawer.
    pub at_hand: bool,
    /// What it costs alone.
    pub price: Decimal,
    /// Whether it comes with a set of eight that is bought instead.
    pub in_set: bool,
}

/// A set of eight that is bought because it is cheaper than its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoughtSet {
    /// Its module.
    pub module: Module,
    /// Its price.
    pub price: Decimal,
}

/// All cutters of a set.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutters {
    /// Each that is needed, by module.
    pub needs: Vec<CutterNeed>,
    /// Sets of eight to buy.
    pub sets: Vec<BoughtSet>,
    /// What all that is to be bought costs.
    pub money: Decimal,
}

/// The cutters that a set needs, each module the cheaper way.
pub fn cutters(problem: &Problem, set: &Set) -> Cutters {
    let mut needs: Vec<CutterNeed> = Vec::new();
    for (cutter, teeth) in cut_by(problem, set) {
        needs.push(need(problem, cutter, teeth));
    }
    let workshop = problem.workshop();
    let mut sets: Vec<BoughtSet> = Vec::new();
    for &module in problem.gears().modules() {
        sets.extend(cheaper_set(workshop, module, &needs));
    }
    for need in &mut needs {
        let form = matches!(need.which, WhichCutter::Form(_));
        let bought = sets.iter().any(|set| set.module == need.module);
        need.in_set = form && bought && !need.at_hand;
    }
    let singles = needs
        .iter()
        .filter(|need| !need.in_set)
        .map(|need| need.price);
    let money = singles.chain(sets.iter().map(|set| set.price));
    Cutters {
        money: Decimal::from_millionths(money.map(Decimal::millionths).sum()),
        needs,
        sets,
    }
}

/// Which teeth each cutter cuts.
fn cut_by(problem: &Problem, set: &Set) -> BTreeMap<Cutter, Vec<Teeth>> {
    let mut cut: BTreeMap<Cutter, Vec<Teeth>> = BTreeMap::new();
    let gears = gears_of(problem, set)
        .into_iter()
        .zip(forms_of(problem, set));
    for (Gear { module, teeth, .. }, form) in gears {
        let cutter = cutter_of(problem.gears(), module, teeth, &form);
        cut.entry(cutter).or_default().push(teeth);
    }
    for teeth in cut.values_mut() {
        teeth.sort_unstable();
        teeth.dedup();
    }
    cut
}

fn need(problem: &Problem, cutter: Cutter, teeth: Vec<Teeth>) -> CutterNeed {
    let (module, which) = cutter.in_workshop(problem);
    let beta = problem.gears().helix_angle_deg().to_radians();
    let form = match which {
        WhichCutter::Form(_) => teeth.first().and_then(|&teeth| form_cutter(teeth, beta)),
        _ => None,
    };
    CutterNeed {
        cutter,
        module,
        which,
        range: form.map(FormCutter::range),
        teeth,
        at_hand: problem.workshop().has_cutter(module, which),
        price: problem.workshop().cutter_price(module, which),
        in_set: false,
    }
}

/// The set of eight of a module where it costs less than what is needed of it.
fn cheaper_set(workshop: &Workshop, module: Module, needs: &[CutterNeed]) -> Option<BoughtSet> {
    let price = workshop.form_set_price(module)?;
    let of_set = needs
        .iter()
        .filter(|need| need.module == module && matches!(need.which, WhichCutter::Form(_)));
    let singles: i64 = of_set.map(|need| need.price.millionths()).sum();
    (price.millionths() < singles).then_some(BoughtSet { module, price })
}

//! What the workshop has and can buy: bars, cutters, a dividing head.

use super::model::{Cutting, Problem};
use crate::base::{Decimal, Length, Module, Teeth};

/// A round bar as it is sold, or a piece of one that lies on the rack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    pub(super) diameter: Length,
    pub(super) length: Length,
    pub(super) material: String,
    pub(super) density_kg_m3: Decimal,
    pub(super) price: Decimal,
    pub(super) price_taken: bool,
    pub(super) count: usize,
}

impl Bar {
    /// Its diameter.
    pub const fn diameter(&self) -> Length {
        self.diameter
    }
    /// Its length.
    pub const fn length(&self) -> Length {
        self.length
    }
    /// What it is made of, in the workshop's own word.
    pub fn material(&self) -> &str {
        &self.material
    }
    /// Density of the material, kg/m³.
    pub fn density_kg_m3(&self) -> f64 {
        self.density_kg_m3.to_f64()
    }
    /// Price of one; nothing for what lies on the rack.
    pub const fn price(&self) -> Decimal {
        self.price
    }
    /// Whether the price was taken by weight, not said for this bar.
    pub const fn price_taken(&self) -> bool {
        self.price_taken
    }
    /// How many alike lie on the rack; 1 for a bar that is sold.
    pub const fn count(&self) -> usize {
        self.count
    }
}

/// What is left on a piece for the next step, and what the saw eats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Allowances {
    pub(super) kerf: Length,
    pub(super) grip: Length,
    pub(super) facing: Length,
    pub(super) turning: Length,
}

impl Allowances {
    /// Width of the cut between two pieces.
    pub const fn kerf(&self) -> Length {
        self.kerf
    }
    /// End of a bar that cannot be cut because it is held there; nothing where
    /// the last piece may end with the bar.
    pub const fn grip(&self) -> Length {
        self.grip
    }
    /// To be faced off each end of a piece.
    pub const fn facing(&self) -> Length {
        self.facing
    }
    /// To be turned off the diameter of a piece.
    pub const fn turning(&self) -> Length {
        self.turning
    }
}

/// Cutters of one module that are at hand or have a price of their own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutterPrice {
    pub(super) module: Module,
    pub(super) which: WhichCutter,
    pub(super) state: CutterState,
}

impl CutterPrice {
    /// The module.
    pub const fn module(&self) -> Module {
        self.module
    }
    /// Which of that module.
    pub const fn which(&self) -> WhichCutter {
        self.which
    }
    /// At hand, or its price.
    pub const fn state(&self) -> CutterState {
        self.state
    }
}

/// The eight form cutters of a module: number, fewest teeth, most teeth (none:
/// up to a rack). Row 4.01: J. Rose, Modern Machine-Shop Practice; MH. Rose
/// gives No. 8 as 12–14; modern lists, and this one, as 12–13.
pub const FORM_CUTTERS: [(u8, u32, Option<u32>); 8] = [
    (8, 12, Some(13)),
    (7, 14, Some(16)),
    (6, 17, Some(20)),
    (5, 21, Some(25)),
    (4, 26, Some(34)),
    (3, 35, Some(54)),
    (2, 55, Some(134)),
    (1, 135, None),
];

/// Which cutters an entry of the workshop speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WhichCutter {
    /// One of the eight form cutters, by its number (8: fewest teeth).
    Form(u8),
    /// All eight together, bought as a set.
    FormSet,
    /// A form cutter made for this tooth count.
    Own(Teeth),
    /// The hob or rack tool.
    Tool,
}

/// Whether a cutter is at hand, and what it costs where it is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutterState {
    /// In the drawer.
    AtHand,
    /// To be bought, or made, for this.
    Costs(Decimal),
}

/// A dividing head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DividingHead {
    pub(super) worm: u32,
    pub(super) plates: Vec<Vec<u32>>,
    pub(super) direct: Vec<u32>,
    pub(super) change_gears: Vec<u32>,
}

impl DividingHead {
    /// A head with a worm of so many turns, 1 or more, the circles of its
    /// plates, its direct plates and change gears; no circle without holes.
    pub const fn new(
        worm: u32,
        plates: Vec<Vec<u32>>,
        direct: Vec<u32>,
        change_gears: Vec<u32>,
    ) -> Self {
        Self {
            worm,
            plates,
            direct,
            change_gears,
        }
    }
    /// Turns of the crank for one turn of the work.
    pub const fn worm(&self) -> u32 {
        self.worm
    }
    /// The circles of holes of each plate, ascending.
    pub fn plates(&self) -> &[Vec<u32>] {
        &self.plates
    }
    /// Holes, or notches, of the plates that turn with the work itself.
    pub fn direct(&self) -> &[u32] {
        &self.direct
    }
    /// Change gears for differential dividing, as many times as there are.
    pub fn change_gears(&self) -> &[u32] {
        &self.change_gears
    }
    /// Whether a count can be divided directly: some hole circle on the work's
    /// own spindle is a multiple of it.
    pub fn divides_directly(&self, count: u32) -> bool {
        self.direct.iter().any(|holes| holes.is_multiple_of(count))
    }
    /// Whether a count can be divided by turns and holes of one circle, or
    /// directly.
    pub fn divides_simply(&self, count: u32) -> bool {
        let mut circles = self.plates.iter().flatten();
        self.divides_directly(count)
            || self.worm.is_multiple_of(count)
            || circles.any(|holes| {
                (u64::from(self.worm) * u64::from(*holes)).is_multiple_of(u64::from(count))
            })
    }
}

/// The workshop: what is on the rack and in the drawer, and what can be bought.
/// Every entry has a default, so that there always is one.
#[derive(Clone, Debug, PartialEq, Eq)]
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a yes or no of the file, or whether something was said"
)]
pub struct Workshop {
    pub(super) given: bool,
    pub(super) currency: String,
    pub(super) bars: Vec<Bar>,
    pub(super) bars_taken: bool,
    pub(super) rack: Vec<Bar>,
    pub(super) gear_material: Option<String>,
    pub(super) allowances: Allowances,
    pub(super) rings_on_gears: bool,
    pub(super) cutters: Vec<CutterPrice>,
    pub(super) form_cutter_price: Decimal,
    pub(super) own_cutter_price: Decimal,
    pub(super) tool_price: Decimal,
    pub(super) cutter_prices_taken: bool,
    pub(super) dividing_head: DividingHead,
    pub(super) largest_turned: Option<Length>,
    pub(super) only_dividable: bool,
    pub(super) only_owned_cutters: bool,
    /// How teeth are cut where only owned cutters count and explanations ask
    /// what generated teeth would do.
    pub(super) cutters_as: Option<Cutting>,
}

impl Workshop {
    /// Whether the file describes it at all.
    pub const fn given(&self) -> bool {
        self.given
    }
    /// The word behind prices; empty where none is given.
    pub fn currency(&self) -> &str {
        &self.currency
    }
    /// What bars can be bought, as many as wanted of each; by diameter, then
    /// length, then as in the file.
    pub fn bars(&self) -> &[Bar] {
        &self.bars
    }
    /// Whether no bars are named, so that the usual sizes are taken.
    pub const fn bars_taken(&self) -> bool {
        self.bars_taken
    }
    /// Bars and offcuts that are owned, in the order of the file.
    pub fn rack(&self) -> &[Bar] {
        &self.rack
    }
    /// What gears are made of; any material where none is said.
    pub fn gear_material(&self) -> Option<&str> {
        self.gear_material.as_deref()
    }
    /// What is left on pieces, and the width of the cut.
    pub const fn allowances(&self) -> &Allowances {
        &self.allowances
    }
    /// Whether dog rings are of one piece with their gears.
    pub const fn rings_on_gears(&self) -> bool {
        self.rings_on_gears
    }
    /// Cutters at hand and those that have a price of their own, in the order
    /// of the file; no cutter is named twice.
    pub fn cutters(&self) -> &[CutterPrice] {
        &self.cutters
    }
    /// Price of a form cutter that is not named.
    pub const fn form_cutter_price(&self) -> Decimal {
        self.form_cutter_price
    }
    /// What a home-made form cutter costs that is not named.
    pub const fn own_cutter_price(&self) -> Decimal {
        self.own_cutter_price
    }
    /// Price of a hob or rack tool that is not named.
    pub const fn tool_price(&self) -> Decimal {
        self.tool_price
    }
    /// Whether any of these three prices was not said.
    pub const fn cutter_prices_taken(&self) -> bool {
        self.cutter_prices_taken
    }
    /// The dividing head.
    pub const fn dividing_head(&self) -> &DividingHead {
        &self.dividing_head
    }
    /// The largest diameter that the lathe turns, when it is said.
    pub const fn largest_turned(&self) -> Option<Length> {
        self.largest_turned
    }
    /// Whether only tooth counts may be used that can be divided directly, or
    /// by turns and holes of one circle.
    pub const fn only_dividable(&self) -> bool {
        self.only_dividable
    }
    /// Whether only gears may be used whose cutter is at hand.
    pub const fn only_owned_cutters(&self) -> bool {
        self.only_owned_cutters
    }
    /// What one cutter costs alone: nothing when it is at hand. A set of eight
    /// may be cheaper than its parts; see [`Workshop::form_set_price`].
    pub fn cutter_price(&self, module: Module, which: WhichCutter) -> Decimal {
        let of_module = || self.cutters.iter().filter(|entry| entry.module == module);
        let set_at_hand = || {
            of_module().any(|e| e.which == WhichCutter::FormSet && e.state == CutterState::AtHand)
        };
        let usual = match which {
            WhichCutter::Form(_) if set_at_hand() => return Decimal::whole(0),
            WhichCutter::Form(_) | WhichCutter::FormSet => self.form_cutter_price,
            WhichCutter::Own(_) => self.own_cutter_price,
            WhichCutter::Tool => self.tool_price,
        };
        let named = of_module().find(|entry| entry.which == which);
        named.map_or(usual, |entry| match entry.state {
            CutterState::AtHand => Decimal::whole(0),
            CutterState::Costs(price) => price,
        })
    }
    /// Whether a cutter is at hand.
    pub fn has_cutter(&self, module: Module, which: WhichCutter) -> bool {
        let at_hand = |entry: &&CutterPrice| {
            let meant = entry.which == which
                || matches!(
                    (entry.which, which),
                    (WhichCutter::FormSet, WhichCutter::Form(_))
                );
            entry.module == module && meant && entry.state == CutterState::AtHand
        };
        self.cutters.iter().any(|entry| at_hand(&entry))
    }
    /// Price of all eight form cutters of a module together, where it is said
    /// and they are not at hand.
    pub fn form_set_price(&self, module: Module) -> Option<Decimal> {
        let set =
            |entry: &&CutterPrice| entry.module == module && entry.which == WhichCutter::FormSet;
        match self.cutters.iter().find(set)?.state {
            CutterState::AtHand => None,
            CutterState::Costs(price) => Some(price),
        }
    }
}

/// A part beside those of the box that is to be cut from the same bars.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FurtherPart {
    pub(super) name: String,
    pub(super) diameter: Length,
    pub(super) length: Length,
    pub(super) material: Option<String>,
    pub(super) count: usize,
}

impl FurtherPart {
    /// What it is called.
    pub fn name(&self) -> &str {
        &self.name
    }
    /// Its finished diameter.
    pub const fn diameter(&self) -> Length {
        self.diameter
    }
    /// Its finished length.
    pub const fn length(&self) -> Length {
        self.length
    }
    /// What it is made of; any material where none is said.
    pub fn material(&self) -> Option<&str> {
        self.material.as_deref()
    }
    /// How many there are.
    pub const fn count(&self) -> usize {
        self.count
    }
}

impl Problem {
    /// Whether gears are left out that the workshop cannot divide, or has no
    /// cutter for.
    pub fn workshop_limits(&self) -> bool {
        self.workshop.only_dividable || self.workshop.only_owned_cutters
    }
    /// The way of cutting by which a cutter must be owned. It is that of the
    /// gears, but for a problem eased of what is asked of the teeth, whose gears
    /// are generated: easing one limit must not tighten another.
    pub fn cutters_as(&self) -> Cutting {
        self.workshop.cutters_as.unwrap_or(self.gears.cutting)
    }
    /// What the workshop has and can buy.
    pub fn workshop(&self) -> &Workshop {
        &self.workshop
    }
    /// Further parts to be cut from the same bars.
    pub fn further_parts(&self) -> &[FurtherPart] {
        &self.further_parts
    }
}

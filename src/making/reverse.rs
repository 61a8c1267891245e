//! The three gears of reverse. Driver and driven gear do not mesh, so nothing
//! closes the idler's distances: each gear takes the shift nearest 0 that keeps
//! it off undercut, and the shifts make the distances.

use super::rules::form_of;
use super::{Form, Refusal, Rules};
use crate::base::{Module, Teeth};
use crate::involute::{Closing, Meshing, ShiftedGear};
use crate::problem::{Bore, Problem, Shaft};

/// How the gears of reverse are made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReverseForms {
    /// Driver, idler, driven gear.
    pub forms: [Form; 3],
    /// From the driver to the idler, and from the idler to the driven gear, mm.
    pub centres_mm: [f64; 2],
    /// Tip radii of the driver and of the driven gear, mm.
    pub tips_mm: [f64; 2],
    /// Tip radius of the idler, mm.
    pub idler_tip_mm: f64,
}

/// A gear of reverse before it meets another; or what refuses it alone.
type Lone = Result<ShiftedGear, Refusal>;

/// An outer gear with the idler, each tip shortened for this mesh alone.
#[derive(Clone, Copy, Debug)]
struct Meeting {
    /// Outer gear first.
    mesh: Meshing,
    /// The mesh as it is made, or what refuses it.
    sound: Result<Meshing, Refusal>,
}

/// Every gear and every mesh that reverse of one module may be made of, each
/// worked out once.
#[derive(Debug)]
pub struct Bench<'a> {
    rules: &'a Rules,
    outer_least: u32,
    idler_least: u32,
    idlers: usize,
    drivers: Vec<Lone>,
    drivens: Vec<Lone>,
    middle: Vec<Lone>,
    /// By outer teeth, then idler teeth: they do not depend on holes.
    meetings: Vec<Result<Meeting, Refusal>>,
}

impl<'a> Bench<'a> {
    /// Gears of `module` with `outer` teeth (fewest, most) on driver and driven
    /// gear and `idler` teeth between them.
    pub fn new(
        rules: &'a Rules,
        problem: &Problem,
        module: Module,
        outer: (Teeth, Teeth),
        idler: (Teeth, Teeth),
    ) -> Self {
        let [driver, driven] = problem.reverse_seating().holes;
        let pin = problem.bores().on(Shaft::Idler);
        let counts = |(least, most): (Teeth, Teeth)| (least.get()..=most.get()).map(Teeth::of);
        let lone = |hole| move |teeth| rules.lone(module, teeth, hole);
        let meetings = counts(outer)
            .flat_map(|z| counts(idler).map(move |i| (z, i)))
            .map(|(z, i)| rules.meeting(rules.free(module, z)?, rules.free(module, i)?))
            .collect();
        Self {
            rules,
            outer_least: outer.0.get(),
            idler_least: idler.0.get(),
            idlers: counts(idler).count(),
            drivers: counts(outer).map(lone(driver)).collect(),
            drivens: counts(outer).map(lone(driven)).collect(),
            middle: counts(idler).map(lone(pin)).collect(),
            meetings,
        }
    }

    /// How driver, idler and driven gear are made.
    ///
    /// # Errors
    /// The first limit, in their order, that refuses one of them.
    pub fn gears(&self, [driver, idler, driven]: [Teeth; 3]) -> Result<ReverseForms, Refusal> {
        let outer = |teeth: Teeth| (teeth.get() - self.outer_least) as usize;
        let middle = (idler.get() - self.idler_least) as usize;
        let alone = [
            self.drivers[outer(driver)],
            self.middle[middle],
            self.drivens[outer(driven)],
        ];
        let meeting = |teeth| self.meetings[outer(teeth) * self.idlers + middle];
        self.rules
            .assembled(&alone, || (meeting(driver), meeting(driven)))
    }
}

impl Rules {
    /// How the gears of reverse are made.
    ///
    /// # Errors
    /// The first limit, in their order, that refuses one of them.
    pub fn reverse(
        &self,
        problem: &Problem,
        module: Module,
        [driver, idler, driven]: [Teeth; 3],
    ) -> Result<ReverseForms, Refusal> {
        let [for_driver, for_driven] = problem.reverse_seating().holes;
        let alone = [
            self.lone(module, driver, for_driver),
            self.lone(module, idler, problem.bores().on(Shaft::Idler)),
            self.lone(module, driven, for_driven),
        ];
        let meeting = |outer: Lone| self.meeting(outer?, alone[1]?);
        self.assembled(&alone, || (meeting(alone[0]), meeting(alone[2])))
    }

    /// The three gears together, if each is sound alone and meets the idler.
    fn assembled(
        &self,
        alone: &[Lone; 3],
        meetings: impl FnOnce() -> (Result<Meeting, Refusal>, Result<Meeting, Refusal>),
    ) -> Result<ReverseForms, Refusal> {
        if let Some(refused) = alone.iter().filter_map(|gear| gear.err()).min() {
            return Err(refused);
        }
        let (one, other) = meetings();
        let (one, other) = both(one, other)?;
        self.together(&one, &other)
    }

    /// The gear with the shift nearest 0 that is allowed and does not undercut
    /// it.
    fn free(&self, module: Module, teeth: Teeth) -> Lone {
        self.has_tool(&[teeth])?;
        let toothing = self.toothing(module)?;
        let uncut = self.limits.allow_undercut();
        let shift = ShiftedGear::free_shift(&toothing, teeth, self.shifts(&toothing), uncut);
        let shift = shift.ok_or(Refusal::Undercut)?;
        ShiftedGear::new(toothing, teeth, shift).map_err(|_| Refusal::Undercut)
    }

    /// The same, if it also keeps its wall above `hole`.
    fn lone(&self, module: Module, teeth: Teeth, hole: Option<Bore>) -> Lone {
        let gear = self.free(module, teeth)?;
        self.wall(&gear, hole)?;
        Ok(gear)
    }

    fn meeting(&self, outer: ShiftedGear, idler: ShiftedGear) -> Result<Meeting, Refusal> {
        let sum = outer.shift() + idler.shift();
        let teeth = [outer.teeth(), idler.teeth()];
        let closing = Closing::from_shift_sum(*outer.toothing(), teeth, sum);
        let closing = closing.map_err(|_| Refusal::Undercut)?;
        let short = |gear: ShiftedGear| gear.with_tip_shortening(closing.tip_shortening());
        let meshing =
            || Meshing::new(short(outer).ok()?, short(idler).ok()?, closing.centres_mm()).ok();
        let mesh = meshing().ok_or(Refusal::Undercut)?;
        Ok(Meeting {
            mesh,
            sound: self.sound(&mesh),
        })
    }

    /// Both meshes with one idler, whose tip is the lower of the two.
    fn together(&self, one: &Meeting, other: &Meeting) -> Result<ReverseForms, Refusal> {
        let [_, of_one] = one.mesh.gears();
        let [_, of_other] = other.mesh.gears();
        if same_tip(of_one, of_other) {
            let (one, other) = both(one.sound, other.sound)?;
            return self.relieved(&one, &other);
        }
        let idler = lower(*of_one, *of_other);
        let with = |mesh: &Meshing| self.sound(&with_idler(mesh, idler)?);
        let (one, other) = both(with(&one.mesh), with(&other.mesh))?;
        self.relieved(&one, &other)
    }

    /// Two sound meshes whose idler may have been turned down for one of them.
    fn relieved(&self, one: &Meshing, other: &Meshing) -> Result<ReverseForms, Refusal> {
        let ([driver, of_one], [driven, of_other]) = (one.gears(), other.gears());
        let idler = lower(*of_one, *of_other);
        if !same_tip(of_one, of_other) {
            let holds = |mesh| self.holds(&with_idler(mesh, idler)?);
            both(holds(one), holds(other))?;
        }
        Ok(ReverseForms {
            forms: [form_of(driver), form_of(&idler), form_of(driven)],
            centres_mm: [one.centres_mm(), other.centres_mm()],
            tips_mm: [driver.tip_mm() / 2.0, driven.tip_mm() / 2.0],
            idler_tip_mm: idler.tip_mm() / 2.0,
        })
    }
}

fn lower(one: ShiftedGear, other: ShiftedGear) -> ShiftedGear {
    if other.tip_shortening() < one.tip_shortening() {
        other
    } else {
        one
    }
}

fn same_tip(one: &ShiftedGear, other: &ShiftedGear) -> bool {
    one.tip_shortening().to_bits() == other.tip_shortening().to_bits()
}

fn with_idler(mesh: &Meshing, idler: ShiftedGear) -> Result<Meshing, Refusal> {
    let [outer, _] = *mesh.gears();
    mesh.with_gears([outer, idler])
        .map_err(|_| Refusal::TipClearance)
}

/// Both results, or the limit that comes first.
fn both<T, U>(one: Result<T, Refusal>, other: Result<U, Refusal>) -> Result<(T, U), Refusal> {
    match (one, other) {
        (Ok(one), Ok(other)) => Ok((one, other)),
        (one, other) => Err(earlier(one.err(), other.err())),
    }
}

fn earlier(one: Option<Refusal>, other: Option<Refusal>) -> Refusal {
    let either = one.into_iter().chain(other).min();
    either.unwrap_or(Refusal::Undercut)
}

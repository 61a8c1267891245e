//! Which meshes hold the load that the duty puts on them, and behind which
//! heads.
//!
//! A larger head ratio gives the layshaft more torque and fewer turns. Both
//! work together to one side: torque counts in full, the dynamic factor and the
//! life factors with less than the half and the sixth power of the turns, so
//! that a mesh that fails behind one head fails behind all of larger ratio.
//! Bisection over the heads that bring a mesh into its tolerance therefore finds
//! all that it holds behind. The plain twin rates every set on its own.

mod bracket;
mod idlers;
mod shapes;
mod spans;
mod staircase;

use super::space::steepness;
use crate::base::{Length, Ratio, Teeth, Window, first_near};
use crate::mesh::{MadePair, Pairs};
use crate::problem::{Problem, Role};
use crate::rating::{Rater, Strand};
use crate::train::{ModuleId, Set};
use idlers::Idlers;
use shapes::Shapes;
use std::ops::Range;

/// What a mesh may stand behind, and how wide it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Holding {
    /// Its face width in units of the problem's.
    pub(super) units: u64,
    /// It holds behind this many of the head ratios, the least first.
    pub(super) heads: u32,
}

impl Holding {
    /// Behind every head that brings it into its tolerance.
    pub(super) const ANY: Self = Self {
        units: 1,
        heads: u32::MAX,
    };
}

/// The duty, asked of every mesh.
pub(super) struct Strong<'a> {
    problem: &'a Problem,
    rater: Rater<'a>,
    centres: Length,
    shapes: Shapes,
    idlers: Option<Idlers>,
    /// The distinct ratios that heads have, ascending, exact and as doubles.
    exact: Vec<Ratio>,
    ratios: Vec<f64>,
}

impl<'a> Strong<'a> {
    /// None where nothing is asked of the strength of teeth.
    pub(super) fn of(problem: &'a Problem, pairs: &Pairs, centres: Length) -> Option<Self> {
        let mut own = Self::knowing_nothing(problem, centres)?;
        own.shapes = Shapes::of(&own.rater, pairs, centres);
        Some(own)
    }

    fn knowing_nothing(problem: &'a Problem, centres: Length) -> Option<Self> {
        let rater = problem.asks_strength().then(|| Rater::of(problem))??;
        Some(Self {
            shapes: Shapes::default(),
            idlers: None,
            problem,
            rater,
            centres,
            exact: vec![Ratio::ONE],
            ratios: vec![1.0],
        })
    }

    /// Of what may stand behind the head of a set; none where nothing is asked.
    pub(super) fn behind_head(problem: &'a Problem, set: &Set) -> Option<Self> {
        let mut own = Self::knowing_nothing(problem, set.centre_distance)?;
        own.behind_ratios(set.head.iter().map(|pair| (pair.driven, pair.driver)));
        Some(own)
    }

    /// Whether a head pair holds, and with which width.
    pub(super) fn head(&self, made: &MadePair) -> Option<Holding> {
        // No head stands before it.
        self.holding(&self.strand(Role::Head, made)?, &(0..1), None)
    }

    /// The heads that are left, by ratio.
    pub(super) fn behind(&mut self, heads: &[MadePair]) {
        self.behind_ratios(
            heads
                .iter()
                .map(|made| (made.pair.driven, made.pair.driver)),
        );
    }

    /// The same, driven and driving teeth.
    fn behind_ratios(&mut self, heads: impl Iterator<Item = (Teeth, Teeth)>) {
        if self.problem.head().is_none() {
            self.idlers = Idlers::of(self.problem, None);
            return;
        }
        let mut ratios: Vec<(Teeth, Teeth)> = heads.collect();
        ratios.dedup_by_key(|(driven, driver)| steepness(*driven, *driver));
        self.exact = ratios
            .into_iter()
            .map(|(driven, driver)| Ratio::of(driven.get(), driver.get()))
            .collect();
        self.ratios = self.exact.iter().map(|ratio| ratio.to_f64()).collect();
        if let (Some(first), Some(last)) = (self.ratios.first(), self.ratios.last()) {
            self.idlers = Idlers::of(self.problem, Some([*first, *last]));
        }
    }

    /// Behind which heads a pair serves a speed.
    pub(super) fn speed(&self, role: Role, made: &MadePair, window: Window) -> Option<Holding> {
        let own = Ratio::of(made.pair.driven.get(), made.pair.driver.get());
        let used = self.used(own, window)?;
        self.holding(&self.strand(role, made)?, &used, None)
    }

    /// No gear of a module is narrower than so many units.
    pub(super) fn least_units(&self, module: ModuleId) -> u64 {
        let widths = self.rater.widths(module.of(self.problem));
        let face = self.problem.gears().face();
        widths.map_or(1, |widths| face.units(widths.wide(widths.least)))
    }

    /// The heads that bring a ratio into a window, by their places; none where no
    /// head does.
    fn used(&self, own: Ratio, window: Window) -> Option<Range<usize>> {
        let of = |head: &Ratio| head.then(own);
        let start = self.exact.partition_point(|head| window.is_above(of(head)));
        let end = self
            .exact
            .partition_point(|head| !window.is_below(of(head)));
        (start < end).then_some(start..end)
    }

    fn strand(&self, role: Role, made: &MadePair) -> Option<Strand> {
        let teeth = [made.pair.driver, made.pair.driven];
        let module = made.pair.module.of(self.problem);
        match self.shapes.of_pair(made) {
            Some(shape) => Some(self.rater.pair_of(role, module, teeth, &shape?)),
            None => self
                .rater
                .pair(role, module, (teeth, made.forms), self.centres),
        }
    }

    /// Of a strand that the heads in `used` bring into tolerance; about as wide and
    /// as strong as a guess, if there is one.
    fn holding(
        &self,
        strand: &Strand,
        used: &Range<usize>,
        guess: Option<Holding>,
    ) -> Option<Holding> {
        let unit = self.problem.gears().face().unit();
        let near = guess.map(|holding| wide(unit, holding.units));
        let (width, sure) = self.rater.width_near(strand, near);
        let heads = if sure {
            u32::MAX
        } else {
            held(used, guess, |head| {
                self.rater.holds(strand, self.ratios[head], width.mm())
            })?
        };
        Some(Holding {
            units: self.problem.gears().face().units(width),
            heads,
        })
    }
}

/// So many units wide.
fn wide(unit: Length, units: u64) -> Length {
    let units = i64::try_from(units).unwrap_or(i64::MAX);
    Length::from_steps(unit.steps().saturating_mul(units))
}

/// Behind how many of the heads in `used` something holds, the least first; no
/// limit where it is all of them, none where it is none.
fn held(used: &Range<usize>, guess: Option<Holding>, holds: impl Fn(usize) -> bool) -> Option<u32> {
    if holds(used.end - 1) {
        return Some(u32::MAX);
    }
    if used.len() == 1 || !holds(used.start) {
        return None;
    }
    let inside = used.start + 1..used.end - 1;
    let guess = guess.map_or(inside.start.midpoint(inside.end), |guess| {
        guess.heads as usize
    });
    let held = first_near(inside, guess, |head| !holds(head));
    Some(u32::try_from(held).unwrap_or(u32::MAX))
}

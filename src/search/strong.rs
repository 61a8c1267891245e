//! Which meshes hold the load that the duty puts on them, and behind which
//! heads.
//!
//! A larger head ratio gives the layshaft more torque and fewer turns. Both
//! work together to one side: torque counts in full, the dynamic factor and the
//! life factors with less than the half and the sixth power of the turns, so
//! that a mesh that fails behind one head fails behind all of larger ratio.
//! Bisection over the heads that bring a mesh into its tolerance therefore finds
//! all that it holds behind. The plain twin rates every set on its own.

use super::space::steepness;
use crate::base::{Length, Ratio, Teeth, Window};
use crate::mesh::{MadePair, ReverseList, ReverseSpan};
use crate::problem::{Problem, Role};
use crate::rating::{Rater, Strand};
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
    /// The distinct ratios that heads have, ascending.
    ratios: Vec<Ratio>,
}

impl<'a> Strong<'a> {
    /// None where nothing is asked of the strength of teeth.
    pub(super) fn of(problem: &'a Problem, centres: Length) -> Option<Self> {
        if !problem.asks_strength() {
            return None;
        }
        Some(Self {
            problem,
            rater: Rater::of(problem)?,
            centres,
            ratios: vec![Ratio::ONE],
        })
    }

    /// Whether a head pair holds, and with which width.
    pub(super) fn head(&self, made: &MadePair) -> Option<Holding> {
        self.holding(&self.strand(Role::Head, made)?, &(0..1), |_| 1.0)
    }

    /// The heads that are left, by ratio.
    pub(super) fn behind(&mut self, heads: &[MadePair]) {
        if self.problem.head().is_none() {
            return;
        }
        let ratio = |made: &MadePair| (made.pair.driven, made.pair.driver);
        let mut ratios: Vec<(Teeth, Teeth)> = heads.iter().map(ratio).collect();
        ratios.dedup_by_key(|(driven, driver)| steepness(*driven, *driver));
        self.ratios = ratios
            .into_iter()
            .map(|(driven, driver)| Ratio::of(driven.get(), driver.get()))
            .collect();
    }

    /// Behind which heads a pair serves a speed.
    pub(super) fn speed(&self, role: Role, made: &MadePair, window: Window) -> Option<Holding> {
        let own = Ratio::of(made.pair.driven.get(), made.pair.driver.get());
        self.served(&self.strand(role, made)?, own, window)
    }

    /// Behind which heads a reverse gearing serves.
    pub(super) fn reverse(
        &self,
        list: &ReverseList,
        span: &ReverseSpan,
        idler: Teeth,
        window: Window,
    ) -> Option<Holding> {
        let teeth = [span.driver, idler, span.driven];
        let module = span.module.of(self.problem);
        let strand = self.rater.reverse(module, teeth, list.forms(span, idler))?;
        let own = Ratio::of(span.driven.get(), span.driver.get());
        self.served(&strand, own, window)
    }

    fn strand(&self, role: Role, made: &MadePair) -> Option<Strand> {
        let pair = made.pair;
        let gears = ([pair.driver, pair.driven], made.forms);
        let module = pair.module.of(self.problem);
        self.rater.pair(role, module, gears, self.centres)
    }

    fn served(&self, strand: &Strand, own: Ratio, window: Window) -> Option<Holding> {
        let of = |head: &Ratio| head.then(own);
        let start = self
            .ratios
            .partition_point(|head| window.is_above(of(head)));
        let end = self
            .ratios
            .partition_point(|head| !window.is_below(of(head)));
        if start >= end {
            return None;
        }
        let ratio = |head: usize| self.ratios[head].to_f64();
        self.holding(strand, &(start..end), ratio)
    }

    /// Of a strand that the heads in `used` bring into tolerance.
    fn holding(
        &self,
        strand: &Strand,
        used: &Range<usize>,
        ratio: impl Fn(usize) -> f64,
    ) -> Option<Holding> {
        let width = self.rater.width(strand);
        let holds = |head: usize| self.rater.holds(strand, ratio(head), width.mm());
        let heads = if holds(used.end - 1) {
            u32::MAX
        } else {
            let fewer = used.start..used.end - 1;
            let held = first_without(fewer, holds);
            if held == used.start {
                return None;
            }
            u32::try_from(held).unwrap_or(u32::MAX)
        };
        Some(Holding {
            units: self.problem.gears().face().units(width),
            heads,
        })
    }
}

/// The first place of a run at which something no longer holds.
fn first_without(run: Range<usize>, holds: impl Fn(usize) -> bool) -> usize {
    let (mut low, mut high) = (run.start, run.end);
    while low < high {
        let middle = low.midpoint(high);
        if holds(middle) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    low
}

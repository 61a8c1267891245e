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
mod staircase;

use super::space::steepness;
use crate::base::{Length, Ratio, Teeth, Window, first_that};
use crate::mesh::{MadePair, Pairs, ReverseList, ReverseSpan};
use crate::problem::{Problem, Role};
use crate::rating::{Rater, Strand};
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
    /// The distinct ratios that heads have, ascending.
    ratios: Vec<Ratio>,
}

impl<'a> Strong<'a> {
    /// None where nothing is asked of the strength of teeth.
    pub(super) fn of(problem: &'a Problem, pairs: &Pairs, centres: Length) -> Option<Self> {
        if !problem.asks_strength() {
            return None;
        }
        let rater = Rater::of(problem)?;
        Some(Self {
            shapes: Shapes::of(&rater, pairs, centres),
            idlers: None,
            problem,
            rater,
            centres,
            ratios: vec![Ratio::ONE],
        })
    }

    /// Whether a head pair holds, and with which width.
    pub(super) fn head(&self, made: &MadePair) -> Option<Holding> {
        self.holding(&self.strand(Role::Head, made)?, &(0..1), |_| 1.0, None)
    }

    /// The heads that are left, by ratio.
    pub(super) fn behind(&mut self, heads: &[MadePair]) {
        if self.problem.head().is_none() {
            self.idlers = Idlers::of(self.problem, None);
            return;
        }
        let ratio = |made: &MadePair| (made.pair.driven, made.pair.driver);
        let mut ratios: Vec<(Teeth, Teeth)> = heads.iter().map(ratio).collect();
        ratios.dedup_by_key(|(driven, driver)| steepness(*driven, *driver));
        self.ratios = ratios
            .into_iter()
            .map(|(driven, driver)| Ratio::of(driven.get(), driver.get()))
            .collect();
        if let (Some(first), Some(last)) = (self.ratios.first(), self.ratios.last()) {
            self.idlers = Idlers::of(self.problem, Some([first.to_f64(), last.to_f64()]));
        }
    }

    /// Behind which heads a pair serves a speed.
    pub(super) fn speed(&self, role: Role, made: &MadePair, window: Window) -> Option<Holding> {
        let own = Ratio::of(made.pair.driven.get(), made.pair.driver.get());
        let used = self.used(own, window)?;
        let ratio = |head: usize| self.ratios[head].to_f64();
        self.holding(&self.strand(role, made)?, &used, ratio, None)
    }

    /// Behind which heads a reverse gearing serves; about as wide as `guess`, if
    /// that is known.
    pub(super) fn reverse(
        &self,
        list: &ReverseList,
        span: &ReverseSpan,
        idler: Teeth,
        (used, guess): (&Range<usize>, Option<Holding>),
    ) -> Option<Holding> {
        let idlers = self.idlers.as_ref().filter(|_| list.made() == 0);
        if let Some(known) = idlers.and_then(|idlers| self.plain(idlers, span, idler, used)) {
            return known;
        }
        let strand = if let Some(idlers) = idlers {
            idlers.strand(&self.rater, span, idler)
        } else {
            let teeth = [span.driver, idler, span.driven];
            let module = span.module.of(self.problem);
            self.rater.reverse(module, teeth, list.forms(span, idler))
        };
        let unit = self.problem.gears().face().unit();
        let guess = guess.map(|holding| wide(unit, holding.units));
        let ratio = |head: usize| self.ratios[head].to_f64();
        self.holding(&strand?, used, ratio, guess)
    }

    /// [`Strong::reverse`] of plain gears by what is known of their meshes; nothing
    /// is on offset shafts.
    #[allow(
        clippy::option_option,
        reason = "not known and does not hold are two answers"
    )]
    fn plain(
        &self,
        idlers: &Idlers,
        span: &ReverseSpan,
        idler: Teeth,
        used: &Range<usize>,
    ) -> Option<Option<Holding>> {
        let face = self.problem.gears().face();
        let width = match self.rater.widths(span.module.of(self.problem)) {
            Err(given) => given,
            Ok(widths) => {
                let ratio = f64::from(span.driven) / f64::from(span.driver);
                let head = self.rater.most_head_ratio(Role::Reverse, ratio);
                let load = head / f64::from(span.driver);
                let steps = idlers.steps(&self.rater, (span, idler), widths, load)?;
                if steps <= widths.most {
                    let units = face.units(widths.wide(steps));
                    return Some(Some(Holding {
                        units,
                        ..Holding::ANY
                    }));
                }
                widths.wide(widths.most)
            }
        };
        let least_head = self.ratios[used.start].to_f64();
        let holds = idlers.holds(&self.rater, (span, idler), width, least_head)?;
        let asked = |ratio| {
            let strand = idlers.strand(&self.rater, span, idler);
            strand.is_some_and(|strand| self.rater.holds(&strand, ratio, width.mm()))
        };
        let heads = held(used, |head| {
            let ratio = self.ratios[head].to_f64();
            holds.behind(ratio).unwrap_or_else(|| asked(ratio))
        });
        let units = face.units(width);
        Some(heads.map(|heads| Holding { units, heads }))
    }

    /// The heads that bring a ratio into a window, by their places; none where no
    /// head does.
    pub(super) fn used(&self, own: Ratio, window: Window) -> Option<Range<usize>> {
        let of = |head: &Ratio| head.then(own);
        let start = self
            .ratios
            .partition_point(|head| window.is_above(of(head)));
        let end = self
            .ratios
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

    /// Of a strand that the heads in `used` bring into tolerance.
    fn holding(
        &self,
        strand: &Strand,
        used: &Range<usize>,
        ratio: impl Fn(usize) -> f64,
        guess: Option<Length>,
    ) -> Option<Holding> {
        let (width, sure) = self.rater.width_near(strand, guess);
        let heads = if sure {
            u32::MAX
        } else {
            held(used, |head| {
                self.rater.holds(strand, ratio(head), width.mm())
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
fn held(used: &Range<usize>, holds: impl Fn(usize) -> bool) -> Option<u32> {
    if holds(used.end - 1) {
        return Some(u32::MAX);
    }
    let held = first_that(used.start..used.end - 1, |head| !holds(head));
    (held > used.start).then(|| u32::try_from(held).unwrap_or(u32::MAX))
}

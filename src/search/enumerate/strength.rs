//! Whether gears hold behind a head, each asked on its own.

use crate::base::{Length, Ratio};
use crate::making::{Form, Rules};
use crate::problem::{Problem, Role};
use crate::rating::{Rater, Strand};
use crate::train::{Pair, ReverseGears};

/// What the duty asks of meshes at one centre distance.
pub(super) struct Strength<'a> {
    problem: &'a Problem,
    rater: Rater<'a>,
    rules: Option<Rules>,
    centres: Length,
}

impl<'a> Strength<'a> {
    /// None where nothing is asked.
    pub(super) fn of(problem: &'a Problem, centres: Length) -> Option<Self> {
        if !problem.asks_strength() {
            return None;
        }
        Some(Self {
            problem,
            rater: Rater::of(problem)?,
            rules: Rules::of(problem),
            centres,
        })
    }

    /// Whether a pair holds behind a head of that ratio.
    pub(super) fn pair(&self, role: Role, pair: Pair, head: Ratio) -> bool {
        let (module, teeth) = (pair.module.of(self.problem), [pair.driver, pair.driven]);
        let seatings = self.problem.seating_of(role);
        let made = |rules: &Rules| rules.pair(module, teeth, seatings.holes, self.centres).ok();
        let forms = self.rules.as_ref().map_or(Some([Form::PLAIN; 2]), made);
        let strand =
            forms.and_then(|forms| self.rater.pair(role, module, (teeth, forms), self.centres));
        strand.is_some_and(|strand| self.holds(&strand, head))
    }

    /// Whether reverse gears hold behind a head of that ratio.
    pub(super) fn reverse(&self, gears: ReverseGears, head: Ratio) -> bool {
        let module = gears.module.of(self.problem);
        let teeth = [gears.driver, gears.idler, gears.driven];
        let made = |rules: &Rules| Some(rules.reverse(self.problem, module, teeth).ok()?.forms);
        let forms = self.rules.as_ref().map_or(Some([Form::PLAIN; 3]), made);
        let strand = forms.and_then(|forms| self.rater.reverse(module, teeth, forms));
        strand.is_some_and(|strand| self.holds(&strand, head))
    }

    fn holds(&self, strand: &Strand, head: Ratio) -> bool {
        let width = self.rater.width(strand);
        self.rater.holds(strand, head.to_f64(), width.mm())
    }
}

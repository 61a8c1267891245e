//! Whether what a problem measures sets by can be counted.

use super::model::{Cutting, Measure, Problem, Ranking};

/// How many things of each kind the search tells apart where it counts more than
/// cutters: cutters, sizes of bar, and blanks, set-ups and sizes of pieces
/// together.
const MOST_CUTTERS: usize = 512;
const MOST_BARS: usize = 127;
const MOST_DETAILS: usize = 4096;

impl Problem {
    /// Whether sets are measured or ranked by what the workshop has.
    pub fn measures_purchases(&self) -> bool {
        self.of_workshop().next().is_some()
    }

    /// Why the measures of the workshop cannot be counted in this problem, and
    /// what to do next; none where they can.
    pub fn uncountable(&self) -> Option<(String, &'static str)> {
        self.unmeasurable().or_else(|| self.unbought())
    }

    /// Why sets cannot be measured by the strength of their teeth.
    fn unmeasurable(&self) -> Option<(String, &'static str)> {
        if !self.measures_safety() {
            return None;
        }
        let wrong = |what: &str, next| Some((format!("\"least_safety\" {what}"), next));
        if self.duty.is_none() {
            return wrong(
                "can't be counted without a torque",
                "add \"duty\": { \"input_torque_n_m\": … }, or leave it out",
            );
        }
        if self.sizes_faces() {
            return wrong(
                "says nothing where widths follow from the load: all hold what is asked for",
                "leave it out, or give gears.face_width_mm",
            );
        }
        if self.ranking == Ranking::Balanced {
            return wrong(
                "can't be weighed against other measures",
                "rank by one of them: \"ranking\": \"worst_error\", or --sort worst_error",
            );
        }
        if self.measures == [Measure::LeastSafety] {
            return wrong(
                "needs another measure beside it",
                "add one, or rank by it alone: --sort least_safety",
            );
        }
        None
    }

    /// Why purchases cannot be counted.
    fn unbought(&self) -> Option<(String, &'static str)> {
        let word = self.of_workshop().next()?.word();
        let (shifts, limits) = (self.gears.closing.shifts(), &self.limits);
        if shifts && self.gears.cutting == Cutting::OwnForm {
            let what =
                format!("\"{word}\" can't be counted where every shift has a cutter of its own");
            return Some((what, "leave it out, or gears.profile_shift"));
        }
        if (shifts || limits.extra_tip_shortening) && self.counts(Measure::Blanks) {
            let what = "\"blanks\" can't be counted where nearly every pair has blanks of its own";
            let next = "leave it out, or gears.profile_shift and limits.extra_tip_shortening";
            return Some((what.to_owned(), next));
        }
        let of_length = [Measure::Blanks, Measure::Cost].into_iter();
        if let Some(measure) = of_length
            .filter(|_| self.sizes_faces())
            .find(|m| self.counts(*m))
        {
            let what = format!(
                "\"{}\" can't be counted where widths follow from the load",
                measure.word()
            );
            return Some((what, "leave it out, or give gears.face_width_mm"));
        }
        let fits = self.cutter_kinds() <= MOST_CUTTERS
            && self.bar_kinds() <= MOST_BARS
            && self.details() <= MOST_DETAILS;
        let next = "narrow gears.min_teeth to gears.max_teeth, the modules or workshop.bars, or leave it out";
        let what =
            || format!("\"{word}\" would count more kinds of gears or bars than can be told apart");
        (!fits).then(|| (what(), next))
    }

    fn counts(&self, measure: Measure) -> bool {
        self.measures.contains(&measure) || self.ranking == Ranking::By(measure)
    }

    fn of_workshop(&self) -> impl Iterator<Item = Measure> + '_ {
        let all = Measure::OF_WORKSHOP.into_iter();
        all.filter(|measure| self.counts(*measure))
    }

    /// Gears of different module or teeth.
    fn gear_kinds(&self) -> usize {
        let (mut least, mut most) = (self.gears.min_teeth, self.gears.max_teeth);
        if let Some(reverse) = &self.reverse {
            least = least.min(reverse.idler_min());
            most = most.max(reverse.idler_max());
        }
        self.gears.modules.len() * (most.get() + 1 - least.get()) as usize
    }

    fn cutter_kinds(&self) -> usize {
        match self.gears.cutting {
            Cutting::OwnForm => self.gear_kinds(),
            Cutting::Generated => self.gears.modules.len(),
            // Below 12 teeth each count, from 5 on, has a cutter of its own.
            Cutting::Form => self.gears.modules.len() * 15,
        }
    }

    fn bar_kinds(&self) -> usize {
        self.workshop.bars().len() + self.workshop.rack().len()
    }

    fn details(&self) -> usize {
        let asked = |measure, kinds: usize| if self.counts(measure) { kinds } else { 0 };
        let seats = 2 + 2 * self.geared().count() + 3;
        asked(Measure::Blanks, 2 * self.gear_kinds())
            + asked(Measure::Setups, self.gear_kinds())
            + asked(Measure::Cost, seats * (self.bar_kinds() + 1))
    }
}

//! Which reverse gears of a span hold, and behind which heads.

use super::idlers::Between;
use super::{Holding, Strong, held};
use crate::base::{Length, Ratio, Teeth, Window};
use crate::mesh::{ReverseList, ReverseSpan};
use crate::problem::Role;
use crate::rating::Widths;
use std::ops::Range;

/// How wide the gears of a span are to be.
#[derive(Clone, Copy, Debug)]
enum Sizing {
    Given(Length),
    /// As wide as they must be at a head ratio over the driver's teeth.
    By(Widths, f64),
}

impl Strong<'_> {
    /// The gears of a span that some head brings into the window and that hold
    /// behind it, in parts that hold alike.
    pub(in crate::search) fn parts(
        &self,
        list: &ReverseList,
        span: &ReverseSpan,
        window: Window,
    ) -> Vec<(ReverseSpan, Holding)> {
        let mut parts: Vec<(ReverseSpan, Holding)> = Vec::new();
        let ratio = Ratio::of(span.driven.get(), span.driver.get());
        let Some(used) = self.used(ratio, window) else {
            return parts;
        };
        let plain = self.plain_span(list, span);
        let mut guess = None;
        let idlers = (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of);
        for idler in idlers {
            let holding = match &plain {
                Some(plain) => self.plain(plain, idler, (&used, guess)),
                None => self.made(list, span, idler, (&used, guess)),
            };
            let Some(holding) = holding else {
                continue;
            };
            guess = Some(holding);
            match parts.last_mut() {
                Some((part, same))
                    if *same == holding && part.idler_max.get() + 1 == idler.get() =>
                {
                    part.idler_max = idler;
                }
                _ => parts.push((span.only(idler), holding)),
            }
        }
        parts
    }

    /// How reverse gears hold behind the one head there is.
    pub(in crate::search) fn reverse(
        &self,
        list: &ReverseList,
        span: &ReverseSpan,
        idler: Teeth,
    ) -> Option<Holding> {
        let one = (&(0..1), None);
        match self.plain_span(list, span) {
            Some(plain) => self.plain(&plain, idler, one),
            None => self.made(list, span, idler, one),
        }
    }

    /// What is known of the meshes of a span of plain gears.
    fn plain_span(&self, list: &ReverseList, span: &ReverseSpan) -> Option<(Between<'_>, Sizing)> {
        let idlers = self.idlers.as_ref().filter(|_| list.made() == 0)?;
        Some((idlers.between(&self.rater, span), self.sizing(span)))
    }

    fn sizing(&self, span: &ReverseSpan) -> Sizing {
        match self.rater.widths(span.module.of(self.problem)) {
            Err(given) => Sizing::Given(given),
            Ok(widths) => {
                let driver = f64::from(span.driver);
                let ratio = f64::from(span.driven) / driver;
                let head = self.rater.most_head_ratio(Role::Reverse, ratio);
                Sizing::By(widths, head / driver)
            }
        }
    }

    /// Behind which heads gears that limits have made serve; about as wide as those
    /// of a known holding.
    fn made(
        &self,
        list: &ReverseList,
        span: &ReverseSpan,
        idler: Teeth,
        (used, guess): (&Range<usize>, Option<Holding>),
    ) -> Option<Holding> {
        let teeth = [span.driver, idler, span.driven];
        let module = span.module.of(self.problem);
        let strand = self.rater.reverse(module, teeth, list.forms(span, idler))?;
        self.holding(&strand, used, guess)
    }

    /// The same of plain gears, by what is known of their meshes.
    fn plain(
        &self,
        (between, sizing): &(Between<'_>, Sizing),
        idler: Teeth,
        (used, guess): (&Range<usize>, Option<Holding>),
    ) -> Option<Holding> {
        let ask = || self.holding(&between.strand(idler)?, used, guess);
        let face = self.problem.gears().face();
        let width = match *sizing {
            Sizing::Given(width) => width,
            Sizing::By(widths, _) => widths.wide(widths.most),
        };
        let Some(holds) = between.holds(idler, width, self.ratios[used.start]) else {
            return ask();
        };
        // Most gears are too weak for it at any width.
        if let Sizing::By(widths, load) = *sizing
            && holds.under(load) != Some(false)
        {
            let near = guess.and_then(|holding| i64::try_from(holding.units).ok());
            let steps = between.steps(idler, widths, (load, near));
            let Some(steps) = steps.filter(|steps| *steps <= widths.most) else {
                return ask();
            };
            let units = face.units(widths.wide(steps));
            return Some(Holding {
                units,
                ..Holding::ANY
            });
        }
        let asked = |ratio| {
            let strand = between.strand(idler);
            strand.is_some_and(|strand| self.rater.holds(&strand, ratio, width.mm()))
        };
        let heads = held(used, guess, |head| {
            let ratio = self.ratios[head];
            holds.behind(ratio).unwrap_or_else(|| asked(ratio))
        })?;
        let units = face.units(width);
        Some(Holding { units, heads })
    }
}

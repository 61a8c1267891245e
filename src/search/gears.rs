//! Blank size and cutter of every gear that a problem may use, looked up by
//! module and tooth count where gears are plain.

use crate::base::Teeth;
use crate::making::{Form, blank_um};
use crate::mesh::{Pairs, ReverseList, reverses_at};
use crate::problem::{Cutting, Problem};
use crate::train::{Cutter, ModuleId, cutter_of};
use std::borrow::Cow;

/// One gear: OD² of its blank (µm²) and the number of its cutter.
#[derive(Clone, Copy, Debug)]
pub(super) struct GearEntry {
    pub(super) volume: u64,
    pub(super) cutter: u32,
}

/// All gears of a problem.
#[derive(Clone, Debug)]
pub(super) struct GearTable {
    first: u32,
    per_module: usize,
    entries: Vec<GearEntry>,
    /// Ascending; the number of a cutter is its place.
    cutters: Vec<Cutter>,
}

impl GearTable {
    /// Of plain gears.
    pub(super) fn new(problem: &Problem) -> Self {
        let gears = problem.gears();
        let (first, last) = teeth(problem);
        let counts = || (first..=last).map(Teeth::of);
        let ids = || (0..gears.modules().len()).map(ModuleId::new);
        let all = || ids().flat_map(|m| counts().map(move |z| (m, z)));
        let cutter = |(m, z)| cutter_of(gears, m, z, &Form::PLAIN);
        let cutters = numbered(all().map(cutter).collect());
        let entry = |(m, z): (ModuleId, Teeth)| {
            let od = blank_um(gears, m.of(problem), z, &Form::PLAIN);
            GearEntry {
                volume: od * od,
                cutter: place(&cutters, cutter((m, z))),
            }
        };
        Self {
            first,
            per_module: (last + 1 - first) as usize,
            entries: all().map(entry).collect(),
            cutters,
        }
    }

    /// The entry of a gear inside the problem's limits, made as `form` says.
    pub(super) fn of(
        &self,
        problem: &Problem,
        module: ModuleId,
        teeth: Teeth,
        form: &Form,
    ) -> GearEntry {
        let at = module.index() * self.per_module + (teeth.get() - self.first) as usize;
        if form.is_plain() && !has_own_shifts(problem) {
            return self.entries[at];
        }
        let gears = problem.gears();
        let od = blank_um(gears, module.of(problem), teeth, form);
        let cutter = if has_own_shifts(problem) {
            place(&self.cutters, cutter_of(gears, module, teeth, form))
        } else {
            self.entries[at].cutter
        };
        GearEntry {
            volume: od * od,
            cutter,
        }
    }

    /// How many different cutters there are, at any one centre distance.
    pub(super) fn cutters(&self, problem: &Problem) -> usize {
        if !has_own_shifts(problem) {
            return self.cutters.len();
        }
        let at = |centres| {
            let reverses = problem
                .reverse()
                .map(|wanted| reverses_at(problem, wanted, centres, |_, _| true));
            let pairs = Pairs::at(problem, centres);
            self.at(problem, &pairs, &reverses.unwrap_or_default())
                .cutters
                .len()
        };
        problem.centre_distances().iter().map(at).max().unwrap_or(0)
    }

    /// The table for what one centre distance offers: where every shift has a
    /// cutter of its own, only the cutters met there have numbers.
    pub(super) fn at(
        &self,
        problem: &Problem,
        pairs: &Pairs,
        reverses: &ReverseList,
    ) -> Cow<'_, Self> {
        if !has_own_shifts(problem) {
            return Cow::Borrowed(self);
        }
        let gears = problem.gears();
        let made = pairs.lists().flat_map(|(_, list)| list);
        let mut cutters: Vec<Cutter> = made
            .flat_map(|made| {
                let pair = made.pair;
                let [one, other] = &made.forms;
                [(pair.driver, one), (pair.driven, other)]
                    .map(|(z, form)| cutter_of(gears, pair.module, z, form))
            })
            .collect();
        for span in &reverses.spans {
            for idler in (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of) {
                let teeth = [span.driver, idler, span.driven];
                let forms = reverses.forms(span, idler);
                let of = |(z, form): (Teeth, &Form)| cutter_of(gears, span.module, z, form);
                cutters.extend(teeth.into_iter().zip(&forms).map(of));
            }
            // Few shifts among many gearings: the list need not grow long.
            if cutters.len() > 1 << 16 {
                cutters = numbered(cutters);
            }
        }
        Cow::Owned(Self {
            cutters: numbered(cutters),
            ..self.clone()
        })
    }
}

/// Whether gears of equal teeth may need different cutters.
fn has_own_shifts(problem: &Problem) -> bool {
    problem.gears().cutting() == Cutting::OwnForm && problem.gears().closing().shifts()
}

/// Fewest and most teeth of any gear, idlers too.
fn teeth(problem: &Problem) -> (u32, u32) {
    let gears = problem.gears();
    let idlers = problem
        .reverse()
        .map(|r| (r.idler_min().get(), r.idler_max().get()));
    let (low, high) = idlers.unwrap_or((u32::MAX, 0));
    (
        gears.min_teeth().get().min(low),
        gears.max_teeth().get().max(high),
    )
}

fn numbered(mut cutters: Vec<Cutter>) -> Vec<Cutter> {
    cutters.sort_unstable();
    cutters.dedup();
    cutters
}

fn place(cutters: &[Cutter], cutter: Cutter) -> u32 {
    u32::try_from(cutters.partition_point(|&c| c < cutter)).unwrap_or(u32::MAX)
}

//! Blank size and cutter of every gear that a problem may use, looked up by
//! module and tooth count where gears are plain.

use super::meter::{EXTRAS, Meter, asked};
use crate::base::Teeth;
use crate::making::{Form, blank_um};
use crate::mesh::{Pairs, ReverseList, reverses_at};
use crate::problem::{Cutting, Problem};
use crate::train::{Cutter, ModuleId, cutter_of};
use std::borrow::Cow;

/// One gear: OD² of its blank (µm²), the number of its cutter, its teeth.
#[derive(Clone, Copy, Debug)]
pub(super) struct GearEntry {
    pub(super) volume: u64,
    pub(super) cutter: u32,
    pub(super) teeth: u32,
}

impl GearEntry {
    /// Outside diameter of its blank, µm.
    pub(super) const fn od_um(&self) -> u64 {
        self.volume.isqrt()
    }
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
                teeth: z.get(),
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
            teeth: teeth.get(),
        }
    }

    /// How wide masks must be at any one centre distance.
    pub(super) fn width(&self, problem: &Problem) -> Width {
        let mut width = Width {
            cutters: self.cutters.len(),
            ..Width::default()
        };
        let more = asked(problem) != [false; EXTRAS];
        if !more && !has_own_shifts(problem) {
            return width;
        }
        width.cutters = 0;
        width.holds_more = more;
        for centres in problem.centre_distances().iter() {
            let reverses = problem
                .reverse()
                .map(|wanted| reverses_at(problem, wanted, centres, |_, _| true))
                .unwrap_or_default();
            let pairs = Pairs::at(problem, centres);
            let table = self.at(problem, &pairs, &reverses);
            let meter = Meter::new(problem, &table, &pairs, &reverses);
            width.cutters = width.cutters.max(table.cutters.len());
            width.coarse = width.coarse.max(meter.coarse_bits());
            width.fine = width.fine.max(meter.fine_bits());
        }
        width
    }

    /// The gears that a centre distance offers, as often as they come.
    pub(super) fn offered<'a>(
        &'a self,
        problem: &'a Problem,
        pairs: &'a Pairs,
        reverses: &'a ReverseList,
    ) -> impl Iterator<Item = GearEntry> + 'a {
        let entry = |(module, teeth, form)| self.of(problem, module, teeth, &form);
        offered(pairs, reverses).map(entry)
    }

    /// The cutters, by their numbers.
    pub(super) fn all_cutters(&self) -> &[Cutter] {
        &self.cutters
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
        let mut cutters = Vec::new();
        for (module, teeth, form) in offered(pairs, reverses) {
            cutters.push(cutter_of(problem.gears(), module, teeth, &form));
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

/// How wide masks must be.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Width {
    /// How many cutters there are.
    pub(super) cutters: usize,
    /// Whether anything but cutters is counted.
    pub(super) holds_more: bool,
    /// Bits for what comes in few kinds, and in many.
    pub(super) coarse: usize,
    pub(super) fine: usize,
}

/// Every gear of every pair and reverse gearing of a centre distance.
fn offered<'a>(
    pairs: &'a Pairs,
    reverses: &'a ReverseList,
) -> impl Iterator<Item = (ModuleId, Teeth, Form)> + 'a {
    let made = pairs.lists().flat_map(|(_, list)| list);
    let of_pairs = made.flat_map(|made| {
        let pair = made.pair;
        let [one, other] = made.forms;
        [
            (pair.module, pair.driver, one),
            (pair.module, pair.driven, other),
        ]
    });
    let of_reverse = reverses.spans.iter().flat_map(move |span| {
        let idlers = (span.idler_min.get()..=span.idler_max.get()).map(Teeth::of);
        idlers.flat_map(move |idler| {
            let [driver, middle, driven] = reverses.forms(span, idler);
            [
                (span.module, span.driver, driver),
                (span.module, idler, middle),
                (span.module, span.driven, driven),
            ]
        })
    });
    of_pairs.chain(of_reverse)
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

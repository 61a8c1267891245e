//! Blank size and cutter of every gear that a problem may use, looked up by
//! module and tooth count.

use crate::base::Teeth;
use crate::involute::blank_um;
use crate::problem::Problem;
use crate::train::{Cutter, ModuleId, cutter_of};

/// One gear: OD² of its blank (µm²) and the number of its cutter.
#[derive(Clone, Copy, Debug)]
pub(super) struct GearEntry {
    pub(super) volume: u64,
    pub(super) cutter: u32,
}

/// All gears of a problem.
#[derive(Debug)]
pub(super) struct GearTable {
    first: u32,
    per_module: usize,
    entries: Vec<GearEntry>,
    cutters: usize,
}

impl GearTable {
    pub(super) fn new(problem: &Problem) -> Self {
        let gears = problem.gears();
        let idlers = problem
            .reverse()
            .map(|r| (r.idler_min().get(), r.idler_max().get()));
        let (low, high) = idlers.unwrap_or((u32::MAX, 0));
        let first = gears.min_teeth().get().min(low);
        let last = gears.max_teeth().get().max(high);
        let counts = || (first..=last).map(Teeth::of);
        let ids = || (0..gears.modules().len()).map(ModuleId::new);
        let all = || ids().flat_map(|m| counts().map(move |z| (m, z)));
        let mut cutters: Vec<Cutter> = all().map(|(m, z)| cutter_of(gears, m, z)).collect();
        cutters.sort_unstable();
        cutters.dedup();
        let beta = gears.helix_angle_deg().to_radians();
        let entry = |(m, z): (ModuleId, Teeth)| {
            let od = blank_um(gears.rack(), m.of(problem), z, beta);
            let cutter = cutters.partition_point(|&c| c < cutter_of(gears, m, z));
            GearEntry {
                volume: od * od,
                cutter: u32::try_from(cutter).unwrap_or(u32::MAX),
            }
        };
        Self {
            first,
            per_module: (last + 1 - first) as usize,
            entries: all().map(entry).collect(),
            cutters: cutters.len(),
        }
    }

    /// The entry of a gear inside the problem's limits.
    pub(super) fn of(&self, module: ModuleId, teeth: Teeth) -> GearEntry {
        self.entries[module.index() * self.per_module + (teeth.get() - self.first) as usize]
    }

    /// How many different cutters there are.
    pub(super) const fn cutters(&self) -> usize {
        self.cutters
    }
}

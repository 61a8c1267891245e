//! Which cutter is set up when.

use crate::base::Teeth;
use crate::train::Cutter;
use std::collections::BTreeMap;

/// One cutter on the mill, and all that it cuts before the next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetUp {
    /// The cutter.
    pub cutter: Cutter,
    /// Tooth counts, ascending, and how many gears have each.
    pub counts: Vec<(Teeth, usize)>,
}

/// Every cutter once, by module, then number or count: no order changes the
/// cutter less often.
pub fn set_ups(gears: impl IntoIterator<Item = (Cutter, Teeth)>) -> Vec<SetUp> {
    let mut by_cutter: BTreeMap<Cutter, BTreeMap<Teeth, usize>> = BTreeMap::new();
    for (cutter, teeth) in gears {
        let counts = by_cutter.entry(cutter).or_default();
        *counts.entry(teeth).or_default() += 1;
    }
    let by_cutter = by_cutter.into_iter();
    by_cutter
        .map(|(cutter, counts)| SetUp {
            cutter,
            counts: counts.into_iter().collect(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::train::ModuleId;

    #[test]
    fn every_cutter_is_set_up_once() {
        let (fine, coarse) = (ModuleId::new(0), ModuleId::new(1));
        let gears = [
            (Cutter::Form(coarse, 3), Teeth::new(40)),
            (Cutter::Form(fine, 3), Teeth::new(50)),
            (Cutter::Form(coarse, 3), Teeth::new(36)),
            (Cutter::Form(fine, 3), Teeth::new(50)),
        ];
        let of = |module, counts: &[(u16, usize)]| SetUp {
            cutter: Cutter::Form(module, 3),
            counts: counts.iter().map(|&(z, n)| (Teeth::new(z), n)).collect(),
        };
        let all = set_ups(gears);
        assert_eq!(all, [of(fine, &[(50, 2)]), of(coarse, &[(36, 1), (40, 1)])]);
    }
}

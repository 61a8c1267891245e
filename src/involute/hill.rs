//! Limits on a split that bend: how far each is kept, over the shift x₁.
//!
//! Each margin rises to one summit at most and then falls, so that each limit
//! leaves one interval.

use super::bracket::{part_at_least_zero, part_below_summit};
use super::contact::LAST_BITS_MM;
use super::undercut::least_shift;
use super::{Closing, Member, Meshing, SplitLimit, SplitLimits};

/// A margin over x₁; below zero the limit is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Hill {
    /// Tip thickness of a gear.
    Tip(Member),
    /// How far the mate's tip stays above the form point of a gear.
    Root(Member),
    /// Nominal contact ratio.
    Contact,
}

/// The margins of a limit that bends; none for the others.
fn hills(limit: SplitLimit) -> &'static [Hill] {
    const FIRST: Member = Member::First;
    const SECOND: Member = Member::Second;
    match limit {
        SplitLimit::Shift | SplitLimit::Wall | SplitLimit::Undercut => &[],
        SplitLimit::TipThickness => &[Hill::Tip(FIRST), Hill::Tip(SECOND)],
        SplitLimit::Interference => &[Hill::Root(FIRST), Hill::Root(SECOND)],
        SplitLimit::ContactRatio => &[Hill::Contact],
    }
}

impl Closing {
    /// Whether the split `first` keeps a limit that bends.
    pub(super) fn keeps(&self, limit: SplitLimit, limits: &SplitLimits, first: f64) -> bool {
        let mesh = Meshing::plain(self, first);
        hills(limit)
            .iter()
            .all(|hill| height(*hill, limits, &mesh) >= 0.0)
    }

    /// The part of `within` in which a limit that bends is kept.
    pub(super) fn part(
        &self,
        limit: SplitLimit,
        limits: &SplitLimits,
        within: (f64, f64),
    ) -> Option<(f64, f64)> {
        hills(limit).iter().try_fold(within, |left, hill| {
            let above = |first: f64| height(*hill, limits, &Meshing::plain(self, first));
            match self.summit(*hill) {
                Some(summit) => part_below_summit(above, summit, left),
                None => part_at_least_zero(above, left),
            }
        })
    }

    /// The x₁ at which a margin is greatest, where a formula gives it.
    fn summit(&self, hill: Hill) -> Option<f64> {
        let least = |member: Member| least_shift(self.toothing(), self.teeth()[member.index()]);
        match hill {
            // It falls from where the tip stands on the reference circle or a
            // little outside it.
            Hill::Tip(_) => None,
            // Below x_min the tool takes more of the foot away with each step;
            // above it the mate's tip reaches further than the foot gives room,
            // since no tip lies inside its reference circle.
            Hill::Root(Member::First) => Some(least(Member::First)),
            Hill::Root(Member::Second) => Some(self.shift_sum() - least(Member::Second)),
            Hill::Contact => Some(self.equal_tip_angles()),
        }
    }

    /// The x₁ at which both tips have the same pressure angle: there a step
    /// lengthens the path at one end by what it takes from the other.
    fn equal_tip_angles(&self) -> f64 {
        let [first, second] = self.plain_gears(0.0);
        let (one, other) = (first.base_mm(), second.base_mm());
        let off = second.tip_mm() * one - first.tip_mm() * other;
        off / (2.0 * self.toothing().module_mm() * (one + other))
    }
}

fn height(hill: Hill, limits: &SplitLimits, mesh: &Meshing) -> f64 {
    match hill {
        Hill::Tip(member) => {
            let least_mm = limits.tip_thickness * mesh.toothing().module_mm();
            mesh.gear(member).tip_thickness_mm() - least_mm
        }
        Hill::Root(member) => mesh.root_margin_mm(member) + LAST_BITS_MM,
        Hill::Contact => mesh.nominal_contact_ratio() - limits.contact_ratio,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::involute::{Rack, Toothing};

    /// A margin over x₁, where no tip lies inside its reference circle.
    fn table(hill: Hill, limits: &SplitLimits, closing: &Closing) -> Vec<(f64, f64)> {
        (0..1600)
            .map(|step| -0.6 + f64::from(step) * 1e-3)
            .map(|first| (first, Meshing::plain(closing, first)))
            .filter(|(_, mesh)| {
                let mut gears = mesh.gears().iter();
                gears.all(|gear| gear.tip_mm() >= gear.reference_mm())
            })
            .map(|(first, mesh)| (first, height(hill, limits, &mesh)))
            .collect()
    }

    /// Every margin: it rises to its summit and falls behind it.
    #[test]
    fn each_margin_has_one_summit_and_it_stands_where_the_formula_says() {
        let limits = SplitLimits::within(-0.6, 1.0);
        for (alpha, beta, z, sum) in [
            (20.0, 0.0_f64, [9, 41], 0.3),
            (20.0, 25.0, [17, 17], -0.4),
            (14.5, 0.0, [20, 90], 0.9),
            (25.0, 10.0, [7, 8], 0.6),
        ] {
            let toothing = Toothing::new(Rack::standard(alpha), 2.0, beta.to_radians()).unwrap();
            let closing = Closing::from_shift_sum(toothing, z.map(Teeth::new), sum).unwrap();
            for limit in [
                SplitLimit::TipThickness,
                SplitLimit::Interference,
                SplitLimit::ContactRatio,
            ] {
                for hill in hills(limit) {
                    let table = table(*hill, &limits, &closing);
                    let best = table.iter().max_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
                    let rises = table.windows(2).map(|pair| pair[1].1 > pair[0].1);
                    let turns = rises.collect::<Vec<_>>();
                    assert!(turns.is_sorted_by(|a, b| a >= b), "{hill:?} {z:?}");
                    if let Some(summit) = closing.summit(*hill) {
                        let inside = summit.clamp(table[0].0, table[table.len() - 1].0);
                        assert!((inside - best.0).abs() < 2e-3, "{hill:?} {z:?} {summit}");
                    }
                }
            }
        }
    }
}

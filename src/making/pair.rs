//! The two gears of a head or speed.

use super::rules::form_of;
use super::{Form, Refusal, Rules};
use crate::base::{LENGTH_SLACK_MM, Length, Module, Teeth};
use crate::involute::{Closing, Meshing, NoSplit, ShiftedGear, SplitLimit, SplitLimits, Toothing};
use crate::problem::{Bore, Cutting};

impl Rules {
    /// How a pair is made that meets at `centres`: with shift closed exactly,
    /// else plain.
    ///
    /// # Errors
    /// The first limit, in their order, that refuses it.
    pub fn pair(
        &self,
        module: Module,
        teeth: [Teeth; 2],
        holes: [Option<Bore>; 2],
        centres: Length,
    ) -> Result<[Form; 2], Refusal> {
        // The smaller gear first, so that a pair and its mirror image are made
        // alike to the last bit.
        let mirrored = teeth[0] > teeth[1];
        let turned = |mut two: [_; 2]| {
            if mirrored {
                two.swap(0, 1);
            }
            two
        };
        let (mut teeth, mut holes) = (teeth, holes);
        if mirrored {
            teeth.swap(0, 1);
            holes.swap(0, 1);
        }
        self.has_tool(&teeth)?;
        let toothing = self.toothing(module)?;
        let gears = if self.shift.is_some() {
            self.shifted(toothing, teeth, holes, centres.mm())?
        } else {
            self.plain(toothing, teeth, holes, centres.mm())?
        };
        Ok(turned(gears.map(|gear| form_of(&gear))))
    }

    fn shifted(
        &self,
        toothing: Toothing,
        teeth: [Teeth; 2],
        holes: [Option<Bore>; 2],
        centres_mm: f64,
    ) -> Result<[ShiftedGear; 2], Refusal> {
        let closing =
            Closing::at_centres(toothing, teeth, centres_mm).map_err(|_| Refusal::Shift)?;
        let least = |i: usize| self.least_for_wall(&toothing, teeth[i], holes[i]);
        let limits = SplitLimits {
            least: [least(0), least(1)],
            shift: self.shifts(&toothing),
            undercut_allowed: self.limits.allow_undercut(),
            interference_allowed: self.limits.allow_interference(),
            tip_thickness: self.tip_thickness,
            contact_ratio: self.contact_ratio,
        };
        let first = match closing.first_shift(&limits) {
            Ok(first) => first,
            // Tips turned down make room where only they stood in the way.
            Err(none)
                if none.lies_in_tips()
                    && self.limits.extra_tip_shortening()
                    && !self.limits.allow_interference() =>
            {
                let limits = SplitLimits {
                    interference_allowed: true,
                    ..limits
                };
                let first = closing.first_shift(&limits);
                first.map_err(|none| self.refusal(&closing, &none))?
            }
            Err(none) => return Err(self.refusal(&closing, &none)),
        };
        let mesh = Meshing::closed(&closing, first).map_err(|_| Refusal::Shift)?;
        let mesh = self.clear(&mesh)?;
        self.holds(&mesh)?;
        Ok(*mesh.gears())
    }

    /// The limit by its name here. Bought cutters take the blame for a shift
    /// that the file itself allows.
    fn refusal(&self, closing: &Closing, none: &NoSplit) -> Refusal {
        let (least, most) = self.shift.unwrap_or((0.0, 0.0));
        let asked = (2.0 * least..=2.0 * most).contains(&closing.shift_sum());
        match none.limit {
            SplitLimit::Shift if asked && self.cutting == Cutting::Form => Refusal::Cutter,
            SplitLimit::Shift => Refusal::Shift,
            SplitLimit::Wall => Refusal::Wall,
            SplitLimit::Undercut => Refusal::Undercut,
            SplitLimit::TipThickness => Refusal::TipThickness,
            SplitLimit::Interference => Refusal::Interference,
            SplitLimit::ContactRatio => Refusal::ContactRatio,
        }
    }

    fn plain(
        &self,
        toothing: Toothing,
        teeth: [Teeth; 2],
        holes: [Option<Bore>; 2],
        centres_mm: f64,
    ) -> Result<[ShiftedGear; 2], Refusal> {
        let gear = |z| ShiftedGear::new(toothing, z, 0.0).map_err(|_| Refusal::Undercut);
        let gears = [gear(teeth[0])?, gear(teeth[1])?];
        for (gear, hole) in gears.iter().zip(holes) {
            self.wall(gear, hole)?;
        }
        for gear in &gears {
            self.uncut(gear)?;
        }
        let [first, second] = gears;
        let mesh = Meshing::new(first, second, centres_mm).map_err(|_| Refusal::Binding)?;
        let mesh = self.sound(&mesh)?;
        let missing = -mesh.backlash_mm() - 2.0 * self.thinning_mm;
        if !self.limits.allow_binding() && missing > LENGTH_SLACK_MM {
            return Err(Refusal::Binding);
        }
        Ok(*mesh.gears())
    }
}

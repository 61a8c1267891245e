//! Whether the idler's pin is clear of the gears that it passes, each asked on its
//! own.

use super::options::{helix_rad, lengths};
use crate::base::{LENGTH_SLACK_MM, Length};
use crate::involute::{ShiftedGear, Toothing};
use crate::making::{Form, Rules};
use crate::problem::{Arrangement, HeldIn, IdlerPin, Problem, Role, Seating};
use crate::train::{Pair, ReverseGears};

/// How far gears reach, and may reach, towards the pin, mm: those on the input shaft
/// and what is in line with it, those on the other shaft. In units fine enough for
/// any rounding and coarse enough to be compared and sorted as numbers: 10^-10 mm.
pub(super) type Reach = [i64; 2];

#[allow(
    clippy::cast_possible_truncation,
    reason = "lengths of a box are below 10^8 mm"
)]
fn units(mm: f64) -> i64 {
    (mm * 1e10).round() as i64
}

/// Whether gears that reach so far leave the pin its room.
pub(super) fn fits(gears: Reach, room: Reach) -> bool {
    gears[0] <= room[0] && gears[1] <= room[1]
}

/// The pin of a problem at one centre distance.
pub(super) struct Pin<'a> {
    problem: &'a Problem,
    rules: Option<Rules>,
    centres: Length,
}

impl<'a> Pin<'a> {
    /// None where the pin passes no gear but those of reverse, or may touch them.
    pub(super) fn of(problem: &'a Problem, centres: Length) -> Option<Self> {
        let pin = problem.idler_pin().filter(|pin| pin.clear_place())?;
        let in_line = problem.arrangement() == Arrangement::InLine;
        let passes = match pin.held_in() {
            HeldIn::OutputWall => false,
            HeldIn::InputWall => in_line,
            HeldIn::BothWalls => true,
        };
        (passes && problem.reverse().is_some()).then(|| Self {
            rules: Rules::of(problem),
            problem,
            centres,
        })
    }

    /// How far a pair reaches towards the pin.
    pub(super) fn reach(&self, role: Role, pair: Pair) -> Reach {
        let through = self.problem.idler_pin().map(IdlerPin::held_in) == Some(HeldIn::BothWalls);
        let in_line = self.problem.arrangement() == Arrangement::InLine;
        let seating: Seating = self.problem.seating_of(role);
        let teeth = [pair.driver, pair.driven];
        let module = pair.module.of(self.problem);
        let made = |rules: &Rules| rules.pair(module, teeth, seating.holes, self.centres).ok();
        let forms = self
            .rules
            .as_ref()
            .and_then(made)
            .unwrap_or([Form::PLAIN; 2]);
        let rack = *self.problem.gears().rack();
        let tip = |i: usize| {
            let toothing = Toothing::new(rack, module.mm(), helix_rad(self.problem)).ok()?;
            let gear = ShiftedGear::new(toothing, teeth[i], forms[i].shift).ok()?;
            let gear = gear.with_tip_shortening(forms[i].tip_shortening).ok()?;
            Some(units(gear.tip_mm() / 2.0))
        };
        let [driver, driven] = [0, 1].map(|i| tip(i).unwrap_or(i64::MAX));
        match role {
            Role::Head => [driver, driven],
            _ if !through => [0, 0],
            // The driver of a speed is on the layshaft of an in-line box.
            _ if in_line => [driven, driver],
            _ => [driver, driven],
        }
    }

    /// How far gears may reach past the pin of reverse gears; none where they are no
    /// gears at all.
    pub(super) fn room(&self, gears: ReverseGears) -> Option<Reach> {
        let pin = self.problem.idler_pin()?;
        let module = gears.module.of(self.problem);
        let teeth = [gears.driver, gears.idler, gears.driven];
        let ([to_driver, to_driven], ..) = lengths(self.problem, module, teeth)?;
        let apart = match self.problem.arrangement() {
            Arrangement::InLine => [to_driven, to_driver],
            Arrangement::Offset => [to_driver, to_driven],
        };
        let taken = pin.pin().mm() / 2.0 + pin.gap().mm() - LENGTH_SLACK_MM;
        Some(apart.map(|apart| units(apart - taken)))
    }
}

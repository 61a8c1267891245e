//! The largest gear that a shifted pinion drives.

use super::contact::LAST_BITS_MM;
use super::rack::ROUNDED;
use super::{Closing, Member, Meshing, ShiftedGear};
use crate::base::Teeth;

/// What a pinion drives without interference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// No gear at all.
    Nothing,
    /// Gears of up to so many teeth. A count below the pinion's own means that
    /// it suits no larger gear.
    Gear(Teeth),
    /// Any gear, a rack included.
    Rack,
}

/// Where a mate's tip must stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Foot {
    /// At the base tangent point, as textbooks have it: the flank is taken to
    /// begin on the base circle whatever tool cut it.
    BaseCircle,
    /// At the form circle that the rack tool leaves.
    FormCircle,
}

impl ShiftedGear {
    /// The largest gear of shift `mate_shift` that this gear drives without
    /// interference at its own foot, on the centres that the shifts close, tips
    /// shortened to keep the clearance. Gears to 3000 teeth are tried; the
    /// mate's own foot is not looked at. The pinion's thinning by depth counts.
    pub fn reach(&self, mate_shift: f64, foot: Foot) -> Reach {
        let foot_mm = self.foot_mm(foot);
        let drives = |teeth: u16| self.drives(Teeth::new(teeth), mate_shift, foot_mm);
        match largest(drives, self.teeth()).map(Teeth::new) {
            Some(teeth) if teeth.get() < u32::from(MOST_TEETH) => Reach::Gear(teeth),
            Some(_) if self.drives_a_rack(foot_mm) => Reach::Rack,
            Some(teeth) => Reach::Gear(teeth),
            None => Reach::Nothing,
        }
    }

    fn drives(&self, mate: Teeth, mate_shift: f64, foot_mm: f64) -> bool {
        let sum = self.shift() + mate_shift;
        let closing = Closing::from_shift_sum(*self.toothing(), [self.teeth(), mate], sum);
        closing.is_ok_and(|closing| {
            let mesh = Meshing::plain(&closing, self.shift());
            let tip = mesh.gear(Member::Second);
            // A tip below the base circle is no gear.
            tip.tip_mm() > tip.base_mm() && mesh.nominal_path().from_mm + LAST_BITS_MM >= foot_mm
        })
    }

    /// The rack's tip stands h_aP* − x above the pinion's reference circle.
    fn drives_a_rack(&self, foot_mm: f64) -> bool {
        let sin = self.toothing().transverse_sin();
        let radius = self.reference_mm() / 2.0;
        let tip_mm = self.toothing().module_mm() * (self.toothing().rack().addendum - self.shift());
        radius * sin - tip_mm / sin + LAST_BITS_MM >= foot_mm
    }

    fn foot_mm(&self, foot: Foot) -> f64 {
        match foot {
            Foot::BaseCircle => 0.0,
            // The straight flank of the standard rack ends a rounding above its
            // mate's tip, which is no fault of the gear.
            Foot::FormCircle => {
                let sin = self.toothing().transverse_sin();
                self.form_length_mm() - ROUNDED * self.toothing().module_mm() / sin
            }
        }
    }
}

const MOST_TEETH: u16 = 3000;

/// The largest count that `drives` holds for. From the gear's own count on a
/// larger mate reaches further down its flank, so that halving finds the end;
/// below it, where tips may be gone, every count is asked.
fn largest(drives: impl Fn(u16) -> bool, own: Teeth) -> Option<u16> {
    if drives(MOST_TEETH) {
        return Some(MOST_TEETH);
    }
    let own = u16::try_from(own.get())
        .unwrap_or(MOST_TEETH)
        .min(MOST_TEETH);
    if !drives(own) {
        return (1..own).rev().find(|teeth| drives(*teeth));
    }
    let (mut within, mut beyond) = (own, MOST_TEETH);
    while beyond - within > 1 {
        let middle = u16::midpoint(within, beyond);
        if drives(middle) {
            within = middle;
        } else {
            beyond = middle;
        }
    }
    Some(within)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::involute::{Rack, Toothing, largest_gear_teeth};

    fn gear(alpha: f64, teeth: u16, shift: f64) -> ShiftedGear {
        let toothing = Toothing::new(Rack::standard(alpha), 1.0, 0.0).unwrap();
        ShiftedGear::new(toothing, Teeth::new(teeth), shift).unwrap()
    }

    // Row 2.14: Shigley Eq. 13-12; Mott Table 8-6 (from memory, recomputed).
    #[test]
    fn unshifted_pinions_reach_what_the_textbooks_say() {
        for (alpha, pinion, most) in [
            (20.0, 13, 16),
            (20.0, 14, 26),
            (20.0, 15, 45),
            (20.0, 16, 101),
            (25.0, 9, 13),
            (25.0, 10, 32),
            (25.0, 11, 249),
        ] {
            let reach = gear(alpha, pinion, 0.0).reach(0.0, Foot::BaseCircle);
            assert_eq!(reach, Reach::Gear(Teeth::new(most)), "{alpha} {pinion}");
            let plain = largest_gear_teeth(&Rack::standard(alpha), Teeth::new(pinion));
            assert!((plain.unwrap().floor() - f64::from(most)).abs() < 0.5);
        }
        for pinion in [18, 30] {
            let reach = gear(20.0, pinion, 0.0).reach(0.0, Foot::BaseCircle);
            assert_eq!(reach, Reach::Rack);
        }
    }

    #[test]
    fn halving_finds_what_asking_every_count_finds() {
        for (alpha, teeth, shift) in (8..24).flat_map(|teeth| {
            let shifts = [-0.4, -0.1, 0.0, 0.2, 0.45];
            let all = shifts.map(|shift| (20.0, teeth, shift));
            all.into_iter().chain([(25.0, teeth, 0.1)])
        }) {
            let gear = gear(alpha, teeth, shift);
            for (foot, mate_shift) in [(Foot::BaseCircle, 0.0), (Foot::FormCircle, 0.3)] {
                let foot_mm = gear.foot_mm(foot);
                let drives = |z: u16| gear.drives(Teeth::new(z), mate_shift, foot_mm);
                let plainly = (1..=MOST_TEETH).rev().find(|z| drives(*z));
                assert_eq!(
                    largest(drives, gear.teeth()),
                    plainly,
                    "{alpha} {teeth} {shift}"
                );
            }
        }
    }

    #[test]
    fn shift_widens_the_reach_and_undercut_ends_it() {
        // 12 teeth need x 0.298 to be free of undercut.
        let narrow = gear(20.0, 12, 0.0).reach(0.0, Foot::FormCircle);
        let wide = gear(20.0, 12, 0.31).reach(0.0, Foot::FormCircle);
        assert_eq!(wide, Reach::Rack);
        // Undercut as they are, 12 full teeth suit no gear of 12 or more.
        assert!(
            matches!(narrow, Reach::Gear(teeth) if teeth.get() < 12),
            "{narrow:?}"
        );
    }
}

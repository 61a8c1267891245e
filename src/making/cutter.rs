//! Which bought form cutter cuts a gear.

use crate::base::Teeth;
use crate::problem::FORM_CUTTERS;

/// One of the eight form cutters that together cut every gear of one module
/// from 12 teeth to a rack.
///
/// Module sets are often numbered the other way round (common practice, no
/// source), so the range says more to the person at the mill than the number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FormCutter {
    number: u8,
    least: u32,
    most: Option<u32>,
}

impl FormCutter {
    const fn of((number, least, most): (u8, u32, Option<u32>)) -> Self {
        Self {
            number,
            least,
            most,
        }
    }

    /// Its number in the set: 8 (fewest teeth) to 1 (up to a rack).
    pub const fn number(self) -> u8 {
        self.number
    }

    /// The fewest and the most teeth it cuts; no most for No. 1.
    pub const fn range(self) -> (u32, Option<u32>) {
        (self.least, self.most)
    }

    fn cuts(self, teeth: u32) -> bool {
        self.least <= teeth && self.most.is_none_or(|most| teeth <= most)
    }
}

/// The cutter for a gear of `teeth` at helix angle `helix_rad` (radians), by
/// its virtual tooth number. None below 12: the set has no cutter for it.
pub fn form_cutter(teeth: Teeth, helix_rad: f64) -> Option<FormCutter> {
    let teeth = virtual_teeth(teeth, helix_rad);
    let mut set = FORM_CUTTERS.into_iter().map(FormCutter::of);
    set.find(|cutter| cutter.cuts(teeth))
}

/// One of the fifteen form cutters of a module that come closer to the true
/// form: half numbers stand between the eight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FineCutter {
    /// Its number in the set, twice: 9 is No. 4½.
    pub halves: u8,
    /// Fewest teeth that it cuts.
    pub least: u32,
    /// Most teeth that it cuts; none up to a rack.
    pub most: Option<u32>,
}

/// Twice the number, and fewest teeth, of the set of fifteen. Row 4.03: MH /
/// cutter makers (contiguous).
const FINE: [(u8, u32); 15] = [
    (16, 12),
    (15, 13),
    (14, 14),
    (13, 15),
    (12, 17),
    (11, 19),
    (10, 21),
    (9, 23),
    (8, 26),
    (7, 30),
    (6, 35),
    (5, 42),
    (4, 55),
    (3, 80),
    (2, 135),
];

/// The cutter of the set of fifteen for a gear, by its virtual tooth number;
/// none below 12.
pub fn fine_cutter(teeth: Teeth, helix_rad: f64) -> Option<FineCutter> {
    let seen = virtual_teeth(teeth, helix_rad);
    let place = FINE.partition_point(|(_, least)| *least <= seen);
    let (halves, least) = *FINE.get(place.checked_sub(1)?)?;
    Some(FineCutter {
        halves,
        least,
        most: FINE.get(place).map(|(_, next)| next - 1),
    })
}

impl FineCutter {
    /// Its number as it is engraved: "5" or "5½".
    pub fn number(self) -> String {
        let half = if self.halves % 2 == 1 { "½" } else { "" };
        format!("{}{half}", self.halves / 2)
    }
}

/// The virtual tooth number z / cos³ β, rounded to the nearest whole, half up:
/// the spur gear whose tooth space the cutter sees. For a spur gear it is the
/// count itself, exactly, as cos 0 is exactly 1.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "tooth numbers are positive, and helix angles keep them far below 2^32"
)]
pub fn virtual_teeth(teeth: Teeth, helix_rad: f64) -> u32 {
    (f64::from(teeth) / helix_rad.cos().powi(3) + 0.5).floor() as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(teeth: u16, helix_deg: f64) -> Option<u8> {
        form_cutter(Teeth::new(teeth), helix_deg.to_radians()).map(FormCutter::number)
    }

    // Row 4.01: J. Rose, Modern Machine-Shop Practice; MH (contiguous).
    #[test]
    fn published_set_leaves_no_gap_and_no_overlap() {
        let mut next = 12;
        for (cutter, number) in FORM_CUTTERS.map(FormCutter::of).iter().zip((1..=8).rev()) {
            assert_eq!(cutter.number(), number);
            let (least, most) = cutter.range();
            assert_eq!(least, next);
            assert_eq!(most.is_none(), number == 1);
            next = most.map_or(next, |most| most + 1);
        }
        assert_eq!(next, 135);
    }

    // Row 4.04: from 4.01, recomputed; below 12 there is no cutter.
    #[test]
    fn published_picks_on_both_sides_of_every_limit() {
        for (teeth, cutter) in [
            (1, None),
            (11, None),
            (12, Some(8)),
            (13, Some(8)),
            (14, Some(7)),
            (16, Some(7)),
            (17, Some(6)),
            (20, Some(6)),
            (21, Some(5)),
            (25, Some(5)),
            (26, Some(4)),
            (34, Some(4)),
            (35, Some(3)),
            (54, Some(3)),
            (55, Some(2)),
            (134, Some(2)),
            (135, Some(1)),
            (1000, Some(1)),
        ] {
            assert_eq!(number(teeth, 0.0), cutter, "{teeth}");
        }
    }

    // Row 4.06: virtual tooth number. 16 at 25° is 21.49, 20 at 22.5° is 25.36.
    #[test]
    fn published_picks_for_helical_gears() {
        assert_eq!(virtual_teeth(Teeth::new(16), 25_f64.to_radians()), 21);
        assert_eq!(number(16, 25.0), Some(5));
        assert_eq!(virtual_teeth(Teeth::new(20), 22.5_f64.to_radians()), 25);
        assert_eq!(number(20, 22.5), Some(5));
    }

    #[test]
    fn virtual_teeth_round_to_the_nearest() {
        // 1 / cos³ 15° = 1.109606: 11 becomes 12.206, 14 becomes 15.534.
        assert_eq!(number(11, 15.0), Some(8));
        assert_eq!(virtual_teeth(Teeth::new(14), 15_f64.to_radians()), 16);
        // 9 becomes 9.986 and 10 becomes 11.096: 11 teeth are too few.
        assert_eq!(virtual_teeth(Teeth::new(9), 15_f64.to_radians()), 10);
        assert_eq!(number(10, 15.0), None);
    }
}

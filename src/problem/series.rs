//! Preferred numbers.
//!
//! Source: ISO 3, Preferred numbers: the rounded values of the series R40. R20
//! is every second, R10 every fourth of them; R20/3 is every third member of
//! R20, counted from a member that is agreed on.

use crate::base::Decimal;

/// One decade of R40, in hundredths.
const R40: [i64; 40] = [
    100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280,
    300, 315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850,
    900, 950,
];

/// A series of preferred numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Series {
    /// 10 members a decade.
    R10,
    /// 20 members a decade.
    R20,
    /// Every third member of R20.
    R20By3,
    /// 40 members a decade.
    R40,
}

impl Series {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::R10, Self::R20, Self::R20By3, Self::R40];

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::R10 => "R10",
            Self::R20 => "R20",
            Self::R20By3 => "R20/3",
            Self::R40 => "R40",
        }
    }

    /// Members from `first` down to `last`, both included when they are
    /// members. R20/3 is counted from the first of R20 that is met.
    pub(super) fn members(self, first: Decimal, last: Decimal) -> Vec<Decimal> {
        let (every, then) = match self {
            Self::R10 => (4, 1),
            Self::R20 => (2, 1),
            Self::R20By3 => (2, 3),
            Self::R40 => (1, 1),
        };
        // Ratios lie from 0.001 to 1000: six decades and the first of a seventh.
        let decades = (0..7).rev().map(|decade| 10 * 10_i64.pow(decade));
        let all = decades.flat_map(|unit| {
            let members = R40.iter().step_by(every).rev();
            members.map(move |hundredths| Decimal::from_millionths(hundredths * unit))
        });
        let within = all.filter(|member| (last..=first).contains(member));
        within.step_by(then).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn members(series: Series, first: &str, last: &str) -> Vec<String> {
        let end = |text| Decimal::parse(text).unwrap();
        let members = series.members(end(first), end(last));
        members.iter().map(Decimal::to_string).collect()
    }

    // Row 1.18, ISO 3: R10 list 1 1.25 1.6 2 2.5 3.15 4 5 6.3 8.
    #[test]
    fn r10_is_the_published_list() {
        let list = [
            "10", "8", "6.3", "5", "4", "3.15", "2.5", "2", "1.6", "1.25", "1",
        ];
        assert_eq!(members(Series::R10, "10", "1"), list);
    }

    // Row 1.18, ISO 3: steps R10 1.25893, R20 1.12202, R40 1.05925, R20/3
    // 1.41254; rounded members lie within 1.3 % of the exact ones.
    #[test]
    fn rounded_members_lie_near_the_exact_ones() {
        for (series, step) in [
            (Series::R10, 1.258_93),
            (Series::R20, 1.122_02),
            (Series::R40, 1.059_25),
            (Series::R20By3, 1.412_54_f64),
        ] {
            let got = series.members(Decimal::whole(1000), Decimal::from_millionths(1000));
            let mut exact = 1000.0;
            for member in got {
                let off = member.to_f64() / exact - 1.0;
                assert!(off.abs() < 0.013, "{series:?} {member}: {off}");
                exact /= step;
            }
            assert!(exact < 0.001, "{series:?} goes down to 0.001");
        }
    }

    #[test]
    fn every_third_is_counted_from_the_first_met() {
        assert_eq!(
            members(Series::R20By3, "2.8184", "1"),
            ["2.8", "2", "1.4", "1"]
        );
        assert_eq!(
            members(Series::R20By3, "3.15", "1"),
            ["3.15", "2.24", "1.6", "1.12"]
        );
    }
}

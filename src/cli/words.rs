//! Figures and names as all screens spell them.

use crate::base::{plain, thousands};
use crate::export::SetRecord;
use crate::problem::{Measure, Ranking};
use num_bigint::BigUint;

/// A module, pair or set count and the noun it counts: `1 set`, `13 524 sets`.
pub(super) fn counted(count: &BigUint, one: &str, many: &str) -> String {
    let noun = if *count == BigUint::from(1_u32) {
        one
    } else {
        many
    };
    format!("{} {noun}", thousands(&count.to_string()))
}

/// [`counted`] of a small number.
pub(super) fn few(count: usize, one: &str, many: &str) -> String {
    counted(&BigUint::from(count), one, many)
}

/// A number of sets, shortened where digits say no more than their number.
pub(super) fn sets(digits: &str) -> String {
    if digits.len() <= 6 {
        thousands(digits)
    } else {
        format!("{}.{}e{}", &digits[..1], &digits[1..2], digits.len() - 1)
    }
}

/// A module in mm without needless digits: `0.8`, `1.0583`.
pub(super) fn module(mm: f64) -> String {
    let text = plain(mm, 4);
    let short = text.trim_end_matches('0');
    if short.ends_with('.') {
        format!("{short}0")
    } else {
        short.to_owned()
    }
}

/// mm³ as cm³.
pub(super) fn metal(volume_mm3: f64) -> String {
    let text = plain(volume_mm3 / 1000.0, 1);
    match text.split_once('.') {
        Some((whole, tenth)) => format!("{}.{tenth}", thousands(whole)),
        None => text,
    }
}

/// A length given in inches in brackets behind mm, where inches were used.
pub(super) fn inches(mm: f64, wanted: bool) -> String {
    if wanted {
        format!(" ({} in)", plain(mm / 25.4, 4))
    } else {
        String::new()
    }
}

/// What a measure is called.
pub(super) const fn measure(measure: Measure) -> &'static str {
    match measure {
        Measure::WorstError => "worst error",
        Measure::BlankVolume => "metal",
        Measure::DistinctCutters => "cutters",
        Measure::Bars => "sizes of bar",
        Measure::Blanks => "different blanks",
        Measure::Setups => "set-ups",
        Measure::Cost => "cost",
    }
}

/// What a ranking is called.
pub(super) const fn ranked_by(ranking: Ranking) -> &'static str {
    match ranking {
        Ranking::Balanced => "all measures in balance",
        Ranking::By(by) => measure(by),
    }
}

/// A measure of a set with its unit.
pub(super) fn value(set: &SetRecord, measure: Measure) -> String {
    match measure {
        Measure::WorstError => format!("{} %", plain(set.worst_error_percent, 2)),
        Measure::BlankVolume => format!("{} cm³", metal(set.blank_volume_mm3)),
        Measure::DistinctCutters => set.distinct_cutters.to_string(),
        Measure::Bars => count(set.distinct_bars),
        Measure::Blanks => count(set.distinct_blanks),
        Measure::Setups => count(set.distinct_setups),
        Measure::Cost => money(set.cost.flatten()),
    }
}

fn count(of_needs: Option<u32>) -> String {
    of_needs.map_or(String::new(), |count| count.to_string())
}

/// Money to hundredths; where no bar holds some gear, that.
pub(super) fn money(cost: Option<f64>) -> String {
    cost.map_or("no bar fits".to_owned(), |cost| plain(cost, 2))
}

/// The least safety that is asked for: `1.20`, or that of roots and flanks.
pub(super) fn least_safety(root: Option<f64>, flank: Option<f64>) -> String {
    let safety = |value: f64| plain(value, 2);
    match (root, flank) {
        (Some(root), Some(flank)) if safety(root) == safety(flank) => safety(root),
        (Some(root), Some(flank)) => format!(
            "{} at the roots and {} on the flanks",
            safety(root),
            safety(flank)
        ),
        (Some(one), None) => format!("{} at the roots", safety(one)),
        (None, Some(one)) => format!("{} on the flanks", safety(one)),
        (None, None) => "what is asked for".to_owned(),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn series(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nouns_follow_their_number() {
        assert_eq!(few(1, "set", "sets"), "1 set");
        assert_eq!(few(0, "set", "sets"), "0 sets");
        assert_eq!(few(13_524, "set", "sets"), "13\u{2009}524 sets");
    }

    #[test]
    fn modules_keep_a_decimal() {
        assert_eq!(module(0.8), "0.8");
        assert_eq!(module(1.0), "1.0");
        assert_eq!(module(10.0), "10.0");
        assert_eq!(module(25.4 / 24.0), "1.0583");
    }

    #[test]
    fn safeties_are_told_apart_where_they_differ() {
        assert_eq!(least_safety(Some(1.2), Some(1.2)), "1.20");
        let both = least_safety(Some(1.4), Some(1.0));
        assert_eq!(both, "1.40 at the roots and 1.00 on the flanks");
        assert_eq!(least_safety(None, Some(1.0)), "1.00 on the flanks");
    }

    #[test]
    fn series_end_with_and() {
        assert_eq!(series(&["a"]), "a");
        assert_eq!(series(&["a", "b", "c"]), "a, b and c");
    }

    #[test]
    fn long_counts_are_shortened() {
        assert_eq!(sets("155450913207299"), "1.5e14");
        assert_eq!(sets("80708"), "80\u{2009}708");
    }
}

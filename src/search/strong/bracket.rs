//! Up to which load a mesh holds, narrowed down but not to the last digit.

/// A mesh holds at all loads up to the first and at none from the second on;
/// between them it must be asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bracket {
    low: f64,
    high: f64,
}

/// Clear of the rounding of one way to work a safety out against another.
const CLEAR: f64 = 1e-9;
/// So near to each other the ends need not come nearer.
const NARROW: f64 = 1.002;
/// How far to either side of an estimate the next two looks are.
const BESIDE: f64 = 4e-4;
const MOST_LOOKS: u32 = 12;

impl Bracket {
    /// Of a safety (over what is asked for) that falls as the load rises, over
    /// loads between `ends`.
    pub(super) fn of(ends: [f64; 2], safety: impl Fn(f64) -> f64) -> Self {
        let [mut low, mut high] = ends;
        let mut at_high = safety(high);
        if at_high >= 1.0 + CLEAR {
            return Self {
                low: f64::INFINITY,
                high: f64::INFINITY,
            };
        }
        let mut at_low = safety(low);
        if at_low <= 1.0 - CLEAR {
            return Self {
                low: 0.0,
                high: low,
            };
        }
        // Within rounding of the limit at an end: nothing is sure there.
        if at_low < 1.0 + CLEAR {
            low = 0.0;
        }
        if at_high > 1.0 - CLEAR {
            high = f64::INFINITY;
        }
        let mut looks = 0;
        while low > 0.0 && high < f64::INFINITY && high > NARROW * low && looks < MOST_LOOKS {
            looks += 1;
            // A safety is nearly a power of the load.
            let share = at_low.ln() / (at_low.ln() - at_high.ln());
            let estimate = low * (high / low).powf(share.clamp(0.02, 0.98));
            for load in [estimate * (1.0 - BESIDE), estimate * (1.0 + BESIDE)] {
                if load <= low || load >= high {
                    continue;
                }
                let at = safety(load);
                if at >= 1.0 + CLEAR {
                    (low, at_low) = (load, at);
                } else if at <= 1.0 - CLEAR {
                    (high, at_high) = (load, at);
                    break;
                }
            }
        }
        Self { low, high }
    }

    /// What holds only where both do.
    pub(super) fn and(self, other: Self) -> Self {
        Self {
            low: self.low.min(other.low),
            high: self.high.min(other.high),
        }
    }

    /// Whether it holds at a load; none where it must be asked.
    pub(super) fn at(self, load: f64) -> Option<bool> {
        if load <= self.low {
            Some(true)
        } else if load >= self.high {
            Some(false)
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limit_lies_inside_and_the_ends_are_near() {
        for limit in [0.011_f64, 0.3, 1.0, 7.7, 99.0] {
            for power in [0.3, 0.8, 1.3] {
                let safety = |load: f64| (limit / load).powf(power);
                let bracket = Bracket::of([0.01, 100.0], safety);
                assert!(bracket.low < limit && limit < bracket.high, "{limit}");
                assert!(bracket.high < 1.01 * bracket.low, "{bracket:?}");
                assert_eq!(bracket.at(bracket.low), Some(true));
                assert_eq!(bracket.at(bracket.high), Some(false));
                assert_eq!(bracket.at(limit), None);
            }
        }
    }

    #[test]
    fn nothing_is_sure_at_a_limit_and_all_is_beyond_it() {
        let all = Bracket::of([1.0, 2.0], |load| 3.0 / load);
        assert_eq!(all.at(1e9), Some(true));
        let none = Bracket::of([1.0, 2.0], |load| 0.5 / load);
        assert_eq!(none.at(1.0), Some(false));
        let at_end = Bracket::of([1.0, 2.0], |load| 2.0 / load);
        assert_eq!(at_end.at(2.0), None);
        let at_start = Bracket::of([1.0, 2.0], |load| 1.0 / load);
        assert_eq!(at_start.at(1.0), None);
        assert_eq!(at_start.and(none).at(1.0), Some(false));
    }
}

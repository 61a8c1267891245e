//! Up to which load a mesh holds, narrowed down but not to the last digit.

/// A mesh holds at all loads up to the first and at none from the second on;
/// between them it must be asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bracket {
    low: f64,
    high: f64,
}

/// Clear of the rounding of one way to work a safety out against another.
pub(super) const CLEAR: f64 = 1e-9;
/// So near to each other the ends need not come nearer.
const NARROW: f64 = 1.002;
/// How far beyond an estimate the next look is: what is found from the other side
/// of a limit closes the bracket.
const BEYOND: f64 = 5e-4;
/// How much a reach falls as the load rises, as a power of it, where nothing is
/// known yet.
const USUAL_FALL: f64 = 0.85;
const MOST_LOOKS: u32 = 12;

/// Up to how many times its load a mesh surely holds whose root and flanks are so
/// safe, over what is asked for; where that is less than 1, it surely fails from
/// there on.
///
/// As torque rises and turns fall with it, the stress at a root rises no more than
/// in proportion, that at a flank no more than its root, and what they may bear
/// never falls.
pub(super) fn reach(root: f64, flank: f64) -> f64 {
    root.min(flank * flank)
}

impl Bracket {
    const ALL: Self = Self {
        low: f64::INFINITY,
        high: f64::INFINITY,
    };

    /// Of a [`reach`] at loads between `ends`, looked for from `guess` on.
    pub(super) fn of(ends: [f64; 2], guess: f64, reach: impl Fn(f64) -> f64) -> Self {
        let [least, most] = ends;
        let mut own = Self {
            low: 0.0,
            high: f64::INFINITY,
        };
        let mut load = guess.clamp(least, most);
        let mut before: Option<(f64, f64)> = None;
        for _ in 0..MOST_LOOKS {
            let at = reach(load);
            let Some(holds) = own.narrow(load, at) else {
                // Within rounding of the limit: nothing is sure there.
                load = (load * (1.0 - BEYOND)).max(least);
                continue;
            };
            if own.low >= most {
                return Self::ALL;
            }
            if own.high <= least || own.high <= NARROW * own.low {
                break;
            }
            let here = (load.ln(), at.ln());
            // A reach is nearly a power of the load.
            let fall = before.map(|before| (before.1 - here.1) / (here.0 - before.0));
            let fall = fall.filter(|fall| (0.1..=1.5).contains(fall));
            before = Some(here);
            let estimate = (here.0 + here.1 / fall.unwrap_or(USUAL_FALL)).exp();
            let beyond = if holds { 1.0 + BEYOND } else { 1.0 - BEYOND };
            load = (estimate * beyond)
                .max(own.low)
                .min(own.high)
                .clamp(least, most);
        }
        own
    }

    /// Takes a reach in, and says whether the mesh holds at the load; none within
    /// rounding of the limit.
    fn narrow(&mut self, load: f64, reach: f64) -> Option<bool> {
        if reach >= 1.0 + CLEAR {
            self.low = self.low.max(load * reach * (1.0 - CLEAR));
            Some(true)
        } else if reach <= 1.0 - CLEAR {
            self.high = self.high.min(load * reach * (1.0 + CLEAR));
            Some(false)
        } else {
            None
        }
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

    /// A load near the limit, where that lies between two loads.
    pub(super) fn limit(self) -> Option<f64> {
        (self.low > 0.0 && self.high < f64::INFINITY).then_some(self.low)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn the_limit_lies_inside_and_the_ends_are_near() {
        for limit in [0.011_f64, 0.3, 1.0, 7.7, 99.0] {
            for power in [0.2, 0.8, 1.0] {
                for guess in [0.01, limit, 1.03 * limit, 50.0] {
                    let looks = Cell::new(0);
                    let bracket = Bracket::of([0.01, 100.0], guess, |load| {
                        looks.set(looks.get() + 1);
                        (limit / load).powf(power)
                    });
                    assert!(bracket.low < limit && limit < bracket.high, "{limit}");
                    assert!(bracket.high <= 1.01 * bracket.low, "{bracket:?}");
                    assert!(looks.get() <= 6, "{limit} {power} {guess}: {looks:?}");
                    assert_eq!(bracket.at(bracket.low), Some(true));
                    assert_eq!(bracket.at(bracket.high), Some(false));
                    assert_eq!(bracket.at(limit), None);
                }
            }
        }
    }

    #[test]
    fn nothing_is_sure_at_a_limit_and_all_is_beyond_it() {
        let all = Bracket::of([1.0, 2.0], 1.3, |load| 3.0 / load);
        assert_eq!(all.at(1e9), Some(true));
        let none = Bracket::of([1.0, 2.0], 1.3, |load| 0.5 / load);
        assert_eq!(none.at(1.0), Some(false));
        let at_end = Bracket::of([1.0, 2.0], 1.3, |load| 2.0 / load);
        assert_eq!(at_end.at(2.0), None);
        let at_start = Bracket::of([1.0, 2.0], 1.3, |load| 1.0 / load);
        assert_eq!(at_start.at(1.0), None);
        assert_eq!(at_start.and(none).at(1.0), Some(false));
    }
}
